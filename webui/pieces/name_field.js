// The name of a part: typed, or picked from the ordinary ones, which bring their usual place, side and pieces.

import { html, useState } from "../vendor/preact.js";
import { inOrder, label, t } from "../words.js";
import { Text, word } from "./fields.js";
import { folded } from "./searched.js";

const MOST = 6;

/** The ordinary parts, each with its name in the language that is read: it is what is written down. */
const spoken = (parts) => parts.map((part) => ({ ...part, name: t(part.name) })).sort((one, other) => inOrder(one.name, other.name));

function fitting(parts, typed) {
  const wanted = folded(typed.trim());
  if (!wanted) return [];
  const names = parts.map((part) => [part, folded(part.name)]).filter(([, name]) => name.includes(wanted) && name !== wanted);
  const first = names.filter(([, name]) => name.startsWith(wanted));
  return [...first, ...names.filter((each) => !first.includes(each))].slice(0, MOST).map(([part]) => part);
}

/** @param {{bind: Function, choices: object, onPick: (part: {name, place, side, pieces}) => void}} props */
export function NameField({ bind, choices, onPick }) {
  const [typing, setTyping] = useState(false);
  const name = bind("name");
  const parts = spoken(choices.ordinary_parts);
  const found = typing ? fitting(parts, name.value ?? "") : [];
  const pick = (part) => { setTyping(false); onPick(part); };
  const byPlace = (place) => parts.filter((part) => part.place === place);
  return html`<div class="stack close">
    <${Text} ...${name} label=${t("Name of the part")} big onValue=${(value) => { setTyping(true); name.onValue(value); }} aria-required="true" />
    ${found.length > 0 && html`<ul class="picks" aria-label=${t("Ordinary parts")}>${found.map((part) => html`<li key=${part.name}>
      <button type="button" onClick=${() => pick(part)}><span>${part.name}</span><span class="quiet">${label(part.place)}</span></button></li>`)}</ul>`}
    <div class="field"><label class="quiet" for="ordinary">${t("or an ordinary part")}</label>
      <select id="ordinary" value="" onChange=${(event) => pick(parts.find((part) => part.name === event.currentTarget.value))}>
        <option value="" disabled selected>${t("Pick one")}</option>
        ${choices.places.map((place) => byPlace(place).length > 0 && html`<optgroup key=${place} label=${word(place)}>
          ${byPlace(place).map((part) => html`<option key=${part.name}>${part.name}</option>`)}</optgroup>`)}
      </select></div>
  </div>`;
}
