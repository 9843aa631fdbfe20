// The sections of the form for taking off.

import { html } from "../vendor/preact.js";
import { isolated, label, t } from "../words.js";
import { Pick, Section, Stepper, Text, Tiles } from "../pieces/fields.js";
import { GroupForm, newGroup } from "../pieces/group_form.js";
import { ItemFields } from "../pieces/items.js";
import { Picture, TakePhotos } from "../pieces/photos.js";
import { ReadingForm, newReading, statesOf } from "../pieces/reading_form.js";
import { Ordinarily } from "./take_off_foreseen.js";

export function WhereItWas({ form: { bind }, choices }) {
  return html`<div class="stack">
    <${Stepper} ...${bind("pieces")} label=${t("Pieces")} high=${200} />
    <${Tiles} ...${bind("side")} label=${t("Side")} options=${choices.sides} />
    <${Pick} ...${bind("place")} label=${t("Place on the machine")} options=${choices.places} />
  </div>`;
}

export function Pictures({ form, onRemove }) {
  return html`<div class="stack close">
    <${TakePhotos} onPhoto=${(photo) => form.add("photos", photo)} />
    ${form.form.photos.length > 0 && html`<ul class="thumbs">${form.form.photos.map((photo, index) => html`<li key=${photo.sha256}>
      <${Picture} sha256=${photo.sha256} alt=${t("Photo {number}", { number: index + 1 })} small />
      <button type="button" aria-label=${t("Remove photo {number}", { number: index + 1 })} onClick=${() => onRemove(index)}>${t("Remove")}</button></li>`)}</ul>`}
  </div>`;
}

const groupWords = ({ count, thread, length }) => `${count ?? "?"} × ${[thread || t("fastener"), length].filter(Boolean).join("×")}`;

/** The bag last used, and the next one where bags are numbered. */
const likelyBags = (bag) => (bag ? [bag, ...(/^\d{1,6}$/.test(bag) ? [String(Number(bag) + 1)] : [])] : []);

export function Fasteners({ form, choices, kept, strip }) {
  const { groups, bag_label: bag } = form.form;
  const addRow = () => form.add("groups", newGroup(form.latest.current.groups.at(-1)));
  const says = groups.length ? [...groups.map(groupWords), bag && t("Bag {label}", { label: bag })].filter(Boolean).join(", ") : t("none yet");
  return html`<${Section} title=${t("Fasteners and bag")} says=${says} onOpen=${() => form.latest.current.groups.length || addRow()}>
    ${groups.map((unused, index) => html`<${GroupForm} key=${index} bind=${form.bind} strip=${strip} at=${`groups.${index}.`} number=${index + 1} choices=${choices} onRemove=${() => form.remove("groups", index)} />`)}
    <button type="button" onClick=${addRow}>${groups.length ? t("Another kind of fastener") : t("Add fasteners")}</button>
    <${Text} ...${form.bind("bag_label")} label=${t("Into which bag")} big hint=${groups.length > 0 && !bag ? t("Without a bag these count as out, in no bag yet.") : ""} />
    ${!bag && likelyBags(kept.bag).length > 0 && html`<div class="row">${likelyBags(kept.bag).map((each) => html`<button type="button" key=${each} onClick=${() => form.set("bag_label", each)}>${t("Bag {label}", { label: each })}</button>`)}</div>`}
  <//>`;
}

const readingWords = ({ basis, figure, unit, fluid, litres }) => (basis === "litres"
  ? litres && t("{litres} l of {fluid}", { litres, fluid: fluid ? label(fluid) : t("a fluid") })
  // A figure that carries its own unit says it itself.
  : figure && (/\p{L}|["″”]/u.test(String(figure)) ? String(figure) : `${figure} ${unit}`));

export function Weight({ form, choices, kept, strip, scales, as }) {
  const { readings, outcome, name, place, side, pieces } = form.form;
  const states = statesOf(outcome);
  const addRow = () => {
    const now = form.latest.current;
    form.add("readings", newReading(now.readings.at(-1) ?? kept, now.pieces, statesOf(now.outcome)[0], scales));
  };
  const says = readings.map(readingWords).filter(Boolean).join(", ") || t("not weighed");
  const of = { bind: form.bind, strip, about: { name, place, side, pieces }, rows: readings, choices, scales, states, pieces };
  return html`<${Section} title=${t("Weight")} says=${says} onOpen=${() => form.latest.current.readings.length || addRow()}>
    <${Ordinarily} row=${as} />
    ${readings.map((unused, index) => html`<${ReadingForm} key=${index} ...${of} index=${index} onRemove=${() => form.remove("readings", index)} />`)}
    <button type="button" onClick=${addRow}>${readings.length ? t("Another reading") : t("Add a reading")}</button>
  <//>`;
}

export function More({ form: { form, bind }, choices }) {
  const says = [form.outcome && label(form.outcome), form.came_in && label(form.came_in), form.note && t("note")].filter(Boolean).join(", ") || t("not decided");
  return html`<${Section} title=${t("What becomes of it, note")} says=${says}>
    <${Tiles} ...${bind("outcome")} label=${t("What becomes of it")} options=${[["", t("Not decided")], ...choices.outcomes]} />
    ${form.outcome && html`<${Tiles} ...${bind("outcome_done")} value=${form.outcome_done ? "done" : "planned"} onValue=${(value) => bind("outcome_done").onValue(value === "done")}
      label=${t("Is that done?")} options=${[["planned", t("Planned")], ["done", t("Done")]]} />`}
    ${form.outcome === "swapped" && html`<${Text} ...${bind("replacement")} label=${t("Swapped for what")} />`}
    <${Pick} ...${bind("came_in")} label=${t("How the machine came in")} options=${choices.came_in} />
    <${Text} ...${bind("note")} label=${t("Note")} lines />
  <//>`;
}

export function Todo({ form, choices }) {
  const { items } = form.form;
  const addRow = () => form.add("items", { what: "make", text: "" });
  return html`<${Section} title=${t("Still to do")} says=${items.length ? items.map((item) => isolated(item.text || label(item.what))).join(", ") : t("nothing")} onOpen=${() => form.latest.current.items.length || addRow()}>
    ${items.map((unused, index) => html`<div class="block" role="group" aria-label=${t("Thing to do {number}", { number: index + 1 })} key=${index}>
      <${ItemFields} bind=${form.bind} at=${`items.${index}.`} choices=${choices} />
      <button type="button" class="plain" onClick=${() => form.remove("items", index)}>${t("Remove this")}</button></div>`)}
    <button type="button" onClick=${addRow}>${t("Another thing to do")}</button>
  <//>`;
}
