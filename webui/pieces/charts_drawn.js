// Each picture of the numbers with the words around it, as the screen and the sheet on paper both show it.

import { html } from "../vendor/preact.js";
import { route } from "../addresses.js";
import { dated, figure, label, t, when } from "../words.js";
import { BeforeAndNow, Chart } from "./chart.js";
import { change, partToChoose } from "./show.js";
import { aboutWords } from "./time_words.js";

/** A part as a way to its page; on paper, where there is no `strip`, its name alone. */
const partName = (strip, part, words) => (strip ? html`<a class="reach" href=${route.part(strip, part)}><bdi>${words}</bdi></a>` : html`<bdi>${words}</bdi>`);

function rowName(strip, row) {
  if (row.part) return partName(strip, row.part, partToChoose(row));
  if (row.others) return t(row.name);
  if (row.planned) return html`${t("Decided, and not done yet")}${row.unweighed > 0 && html` <span class="mark wait">${t("{count} not weighed", { count: row.unweighed })}</span>`}`;
  if ("place" in row) return row.place ? label(row.place) : t("no place said");
  return row.spell ? (strip ? when : dated)(row.at_ms) : t("Before the first spell");
}

/** The key of a row: what it is of. */
const keyOf = (row) => row.part ?? row.place ?? row.spell ?? (row.planned ? "planned" : "others");

/** What the rows are of, as the table's first head. */
const firstHead = (by) => ({ part: t("Part"), place: t("Place"), spell: t("Spell of work") })[by];

/** @param {{strip: string|null, by: "part"|"place"|"spell", stairs: object, aim: object|null}} props */
export function Staircase({ strip, by, stairs, aim }) {
  const { rows, marks, zero, total, unweighed } = stairs;
  if (rows.length === 0) return html`<p>${t("Nothing that was weighed has come off for good or gone on yet.")}</p>`;
  return html`<p>${t("Since the machine came in: {change}. Each step begins where the one above it ends; the whisker is its own uncertainty.", { change: change(total) })}</p>
    ${unweighed > 0 && html`<p class="mark wait">${t("Not weighed, so not in it: {count}.", { count: unweighed })}</p>`}
    <${Chart} rows=${rows} marks=${marks} zero=${zero} keyOf=${keyOf} name=${(row) => rowName(strip, row)} figure=${(row) => change(row.change)} said=${(mark) => figure(mark.shown)}
      heads=${[firstHead(by), t("Change"), t("Adds up to")]} sum=${(row) => change(row.adds_up_to)} paper=${!strip} />
    <p class="quiet">${t("Filled: less. Hollow: more. Dashed: planned, or smaller than its uncertainty.")}</p>
    ${stairs.aim && aim && html`<p>${t("Aim: {aim}. For that the machine is to change by {change} since it came in.", { aim, change: change(stairs.aim.change) })}</p>`}`;
}

/** A mark of the axis of time: short, so that all of them have room beside each other. */
const markWords = ({ minutes, hours }) => (hours === undefined ? t("{minutes} min", { minutes }) : t("{hours} h", { hours }));

/** @param {{strip: string|null, time: object}} props */
export function Times({ strip, time }) {
  if (time.rows.length === 0) return html`<p>${t("No time is written down yet.")}</p>`;
  const rows = time.rows.map((row) => ({ ...row, from: 0 }));
  return html`<${Chart} rows=${rows} marks=${time.marks} keyOf=${(row) => row.part ?? (row.others ? "others" : "none")} said=${markWords} figure=${(row) => aboutWords(row.about_minutes)}
      heads=${[t("Part"), t("Time")]} paper=${!strip} name=${(row) => (row.part ? partName(strip, row.part, row.name || t("Part without a name")) : row.others ? t(row.name) : t("no part of its own"))} />
    ${time.less > 0 && html`<p>${t("On {count} more parts less than five minutes each.", { count: time.less })}</p>`}
    <p class="quiet">${t("Taken from when things were written down. After a gap of more than 20 minutes nobody knows, and nothing is counted.")}</p>`;
}

const balanceNames = () => ({
  front: t("On the front wheel"), rear: t("On the rear wheel"), rear_percent: t("Share on the rear wheel"), along: t("Centre behind the front axle"), up: t("Centre above the ground"),
});

/** What may be said of the difference, and no more than its uncertainty allows. */
function verdict({ shows, overlap, difference }) {
  if (!shows) return t("No difference is shown: {change} is no more than its uncertainty.", { change: change(difference) });
  if (overlap) return t("Change: {change}. The two boxes reach into each other, but share much of what is uncertain: the change is known better than either.", { change: change(difference) });
  return t("Change: {change}.", { change: change(difference) });
}

/** @param {{strip: string|null, balance: object}} props */
export function BalanceChart({ strip, balance }) {
  const { rows, missing } = balance;
  if (rows.length === 0) {
    return html`<p>${t("No figure can be given yet.")}</p>${missing.length > 0 && html`<ul>${missing.map((each) => html`<li key=${each.sentence.text}>${t(each.sentence)}</li>`)}</ul>`}`;
  }
  return html`<${BeforeAndNow} rows=${rows} name=${(row) => balanceNames()[row.what]} figure=${figure} change=${change} verdict=${verdict} paper=${!strip} />
    <p class="quiet">${t("Hollow: before, as it came in or standard. Filled: now, with what goes back on. Each box reaches as far as its uncertainty, with the figure in its middle; no axis begins at nought.")}</p>`;
}
