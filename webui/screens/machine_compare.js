// Two days of a machine compared: its mass, what stands otherwise, settings, and what was tightened in between.

import { html, useState } from "../vendor/preact.js";
import { label, t, when } from "../words.js";
import { Text } from "../pieces/fields.js";
import { useFresh } from "../pieces/live.js";
import { LongList } from "../pieces/long_list.js";
import { Standing, change } from "../pieces/show.js";
import { eventWords } from "./machine_events.js";
import { concernsYears, yearsOf } from "./machine_years.js";
import { settingName, stands } from "./settings_words.js";

/** The last moment of a day as this phone's calendar has it. */
const endOf = (day) => new Date(`${day}T23:59:59.999`).getTime();

export function Compare({ strip }) {
  const [first, setFirst] = useState("");
  const [second, setSecond] = useState("");
  const days = [endOf(first), endOf(second)];
  return html`<section class="stack close"><h2>${t("Two days compared")}</h2>
    <div class="pair wide"><${Text} field="first_day" label=${t("From the end of")} type="date" value=${first} onValue=${setFirst} />
      <${Text} field="second_day" label=${t("To the end of")} type="date" value=${second} onValue=${setSecond} /></div>
    ${days.every(Number.isFinite) && html`<${Between} key=${`${first} ${second}`} ...${{ strip, days }} />`}</section>`;
}

function Between({ strip, days }) {
  const years = useFresh(() => yearsOf(strip, days), [strip, ...days], concernsYears);
  const found = years.data?.compared;
  if (!found) return html`<${Standing} views=${[years]} />`;
  const { parts, settings, torques } = found;
  const same = parts.length + settings.length + torques.length === 0;
  return html`<div class="stack close"><${Standing} views=${[years]} />
    ${found.begins_later && html`<p class="notice">${t("No log begins before the first day: it stands for the machine as it came in.")}</p>`}
    <${OfMass} found=${found} />
    ${found.unweighed > 0 && html`<p class="mark wait">${t("Not weighed, so not in it: {count}.", { count: found.unweighed })}</p>`}
    <${Weighed} weighed=${found.weighed} />
    ${same && html`<p>${t("Nothing else is known to stand otherwise.")}</p>`}
    <${List} title=${t("Parts")} rows=${parts} words=${partWords} />
    <${List} title=${t("Settings")} rows=${settings} words=${settingWords} />
    <${List} title=${t("Tightened in between")} rows=${torques} words=${eventWords} /></div>`;
}

function OfMass({ found: { change: by, sure } }) {
  if (by.value === "0" && !by.plus_minus) return html`<p><strong>${t("No change of mass is known.")}</strong></p>`;
  return html`<p><strong>${t("Mass changed by {change}.", { change: change(by) })}</strong>${!sure && html` ${t("That is within what the scales leave open: no difference is shown.")}`}</p>`;
}

/** What the whole machine weighed last by each day. */
function Weighed({ weighed: [before, after] }) {
  if (!before || !after || before.at_ms === after.at_ms) return null;
  return html`<p>${t("The whole machine on scales: {first} ({first_day}), then {second} ({second_day}).", { first: before.total, first_day: when(before.at_ms), second: after.total, second_day: when(after.at_ms) })}</p>`;
}

const partWords = (row) => html`<span class="name"><bdi>${row.name || t("Part without a name")}</bdi></span>${row.side && html` <span class="quiet">${label(row.side)}</span>`} <span>${fromTo(row, stood)}</span>`;
const settingWords = (row) => html`<span class="name"><bdi>${settingName(row)}</bdi></span>${row.place && html` <span class="quiet">${label(row.place)}</span>`}${row.side && html` <span class="quiet">${label(row.side)}</span>`} <span>${fromTo(row, stands)}</span>`;

/** How it stood, then stands; of what only a later log speaks, since when that holds. */
const fromTo = ({ from, to, since }, words) => (since === null ? t("{from}, then {to}", { from: words(from), to: words(to) })
  : t("{from} when “{name}” began, then {to}", { from: words(from), to: words(to), name: since || t("Strip-down without a name") }));

/** How a part stood, in words. */
const stood = (state) => ({ on: t("on"), off: t("off") })[state] ?? label(state);

function List({ title, rows, words }) {
  if (rows.length === 0) return null;
  const numbered = rows.map((row, number) => ({ ...row, number }));
  return html`<section class="stack close"><h3>${title}</h3><${LongList} rows=${numbered} keyOf=${(row) => row.number} box=${(lines) => html`<ul class="brief">${lines}</ul>`} of=${(row, place) => html`<li key=${row.number} ...${place}>${words(row)}</li>`} /></section>`;
}
