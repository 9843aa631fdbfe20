// A torque for dry threads turned into one for oiled ones, or back: behind a fold, with its warning before it.

import { html } from "../vendor/preact.js";
import * as shop from "../shop.js";
import { t } from "../words.js";
import { Figure, Section, Tiles } from "../pieces/fields.js";
import { useForm } from "../pieces/form.js";
import { useAnswer } from "../pieces/live.js";
import { ReasonList } from "./torque_reasons.js";

const warned = (warnings) => html`<ul class="notice pointed">${warnings.map((each) => html`<li key=${each.text}>${t(each)}</li>`)}</ul>`;

export function Conversion({ strip, data, choices }) {
  const against = data.why_no_conversion;
  return html`<${Section} light title=${t("Dry to oiled, or back")} says=${against.length ? t("not for these") : t("only where the manual’s condition cannot be had")}>
    ${against.length === 0 ? html`<${Asked} strip=${strip} data=${data} choices=${choices} />`
      : html`<${ReasonList} reasons=${against} />`}
  <//>`;
}

function Asked({ strip, data, choices }) {
  const form = useForm({ figure: data.form.torque, unit: data.form.torque_unit, from: data.form.torque_condition, to: null });
  const { figure: typed, from, to } = form.form;
  const full = String(typed ?? "").trim() && from && to;
  const state = useAnswer(full ? () => shop.convertTorque(strip, { group: data.group, ...form.form }) : null, JSON.stringify([form.form, data.fields]));
  const bind = (field) => ({ ...form.bind(field), problems: state.problems });
  const apart = state.problems.filter((each) => !each.field);
  return html`<form class="stack close" onSubmit=${(event) => event.preventDefault()} novalidate>
    ${warned(data.conversion_warnings)}
    <${Figure} ...${bind("figure")} unit=${form.form.unit} units=${choices.torque_units} onUnit=${form.bind("unit").onValue} label=${t("Torque as the manual gives it")} big />
    <${Tiles} ...${bind("from")} label=${t("The manual means threads that are")} options=${choices.conditions} />
    <${Tiles} ...${bind("to")} label=${t("Yours are")} options=${choices.conditions} />
    <div aria-live="polite">
      ${apart.map((each) => html`<p class="wrong" key=${each.text}>${t(each.text, each.values)}</p>`)}
      ${state.answer && html`<div class="stack close"><p>${t("The same clamping force, worked out here:")}</p>
        ${[state.answer.own, state.answer].filter(Boolean).map(({ low, high }) => html`<p class="band figure" key=${low.unit}>${t("{low} to {high}", { low: Number(low.value), high })}</p>`)}
        ${state.answer.sources.map((each) => html`<p class="quiet" key=${each.text}>${t(each)}</p>`)}</div>`}
    </div>
  </form>`;
}
