// One reading: a look at a scale, a figure from a document, an estimate, or litres of a drained fluid.

import { html, useRef } from "../vendor/preact.js";
import { t, usualUnits } from "../words.js";
import { Figure, Stepper, Text, Tick, Tiles } from "./fields.js";
import { HowTo } from "./how_to.js";
import { Questions, useTyped } from "./questions.js";
import { saysUnit } from "./read_back.js";
import { ScaleFields } from "./scale_fields.js";

/** A fresh reading, with the unit, the scale and its step of the last one; a scale of `scales` that was put away is not taken again. */
export const newReading = (kept, pieces, weighedAs, scales) => ({
  weighed_as: weighedAs ?? "taken_off", basis: "weighed", unit: kept.unit ?? usualUnits().part, step: kept.step ?? "", scale: kept.scale ?? "",
  on_scale: scales.some((card) => card.scale === kept.on_scale && card.put_away) ? null : kept.on_scale ?? null,
  pieces: pieces ?? 1, with_fasteners: false,
});

/** What the next reading begins with; a scale's card belongs to its strip-down. */
export const keptOf = (row, strip) => ({ unit: row.unit, step: row.step, scale: row.scale, on_scale: row.on_scale ?? null, strip });
export const keptFor = (kept, strip) => (kept?.strip === strip ? kept : { ...kept, on_scale: null });

const stateWanted = { swapped: ["taken_off", "going_on"], cut_down: ["taken_off", "after_cut", "offcut"], added: ["going_on"] };

/** Which states of a part can be weighed, by what becomes of it. */
export const statesOf = (outcome) => stateWanted[outcome] ?? ["taken_off"];

/** The reading as the core takes it: what the screen alone needs, and what its choices hide, left out. */
export function asReading({ ranged, held, basis, ...row }) {
  const weighed = basis === "weighed";
  if (basis === "litres") {
    const { weighed_as, pieces, fluid, litres, plus_minus_litres, right } = row;
    return { drained: true, basis: "worked_out", weighed_as, pieces, fluid: fluid ?? "", litres, plus_minus_litres, right };
  }
  return {
    ...row, basis, figure_high: weighed && ranged ? row.figure_high : null, step: weighed && !ranged ? row.step : null,
    plus_minus: weighed ? null : row.plus_minus, source: weighed || basis === "estimated" ? null : row.source,
    maturity: basis === "estimated" ? row.maturity : null, on_scale: weighed ? row.on_scale : null,
    tare: weighed && held ? row.tare : null, fluid: null, litres: null, plus_minus_litres: null,
  };
}

/** Whether anything was typed that is worth asking about. */
const begun = (row) => Boolean(String((row?.basis === "litres" ? row.litres : row?.figure) ?? "").trim());

/** What the row would be saved as, and what is odd about it; `about` says whose reading it is. */
function useReading(strip, about, rows, index) {
  const form = begun(rows[index]) ? { ...about, readings: rows.map(asReading), index } : null;
  return useTyped(strip, "reading", form, { questions: [], shown: null, density: null });
}

/**
 * @param {{bind: Function, strip: string, about: object, rows: object[], index: number, choices: object,
 *   scales: object[], states: string[], pieces: number, onRemove: () => void}} props
 *   `about` the part's id, or name, place, side and pieces while it is taken off; `rows` all readings of the form
 */
