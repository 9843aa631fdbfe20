// Tightening a group: to what, with which wrench and adapter, and what the core makes of it while it is typed.

import { html, useState } from "../vendor/preact.js";
import { route } from "../addresses.js";
import * as shop from "../shop.js";
import { figure, isolated, label, t } from "../words.js";
import { choose, chosenFor, chosenLast } from "../pieces/chosen_wrench.js";
import { HereAgain, useDrafted } from "../pieces/drafted.js";
import { Figure, Measure, Section, Stepper, Text, Tick, Tiles } from "../pieces/fields.js";
import { Problems } from "../pieces/form.js";
import { useActing, useAnswer } from "../pieces/live.js";
import { saysUnit, withUnit } from "../pieces/read_back.js";
import { AdapterFields, Against, Setting, WrenchTiles, degreesOf, noAdapter } from "../pieces/wrench.js";
import { InTurn } from "./tighten_in_turn.js";

/** What the manual wants at each step, the whole of it last; "" where that is no single value. */
function targets(spec) {
  if (!spec) return [""];
  const { steps, low, high } = spec.shown;
  return [...steps.map((each) => each.newton_metres.value), high ? "" : low.newton_metres.value];
}

function beginning(strip, group, tools) {
  const last = chosenLast(strip);
  const aims = targets(group.specification);
  const step = aims.length > 1 ? group.next_step ?? aims.length : null;
  // Where no manual says it, the rest of them want what the others got.
  const like = !group.specification && group.loose > 0 && group.last ? group.last.shown.value : "";
  return {
    count: group.on - group.tight || group.on, torque_unit: "N.m", figure_is: "torque", figure: aims[(step ?? aims.length) - 1] || like, step, retorque: false,
    angle: group.specification?.angle_degrees ? String(group.specification.angle_degrees) : "", prevailing: "",
    with_tool: tools.some((each) => each.tool === last.with_tool) ? last.with_tool : "", tool: tools.length ? "" : last.tool ?? "",
    ...noAdapter(), ...chosenFor(strip, group.group, tools),
  };
}

/** The form as the core reads it: the figure is either the torque or the setting. */
function entered(form, last) {
  const { figure_is: is, figure: typed, angle, step, retorque, ...rest } = form;
  return {
    // A specification that has no steps any more wants none, whatever was chosen before it changed.
    ...rest, [is]: typed, retorque: retorque || null, step: last > 1 ? step : null, angle: last === 1 || step === null || step === last ? angle : "",
    with_tool: form.with_tool || null, tool: form.with_tool ? null : form.tool, adapter_degrees: degreesOf(form),
  };
}

