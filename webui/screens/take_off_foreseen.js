// What a map foresees, on the way to the form for taking off: one tap fills it.

import { html, useState } from "../vendor/preact.js";
import { route } from "../addresses.js";
import * as shop from "../shop.js";
import { isolated, t, usualUnits } from "../words.js";
import { LongList } from "../pieces/long_list.js";
import { orSay } from "../pieces/live.js";
import { foreseenFasteners, whereabouts } from "../pieces/show.js";

/** So many are offered before somebody asks for all. */
const OFFERED = 4;

export const leftOf = (seen, saved) => (seen?.parts ?? []).filter((row) => row.state === "left" && row.foreseen !== saved);

/** What the form begins with, asked of the core now: the bag after the last one is in it. */
export async function formOf(strip, foreseen) {
  const seen = await orSay(shop.view(strip, "foreseen"));
  const form = leftOf(seen).find((row) => row.foreseen === foreseen)?.form;
  // A map that says no unit leaves the one that manuals here have.
  return form ? { ...form, groups: form.groups.map((group) => ({ torque_unit: usualUnits().torque, ...group })) } : null;
}

/** @param {{strip: string, seen: object|null, onPick: (form: object) => void}} props `seen` null while the core starts */
export function ForeseenList({ strip, seen, onPick }) {
  const [all, setAll] = useState(false);
  if (!seen) return null;
  const left = leftOf(seen);
  if (seen.parts.length === 0) return html`<p><a class="reach" href=${route.map(strip)}>${t("Is there a map of this kind of machine? Take it first.")}</a></p>`;
  const pick = async (row) => { const form = await formOf(strip, row.foreseen); if (form) onPick(form); };
  const of = (row, place) => html`<li key=${row.foreseen} ...${place}><button type="button" onClick=${() => pick(row)}>
    <span class="name">${row.name}</span><span class="quiet">${[whereabouts(row), ...foreseenFasteners(row.fasteners)].filter(Boolean).map(isolated).join(" · ")}</span></button></li>`;
  const shown = all ? left : left.slice(0, OFFERED);
  return html`<section class="stack close" aria-label=${t("Foreseen")}><h2>${t("Foreseen: {count} to come off", { count: left.length })}</h2>
    ${left.length > 0 && html`<${LongList} rows=${shown} keyOf=${(row) => row.foreseen} box=${(rows) => html`<ul class="picks">${rows}</ul>`} of=${of} />`}
    <div class="row">${left.length > shown.length && html`<button type="button" onClick=${() => setAll(true)}>${t("Show all {count}", { count: left.length })}</button>`}
      <a class="button" href=${route.map(strip)}>${t("To the map")}</a></div></section>`;
}

/** What the map says beside the part that is being taken off; the torques are for looking up. */
export function AsForeseen({ row }) {
  if (!row) return null;
  return html`<div class="notice" id="as-foreseen" tabindex="-1"><p><strong>${t("Filled in as foreseen. Change what is otherwise on this machine.")}</strong></p>
    <${Ordinarily} row=${row} /></div>`;
}

/** What such a part ordinarily weighs; never a reading of its own. */
export const Ordinarily = ({ row }) => row?.ordinary && html`<p>${t(row.ordinary)} ${t("Weigh this one all the same.")}</p>`;
