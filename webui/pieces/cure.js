// Locking compound that cures: the core says how long still, and is asked anew as time goes by.

import { html } from "../vendor/preact.js";
import { t } from "../words.js";
import { useViewNow } from "./live.js";

const ASKED_EVERY_MS = 20_000;
const MARKS = { curing: "wait", cured: "done", clock_behind: "bad" };

/** How the compound of a group stands, counting down; nothing where no cure time is written down. */
export function CureOf({ strip, group, fields }) {
  return fields.cure_hours?.value ? html`<${Asked} strip=${strip} group=${group} />` : null;
}

/** In one line of a part: that compound of its fasteners cures still, the longest of them; else nothing. */
export const CuringOf = ({ strip, groups }) => groups.some((group) => group.fields.cure_hours?.value) && html`<${Curing} ...${{ strip, groups }} />`;

function Curing({ strip, groups }) {
  const { data } = useViewNow(strip, "cures", ASKED_EVERY_MS);
  const still = groups.map(({ group }) => data?.cures[group]).filter((cure) => cure && cure.state !== "cured");
  const last = still.sort((a, b) => b.until_ms - a.until_ms)[0];
  return last ? html`<span class=${`mark ${MARKS[last.state]}`}>${t("{compound}: {left}", { compound: last.compound, left: last.text })}</span>` : null;
}

function Asked({ strip, group }) {
  const { data } = useViewNow(strip, "cures", ASKED_EVERY_MS);
  if (!data) return null;
  const cure = data.cures[group];
  if (!cure) return html`<p class="quiet">${t("Its compound cures from the tightening on.")}</p>`;
  return html`<div class="stack close"><p class=${`mark ${MARKS[cure.state]}`}>${t("{compound}: {left}", { compound: cure.compound, left: cure.text })}</p>
    <p class="quiet">${t("{hours} h from the tightening, by: {from}", cure)}</p></div>`;
}
