// The numbers as pictures: what came off and went on as a staircase, the balance before and now, and how long it took.

import { html, useState } from "../vendor/preact.js";
import { route } from "../addresses.js";
import { t } from "../words.js";
import { BalanceChart, Staircase, Times } from "../pieces/charts_drawn.js";
import { Tiles } from "../pieces/fields.js";
import { Frame } from "../pieces/frame.js";
import { useView, useViewNow } from "../pieces/live.js";
import { Standing } from "../pieces/show.js";

const ways = () => [["part", t("By part")], ["place", t("By place")], ["spell", t("By spell of work")]];

export function Charts({ strip }) {
  const whole = useView(strip, "strip");
  const [by, setBy] = useState("part");
  const stairs = useView(strip, "staircase", { by });
  const balance = useView(strip, "balance_chart");
  const time = useViewNow(strip, "time_chart");
  const title = t("Pictures of the numbers");
  const views = [whole, stairs, balance, time];
  if (views.some((view) => !view.data)) return html`<${Frame} title=${title} strip=${strip}><${Standing} views=${views} /><//>`;
  return html`<${Frame} title=${title} strip=${strip} of=${whole.data.name} here="masses">
    <${Standing} views=${views} />
    <section class="stack close"><h2>${t("What the machine lost and gained")}</h2>
      <${Tiles} field="by" label=${t("Steps")} options=${ways()} value=${by} onValue=${setBy} />
      <${Staircase} strip=${strip} by=${by} stairs=${stairs.data} aim=${whole.data.aim} /></section>
    <section class="stack close"><h2>${t("Balance before and now")}</h2><${BalanceChart} strip=${strip} balance=${balance.data} /></section>
    <section class="stack close"><h2>${t("Time by part")}</h2><${Times} strip=${strip} time=${time.data} /></section>
    <p class="row"><a class="button" href=${route.statement(strip)}>${t("The mass statement")}</a><a class="button" href=${route.balance(strip)}>${t("Balance")}</a>
      <a class="button" href=${route.sheet(strip, "charts")}>${t("These pictures on paper")}</a></p>
  <//>`;
}