export function ReadingForm({ bind, strip, about, rows, index, choices, scales, states, pieces, onRemove }) {
  const at = `readings.${index}.`;
  const block = useRef(null);
  const value = (name) => bind(at + name).value;
  const set = (values) => { for (const name of Object.keys(values)) bind(at + name).onValue(values[name]); };
  // What was said to be so was said of the figure as it stood.
  const typed = (name) => ({ ...bind(at + name), onValue: (next) => set({ [name]: next, right: "" }) });
  // A step of 1 g is no step of 1 kg: another unit wants its own, where none was typed behind it.
  const unit = { unit: value("unit") ?? "g", units: choices.mass_units, onUnit: (next) => set({ unit: next, step: saysUnit(value("step")) ? value("step") : "", right: "" }) };
  const basis = value("basis");
  const ranged = value("ranged");
  const said = useReading(strip, about, rows, index);
  // The button that was tapped goes with its question.
  const onAnswer = (values) => { set(values); block.current.focus(); };
  const questions = (...fields) => html`<${Questions} asked=${said.questions} fields=${fields} right=${value("right")} onAnswer=${onAnswer} />`;
  const counts = said.shown && (value("held") || ranged || basis === "litres" || value("on_scale")) && html`<p class="quiet">${t("Counts as {mass}.", { mass: said.shown })} ${said.density && t(said.density)}</p>`;
  return html`<div class="block" role="group" aria-label=${t("Reading {number}", { number: index + 1 })} tabindex="-1" ref=${block}>
    ${states.length > 1 && html`<${Tiles} ...${bind(`${at}weighed_as`)} label=${t("What was weighed")} options=${states} />`}
    <${Tiles} ...${bind(`${at}basis`)} label=${t("Where the figure is from")} options=${[...choices.bases, ["litres", t("Litres drained")]]} />
    ${basis === "litres" ? html`<${Fluid} ...${{ bind, at, typed, choices }} />${counts}${questions("litres")}` : html`
    <${Figure} ...${typed("figure")} ...${unit} big label=${ranged ? t("From") : t("Figure")} />
    ${ranged && html`<${Text} ...${typed("figure_high")} label=${t("To")} figure big />`}
    ${counts}${questions("figure")}
    ${basis === "weighed" && html`<${ScaleFields} ...${{ bind, at, set, scales, unit: unit.unit }} />${questions("step")}
      <div class="row how-tos"><${HowTo} card="scale" /><${HowTo} card="heavy" /></div>
      <${Tick} ...${bind(`${at}ranged`)} label=${t("It wandered: from … to …")} />
      <${Tick} ...${bind(`${at}held`)} label=${t("It lay in a container")} />
      ${value("held") && html`<${Text} ...${typed("tare")} label=${t("Empty container, {unit}", { unit: unit.unit })} hint=${t("Weighed on the same scale. It is taken off the figure.")} figure />`}`}
    ${basis === "document" && html`<${Text} ...${bind(`${at}source`)} label=${t("Which document, which page")} />`}
    ${basis === "estimated" && html`<${Tiles} ...${bind(`${at}maturity`)} label=${t("How well known")} hint=${t("Taken as good to 5, 10 or 20 %.")} options=${choices.maturities} />`}
    ${basis !== "weighed" && html`<${Text} ...${bind(`${at}plus_minus`)} label=${t("Give or take, {unit}", { unit: unit.unit })} figure />`}`}
    ${pieces > 1 && basis !== "litres" && html`<${Stepper} ...${typed("pieces")} label=${t("Pieces on the scale")} high=${pieces} />`}
    ${basis !== "litres" && html`<${Tick} ...${typed("with_fasteners")} label=${t("Weighed with its fasteners")} />${questions("with_fasteners")}`}
    <button type="button" class="plain" onClick=${onRemove}>${t("Remove this reading")}</button>
  </div>`;
}

function Fluid({ bind, at, typed, choices }) {
  return html`<p class="quiet">${t("What was drained is a part of its own, such as “Petrol”: beside a weighed figure its litres would not count.")}</p>
    <${Tiles} ...${typed("fluid")} label=${t("Which fluid")} options=${choices.fluids} />
    <${Text} ...${typed("litres")} label=${t("Litres")} figure big />
    <${Text} ...${bind(`${at}plus_minus_litres`)} label=${t("Give or take, litres")} hint=${t("Left out: 5 % of it, a jug read by eye.")} figure />`;
}
