// Handing over: what the next evening or the next person needs to know, read in a minute.

import { html, useState } from "../vendor/preact.js";
import { route } from "../addresses.js";
import { label, t, when } from "../words.js";
import { Section } from "../pieces/fields.js";
import { Frame } from "../pieces/frame.js";
import { Icon } from "../pieces/icons.js";
import { itemWords, planWords } from "../pieces/items.js";
import { useView } from "../pieces/live.js";
import { Bag, Standing, byWhom, groupWords, whereabouts } from "../pieces/show.js";
import { aboutWords, timeWords } from "../pieces/time_words.js";
import { ShareOut } from "./handover_share.js";
import { TablesOut } from "./handover_tables.js";
import { settingName } from "./settings_words.js";

export function Handover({ strip }) {
  const [now] = useState(() => Date.now());
  const whole = useView(strip, "strip");
  const seen = useView(strip, "handover", { now_ms: now });
  const title = t("Handing over");
  if (!whole.data || !seen.data) return html`<${Frame} title=${title} strip=${strip}><${Standing} views=${[whole, seen]} /><//>`;
  const { spell, next, no_end: noEnd, not_all_read: notAll, stops, minutes, spells, time } = seen.data;
  return html`<${Frame} title=${title} strip=${strip} of=${whole.data.name} stopped>
    <${Standing} views=${[whole, seen]} />
    ${stops.lines.length > 0 && html`<section class="stop" aria-label=${t("Stop")}><${Icon} name="stop" /><div class="stack close">${stops.lines.map((sentence) => html`<p key=${t(sentence)}><strong>${t("Stop:")}</strong> ${t(sentence)}</p>`)}<${More} of=${stops} /></div></section>`}
    <p>${spellWords(spell)} ${spells > 1 && t("{time} to date, in {count} spells.", { time: timeWords(minutes), count: spells })}</p>
    ${notAll && html`<p class="notice">${t(notAll)}</p>`}
    ${noEnd && html`<p class="mark bad">${t(noEnd)}</p>`}
    ${next && html`<section class="notice"><h2>${t("What comes next")}</h2><p>${next.text}</p><p class="quiet">${byWhom(next)}</p></section>`}
    <div class="twofold"><div class="stack"><${Open} seen=${seen.data} /></div>
      <div class="stack"><${Done} seen=${seen.data} />
        ${time.lines.length > 0 && html`<${Section} title=${t("Time by part, in this spell")} says=${t("as far as the record shows it")}><${Time} time=${time} /><//>`}
        ${spells > 1 && html`<${Section} late title=${t("Time by part, to date")}><${ToDate} ...${{ strip, now }} /><//>`}
        <section class="section"><h2>${t("For the next machine of its kind")}</h2><p><a class="button" href=${route.map(strip)}>${t("Make a map of this machine")}</a></p></section>
        <${ShareOut} strip=${strip} /><${TablesOut} strip=${strip} /></div></div>
    <div class="row"><a class="button" href=${route.openItems(strip)}>${t("All open items")}</a><a class="button" href=${route.count(strip)}>${t("The whole count")}</a></div>
  <//>`;
}

function spellWords(spell) {
  if (!spell) return t("No spell of work has begun yet.");
  const { from_ms: from, to_ms: to, minutes, people } = spell;
  const values = { from: when(from), to: to && when(to), time: timeWords(minutes), people };
  if (to) return people.length > 0 ? t("{from} to {to}, {time}. There: {people}.", values) : t("{from} to {to}, {time}.", values);
  return people.length > 0 ? t("Since {from}, {time} so far. There: {people}.", values) : t("Since {from}, {time} so far.", values);
}

const More = ({ of }) => of.more > 0 && html`<p class="quiet">${t("{count} more.", { count: of.more })}</p>`;

/** Plain words: this page is read, and its links are at its end. */
const named = (part) => html`<span class="name">${part.name || t("Part without a name")}</span>${part.side && html` <span class="quiet">${label(part.side)}</span>`}`;

/** A list under its heading; nothing where there is nothing in it. */
function List({ title, of, draw }) {
  if (of.lines.length === 0) return null;
  return html`<section class="stack close"><h2>${title}</h2><ul class="brief">${of.lines.map((line, index) => html`<li key=${index}>${draw(line)}</li>`)}</ul><${More} of=${of} /></section>`;
}

/** What is not finished: half done, missing, before the next spell, next on. */
function Open({ seen }) {
  const { half_done: half, missing, missing_said: said, before_next: items, next_parts: parts, undecided } = seen;
  const nothing = [half, missing, items, parts].every((of) => of.lines.length === 0) && !undecided && !seen.not_all_read;
  return html`
    <${List} title=${t("Half done: loose or unmarked")} of=${half} draw=${(line) => html`<span class="mark bad">${halfWords(line)}</span> ${t("{what} of {part}", { what: line.called, part: line.name })}`} />
    <${List} title=${t("Missing")} of=${missing} draw=${(line) => t(line.text)} />
    ${said && html`<p class="quiet">${t("Said of what is missing: {text}", said)} · ${byWhom(said)}</p>`}
    <${List} title=${t("Before the next spell")} of=${items} draw=${(line) => html`${itemWords(line)} <span class="quiet">${planWords(line)}</span>`} />
    <${List} title=${t("Next on the way back")} of=${parts} draw=${named} />
    ${undecided > 0 && html`<p>${t("Off, and not decided what becomes of them: {count}.", { count: undecided })}</p>`}
    ${nothing && html`<p class="mark done">${t("Nothing is half done or missing in the record.")}</p>`}`;
}

function halfWords({ loose, unmarked }) {
  if (loose > 0 && unmarked > 0) return t("{loose} loose, {unmarked} unmarked:", { loose, unmarked });
  return loose > 0 ? t("{loose} loose:", { loose }) : t("{unmarked} unmarked:", { unmarked });
}

/** What was done since the spell began, and where the bags are. */
function Done({ seen }) {
  const { came_off: off, went_on: on, adjusted, bags } = seen;
  return html`
    <${List} title=${t("Came off")} of=${off} draw=${(part) => html`${named(part)} ${part.bag && html`<${Bag} label=${part.bag} />`}`} />
    <${List} title=${t("Went on")} of=${on} draw=${named} />
    <${List} title=${t("Adjusted")} of=${adjusted} draw=${(line) => html`<span class="name">${settingName(line)}</span> <span class="quiet">${whereabouts(line)}</span> ${t("from {from} to {to}", line)}`} />
    <${List} title=${t("Where the bags are")} of=${bags} draw=${(bag) => html`<${Bag} label=${bag.label} /> ${groupWords(bag.count)} <span class="quiet">${bag.kept ?? t("where it is kept is not said")}</span>`} />`;
}

/** How long was worked on each part, roughly. */
const Time = ({ time }) => html`<dl class="sums">${time.lines.map((line) => html`<div key=${line.part}><dt>${line.name || t("no part of its own")}</dt><dd class="figure">${aboutWords(line.about_minutes)}</dd></div>`)}</dl><${More} of=${time} />
  <p class="quiet">${t("Taken from when things were written down. After a gap of more than 20 minutes nobody knows, and nothing is counted.")}</p>`;

/** The same of all spells together; asked for once it is opened, as it goes through the whole record. */
function ToDate({ strip, now }) {
  const view = useView(strip, "time", { now_ms: now });
  return view.data ? html`<${Time} time=${{ lines: view.data.parts, more: 0 }} />` : html`<${Standing} views=${[view]} />`;
}
