// The mass statement, its three sums, and the whole machine on scales.

import { html } from "../vendor/preact.js";
import { route } from "../addresses.js";
import { t, when } from "../words.js";
import { Frame } from "../pieces/frame.js";
import { useView } from "../pieces/live.js";
import { Mass, Standing, Sums } from "../pieces/show.js";
import { Statement, SumsMadeOf } from "./masses_statement.js";

export function Masses({ strip }) {
  const whole = useView(strip, "strip");
  const statement = useView(strip, "statement");
  const { data } = statement;
  if (!data || !whole.data) {
    return html`<${Frame} title=${t("Masses")} strip=${strip} here="masses"><${Standing} views=${[whole, statement]} /><//>`;
  }
  // Of the whole, which is worked out in no time: in a long log the statement comes a little later.
  const { sums } = whole.data;
  return html`<${Frame} title=${t("Masses")} strip=${strip} of=${whole.data.name} here="masses">
    <${Standing} views=${[whole, statement]} />
    <div class="twofold"><${Sums} sums=${sums} aim=${whole.data.aim} running=${whole.data.spell} />
      <div class="stack close"><${Machine} view=${whole.data} /><${SumsMadeOf} strip=${strip} sums=${sums} /></div></div>
    <${WeighIns} weighIns=${whole.data.weigh_ins} />
    <div class="row"><a class="button grow" href=${route.weighIn(strip)}>${t("The whole machine weighed")}</a>
      <a class="button grow" href=${route.balance(strip)}>${t("Balance")}</a></div>
    <div class="row"><a class="button grow" href=${route.charts(strip)}>${t("Pictures of the numbers")}</a>
      <a class="button grow" href=${route.tally(strip)}>${t("Check a total that somebody wrote")}</a>
      <a class="button grow" href=${route.gear(strip)}>${t("Scales and wrenches")}</a></div>
    <${Statement} strip=${strip} lines=${data.lines} notes=${data.notes} />
  <//>`;
}

function Machine({ view: { machine } }) {
  if (!machine) return null;
  const source = machine.fields.standard_source?.value;
  return html`<p class="quiet">${machine.standard ? t("{machine}, standard: {mass}.", { machine: machine.name, mass: machine.standard }) : t("{machine}: no standard mass given.", { machine: machine.name })} ${source && t("From: {source}.", { source })}</p>`;
}

/** The whole machine on scales, in a line; it has a screen of its own. */
function WeighIns({ weighIns }) {
  const newest = weighIns.at(-1);
  if (!newest) return html`<p class="quiet">${t("The whole machine: not weighed yet.")}</p>`;
  return html`<p class="spread"><span>${newest.total ? t("The whole machine, weighed {when}", { when: when(newest.at_ms) }) : t("Lift test, {when}", { when: when(newest.at_ms) })}</span>${newest.total && html`<${Mass} shown=${newest.total} />`}</p>`;
}
