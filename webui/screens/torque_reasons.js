// Why no torque is worked out, as the core says it.

import { html } from "../vendor/preact.js";
import { t } from "../words.js";

/** Why nothing is worked out, each with what to do about it; where the place forbids it, nothing else would help. */
export function ReasonList({ reasons }) {
  const forbidden = reasons.some((each) => each.code === "place");
  const telling = reasons.filter((each) => !forbidden || each.field === "place");
  return html`<ul class="stack close">${telling.map((each) => html`<li key=${each.code + each.field} class="reason"><p><strong>${t(each.why)}</strong></p><p>${t(each.to_do)}</p></li>`)}</ul>`;
}
