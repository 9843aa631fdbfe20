// What the core says of fasteners as they are typed: likely threads, usual keys, the thread as read, bolt lengths.
// It comes after the typing and nothing waits for it: without an answer the form is as it would be without these.

import { html, useEffect, useRef, useState } from "../vendor/preact.js";
import * as shop from "../shop.js";
import { t } from "../words.js";
import { Measure } from "./fields.js";

const PAUSE_MS = 250;
const AT_FIRST = 4;

const blank = (value) => !String(value ?? "").trim();

/**
 * The core's words on what is typed, once the typing pauses; null until then, and where it gives none.
 * @param {{thread?, key?, head?, grade?, grip?, into?, engagement?}} typed as in the form
 * @returns {object|null} its answer, or {problems}; never one for what stood there before
 */
export function useFastenerWords(typed) {
  const asked = JSON.stringify(typed);
  const [answer, setAnswer] = useState({ asked: "", said: null });
  const worth = ["thread", "key", "grade", "grip"].some((name) => !blank(typed[name]));
  useEffect(() => {
    if (!worth) return undefined;
    let live = true;
    const heard = (said) => { if (live) setAnswer({ asked, said }); };
    const pause = setTimeout(() => shop.fasteners(typed).then(heard, ({ problems }) => heard(problems ? { problems } : null)), PAUSE_MS);
    return () => { live = false; clearTimeout(pause); };
  }, [asked]);
  return worth && answer.asked === asked ? answer.said : null;
}

/** Threads or keys to take with a tap: the likeliest few, and the rest behind one more tap. `rows`: {what, why, ...}. */
function Picks({ words, note, rows, onPick }) {
  const [all, setAll] = useState(false);
  const shown = all ? rows : rows.slice(0, AT_FIRST);
  return html`<div class="stack close" role="group" aria-label=${words}><p class="hint"><strong>${words}</strong></p>
    <ul class="picks">${shown.map((row) => html`<li key=${t(row.why) + row.what}><button type="button" onClick=${() => onPick(row)}>
      <strong>${row.what}</strong><span class="quiet">${t(row.why)}</span></button></li>`)}
      ${rows.length > shown.length && html`<li><button type="button" onClick=${() => setAll(true)}>${t("{count} more, less likely", { count: rows.length - shown.length })}</button></li>`}</ul>
    ${note && html`<p class="quiet">${t(note)}</p>`}</div>`;
}

/** Likely threads of a key, as the core lists them. */
export const LikelyThreads = ({ likely, note, onPick }) => html`<${Picks} words=${t("Likely threads for this key")} note=${note}
  rows=${likely.map((each) => ({ ...each, what: each.thread }))} onPick=${onPick} />`;

const UsualKeys = ({ keys, onPick }) => html`<${Picks} words=${t("Usual keys for this thread and head")}
  rows=${keys.map((each) => ({ ...each, what: each.key }))} onPick=${onPick} />`;

/** That there is something to pick from, for who does not see it come. */
function Offered({ likely, keys }) {
  const words = likely > 0 ? t("{count} likely threads below", { count: likely }) : keys > 0 ? t("{count} usual keys below", { count: keys }) : "";
  return html`<p class="hidden" role="status">${words}</p>`;
}

/** How what is typed was read; what was not stands as it was written. */
export const ReadAs = ({ said }) => html`<p class="quiet" aria-live="polite">${said &&
  (said.read ? t("Read as {what}.", { what: said.says }) : t("{why} It is kept as you wrote it.", { why: said.says }))}</p>`;

/**
 * Beside a key: what it likely turns, or what the thread usually takes. A thread that was taken from here is said to
 * be likely alone, and that is where the focus goes: the list it was in is gone.
 */
