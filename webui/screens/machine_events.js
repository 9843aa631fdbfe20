// What was done on a machine over the years, newest first: weighings, spells, settings, torques.

import { html, useState } from "../vendor/preact.js";
import { isolated, label, t, when } from "../words.js";
import { Tiles } from "../pieces/fields.js";
import { LongList } from "../pieces/long_list.js";
import { change } from "../pieces/show.js";
import { settingName, stands } from "./settings_words.js";

const kinds = () => [["weighed", t("Weighed whole")], ["spell", t("Spells of work")], ["setting", t("Settings")], ["torque", t("Torques")]];

/** One event in words. */
export function eventWords(event) {
  if (event.what === "weighed") return t("The whole machine: {total}", event);
  if (event.what === "spell") return html`${t("Changed in this spell: {change}", { change: change(event.change) })}${event.unweighed > 0 && html` <span class="mark wait">${t("{count} not weighed", { count: event.unweighed })}</span>`}`;
  if (event.what === "setting") {
    const where = [event.place, event.side].filter(Boolean).map((each) => label(each)).join(", ");
    return html`<bdi>${settingName(event)}</bdi> ${where && html`<span class="quiet">${where}</span>`} ${event.from === null ? t("set to {to}", { to: stands(event.to) }) : t("{from}, then {to}", { from: stands(event.from), to: stands(event.to) })}`;
  }
  const sentence = event.retorque ? t("{count} × {called} tightened anew to {shown}", event) : t("{count} × {called} tightened to {shown}", event);
  return html`<bdi>${event.part || t("Part without a name")}</bdi> ${event.side && html`<span class="quiet">${label(event.side)}</span>`} ${sentence}${event.judged === "refused" && html` <span class="mark bad">${t("outside the specification")}</span>`}`;
}

export function Events({ events, counts }) {
  const [what, setWhat] = useState(() => kinds().find(([kind]) => counts[kind] > 0)?.[0] ?? "weighed");
  const rows = events.filter((event) => event.what === what).map((event, number) => ({ ...event, number }));
  return html`<${Tiles} field="what" label=${t("Which")} options=${kinds()} value=${what} onValue=${setWhat} />
    ${rows.length === 0 ? html`<p>${t("Nothing of the kind is written down yet.")}</p>` : html`<${LongList} key=${what} rows=${rows} keyOf=${(event) => event.number} box=${(lines) => html`<ul class="lines">${lines}</ul>`} of=${(event, place) => html`<li class="line" key=${event.number} ...${place}>
      <p>${eventWords(event)}</p><p class="quiet">${[when(event.at_ms), event.who, event.chapter].filter(Boolean).map(isolated).join(" · ")}</p></li>`} />`}`;
}
