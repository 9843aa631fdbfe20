// One reading: a look at a scale, a figure from a document, or an estimate.

import { html } from "../vendor/preact.js";
import { t } from "../words.js";
import { Figure, Stepper, Text, Tick, Tiles } from "./fields.js";

/** A fresh reading, with the unit and the scale's step of the last one. */
export const newReading = (kept, pieces, weighedAs) => ({
  weighed_as: weighedAs ?? "taken_off", basis: "weighed", unit: kept.unit ?? "g", step: kept.step ?? "",
  scale: kept.scale ?? "", pieces: pieces ?? 1, with_fasteners: false,
});

const stateWanted = { swapped: ["taken_off", "going_on"], cut_down: ["taken_off", "after_cut", "offcut"], added: ["going_on"] };

/** Which states of a part can be weighed, by what becomes of it. */
export const statesOf = (outcome) => stateWanted[outcome] ?? ["taken_off"];

/** The reading as the core takes it: what the screen alone needs, and what its choices hide, left out. */
export function asReading({ ranged, ...row }) {
  const weighed = row.basis === "weighed";
  return {
    ...row, figure_high: weighed && ranged ? row.figure_high : null, step: weighed && !ranged ? row.step : null,
    plus_minus: weighed ? null : row.plus_minus, source: weighed || row.basis === "estimated" ? null : row.source,
    maturity: row.basis === "estimated" ? row.maturity : null,
  };
}

/** @param {{bind: Function, at: string, choices: object, states: string[], pieces: number, onRemove: () => void}} props */
export function ReadingForm({ bind, at, choices, states, pieces, number, onRemove }) {
  const value = (name) => bind(at + name).value;
  // A step of 1 g is no step of 1 kg: another unit wants its own.
  const onUnit = (next) => { bind(`${at}unit`).onValue(next); bind(`${at}step`).onValue(""); };
  const unit = { unit: value("unit") ?? "g", units: choices.mass_units, onUnit };
  const basis = value("basis");
  const ranged = value("ranged");
  return html`<div class="block" role="group" aria-label=${t("Reading {number}", { number })}>
    ${states.length > 1 && html`<${Tiles} ...${bind(`${at}weighed_as`)} label=${t("What was weighed")} options=${states} />`}
    <${Tiles} ...${bind(`${at}basis`)} label=${t("Where the figure is from")} options=${choices.bases} />
    <${Figure} ...${bind(`${at}figure`)} ...${unit} big label=${ranged ? t("From") : t("Figure")} />
    ${ranged && html`<${Text} ...${bind(`${at}figure_high`)} label=${t("To")} figure big />`}
    ${basis === "weighed" && html`<${Tick} ...${bind(`${at}ranged`)} label=${t("It wandered: from … to …")} />`}
    ${basis === "weighed" && html`<${Text} ...${bind(`${at}step`)} label=${t("Step of the scale, {unit}", { unit: unit.unit })} hint=${t("The smallest change that it shows.")} figure />`}
    ${basis === "document" && html`<${Text} ...${bind(`${at}source`)} label=${t("Which document, which page")} />`}
    ${basis === "estimated" && html`<${Tiles} ...${bind(`${at}maturity`)} label=${t("How well known")} options=${choices.maturities} />`}
    ${basis !== "weighed" && html`<${Text} ...${bind(`${at}plus_minus`)} label=${t("Give or take, {unit}", { unit: unit.unit })} figure />`}
    ${pieces > 1 && html`<${Stepper} ...${bind(`${at}pieces`)} label=${t("Pieces on the scale")} high=${pieces} />`}
    <${Tick} ...${bind(`${at}with_fasteners`)} label=${t("Weighed with its fasteners")} />
    <${Text} ...${bind(`${at}scale`)} label=${t("Which scale")} />
    <button type="button" class="plain" onClick=${onRemove}>${t("Remove this reading")}</button>
  </div>`;
}
