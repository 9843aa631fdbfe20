// The numbers as pictures: what came off and went on as a staircase, and how long it took.

import { html, useState } from "../vendor/preact.js";
import { route } from "../addresses.js";
import { figure, label, t, when } from "../words.js";
import { Chart } from "../pieces/chart.js";
import { Tiles } from "../pieces/fields.js";
import { Frame } from "../pieces/frame.js";
import { useView } from "../pieces/live.js";
import { Standing, change, partToChoose } from "../pieces/show.js";
import { aboutWords, timeWords } from "../pieces/time_words.js";

const ways = () => [["part", t("By part")], ["place", t("By place")], ["spell", t("By spell of work")]];

export function Charts({ strip }) {
  const whole = useView(strip, "strip");
  const [by, setBy] = useState("part");
  const stairs = useView(strip, "staircase", { by });
  const [now] = useState(() => Date.now());
  const time = useView(strip, "time_chart", { now_ms: now });
  const title = t("Pictures of the numbers");
  if (!whole.data || !stairs.data || !time.data) return html`<${Frame} title=${title} strip=${strip}><${Standing} views=${[whole, stairs, time]} /><//>`;
  return html`<${Frame} title=${title} strip=${strip} of=${whole.data.name} here="masses">
    <${Standing} views=${[whole, stairs, time]} />
    <section class="stack close"><h2>${t("What the machine lost and gained")}</h2>
      <${Tiles} field="by" label=${t("Steps")} options=${ways()} value=${by} onValue=${setBy} />
      <${Staircase} strip=${strip} stairs=${stairs.data} aim=${whole.data.aim} /></section>
    <section class="stack close"><h2>${t("Time by part")}</h2><${Times} strip=${strip} time=${time.data} /></section>
    <p class="row"><a class="button" href=${route.statement(strip)}>${t("The mass statement")}</a></p>
  <//>`;
}

function rowName(strip, row) {
  if (row.part) return html`<a class="reach" href=${route.part(strip, row.part)}><bdi>${partToChoose(row)}</bdi></a>`;
  if (row.others) return t(row.name);
  if (row.planned) return t("Decided, and not done yet");
  if ("place" in row) return row.place ? label(row.place) : t("no place said");
  return row.spell ? when(row.at_ms) : t("Before the first spell");
}

/** The key of a row: what it is of. */
const keyOf = (row) => row.part ?? row.place ?? row.spell ?? (row.planned ? "planned" : "others");

function Staircase({ strip, stairs, aim }) {
  const { rows, marks, zero, total, unweighed } = stairs;
  if (rows.length === 0) return html`<p>${t("Nothing that was weighed has come off for good or gone on yet.")}</p>`;
  return html`<p>${t("Since the machine came in: {change}. Each step begins where the one above it ends; the whisker is its own uncertainty.", { change: change(total) })}</p>
    ${unweighed > 0 && html`<p class="mark wait">${t("Not weighed, so not in it: {count}.", { count: unweighed })}</p>`}
    <${Chart} rows=${rows} marks=${marks} zero=${zero} keyOf=${keyOf} name=${(row) => rowName(strip, row)} figure=${(row) => change(row.change)} said=${(mark) => figure(mark.shown)} />
    <p class="quiet">${t("Filled: less. Hollow: more. Dashed: planned, or smaller than its uncertainty.")}</p>
    ${stairs.aim && html`<p>${t("Aim: {aim}. For that the machine is to change by {change} since it came in.", { aim, change: change(stairs.aim.change) })}</p>`}`;
}

function Times({ strip, time }) {
  if (time.rows.length === 0) return html`<p>${t("No time is written down yet.")}</p>`;
  const rows = time.rows.map((row) => ({ ...row, from: 0 }));
  return html`<${Chart} rows=${rows} marks=${time.marks} keyOf=${(row) => row.part ?? "none"} said=${(mark) => timeWords(mark.minutes)} figure=${(row) => aboutWords(row.about_minutes)}
      name=${(row) => (row.part ? html`<a class="reach" href=${route.part(strip, row.part)}><bdi>${row.name || t("Part without a name")}</bdi></a>` : t("no part of its own"))} />
    ${time.less > 0 && html`<p>${t("On {count} more parts less than five minutes each.", { count: time.less })}</p>`}
    <p class="quiet">${t("Taken from when things were written down. After a gap of more than 20 minutes nobody knows, and nothing is counted.")}</p>`;
}
