// Which wrench, with which adapter, and what to set it to: worked out by the core while it is typed.

import { html, useState } from "../vendor/preact.js";
import { route } from "../addresses.js";
import * as shop from "../shop.js";
import { figure, t } from "../words.js";
import { carried, choose, chosenFor } from "../pieces/chosen_wrench.js";
import { Figure, Section, Tiles } from "../pieces/fields.js";
import { useForm } from "../pieces/form.js";
import { useAnswer } from "../pieces/live.js";
import { AdapterFields, Against, Setting, WrenchTiles, degreesOf, noAdapter } from "../pieces/wrench.js";
import { disputes } from "./torque_specification.js";

/** The torque to reach at each step of the manual, the whole one last, as the form types it. */
const targets = (form, spec) => [...(form.torque_steps ? form.torque_steps.split(" ") : []), spec.shown.aim.value];

/** `shown` holds what stands here, for who goes on to tighten; what a person changes is kept at once. */
export function Wrench({ strip, data, choices, now, shown }) {
  // Of two answers none is taken for granted.
  const spec = disputes(data).length > 0 ? null : data.specification;
  const asked = spec ? targets(data.form, spec) : [""];
  const [step, setStep] = useState(null);
  const at = step ?? asked.length;
  const begin = {
    torque: asked.at(-1), torque_unit: data.form.torque_unit, with_tool: known(data.last_tool, data.tools), ...noAdapter(),
    // What the nut took at one tightening, or a wrench without a card, has no field here.
    ...chosenFor(strip, data.group, data.tools), prevailing: undefined, tool: undefined,
  };
  const keep = (next) => {
    if (JSON.stringify(carried(next)) !== JSON.stringify(shown.current)) choose(strip, data.group, carried(next));
  };
  const form = useForm(begin, undefined, keep);
  shown.current = carried(form.form);
  const typed = form.form;
  // An adapter that is carried on stands in sight: it changes what is set.
  const [open] = useState(Boolean(typed.adapter));
  const asking = {
    ...typed, group: data.group, step: asked.length > 1 ? at : null, now_ms: now,
    with_tool: typed.with_tool || null, adapter_degrees: degreesOf(typed),
  };
  const state = useAnswer(() => shop.torqueSetting(strip, asking), JSON.stringify([asking, data.form]));
  const problems = typed.torque ? state.problems : [];
  const bind = (field) => ({ ...form.bind(field), problems });
  const toStep = (next) => { setStep(Number(next)); form.fill({ torque: asked[next - 1], torque_unit: data.form.torque_unit }); };
  const onUnit = (next) => form.fill({ torque_unit: next, torque: "" });
  return html`<section class="section"><h2>${t("Wrench and adapter")}</h2>
    <form class="stack" onSubmit=${(event) => event.preventDefault()} novalidate>
      ${data.tools.length > 0 ? html`<${WrenchTiles} tools=${data.tools} ...${bind("with_tool")} />`
        : html`<p class="quiet">${t("No wrench has a card yet: what is set here counts for any wrench, with what such a wrench may be off.")} <a class="reach" href=${route.gear(strip)}>${t("Give it a card")}</a></p>`}
      ${asked.length > 1 && html`<${Tiles} field="step" value=${String(at)} onValue=${toStep} label=${t("Which step")} options=${asked.map((value, index) => [String(index + 1), t("{step}: {value}", { step: index + 1, value: figure({ value, unit: data.form.torque_unit }) })])} />`}
      <${Figure} ...${bind("torque")} unit=${typed.torque_unit} units=${choices.torque_units} onUnit=${onUnit} label=${t("Torque to reach")} big hint=${spec ? t("The middle of what is accepted.") : t("Only what the manual says.")} />
      <${Section} light open=${open} title=${t("With an adapter or a crowfoot")}><${AdapterFields} bind=${bind} form=${typed} tools=${data.tools} /><//>
      <div aria-live="polite">${state.answer && typed.torque ? html`<${Setting} answer=${state.answer} />` : html`<${Against} problems=${problems} />`}</div>
    </form>
  </section>`;
}

const known = (tool, tools) => (tools.some((each) => each.tool === tool) ? tool : "");
