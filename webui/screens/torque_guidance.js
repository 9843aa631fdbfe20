// Guidance on the torque card: apart from the manual's word and marked, with what limits it, or why there is none.

import { html } from "../vendor/preact.js";
import { route } from "../addresses.js";
import { figure, t } from "../words.js";
import { Facts, factsOf } from "../pieces/facts.js";
import { Section } from "../pieces/fields.js";
import { Conversion } from "./torque_conversion.js";
import { ReasonList } from "./torque_reasons.js";

/** The frame around all that is worked out here: what it is not stands above it. */
export function Guidance({ strip, data, choices }) {
  const { specification, guidance } = data;
  return html`<section class="guidance" aria-labelledby="worked-out-here">
    <div><h2 id="worked-out-here">${t("Worked out here, not the manual’s")}</h2>
      <p class="quiet">${specification ? t("To compare and no more: what the manual says is the torque.") : t("Guidance, until somebody has the manual at hand. It is no specification.")}</p></div>
    ${guidance
      ? html`<${Section} light open=${!specification} title=${t("Guidance from thread, grade and friction")}><${Band} guidance=${guidance} /><//>`
      : html`<${Reasons} reasons=${data.why_no_guidance} strip=${strip} part=${data.part} />`}
    <${RestsOn} strip=${strip} data=${data} choices=${choices} />
    <${Conversion} strip=${strip} data=${data} choices=${choices} />
  </section>`;
}

const list = (sentences, name) => sentences.length > 0 && html`<ul class=${name}>${sentences.map((each) => html`<li key=${t(each)}>${t(each)}</li>`)}</ul>`;

function Band({ guidance }) {
  const { low, high, limits, friction, prevailing } = guidance;
  const line = (words, value, more) => html`<div><dt>${words}</dt><dd>${value}${more && html` <span class="quiet">${more}</span>`}</dd></div>`;
  const at = (limit) => t("At {torque}: {preload} of clamping force.", limit);
  return html`
    <p class="band figure">${low.value === high.value ? figure(low) : t("{low} to {high}", { low: Number(low.value), high })}</p>
    <dl class="beside">
      ${line(t("What gives way first"), t(limits[0].text), at(limits[0]))}
      ${line(t("Then"), t(limits[1].text), at(limits[1]))}
      ${line(t("Clamping force it may give"), html`<span class="figure">${t("{preload_low} to {preload_high}", guidance)}</span>`)}
      ${line(t("Friction taken"), html`<span class="figure">${t("{low} to {high}", friction)}</span>`)}
      ${prevailing && line(t("Prevailing torque, counted in"), html`<span class="figure">${figure(prevailing)}</span>`)}
    </dl>
    ${list(guidance.assumed, "marks")}
    ${list(guidance.cautions, "pointed stack close")}
    <${Section} light title=${t("Where this comes from")}>${list(guidance.sources, "stack close quiet")}<//>`;
}

/** Why there is none for these, and the way to where it is put right. */
function Reasons({ reasons, strip, part }) {
  return html`<div class="stack close"><h3>${t("No guidance for these")}</h3>
    <${ReasonList} reasons=${reasons} />
    ${part && reasons.some((each) => each.field === "place") && html`<p><a class="reach" href=${route.part(strip, part)}>${t("The part’s page")}</a></p>`}</div>`;
}

/** What guidance is worked out from, each open to correction here. */
function RestsOn({ strip, data, choices }) {
  // Where it sits settles it: no other answer would change that.
  if (!data.alive || data.why_no_guidance.some((each) => each.code === "place")) return null;
  const yesOrNo = { options: [[true, t("Yes")], [false, t("No")]] };
  const facts = factsOf({
    thread: {}, thread_confirmed: yesOrNo, head: { options: choices.heads }, key: {}, grade: {}, finish: { options: choices.finishes },
    into: { options: choices.into }, engagement_millimetres: { measure: "mm" }, torque_condition: { options: choices.conditions },
    ...(data.place === "engine" ? { outside_engine: yesOrNo } : {}),
  });
  const disputed = facts.some((fact) => data.disputed.includes(fact.name));
  return html`<${Section} light open=${disputed} title=${t("What it is worked out from")} says=${t("to look at and to correct")}>
    <${Facts} strip=${strip} thing=${data.group} type="group" fields=${data.fields} facts=${facts} /><//>`;
}
