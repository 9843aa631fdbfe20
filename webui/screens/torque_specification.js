// What the machine's manual says of a group's torque, large enough to be read from the bench, and the form for it.

import { html, useEffect, useState } from "../vendor/preact.js";
import { asWritten, figure, label, t, usualUnits } from "../words.js";
import { Drafted, HereAgain, useDrafted } from "../pieces/drafted.js";
import { UNITS, fieldNames } from "../pieces/field_names.js";
import { said } from "../pieces/facts.js";
import { Figure, Measure, Section, Text, Tiles } from "../pieces/fields.js";
import { Problems, useForm } from "../pieces/form.js";
import { useActing } from "../pieces/live.js";
import { byWhom } from "../pieces/show.js";
import { AskedTorque } from "../pieces/torque_questions.js";

/** The fields that the form settles, where two people wrote different things. */
const SETTLED = [
  "torque_low_newton_metres", "torque_high_newton_metres", "torque_tolerance_newton_metres", "torque_steps_newton_metres",
  "torque_angle_degrees", "torque_condition", "torque_page", "prevailing_newton_metres",
];

export function Specification({ strip, data, choices }) {
  const { specification: spec } = data;
  // A form that was saved is drawn anew, from what the log says then.
  const [saved, setSaved] = useState(0);
  return html`<section class="section" aria-label=${t("From the machine’s manual")}>
    <${Disputes} data=${data} />
    <div class=${`specification ${spec ? "" : "none"}`}>
      <h2>${t("From the machine’s manual")}</h2>
      ${spec ? html`<${Large} spec=${spec} /><${Beside} spec=${spec} />`
        : html`<p class="torque">${t("No torque written down yet")}</p><p>${t("Take it from the manual, with its page. Until then there is none.")}</p>`}
    </div>
    ${data.from_map && html`<${FromMap} strip=${strip} data=${data} />`}
    ${data.alive && html`<${Drafted} key=${saved} form=${SpecificationForm} stem=${`specification/${strip}/${data.group}`} about=${data.part_name} ...${{ strip, data, choices }} onSaved=${() => setSaved(saved + 1)} />`}
  </section>`;
}

/** What a map says: nothing rests on it until a person has found it in this machine's own manual. */
function FromMap({ strip, data: { group, from_map: from } }) {
  const acting = useActing();
  const form = useForm({ page: from.page ?? "" }, acting.problems);
  const confirm = (event) => { event.preventDefault(); acting.run("confirm_specification", { strip, group, page: form.latest.current.page }); };
  return html`<form class="notice stack close" onSubmit=${confirm} novalidate><p><strong>${t("From the map: {words}", { words: asWritten(from.words) })}</strong></p>
    <p>${t("Look it up in this machine’s own manual. Until somebody found it there, it counts for nothing.")}</p>
    <${Problems} problems=${acting.problems} />
    <${Text} ...${form.bind("page")} label=${t("Manual and page, of this machine")} />
    <div><button type="submit" disabled=${acting.busy}>${t("This machine’s manual says the same")}</button></div></form>`;
}

/** The names of what two people wrote differently of the specification. */
export const disputes = (data) => SETTLED.filter((name) => data.disputed.includes(name));

/** Both answers of each field that has two, and how to settle them. */
function Disputes({ data }) {
  const names = disputes(data);
  if (names.length === 0) return null;
  const answers = (name) => data.fields[name].heads.map((head) => html`<li key=${head.entry}>
    ${said(head.value, { name, unit: UNITS[name], options: name === "torque_condition" })} <span class="quiet">${byWhom(head)}</span></li>`);
  return html`<div class="notice bad"><p><strong>${t("Two answers stand here. Look into the manual; what you save below settles it.")}</strong></p>
    ${names.map((name) => html`<p key=${name}>${fieldNames()[name]}</p><ul class="pointed">${answers(name)}</ul>`)}</div>`;
}

/** One value or a range, in one unit. */
const worded = (low, high, tolerance) => {
  if (high) return t("{low} to {high}", { low: Number(low.value), high });
  return figure(tolerance ? { ...low, plus_minus: tolerance.value } : low);
};

/** The torque in the manual's own unit, and in newton metres where that is another. */
function Large({ spec }) {
  const { shown, unit } = spec;
  const line = (of) => worded(shown.low[of], shown.high?.[of], shown.tolerance?.[of]);
  const both = unit !== "N.m";
  const steps = shown.steps.length > 0;
  const wide = shown.high || shown.tolerance ? "wide" : "";
  return html`
    ${steps && html`<ol class="steps">${shown.steps.map((step, index) => html`<li key=${index}>
      <span class="quiet">${index === 0 ? t("First") : t("then")}</span> <span class="figure big">${figure(step.own)}</span>
      ${both && html` <span class="figure">${figure(step.newton_metres)}</span>`}</li>`)}</ol><p class="quiet">${t("then")}</p>`}
    <p class=${`torque figure ${wide}`}>${line("own")}</p>
    ${both && html`<p class="torque second figure">${line("newton_metres")}</p>`}
    ${spec.angle_degrees && html`<p><span class="quiet">${t("then turned by")}</span> <span class="torque second figure">${t("{degrees}°", { degrees: spec.angle_degrees })}</span></p>`}`;
}

