// The list of keys and tools: what to lay out before the way back goes on, each with how much it is for.

import { html } from "../vendor/preact.js";
import { figure, t } from "../words.js";
import { groupWords } from "../pieces/show.js";
import { Box, Name, Points, Under } from "./paper.js";

const kinds = () => ({
  outside: t("spanner or socket"), inside: t("hexagon key"), hexalobular: t("hexalobular bit"), hexalobular_outside: t("hexalobular socket"),
  cross: t("cross bit"), slot: t("flat blade"),
});

const forWhat = ({ count, what, part }) => t("{fasteners} of {part}", { fasteners: groupWords(count, what), part: part || t("Part without a name") });
const torques = (low, high) => (low.value === high.value ? figure(low) : t("{low} to {high}", { low: Number(low.value), high }));

export function KeysSheet({ data }) {
  const { keys, unknown, fasteners, torque, wrenches, beyond, without, also } = data;
  return html`
    <p><strong>${fasteners > 0 ? t("Fasteners still to be turned on the way back: {count}.", { count: fasteners }) : t("Nothing is to be turned on the way back, as far as is written down.")}</strong></p>
    <${Under} title=${t("Keys")} rows=${keys} of=${(key) => html`<li class="whole">
      <p class="ticked"><${Box} /> <strong><bdi>${key.size}</bdi></strong> <span>${kinds()[key.kind] ?? t("what kind is not said")}</span> <strong class="last">${t("for {count}", { count: key.count })}</strong></p>
      <${Points} plain of=${key.for.map(forWhat)} /></li>`} />
    <${Under} title=${t("Key not written down")} rows=${unknown} of=${(each) => html`<li class="whole"><p>${forWhat(each)}${each.usual && ` · ${t(each.usual)}`}</p></li>`} />
    ${(torque || without > 0 || wrenches.length > 0) && html`<section><h2>${t("Torque wrench")}</h2>
      ${torque && html`<p><strong>${t("Needed: {range}", { range: torques(torque.low, torque.high) })}</strong></p>`}
      ${without > 0 && html`<p>${t("Without a torque from the manual: {count} fasteners.", { count: without })}</p>`}
      <ul class="rows">${wrenches.map((wrench, index) => html`<li class="whole" key=${index}><p class="ticked"><${Box} /> <span><${Name} of=${wrench.name} none=${t("Wrench without a name")} /> · ${marks(wrench)}</span>
        <strong class="last">${wrench.of > 0 && t("reaches {reaches} of {of} groups", wrench)}</strong></p></li>`)}</ul></section>`}
    <${Under} title=${t("No wrench written down here reaches these")} rows=${beyond} of=${(each) => html`<li class="whole"><p>${forWhat(each)} · <strong>${torques(each.low, each.high)}</strong></p></li>`} />
    <${Under} title=${t("Also needed")} rows=${also} of=${(each) => html`<li class="whole"><p class="ticked"><${Box} /> <span>${t(each)}</span></p></li>`} />
    <section class="boxed"><h2>${t("Before you begin")}</h2><${Points} of=${[t("A key that fits without play, and no torque wrench for loosening."), t("A wrench is used between its lowest mark and its top: beyond, nothing is proven.")]} /></section>`;
}

/** From where to where a wrench is marked. */
const marks = ({ low, high }) => (low && high ? torques(low, high) : t("its marks are not written down"));
