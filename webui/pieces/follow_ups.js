// Cautions that follow from what came off: each open until somebody says how it was looked at.

import { html } from "../vendor/preact.js";
import { isolated, label, t } from "../words.js";
import { ask } from "./ask.js";
import { Section } from "./fields.js";
import { useForm } from "./form.js";
import { PlanFields, planWords } from "./items.js";
import { byWhom } from "./show.js";

/** How a caution stands: a word and a shape. */
function State({ caution }) {
  if (!caution.open) return html`<p class="mark done">${t("Looked at")}</p>`;
  return caution.again ? html`<p class="mark bad">${t("Open again: something was done to it since it was looked at")}</p>`
    : html`<p class="mark wait">${t("To look at")}</p>`;
}

/** One caution as a line, with the ways to close it and to say who looks at it. */
export function CautionLine({ strip, caution, choices, acting, named = false }) {
  const { rule, part, sentence, closed } = caution;
  async function close() {
    const how = await ask({ title: t("Looked at?"), text: t(sentence), input: t("How was it checked?"), action: t("Looked at") });
    if (how) acting.run("close_caution", { strip, rule, part, how });
  }
  return html`<li class="line"><${State} caution=${caution} />
    <p>${t(sentence)}</p>
    <p class="quiet">${[t("Rests on: {basis}", { basis: label(caution.basis) }), caution.open && planWords(caution, named)].filter(Boolean).map(isolated).join(" · ")}</p>
    ${closed && html`<p class="quiet">${[closed.how, byWhom(closed)].map(isolated).join(" · ")}</p>`}
    ${caution.open && html`<div><button type="button" disabled=${acting.busy} aria-label=${t("Looked at: {caution}", { caution: sentence })} onClick=${close}>${t("Looked at")}</button></div>
      <${Section} light late title=${t("Who and when")}><${Plan} ...${{ strip, caution, choices, acting }} /><//>`}</li>`;
}

function Plan({ strip, caution, choices, acting }) {
  const { rule, part, for_whom, before, due_on } = caution;
  const form = useForm({ for_whom: for_whom ?? "", before, due_on: due_on ?? "" }, acting.problems);
  const save = (event) => { event.preventDefault(); acting.run("plan_caution", { strip, rule, part, ...form.form }); };
  return html`<form class="stack" onSubmit=${save}><${PlanFields} bind=${form.bind} choices=${choices} />
    <button type="submit" disabled=${acting.busy}>${t("Save")}</button></form>`;
}
