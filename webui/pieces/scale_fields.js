// Which scale it was: one with a card, which brings its step and what it is off by, or another one by its name.

import { html, useState } from "../vendor/preact.js";
import { isolated, t } from "../words.js";
import { Measure, Pick, Text, Tiles } from "./fields.js";

// More than a few scales bury what comes below them.
const IN_SIGHT = 4;

/** What a scale can, in one line: step, capacity, gain. */
export const inShort = (card) => [
  card.step && t("step {step}", card), card.capacity && t("up to {capacity}", card),
  card.gain_percent === null ? t("no gain error stated") : t("gain within {gain_percent}\u00a0%", card),
].filter(Boolean).map(isolated).join(" · ");

/** @param {{bind: Function, at: string, set: Function, scales: object[], unit: string}} props `scales` last used first */
export function ScaleFields({ bind, at, set, scales, unit }) {
  const chosen = bind(`${at}on_scale`);
  const card = scales.find(({ scale }) => scale === chosen.value);
  const offered = scales.filter((each) => !each.put_away || each === card).map(({ scale, name }) => [scale, name]);
  // Until the core has said which scales there are, the one that was used last goes by that.
  if (chosen.value && !card) offered.unshift([chosen.value, t("the one used last")]);
  const pick = (scale) => set({ on_scale: scale, step: "", scale: "", right: "" });
  return html`${offered.length > 0 && html`<${Pick} ...${chosen} onValue=${pick} label=${t("Which scale")} none=${t("Another one")} options=${offered} hint=${card && inShort(card)} />`}
    ${!chosen.value && html`<${Measure} ...${bind(`${at}step`)} unit=${unit} label=${t("Step of the scale, {unit}", { unit })} hint=${t("The smallest change that it shows.")} />
      <${Text} ...${bind(`${at}scale`)} label=${offered.length > 0 ? t("Its name") : t("Which scale")} />`}`;
}

/** The scales with a card as tiles, those past a few folded; "" is one without. @param {{scales: object[], label: string}} props */
export function ScaleTiles({ scales, ...field }) {
  const [all, setAll] = useState(false);
  const shown = all ? scales : scales.filter(({ scale }, index) => index < IN_SIGHT || scale === field.value);
  // What a form that lay here holds stays in sight: it is what would be saved.
  const gone = field.value && !scales.some(({ scale }) => scale === field.value) ? [[field.value, t("one that was put away since")]] : [];
  return html`<div class="stack close"><${Tiles} ...${field} options=${[...gone, ...shown.map(({ scale, name }) => [scale, name]), ["", t("none with a card")]]} />
    ${shown.length < scales.length && html`<button type="button" onClick=${() => setAll(true)}>${t("{count} more scales", { count: scales.length - shown.length })}</button>`}</div>`;
}
