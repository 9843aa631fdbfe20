// The back-to-standard sheet: what comes off, what goes on again and where it lies, what cannot come back, what to buy.

import { html } from "../vendor/preact.js";
import { figure, isolated, t } from "../words.js";
import { change, groupWords, whereabouts } from "../pieces/show.js";
import { settingName } from "../screens/settings_words.js";
import { Box, Name, Points, Tick, Under } from "./paper.js";

/** A name as somebody wrote it, or a sentence of the core. */
const words = (text) => (typeof text === "string" ? text : t(text));

export function StandardSheet({ data }) {
  const { take_off: off, put_on: on, cannot, buy, sum } = data;
  const nothing = off.length + on.length + cannot.length + data.settings.length === 0;
  return html`
    <p><strong>${t("{on} of {standard} standard parts are on as they were.", data)}</strong>${sum && ` ${t("Against the standard machine: {change}.", { change: change(sum) })}`}</p>
    <p class="boxed">${t("This is what was written down. The machine’s manual says how; a part that was used, dropped or kept long is looked at before it goes back on.")}</p>
    ${nothing && html`<p>${t("As far as is written down, this machine is standard.")}</p>`}
    <${Under} title=${t("Comes off first")} rows=${off} of=${(row) => html`<li class="whole" key=${row.part}><div class="spread"><h3><${Name} of=${words(row.name)} /></h3><${Tick} words=${t("off")} named /></div>
      <p>${[row.of && t("in place of {name}", { name: row.of }), whereabouts(row)].filter(Boolean).map(isolated).join(" · ")}</p></li>`} />
    <${Under} title=${t("Goes on again")} rows=${on} of=${(row) => html`<${GoesOn} key=${row.part} row=${row} tick=${t("on")} />`} />
    <${Under} title=${t("Cannot come back")} rows=${cannot} of=${(row) => html`<${GoesOn} key=${row.part} row=${row} tick=${t("another is on")} />`} />
    <${Under} title=${t("To buy")} rows=${buy} of=${(row) => html`<li class="whole"><p class="ticked"><${Box} /> <strong>${row.part ? several(row) : groupWords(row.count, row.what)}</strong> <span>${[whereabouts(row), row.for.length > 0 && t("for {parts}", { parts: row.for })].filter(Boolean).map(isolated).join(" · ")}</span></p></li>`} />
    <${Under} title=${t("Settings: as the machine came in")} rows=${data.settings} of=${(row) => html`<${Setting} key=${row.setting} row=${row} />`} />`;
}

/** A setting that stands otherwise than the machine came in: what takes it back. */
function Setting({ row }) {
  const { back } = row;
  const points = [[t(back.says), ...back.also.map(figure)].join(" "), row.how_to_undo && t("As written down: {words}", { words: row.how_to_undo })].filter(Boolean);
  return html`<li class="whole"><div class="spread"><h3><${Name} of=${settingName(row)} /></h3><${Tick} words=${t("as found")} named /></div>
    <p>${whereabouts(row)}</p><${Points} plain of=${points} /><${Points} of=${[t(row.caution)]} /></li>`;
}

const several = ({ count, what }) => (count > 1 ? t("{count} × {what}", { count, what }) : words(what));

/** A standard part: how it stands, where it lies, and its fasteners with their bags. */
function GoesOn({ row, tick }) {
  const points = [row.where && t(row.where), ...row.fasteners.map(fasteners)].filter(Boolean);
  return html`<li class="whole"><div class="spread"><h3><${Name} of=${row.name} /></h3><${Tick} words=${tick} named /></div>
    <p>${[whereabouts(row), t(row.standing)].filter(Boolean).map(isolated).join(" · ")}</p>
    <${Points} plain of=${points} />${row.caution && html`<${Points} of=${[t(row.caution)]} />`}</li>`;
}

/** A group of its fasteners: how many, in which bags, how many to buy. */
function fasteners({ count, what, bags, buy }) {
  const lying = bags.map((bag) => (bag.label ? t("{count} in bag {bag}", { count: bag.count, bag: bag.label }) : t("{count} in no bag yet", bag)));
  return [groupWords(count, what), ...lying, buy > 0 && t("{count} to buy", { count: buy })].filter(Boolean).map(isolated).join(" · ");
}
