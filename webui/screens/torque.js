// The torque card of a group: what the manual says, large; guidance apart from it, marked; wrench and order.

import { html, useRef, useState } from "../vendor/preact.js";
import { route } from "../addresses.js";
import { isolated, t } from "../words.js";
import { choose, useChosenWrenches } from "../pieces/chosen_wrench.js";
import { Frame } from "../pieces/frame.js";
import { useChoices, useView } from "../pieces/live.js";
import { Standing, groupWords, whereabouts } from "../pieces/show.js";
import { GroupState } from "./back_group.js";
import { After } from "./torque_after.js";
import { Guidance } from "./torque_guidance.js";
import { Order } from "./torque_order.js";
import { Specification } from "./torque_specification.js";
import { Wrench } from "./torque_wrench.js";

export function Torque({ strip, group }) {
  // Once for the life of the screen: how old a calibration is does not change while it is looked at.
  const [now] = useState(() => Date.now());
  // The core answers in turn: once the whole is there, a group that is not is not in the log.
  const view = useView(strip, "torque", { group, now_ms: now });
  const whole = useView(strip, "strip");
  const choices = useChoices();
  const chosen = useChosenWrenches(strip);
  const wrench = useRef(null);
  const { data } = view;
  if (!whole.data || !choices || !chosen.data || !data) {
    const unknown = whole.data && choices && chosen.data && !view.trouble && !whole.trouble;
    return html`<${Frame} title=${t("Torque")} strip=${strip} of=${whole.data?.name}>
      ${unknown ? html`<p class="notice">${t("These fasteners are not in the log of this phone. They may come with the next sending.")}</p>` : html`<${Standing} views=${[whole, view, chosen, { data: choices }]} />`}<//>`;
  }
  const of = { strip, data, choices, now };
  const { specification } = data;
  // Where the manual has spoken, what is worked out here comes last.
  const guidance = html`<${Guidance} ...${of} />`;
  return html`<${Frame} title=${data.count ? t("Torque of {what}", { what: groupWords(data.count, data.called) }) : t("Torque of fasteners")} strip=${strip} of=${whole.data.name}>
    <${Standing} views=${[whole, view]} />
    <${Where} strip=${strip} data=${data} />
    <div class="twofold">
      <div class="stack"><${Specification} ...${of} /><${Stand} strip=${strip} data=${data} wrench=${wrench} />${data.alive && html`<${Mind} cautions=${data.cautions} />`}<${After} ...${of} /></div>
      <div class="stack">${!specification && guidance}<${Order} ...${of} /><${Wrench} key=${JSON.stringify(data.form)} ...${of} shown=${wrench} /></div>
    </div>
    ${specification && guidance}
  <//>`;
}

/** What the fasteners hold, and the ways from here. */
function Where({ strip, data }) {
  const sits = data.fields.sits?.value;
  // The rest is settled on this card, where it stands.
  const elsewhere = ["count", "place", "side"].filter((name) => data.disputed.includes(name));
  return html`<div class="stack close">
    ${data.part && html`<p><a class="reach" href=${route.part(strip, data.part)}><span class="name">${data.part_name || t("Part without a name")}</span>
      ${" "}<span class="quiet">${[whereabouts(data), sits && isolated(sits)].filter(Boolean).map(isolated).join(" · ")}</span></a></p>`}
    ${elsewhere.map((name) => html`<p class="mark bad" key=${name}>${t("Two answers stand for: {field}. Settle it on the part’s page.", { field: { field: name } })}</p>`)}
    ${!data.alive && html`<p class="notice">${t("These were struck as a mistake and count nowhere.")}</p>`}
  </div>`;
}

/** How many are on, tight and marked, and how the last tightening stands. */
const Stand = ({ strip, data, wrench }) => data.alive && html`<section class="section" aria-label=${t("How they stand")}><${GroupState} group=${data.state} />
  <p><a class="button" href=${route.back(strip)} onClick=${() => wrench.current && choose(strip, data.group, wrench.current)}>${t("Tighten and mark them")}</a></p></section>`;

/** What to mind with the wrench in the hand. */
function Mind({ cautions }) {
  return html`<details class="cautions" open><summary>${t("Before you tighten")}</summary>
    <div class="inside"><ul>${cautions.map((each) => html`<li key=${each.text}>${t(each)}</li>`)}</ul></div></details>`;
}