export function Tighten({ strip, group, choices, tools, begun, onDone }) {
  const acting = useActing();
  const spec = group.specification;
  const aims = targets(spec);
  const form = useDrafted(begun, beginning(strip, group, tools), acting);
  const { form: typed, set, fill } = form;
  // In the core's words the figure is the torque or the setting; here it is one field.
  const problems = acting.problems.map((each) => (["torque", "setting"].includes(each.field) ? { ...each, field: "figure" } : each));
  const bind = (field) => ({ ...form.bind(field), problems });
  const asking = { ...entered(typed, aims.length), group: group.group };
  const ready = String(typed.figure).trim() !== "";
  const state = useAnswer(ready ? () => shop.torqueSetting(strip, { ...asking, now_ms: Date.now() }) : null, JSON.stringify([asking, spec]));
  async function save(event, place) {
    event?.preventDefault();
    const now = form.latest.current;
    const which = place ? { count: 1, positions: [place] } : {};
    if (!(await form.act("tighten", { strip, ...entered(now, aims.length), ...which, group: group.group }))) return;
    choose(strip, group.group, now, true);
    onDone?.();
  }
  // The figure stands for newton metres; in another unit it would be another torque. What the nut took stays what it was.
  const inUnit = (unit, more) => fill({ torque_unit: unit, prevailing: unit === typed.torque_unit ? typed.prevailing : withUnit(typed.prevailing, typed.torque_unit), ...more });
  const onUnit = (next) => inUnit(next, { figure: "" });
  const onStep = (next) => inUnit("N.m", { step: Number(next), figure: aims[next - 1] });
  const last = aims.length > 1 && typed.step === aims.length;
  const plain = !typed.with_tool && !typed.adapter && !state.answer?.prevailing && typed.figure_is === "torque";
  const shown = (value, index) => (value ? figure({ value, unit: "N.m" }) : t("as the manual says, {step}", { step: index + 1 }));
  return html`<form class="stack close" onSubmit=${save} novalidate>
    <${HereAgain} back=${form.back} words=${(gaps) => t("Your unfinished tightening is here again, from {when}.", gaps)} onAfresh=${form.afresh} /><${Problems} problems=${problems} />
    ${aims.length > 1 && html`<${Tiles} ...${bind("step")} value=${String(typed.step)} onValue=${onStep} label=${t("Which step")} options=${aims.map((value, index) => [String(index + 1), t("{step}: {value}", { step: index + 1, value: shown(value, index) })])} />`}
    <div class="pair"><${Stepper} ...${bind("count")} label=${t("Tightened")} high=${group.on} />
    <${Figure} ...${bind("figure")} unit=${typed.torque_unit} units=${choices.torque_units} onUnit=${onUnit} label=${typed.figure_is === "torque" ? t("Torque applied") : t("Wrench set to")} big /></div>
    ${group.fields.retorque_from?.value && group.loose === 0 && group.tight > 0 && html`<${Tick} ...${bind("retorque")} label=${t("This is the retorque")} />`}
    ${spec?.angle_degrees && (last || aims.length === 1) && html`<${Text} ...${bind("angle")} label=${t("Then by angle, degrees")} figure />`}
    ${(tools.length > 0 || typed.with_tool) && html`<${WrenchTiles} tools=${tools} ...${bind("with_tool")} words=${t("With which wrench")} />`}
    ${!typed.with_tool && html`<${Text} ...${bind("tool")} label=${t("Which wrench")} hint=${html`${t("Any name will do.")} <a class="reach" href=${route.gear(strip)}>${t("Give it a card")}</a>`} />`}
    <${Section} light open=${problems.some((each) => IN_MORE.includes(each.field))} title=${t("Adapter, locking nut, or clicked at a setting")} says=${more(typed, group)}>
      <${Tiles} ...${bind("figure_is")} onValue=${(next) => set("figure_is", next)} wide label=${t("The figure above is")} options=${[["torque", t("The torque at the fastener")], ["setting", t("What the wrench was set to when it clicked")]]} />
      <${Measure} ...${bind("prevailing")} unit=${typed.torque_unit} label=${t("Prevailing torque, {unit}", { unit: label(typed.torque_unit) })} hint=${prevailingHint(group, typed)} />
      <${AdapterFields} bind=${bind} form=${typed} tools=${tools} /><//>
    <div class=${ready ? "answered" : ""} aria-live="polite">${ready && (state.answer ? html`<${Setting} answer=${state.answer} plain=${plain} />` : html`<${Against} problems=${state.problems} />`)}</div>
    <button type="submit" disabled=${acting.busy}>${t("{count} tightened", { count: typed.count ?? 0 })}</button>
    ${group.pattern.drawing && group.on === group.count && html`<${InTurn} strip=${strip} group=${group} step=${aims.length > 1 ? typed.step : null} busy=${acting.busy} onTap=${(place) => save(null, place)} />`}</form>`;
}

const IN_MORE = ["lever", "adapter", "adapter_degrees", "prevailing"];

/** What of the folded fields is filled in. */
const more = (typed, { specification }) => [
  typed.adapter && t("adapter {adapter} mm", typed), typed.figure_is === "setting" && t("clicked at a setting"),
  typed.prevailing ? (saysUnit(typed.prevailing) ? t("prevailing {prevailing}", typed) : t("prevailing {prevailing} {unit}", { ...typed, unit: label(typed.torque_unit) }))
    : specification?.prevailing && t("prevailing {prevailing}", { prevailing: specification.shown.prevailing.newton_metres }),
].filter(Boolean).map(isolated).join(" · ");

function prevailingHint({ specification }, { figure_is: is }) {
  const found = specification?.shown.prevailing;
  if (found) return t("Left out: {prevailing}, as written down for this group.", { prevailing: found.newton_metres });
  return is === "torque" ? t("What a self-locking nut takes to turn before it seats. It is set on top.") : t("What a self-locking nut takes to turn before it seats. It is taken off before judging.");
}

/** Tightening once more what needs it no more, as after a doubt. */
export function Again(props) {
  const [open, setOpen] = useState(Boolean(props.begun.draft));
  if (!open) return html`<div><button type="button" class="plain" onClick=${() => setOpen(true)}>${props.group.last ? t("Tighten again") : t("Tighten")}</button></div>`;
  return html`<${Tighten} ...${props} onDone=${() => setOpen(false)} />`;
}
