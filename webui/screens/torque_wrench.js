// Which wrench, with which adapter, and what to set it to: worked out by the core while it is typed.

import { html, useState } from "../vendor/preact.js";
import * as shop from "../shop.js";
import { figure, t } from "../words.js";
import { Figure, Section, Text, Tiles } from "../pieces/fields.js";
import { useForm } from "../pieces/form.js";
import { useAnswer } from "../pieces/live.js";
import { VERDICT_MARKS, verdictWords } from "../pieces/verdict.js";
import { disputes } from "./torque_specification.js";

const angles = () => [["0", t("Straight on, longer")], ["90", t("Square across")], ["180", t("Back over the handle")], ["other", t("Another angle")]];

/** The torque to reach at each step of the manual, the whole one last, as the form types it. */
const targets = (form, spec) => [...(form.torque_steps ? form.torque_steps.split(" ") : []), spec.shown.aim.value];

export function Wrench({ strip, data, choices, now }) {
  // Of two answers none is taken for granted.
  const spec = disputes(data).length > 0 ? null : data.specification;
  const asked = spec ? targets(data.form, spec) : [""];
  const [step, setStep] = useState(null);
  const at = step ?? asked.length;
  const begin = { torque: asked.at(-1), torque_unit: data.form.torque_unit, with_tool: known(data.last_tool, data.tools), lever: "", adapter: "", angle_is: "0", adapter_degrees: "" };
  const form = useForm(begin);
  const { angle_is: angleIs, ...typed } = form.form;
  const asking = {
    ...typed, group: data.group, step: asked.length > 1 ? at : null, now_ms: now,
    with_tool: typed.with_tool || null, adapter_degrees: typed.adapter ? (angleIs === "other" ? typed.adapter_degrees : angleIs) : null,
  };
  const state = useAnswer(() => shop.torqueSetting(strip, asking), JSON.stringify([asking, data.form]));
  const problems = typed.torque ? state.problems : [];
  const bind = (field) => ({ ...form.bind(field), problems });
  const toStep = (next) => { setStep(Number(next)); form.fill({ torque: asked[next - 1], torque_unit: data.form.torque_unit }); };
  const onUnit = (next) => form.fill({ torque_unit: next, torque: "" });
  return html`<section class="section"><h2>${t("Wrench and adapter")}</h2>
    <form class="stack" onSubmit=${(event) => event.preventDefault()} novalidate>
      <${Tools} tools=${data.tools} ...${bind("with_tool")} />
      ${asked.length > 1 && html`<${Tiles} field="step" value=${String(at)} onValue=${toStep} label=${t("Which step")} options=${asked.map((value, index) => [String(index + 1), t("{step}: {value}", { step: index + 1, value: figure({ value, unit: data.form.torque_unit }) })])} />`}
      <${Figure} ...${bind("torque")} unit=${typed.torque_unit} units=${choices.torque_units} onUnit=${onUnit} label=${t("Torque to reach")} big hint=${spec ? t("The middle of what is accepted.") : t("Only what the manual says.")} />
      <${Section} light title=${t("With an adapter or a crowfoot")}>
        <${Text} ...${bind("adapter")} label=${t("Length of the adapter, mm")} hint=${t("From the wrench’s square to the middle of the bolt.")} figure />
        <${Text} ...${bind("lever")} label=${t("Length of the wrench, mm")} hint=${leverHint(data.tools, typed.with_tool)} figure />
        <${Tiles} ...${bind("angle_is")} label=${t("How the adapter stands")} options=${angles()} />
        ${angleIs === "other" && html`<${Text} ...${bind("adapter_degrees")} label=${t("Angle of the adapter, degrees")} hint=${t("0 straight on, 90 across, 180 back.")} figure />`}
      <//>
      <div aria-live="polite">${state.answer && typed.torque ? html`<${Setting} answer=${state.answer} />` : html`<${Against} problems=${problems} />`}</div>
    </form>
  </section>`;
}

const known = (tool, tools) => (tools.some((each) => each.tool === tool) ? tool : "");

/** The wrenches with a card, what each can; "" is one without. */
function Tools({ tools, ...field }) {
  if (tools.length === 0) return html`<p class="quiet">${t("No wrench has a card yet: what is set here counts for any wrench, with what such a wrench may be off.")}</p>`;
  const range = (tool) => (tool.low && tool.high ? t("{name}, {low} to {high}", { name: tool.name, low: tool.low, high: tool.high }) : tool.name);
  const chosen = tools.find((tool) => tool.tool === field.value);
  return html`<${Tiles} ...${field} label=${t("Wrench")} options=${[...tools.map((tool) => [tool.tool, range(tool)]), ["", t("One without a card")]]} />
    ${chosen?.notice && html`<p class="mark wait">${t(chosen.notice)}</p>`}`;
}

function leverHint(tools, chosen) {
  const lever = tools.find((tool) => tool.tool === chosen)?.lever_millimetres;
  if (lever) return t("From the middle of the grip to its square. Left out: {lever} mm, from its card.", { lever });
  return t("From the middle of the grip to its square, where the hand pulls.");
}

/** What the wrench is set to, large, and how that stands. */
function Setting({ answer }) {
  const lines = [...answer.notices, answer.deviation].filter(Boolean);
  return html`<div class="setting">
    <p>${t("Set the wrench to")}</p>
    <p class="torque second figure">${figure(answer.setting)}</p>
    <p>${answer.prevailing ? t("The fastener gets {applied}, of which {prevailing} only turn the locking nut.", answer) : t("The fastener gets {applied}.", answer)}</p>
    <p class=${`mark ${VERDICT_MARKS[answer.judged]}`}>${answer.judged === "no_specification" ? t("nothing to hold it against: no specification") : verdictWords(answer)}</p>
    <ul class="stack close">${lines.map((line) => html`<li key=${line.text} class=${line === answer.deviation ? "quiet" : ""}>${t(line)}</li>`)}</ul>
  </div>`;
}

/** Why there is no setting, in words; what lies in a field is said there too. */
function Against({ problems }) {
  if (problems.length === 0) return null;
  return html`<div class="notice"><p>${t("No setting yet:")}</p><ul class="pointed">${problems.map((each) => html`<li key=${each.code + each.field}>${t(each.text, each.values)}</li>`)}</ul></div>`;
}
