// Forms that outlive a reload, the way back and a killed tab: each with its draft, and the notice that it is here again.

import { html, useEffect, useRef, useState } from "../vendor/preact.js";
import { t, when } from "../words.js";
import { ask } from "./ask.js";
import { useForm } from "./form.js";
import { claimDraft, keeperOf } from "./form_draft.js";
import { Waiting } from "./frame.js";
import { problemsOf, say, useFresh } from "./live.js";

const never = () => false;

/** Under which a draft keeps what its thing is called. */
export const ABOUT = "about_thing";

/**
 * Draws a form once it is known what lies there of it.
 * @param {{form: Function, stem: string}} props `form` is a component for useDrafted, which gets `begun` and the rest;
 *   `stem` names the form and its thing, as in form_draft.js; `about` is what the thing is called, for the list of forms
 */
export function Drafted({ form: Form, stem, about, ...rest }) {
  const begun = useFresh(() => claimDraft(stem), [stem], never);
  if (!begun.data) return begun.trouble && html`<${Waiting} ...${begun} />`;
  return html`<${Form} key=${begun.data.key} begun=${{ ...begun.data, about }} ...${rest} />`;
}

// What was emptied again is as if it had never been touched.
const told = (form) => JSON.stringify(form, (unused, value) => (value === "" || value === null ? undefined : value));

/**
 * useForm, kept as it is typed. Untouched, or typed back to its start, it keeps nothing; saved or thrown away, nothing more.
 * @param {{key: string, draft?: object, about?: string}} begun as Drafted gives it
 * @param {object} start the form as it begins without a draft
 * @param {object} acting of useActing: has the problems
 * @param {object} [saw] the entries seen when it began, where it begins from the log: kept with the draft
 * @returns {object} as useForm; `start` and `saw` of what is in the form; `back`: gaps for the notice that it is here
 *   again; `untouched()`; `begin(start, saw)` anew; `act(name, entered)` saves, `drop()` throws away, `afresh()` asks before that
 */
export function useDrafted(begun, start, acting, saw) {
  const keeper = keeperOf(begun.key);
  keeper.onTrouble = (error) => acting.setProblems(problemsOf(error));
  const { begun_from: from, ...typed } = begun.draft?.value ?? {};
  delete typed[ABOUT];
  const [back, setBack] = useState(begun.draft && { when: when(begun.draft.at) });
  const origin = useRef(from ?? { start, saw });
  const untouched = () => told(form.latest.current) === told(origin.current.start);
  const keep = (now) => {
    const { saw: seen, anew } = origin.current;
    if (untouched()) keeper.drop();
    else keeper.keep({ ...now, ...(begun.about && { [ABOUT]: begun.about }), ...((seen || anew) && { begun_from: origin.current }) });
  };
  const form = useForm({ ...start, ...typed }, acting.problems, keep);
  useEffect(() => { if (begun.draft?.problems) acting.setProblems(begun.draft.problems); }, []);
  const begin = (next, seen) => {
    // Another start than the form's own is known only from here: typed back to it, it is untouched after a reload too.
    origin.current = { start: next, saw: seen, anew: true };
    form.replace(next);
    setBack(null);
  };
  async function act(name, entered, tellWaits = (sentence) => say(t(sentence))) {
    await keeper.settled();
    const answer = await acting.run(name, entered, { draft: begun.key });
    if (answer?.waits) tellWaits(answer.waits);
    return answer;
  }
  async function afresh() {
    if (!(await ask({ title: t("Start afresh?"), text: t("What is filled in here goes. What is saved stays."), action: t("Start afresh") }))) return false;
    begin(start, saw);
    acting.setProblems([]);
    await keeper.drop();
    return true;
  }
  return { ...form, ...origin.current, back, untouched, begin, act, afresh, settled: keeper.settled, drop: keeper.drop };
}

/** @param {{back: object|null, words: (gaps: {when: string}) => string, onAfresh: () => void}} props of a drafted form */
export const HereAgain = ({ back, words, onAfresh }) => back && html`<div class="notice"><p>${words(back)}</p>
  <div><button type="button" onClick=${onAfresh}>${t("Start afresh")}</button></div></div>`;
