// A question that stands in the way until it is answered: ask(...) gives the answer as a promise.

import { html, useEffect, useRef, useState } from "../vendor/preact.js";
import { t } from "../words.js";
import { Text } from "./fields.js";

let put = null;

/**
 * @param {{title: string, text?: string, action: string, input?: string, longest?: number, begins?: string}} question
 *   `input` is the label of a line to be filled in before the action can be taken, `begins` what stands in it at first
 * @returns {Promise<string|true|null>} what was filled in, true without an input, null when turned down
 */
export const ask = (question) => new Promise((answer) => put({ ...question, answer }));

/** Where questions appear; stands once in the page. */
export function Asking() {
  const [question, setQuestion] = useState(null);
  put = setQuestion;
  return question && html`<${Question} ...${question} key=${question.title} done=${(value) => { setQuestion(null); question.answer(value); }} />`;
}

function Question({ title, text, action, input, longest = 400, begins = "", done }) {
  const dialog = useRef(null);
  const [value, setValue] = useState(begins);
  useEffect(() => { dialog.current.showModal(); }, []);
  const answer = (event) => { event.preventDefault(); if (!input || value.trim()) done(input ? value.trim() : true); };
  return html`<dialog ref=${dialog} aria-labelledby="question" onCancel=${(event) => { event.preventDefault(); done(null); }}>
    <form onSubmit=${answer}>
      <h2 id="question">${title}</h2>
      ${text && html`<p>${text}</p>`}
      ${input && html`<${Text} field="answer" label=${input} value=${value} onValue=${setValue} required maxlength=${longest} />`}
      <div class="actions">
        <button type="submit" class="main">${action}</button>
        <button type="button" onClick=${() => done(null)}>${t("Leave it")}</button>
      </div>
    </form>
  </dialog>`;
}
