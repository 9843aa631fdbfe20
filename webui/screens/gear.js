// What is measured with: the scales and the torque wrenches, each with its card.

import { html, useState } from "../vendor/preact.js";
import { t } from "../words.js";
import { Frame } from "../pieces/frame.js";
import { useChoices, useView } from "../pieces/live.js";
import { Standing } from "../pieces/show.js";
import { Scales } from "./gear_scales.js";
import { Tools } from "./gear_tools.js";

/** Leads down to one half of the screen; an address with a mark would lead out of it. */
const Jump = ({ to, words }) => html`<button type="button" class="grow" onClick=${() => document.getElementById(to).scrollIntoView()}>${words}</button>`;

export function Gear({ strip }) {
  // Once for the life of the screen: how old a calibration is does not change while it is looked at.
  const [now] = useState(() => Date.now());
  const whole = useView(strip, "strip");
  const wrenches = useView(strip, "tools", { now_ms: now });
  const choices = useChoices();
  const there = whole.data && wrenches.data && choices;
  return html`<${Frame} title=${t("Scales and wrenches")} strip=${strip} of=${whole.data?.name}>
    <${Standing} views=${[whole, wrenches, { data: choices }]} />
    ${there && html`<div class="row"><${Jump} to="scales" words=${t("Scales")} /><${Jump} to="wrenches" words=${t("Torque wrenches")} /></div>
    <div class="twofold"><div id="scales"><${Scales} strip=${strip} /></div>
      <div id="wrenches"><${Tools} strip=${strip} tools=${wrenches.data.tools} choices=${choices} /></div></div>`}
  <//>`;
}
