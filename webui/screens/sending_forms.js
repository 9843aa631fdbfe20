// Forms that are not in the log: begun and not saved, saved while the arithmetic was away, or refused by it afterwards.

import { html } from "../vendor/preact.js";
import { formAddress } from "../addresses.js";
import { t, when } from "../words.js";
import { ask } from "../pieces/ask.js";
import { ABOUT } from "../pieces/drafted.js";
import { dropDraft, orSay, useDrafts } from "../pieces/live.js";

/** What a form is for, by the first word of its draft's key. */
const words = () => ({
  take_off: t("A part"), weigh_in: t("A weighing of the whole machine"), tally: t("A total to check"), scale: t("A scale"),
  scale_check: t("A check of a scale"), tool: t("A wrench"), place: t("The place of a part"), tighten: t("A tightening"),
  specification: t("A specification"), reading: t("A reading"), fasteners: t("Fasteners of a part"),
  aftercare: t("A retorque or cure time"), machine_use: t("An odometer reading"), begin: t("A new strip-down"), move: t("A move of fasteners"),
  setting: t("A setting"), adjust: t("A new value of a setting"), found: t("How a setting was found"), wait: t("What goes on before a part"),
});

function nameOf({ key, value, submitted }) {
  const form = words()[(submitted?.draft ?? key).split("/")[0]] ?? t("A form");
  const name = value.name || value[ABOUT];
  return name ? t("{form}: {name}", { form, name }) : form;
}

export function Forms() {
  const { data } = useDrafts();
  const drafts = [...(data ?? [])].sort((a, b) => b.at - a.at);
  const waiting = drafts.filter((draft) => draft.submitted || draft.problems);
  const begun = drafts.filter((draft) => !waiting.includes(draft));
  return html`${waiting.length > 0 && html`<section class="section"><h2>${t("Kept, not yet in the log")}</h2>
      ${waiting.map((draft) => html`<${Form} key=${draft.key} draft=${draft} />`)}</section>`}
    ${begun.length > 0 && html`<section class="section"><h2>${t("Begun and not saved")}</h2>
      <p class="quiet">${t("They lie on this phone alone, as they were typed, until they are saved or dropped.")}</p>
      ${begun.map((draft) => html`<${Form} key=${draft.key} draft=${draft} />`)}</section>`}`;
}

function Form({ draft }) {
  async function drop() {
    if (await ask({ title: t("Drop this?"), text: t("What was filled in there goes."), action: t("Drop it") })) await orSay(dropDraft(draft.key));
  }
  const address = draft.submitted ? null : formAddress(draft.key);
  return html`<div class="block">
    <p>${nameOf(draft)} <span class="quiet">${when(draft.at)}</span></p>
    ${draft.submitted && html`<p>${t("It goes in by itself when the arithmetic answers again.")}</p>`}
    ${draft.problems?.map((problem) => html`<p class="mark bad" key=${problem.text}>${t(problem.text, problem.values)}</p>`)}
    <div class="row">${address && html`<a class="button grow" href=${address}>${t("Go to its form")}</a>`}
      <button type="button" class="grow" onClick=${drop}>${t("Drop it")}</button></div></div>`;
}
