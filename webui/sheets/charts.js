// The pictures of the numbers on paper: black on white, hatched where the screen fills.

import { html } from "../vendor/preact.js";
import { t } from "../words.js";
import { BalanceChart, Staircase, Times } from "../pieces/charts_drawn.js";

/** The hatching, once for all charts of the sheet. */
const Hatch = () => html`<svg class="hatching" aria-hidden="true" width="0" height="0"><defs><pattern id="hatch" patternUnits="userSpaceOnUse" width="8" height="6"><rect width="8" height="6" fill="#fff" /><path d="M0 6L8 0M-2 1.5L2 -1.5M6 7.5L10 4.5" stroke="#000" stroke-width="1.4" /></pattern></defs></svg>`;

export function ChartsSheet({ data, whole }) {
  const stairs = (by) => html`<${Staircase} strip=${null} by=${by} stairs=${data[by]} aim=${whole.aim} />`;
  return html`<${Hatch} />
    <section><h2>${t("What the machine lost and gained, by part")}</h2>${stairs("part")}</section>
    <section><h2>${t("The same by place on the machine")}</h2>${stairs("place")}</section>
    <section><h2>${t("The same by spell of work")}</h2>${stairs("spell")}</section>
    <section><h2>${t("Balance before and now")}</h2><${BalanceChart} strip=${null} balance=${data.balance} /></section>
    <section><h2>${t("Time by part")}</h2><${Times} strip=${null} time=${data.time} /></section>`;
}
