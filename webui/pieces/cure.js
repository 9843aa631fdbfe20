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

function Asked({ strip, group }) {
  const { data } = useViewNow(strip, "cures", ASKED_EVERY_MS);
  if (!data) return null;
  const cure = data.cures[group];
  if (!cure) return html`<p class="quiet">${t("Its compound cures from the tightening on.")}</p>`;
  return html`<div class="stack close"><p class=${`mark ${MARKS[cure.state]}`}>${t("{compound}: {left}", { compound: cure.compound, left: cure.text })}</p>
    <p class="quiet">${t("{hours} h from the tightening, by: {from}", cure)}</p></div>`;
}
