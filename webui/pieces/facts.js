// The fields of a thing, each with its own change; what two people wrote blindly is settled here.

import { html, useState } from "../vendor/preact.js";
import { asWritten, dayOf, figure, label, t } from "../words.js";
import { Figure, Measure, Pick, Stepper, Text, Tiles } from "./fields.js";
import { CHOICE_FIELDS, UNITS, fieldNames } from "./field_names.js";
import { Problems, useForm } from "./form.js";
import { useActing } from "./live.js";
import { byWhom } from "./show.js";

/** Fields whose value is a day. */
const DAYS = ["due_on", "calibrated_on"];

/** A field's value in words. */
export function said(value, fact = {}) {
  if (value === null || value === undefined || value === "") return "–";
  if (fact.named) return fact.named(value);
  if (typeof value === "boolean") return value ? t("yes") : t("no");
  if (typeof value === "number") return fact.unit ? figure({ value: String(Number(value.toPrecision(7))), unit: fact.unit }) : t("{value}", { value });
  if (Array.isArray(value)) return t("{value}", { value: value.map((each) => said(each, fact)) });
  if (fact.options) return label(value, fact.name);
  if (DAYS.includes(fact.name)) return dayOf(value);
  return fact.name === "torque_as_written" ? asWritten(value) : String(value);
}

/** The two answers of a field that is true or false. */
export const yesOrNo = () => [[true, t("Yes")], [false, t("No")]];

/** A field with its value, as an entry holds it. */
export const saidOf = (field, value) => t("{field}: {value}", {
  field: fieldNames()[field] ?? field, value: said(value, { name: field, options: CHOICE_FIELDS.includes(field), unit: UNITS[field] }),
});

const heads = (field) => (field?.heads ?? []).map((head) => head.entry);

function Edit({ fact, form }) {
  // The form's field is the fact itself, so that the core's problems find it.
  const bound = { ...form.bind("value"), field: fact.name, label: fact.label };
  if (fact.units) return html`<${Figure} ...${bound} unit=${form.form.unit} units=${fact.units} onUnit=${form.bind("unit").onValue} />`;
  if (fact.count) return html`<${Stepper} ...${bound} high=${fact.count} />`;
  if (fact.options?.length > 6) return html`<${Pick} ...${bound} options=${fact.options} />`;
  if (fact.options) return html`<${Tiles} ...${bound} options=${fact.options} />`;
  if (fact.measure) return html`<${Measure} ...${bound} unit=${fact.measure} />`;
  if (fact.date) return html`<${Text} ...${bound} type="date" />`;
  return html`<${Text} ...${bound} lines=${fact.lines} figure=${fact.figure} />`;
}

/** Both answers, who gave them, and the choice. */
function Dispute({ fact, field, settle, busy }) {
  return html`<div class="notice bad"><p><strong>${t("Two answers for: {label}", { label: fact.label })}</strong></p>
    <ul class="stack close">${field.heads.map((head) => html`<li key=${head.entry}><p>${said(head.value, fact)} <span class="quiet">${byWhom(head)}</span></p>
      <button type="button" disabled=${busy} onClick=${() => settle(head.value)}>${t("Keep: {value}", { value: said(head.value, fact) })}</button></li>`)}</ul></div>`;
}

function Fact({ strip, thing, type, fact, field, shown }) {
  const acting = useActing();
  // The form holds this one field alone, whatever the entry calls it.
  const problems = acting.problems.map((problem) => (problem.field ? { ...problem, field: fact.name } : problem));
  const [editing, setEditing] = useState(false);
  const value = shown ?? field?.value;
  const form = useForm({ value: value ?? "", unit: fact.units?.[0] }, problems);
  const open = () => {
    const written = typeof value === "number" && !fact.count ? String(value) : value ?? "";
    form.replace({ value: written, unit: (written === "" && fact.usual) || (fact.unit ?? fact.units?.[0]) });
    setEditing(true);
  };
  async function change(next) {
    const entered = { [fact.name]: next === "" ? null : next };
    const saw = { [fact.seen ?? fact.name]: field ? heads(field) : [] };
    if (await acting.run("change", { strip, thing, type, values: entered, units: fact.units ? { [fact.name]: form.form.unit } : {}, saw })) setEditing(false);
  }
  if (!editing) {
    return html`<div><dt>${fact.label}</dt><dd>${fact.mass ? figure(fact.mass) : said(value, fact)}</dd>
      <dd class="edit"><button type="button" class="plain" aria-label=${t("Change: {label}", fact)} onClick=${open}>${t("Change…")}</button></dd>
      ${field?.disputed && html`<dd class="whole"><${Problems} problems=${problems} /><${Dispute} fact=${fact} field=${field} settle=${change} busy=${acting.busy} /></dd>`}</div>`;
  }
  return html`<div><dt class="hidden">${fact.label}</dt><dd class="whole"><form class="stack close" onSubmit=${(event) => { event.preventDefault(); change(form.latest.current.value); }}>
    <${Problems} problems=${problems} /><${Edit} fact=${fact} form=${form} />
    ${fact.beside && html`<${fact.beside} ...${fact.of} typed=${form.form.value} onValue=${form.bind("value").onValue} />`}
    <div class="row"><button type="submit" class="grow" disabled=${acting.busy}>${t("Save")}</button><button type="button" class="grow" onClick=${() => setEditing(false)}>${t("Leave it")}</button></div></form></dd></div>`;
}

/** Facts by their names, each with its words. */
export function factsOf(details) {
  const names = fieldNames();
  return Object.entries(details).map(([name, detail]) => ({ name, label: names[detail.seen ?? name], unit: UNITS[name], ...detail }));
}

/** The fields of a specification, as taken from the manual. */
export function torqueDetails(choices) {
  const torque = { units: choices.torque_units };
  return {
    torque_low_newton_metres: torque, torque_high_newton_metres: torque, torque_angle_degrees: { figure: true },
    torque_condition: { options: choices.conditions }, torque_page: {},
  };
}

/**
 * @param {{strip, thing, type, fields: object, facts: {name, label, options?, count?, lines?, figure?, measure?, units?, unit?, usual?, mass?, seen?, shown?, named?, beside?, of?}[]}} props
 *   `beside`: what stands beside the field while it is typed, a component of {typed, onValue} and what is in `of`
 *   `usual`: the unit that an empty field begins with
 *   `named`: what the thing is called that its value is the id of
 *   `mass`: how the core shows a mass; its field is in grams, and changed from there, since what is shown is rounded
 */
export const Facts = ({ fields, facts, ...of }) => html`<dl class="facts">${facts.map((fact) =>
  html`<${Fact} key=${fact.name} ...${of} fact=${fact} field=${fields[fact.seen ?? fact.name]} shown=${fact.shown} />`)}</dl>`;
