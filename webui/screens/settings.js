// Settings: all that is adjusted, as it was found and as it stands, on an earlier day, and how to go back.

import { html, useState } from "../vendor/preact.js";
import { t } from "../words.js";
import { Drafted } from "../pieces/drafted.js";
import { Section, Text } from "../pieces/fields.js";
import { stemsLeft } from "../pieces/form_draft.js";
import { Frame } from "../pieces/frame.js";
import { useChoices, useFresh, useView } from "../pieces/live.js";
import { LongList } from "../pieces/long_list.js";
import { Standing, whereabouts } from "../pieces/show.js";
import { AddSetting } from "./settings_add.js";
import { Setting, SettingHistory } from "./settings_card.js";
import { Also, WayBack, settingName, stands } from "./settings_words.js";

const never = () => false;
const begunForms = async (strip) => (await Promise.all(["adjust", "found"].map((form) => stemsLeft(`${form}/${strip}/`)))).flat();

export function Settings({ strip }) {
  const whole = useView(strip, "strip");
  const view = useView(strip, "settings");
  const choices = useChoices();
  // A value that was begun and not saved is at hand again.
  const left = useFresh(() => begunForms(strip), [strip], never);
  const title = t("Settings");
  if (!whole.data || !view.data || !choices || !left.data) {
    return html`<${Frame} title=${title} strip=${strip}><${Standing} views=${[whole, view, left, { data: choices }]} /><//>`;
  }
  const { settings, parts, struck } = view.data;
  const first = settings.length === 0;
  const of = { strip, choices, parts, begun: left.data };
  return html`<${Frame} title=${title} strip=${strip} of=${whole.data.name}>
    <${Standing} views=${[whole, view]} />
    <p class="quiet">${t("What can be turned, moved or filled: how it was found and how it stands. The machine’s manual comes first.")}</p>
    ${first ? html`<p>${t("No setting is written down yet. Note how each is before you turn it.")}</p>` : html`<p><strong>${changedWords(view.data)}</strong></p>`}
    ${!first && html`<div class="stack"><${Section} title=${t("How to go back to how it was found")} says=${toDo(settings)}><${WaysBack} rows=${settings} settings=${settings} /><//>
      <${Section} late title=${t("As it stood on a day")} says=${t("the whole machine, and the way back to it")}><${OnADay} ...${{ strip, settings }} /><//></div>`}
    ${!first && html`<section class="stack"><h2>${t("As it stands")}</h2>
      <${LongList} as="plain" rows=${settings} keyOf=${(card) => card.setting} box=${(rows) => html`<div class="twofold">${rows}</div>`} of=${(card, place) => html`<${Setting} key=${card.setting} ...${{ card, place, ...of }} />`} /></section>`}
    <${Drafted} key=${first} form=${AddSetting} stem=${`setting/${strip}`} first=${first} ...${{ strip, choices, parts }} />
    ${struck.length > 0 && html`<${Section} title=${t("Struck as a mistake")} says=${struck.length === 1 ? t("one setting") : t("{count} settings", { count: struck.length })}>
      <div class="stack">${struck.map((each) => html`<section class="stack close" key=${each.setting}><h3>${settingName(each)}</h3><p class="quiet">${whereabouts(each)}</p><${SettingHistory} strip=${strip} setting=${each.setting} /></section>`)}</div><//>`}
  <//>`;
}

/** How many stand otherwise than the machine came in, and how many of them since this spell began. */
function changedWords({ changed, changed_in_spell: lately }) {
  if (changed + lately === 0) return t("Nothing known to be changed since it came in.");
  return lately > 0 ? t("{changed} changed since it came in; since the last spell began: {lately}.", { changed, lately }) : t("{changed} changed since it came in.", { changed });
}

const differing = (rows) => rows.filter((row) => row.back.state !== "same");

function toDo(rows) {
  const count = differing(rows).length;
  return count === 0 ? t("all stand as found") : t("{count} to look at", { count });
}

/** What takes each setting back: what to do, its own words for it, and what to mind. */
function WaysBack({ rows, settings }) {
  const of = new Map(settings.map((card) => [card.setting, card]));
  const left = differing(rows);
  if (left.length === 0) return html`<p>${t("Nothing to do: each stands like that.")}</p>`;
  return html`<ul class="lines">${left.map((row) => html`<${WayBack} key=${row.setting} card=${of.get(row.setting)} back=${row.back} />`)}</ul>`;
}

/** The last moment of a day as this phone's calendar has it. */
const endOf = (day) => new Date(`${day}T23:59:59.999`).getTime();

function OnADay({ strip, settings }) {
  const [day, setDay] = useState("");
  return html`<div class="stack"><${Text} field="day" label=${t("Which day")} type="date" value=${day} onValue=${setDay} hint=${t("As it stood at the end of that day.")} />
    ${Number.isFinite(endOf(day)) && html`<${Stood} key=${day} ...${{ strip, settings, day }} />`}</div>`;
}

function Stood({ strip, settings, day }) {
  // Once for each day that is looked at: what is yet to come does not change while somebody looks.
  const [now] = useState(() => Date.now());
  const view = useView(strip, "settings", { until_ms: endOf(day), now_ms: now });
  const rows = view.data?.day?.settings;
  if (!rows) return html`<${Standing} views=${[view]} />`;
  const of = new Map(rows.map((row) => [row.setting, row]));
  return html`<${Standing} views=${[view]} />
    ${view.data.day.before_log && html`<p class="notice">${t("This log begins later than that day: each is shown as it was found.")}</p>`}
    <dl class="facts">${settings.map((card) => html`<${Then} key=${card.setting} card=${card} row=${of.get(card.setting)} />`)}</dl>
    <${Section} light title=${t("How to go back to that day")} says=${toDo(rows)}><${WaysBack} ...${{ rows, settings }} /><//>`;
}

function Then({ card, row }) {
  if (!row) return null;
  return html`<div><dt><strong><bdi>${settingName(card)}</bdi></strong> <span class="quiet">${whereabouts(card)}</span></dt>
    <dd><span class="figure">${stands(row.shown)}</span><${Also} shown=${row.also} />${row.disputed && html` <span class="mark bad">${t("two answers")}</span>`}
    ${row.as_found && row.shown !== null && html` <span class="quiet">${t("as found")}</span>`}</dd></div>`;
}
