// A wrench and its adapter on a form, and what the core makes of them: shared by the torque card and the way back.

import { html, useState } from "../vendor/preact.js";
import { figure, t } from "../words.js";
import { Measure, Text, Tiles } from "./fields.js";
import { HowTo } from "./how_to.js";
import { VERDICT_MARKS, verdictWords } from "./verdict.js";

// More than a few wrenches bury what comes below them.
const IN_SIGHT = 4;

/** Where a wrench begins and ends, as far as its card says; "" where it says nothing. */
export function rangeWords({ low, high }) {
  if (low && high) return t("{low} to {high}", { low: Number(low.value), high });
  if (high) return t("up to {high}", { high });
  return low ? t("from {low}", { low }) : "";
}

const tileWords = (tool) => (rangeWords(tool) ? t("{name}, {range}", { name: tool.name, range: rangeWords(tool) }) : tool.name);

/**
 * The wrenches with a card, the last used first; "" is one without.
 * @param {{tools: object[], words?: string}} props cards as the core gives them, and the label
 */
export function WrenchTiles({ tools, words = t("Wrench"), ...field }) {
  const [all, setAll] = useState(false);
  const chosen = tools.find((tool) => tool.tool === field.value);
  const shown = all ? tools : tools.filter((tool, index) => index < IN_SIGHT || tool === chosen);
  // What a form that lay here holds stays in sight: it is what would be saved.
  const gone = field.value && !chosen ? [[field.value, t("One that was put away since")]] : [];
  return html`<div class="stack close">
    <${Tiles} ...${field} wide label=${words} options=${[...gone, ...shown.map((tool) => [tool.tool, tileWords(tool)]), ["", t("One without a card")]]} />
    ${shown.length < tools.length && html`<button type="button" onClick=${() => setAll(true)}>${t("{count} more wrenches", { count: tools.length - shown.length })}</button>`}
    ${chosen?.notices.map((notice) => html`<p class="mark wait" key=${notice.text}>${t(notice)}</p>`)}</div>`;
}

const angles = () => [["0", t("Straight on, longer")], ["90", t("Square across")], ["180", t("Back over the handle")], ["other", t("Another angle")]];

/** The fields of an adapter as a form begins. */
export const noAdapter = () => ({ lever: "", adapter: "", angle_is: "0", adapter_degrees: "" });

/** The angle of a form's adapter as the core reads it; null without an adapter. */
export const degreesOf = ({ adapter, angle_is: angle, adapter_degrees: typed }) => (adapter ? (angle === "other" ? typed : angle) : null);

/** Length and angle of an adapter, and the length of the wrench, with a drawing of how they stand. */
export function AdapterFields({ bind, form, tools }) {
  const lever = tools.find((tool) => tool.tool === form.with_tool)?.lever_millimetres;
  const hint = lever ? t("From the middle of the grip to its square. Left out: {lever} mm, from its card.", { lever })
    : t("From the middle of the grip to its square, where the hand pulls.");
  const degrees = Number(String(form.angle_is === "other" ? form.adapter_degrees : form.angle_is).replace(",", "."));
  return html`<${HowTo} card="adapter" /><${Measure} ...${bind("adapter")} unit="mm" label=${t("Length of the adapter, mm")} hint=${t("From the wrench’s square to the middle of the bolt.")} />
    <${Measure} ...${bind("lever")} unit="mm" label=${t("Length of the wrench, mm")} hint=${hint} />
    <${Tiles} ...${bind("angle_is")} label=${t("How the adapter stands")} options=${angles()} />
    ${form.angle_is === "other" && html`<${Text} ...${bind("adapter_degrees")} label=${t("Angle of the adapter, degrees")} hint=${t("0 straight on, 90 across, 180 back.")} figure />`}
    <${AdapterDrawing} degrees=${degrees >= 0 && degrees <= 180 ? degrees : 0} />`;
}

/** The wrench from above, its adapter at an angle, the bolt at the end. */
function AdapterDrawing({ degrees }) {
  // As tall as the arm reaches up at its angle, and no taller.
  const above = 54 * Math.sin((degrees * Math.PI) / 180);
  const top = Math.floor(70 - Math.max(12, above + 10));
  return html`<svg class="adapter" viewBox=${`0 ${top} 200 ${84 - top}`} role="img" aria-label=${t("The adapter at {degrees}° to the wrench", { degrees })}>
    <rect class="grip" x="4" y="64" width="52" height="12" rx="5" /><rect x="56" y="67" width="78" height="6" />
    <g transform=${`rotate(${-degrees} 134 70)`}><rect class="arm" x="134" y="66" width="46" height="8" rx="3" /><path class="bolt" d="M180 61l7.8 4.5v9L180 79l-7.8-4.5v-9z" /></g>
    <rect class="square" x="129" y="65" width="10" height="10" /></svg>`;
}

/**
 * What the wrench is set to, large, and how that stands.
 * @param {{answer: object, plain?: boolean}} props the core's; `plain` where what was typed is what is set
 */
export function Setting({ answer, plain }) {
  const { judged, accepted, rule } = answer;
  return html`<div class="setting">
    ${!plain && html`<p>${t("Set the wrench to")}</p><p class="torque second figure">${figure(answer.setting)}</p>
      ${answer.setting_newton_metres && html`<p class="strong">${t("On a wrench marked in N·m: {setting}.", { setting: answer.setting_newton_metres })}</p>`}`}
    <p>${answer.prevailing ? t("The fastener gets {applied}, of which {prevailing} only turn the locking nut: {clamping} tighten it.", answer) : t("The fastener gets {applied}.", answer)}</p>
    <p class=${`mark ${VERDICT_MARKS[judged]}`}>${judged === "no_specification" ? t("nothing to hold it against: no specification") : verdictWords(answer)}</p>
    ${answer.notices.length > 0 && html`<ul class="pointed">${answer.notices.map((notice) => html`<li key=${notice.text}>${t(notice)}</li>`)}</ul>`}
    ${accepted && html`<p>${acceptedWords(answer.prevailing, { low: Number(accepted.low.value), high: accepted.high })}</p>`}
    <p class="quiet">${[answer.deviation, answer.basis_of_prevailing, rule].filter(Boolean).map((each) => t(each)).join(" ")}</p>
  </div>`;
}

function acceptedWords(prevailing, gaps) {
  const { low, high } = gaps;
  if (low === Number(high.value)) return prevailing ? t("Accepted with this wrench, what turns the locking nut included: {high} alone.", gaps) : t("Accepted with this wrench: {high} alone.", gaps);
  return prevailing ? t("Accepted with this wrench, what turns the locking nut included: {low} to {high}.", gaps)
  : t("Accepted with this wrench: {low} to {high}.", gaps);
}

/** Why there is no setting, in words; what lies in a field is said there too. */
export function Against({ problems }) {
  if (problems.length === 0) return null;
  return html`<div class="notice"><p>${t("No setting yet:")}</p><ul class="pointed">${problems.map((each) => html`<li key=${each.code + each.field}>${t(each.text, each.values)}</li>`)}</ul></div>`;
}