/** What goes with the figure: how the threads are, the page, what is accepted. */
function Beside({ spec }) {
  const { accepted, prevailing } = spec.shown;
  const line = (words, value) => html`<div><dt>${words}</dt><dd>${value}</dd></div>`;
  return html`<dl class="beside">
    ${line(t("Threads"), spec.condition ? html`<strong>${label(spec.condition)}</strong>` : html`<span class="mark wait">${t("dry, oiled or with compound: not said")}</span>`)}
    ${line(t("Manual and page"), spec.page || html`<span class="mark wait">${t("no page written down")}</span>`)}
    ${prevailing && line(t("Prevailing torque, on top"), html`<span class="figure">${figure(prevailing.own)}</span>`)}
    ${line(t("Accepted"), html`<span class="figure">${t("{low} to {high}", { low: Number(accepted.low.value), high: accepted.high })}</span>`)}
    ${spec.as_written && line(t("As it was written"), asWritten(spec.as_written))}
  </dl>
  ${spec.assumed && html`<p class="quiet">${t(spec.assumed)}</p>`}`;
}

const headsOf = (fields) => Object.fromEntries(Object.entries(fields).map(([name, field]) => [name, field.heads.map((head) => head.entry)]));

/** What of the form is folded away while it says nothing. */
const FOLDED = ["torque_high", "torque_tolerance", "torque_steps", "torque_angle", "prevailing"];

/** The form as it stands; while it says no torque, in the unit that manuals here give it in. */
const begunWith = (form) => (["torque", ...FOLDED].every((name) => form[name] === "" || form[name] === null || form[name] === undefined)
  ? { ...form, torque_unit: usualUnits().torque } : form);

/** All that a manual may say, on one form; what is blank is taken back. */
function SpecificationForm({ strip, data, choices, onSaved, begun }) {
  const acting = useActing();
  // What has come since the form began was not seen, and is not overwritten.
  const form = useDrafted(begun, begunWith(data.form), acting, headsOf(data.fields));
  useEffect(() => { if (form.untouched()) form.begin(begunWith(data.form), headsOf(data.fields)); }, [JSON.stringify([data.form, data.disputed])]);
  const { bind, back, saw } = form;
  const unit = bind("torque_unit");
  const units = { unit: unit.value ?? "N.m", units: choices.torque_units, onUnit: unit.onValue };
  async function save(event) {
    event.preventDefault();
    // The order is chosen beside its drawing.
    const { pattern } = data.form;
    if (await form.act("specify", { strip, group: data.group, ...form.latest.current, pattern, saw })) onSaved();
  }
  const inUnit = (words) => t("{words}, {unit}", { words, unit: label(units.unit) });
  // What was said to be so was said of the figures as they stood.
  const [right, setRight] = useState("");
  useEffect(() => setRight(""), [form.form.torque, form.form.torque_high, unit.value]);
  const row = { ...form.form, torque_unit: units.unit, thread: data.fields.thread?.value, right };
  const onAnswer = ({ right: so, ...values }) => {
    if (so) setRight(so);
    for (const name of Object.keys(values)) bind(name).onValue(values[name]);
  };
  const [more] = useState(() => FOLDED.some((name) => form.form[name]));
  const { specification: spec } = data;
  const open = !spec || disputes(data).length > 0 || Boolean(begun.draft);
  return html`<${Section} open=${open} title=${spec ? t("Correct what is written here") : t("Write down what the manual says")}><form class="stack" onSubmit=${save} novalidate>
    <${HereAgain} back=${back} words=${(gaps) => t("Your unfinished specification is here again, from {when}.", gaps)} onAfresh=${form.afresh} /><${Problems} problems=${acting.problems} />
    <${AskedTorque} strip=${strip} row=${row} fields=${["torque", "torque_high"]} onAnswer=${onAnswer}>
      <${Figure} ...${bind("torque")} ...${units} label=${t("Torque from the manual")} hint=${t("Figure and unit as they stand in the manual.")} big /><//>
    <${Text} ...${bind("torque_page")} label=${t("Manual and page")} />
    <${Tiles} ...${bind("torque_condition")} label=${t("Threads")} options=${[...choices.conditions, ["", t("Not said")]]} />
    <${Section} light open=${more} title=${t("Range, tolerance, steps, angle, locking nut")}>
      <div class="pair wide">
        <${Measure} ...${bind("torque_high")} unit=${units.unit} label=${inUnit(t("Up to, where the manual gives a range"))} />
        <${Measure} ...${bind("torque_tolerance")} unit=${units.unit} label=${inUnit(t("Tolerance, ±"))} />
      </div>
      <${Measure} several ...${bind("torque_steps")} unit=${units.unit} label=${inUnit(t("Steps before it"))} hint=${t("With a space between, like 10 20.")} />
      <${Text} ...${bind("torque_angle")} label=${t("Then by angle, degrees")} figure />
      <${Measure} ...${bind("prevailing")} unit=${units.unit} label=${inUnit(t("Prevailing torque"))} hint=${t("What a self-locking nut takes to turn before it seats.")} />
    <//>
    <button type="submit" class="main" disabled=${acting.busy}>${t("Save the specification")}</button>
  </form><//>`;
}