export function BesideKey({ said, thread, onThread, onKey }) {
  const [taken, setTaken] = useState(null);
  const told = useRef(null);
  useEffect(() => { if (taken) told.current?.focus(); }, [taken]);
  const take = (each) => { onThread(each); setTaken(each.thread); };
  const stands = taken !== null && taken === thread;
  const likely = said?.likely ?? [];
  const keys = said?.keys ?? [];
  return html`<${Offered} likely=${likely.length} keys=${keys.length} />
    ${likely.length > 0 && html`<${LikelyThreads} likely=${likely} note=${said.note} onPick=${take} />`}
    ${keys.length > 0 && html`<${UsualKeys} keys=${keys} onPick=${({ key }) => onKey(key)} />`}
    ${said?.key && keys.length === 0 && html`<p class="quiet">${t(said.key)}</p>`}
    ${stands && html`<div class="notice" tabindex="-1" ref=${told}><p>${t("Thread {thread}: likely by the key, not sure. Hold a thread gauge to it, or run a nut on by hand.", { thread })}</p></div>`}`;
}

/** From the thickness that a bolt clamps, the usual lengths; `onPick` takes one. */
export function BoltLengths({ grip, row, onPick }) {
  const { thread, into, engagement } = row;
  const said = useFastenerWords({ thread, into, engagement, grip: grip.value });
  const lengths = blank(grip.value) ? null : said?.lengths;
  const problem = blank(grip.value) ? null : said?.problems?.[0];
  return html`<div class="stack close">
    <${Measure} ...${grip} unit="mm" label=${t("Thickness it clamps, mm")} hint=${t("For a missing bolt: all that lies under its head, washers too.")} />
    <div class="stack close" aria-live="polite">
      ${problem && html`<p class="quiet">${t(problem.text, problem.values)}</p>`}
      ${lengths && html`<p class="quiet">${t("At least {least} mm. {why}", lengths)}</p>
        ${lengths.lengths.length > 0 ? html`<div class="row">${lengths.lengths.map(({ millimetres, called }) => html`<button type="button" key=${called} onClick=${() => onPick(String(Number(millimetres.toFixed(3))))}>${t("{length} long", { length: called })}</button>`)}</div>`
          : html`<p class="quiet">${t("No usual bolt is that long.")}</p>`}`}
    </div></div>`;
}

/** What a part's page says of one group: thread, key and grade as read, and what one weighs. */
export function AboutFasteners({ about, onThread }) {
  const lines = [about.thread?.read && t("Read as {what}.", { what: about.thread.says }), about.thread && !about.thread.read && t(about.thread.says),
    about.key && t(about.key), about.grade && t(about.grade.says), about.mass && t(about.mass.says), about.mass?.source && t(about.mass.source)].filter(Boolean);
  return html`${lines.length > 0 && html`<ul class="quiet">${lines.map((line) => html`<li key=${line}>${line}</li>`)}</ul>`}
    ${about.likely.length > 0 && html`<${LikelyThreads} likely=${about.likely} note=${about.note} onPick=${onThread} />`}`;
}

const kept = (group, name) => group.fields[name]?.value;

/** Beside the thread of a logged group while it is corrected: how it reads; without one, the likely ones for its key. */
export function BesideThreadFact({ group, typed, onValue }) {
  const said = useFastenerWords({ thread: typed, key: kept(group, "key"), head: kept(group, "head") });
  return html`<${ReadAs} said=${said?.thread} />
    ${said?.likely?.length > 0 && html`<${LikelyThreads} likely=${said.likely} note=${said.note} onPick=${({ thread }) => onValue(thread)} />`}`;
}

/** Beside the key of a logged group while it is corrected: the keys that its thread and head usually take. */
export function BesideKeyFact({ group, typed, onValue }) {
  const said = useFastenerWords({ key: typed, thread: kept(group, "thread"), head: kept(group, "head") });
  if (said?.keys?.length > 0) return html`<${UsualKeys} keys=${said.keys} onPick=${({ key }) => onValue(key)} />`;
  return said?.key && html`<p class="quiet">${t(said.key)}</p>`;
}
