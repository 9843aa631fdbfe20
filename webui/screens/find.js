// Finding: one search over all of a strip-down, answered as it is typed. What was typed stands in the address, so that
// whoever opens what was found comes back to the same answer.

import { html, useEffect, useRef, useState } from "../vendor/preact.js";
import { placeOf, readTag, route } from "../addresses.js";
import * as shop from "../shop.js";
import { asWritten, isEnglish, label, t } from "../words.js";
import { Text, word } from "../pieces/fields.js";
import { Frame } from "../pieces/frame.js";
import { problemsOf, useView } from "../pieces/live.js";
import { LongList } from "../pieces/long_list.js";
import { Standing } from "../pieces/show.js";

const LONGEST = 200;
// A browser counts how often a page changes its address; nobody needs each letter there.
const ADDRESS_AFTER_MS = 400;
// Which cautions follow takes longer than the search: they come once somebody has stopped typing.
const CAUTIONS_AFTER_MS = 250;

const headings = () => ({
  bag: t("Bags"), kept: t("Places where things are kept"), part: t("Parts"), fasteners: t("Fasteners"), specification: t("Torques from the manual"),
  note: t("Notes"), item: t("Things to do"), caution: t("Cautions"), setting: t("Settings"), tool: t("Torque wrenches"), scale: t("Scales"), person: t("People"),
});

/** What the core finds by its English words, in the language that is read. */
async function spoken() {
  if (isEnglish()) return null;
  const { choices, texts } = (await shop.choices()).found_by;
  return Object.fromEntries([...choices.map(([field, code]) => [code, label(code, field)]), ...texts.map((text) => [text, t(text)])]);
}

const search = async (strip, asked) => shop.view(strip, "find", { ...asked, spoken: await spoken() });

/** What was found, with the cautions that have the words too. */
async function withCautions(strip, found) {
  const { rows } = await shop.view(strip, "cautions_found", { typed: found.typed, spoken: await spoken() });
  const kinds = rows.length > 0 ? [...found.kinds, { kind: "caution", count: rows.length, rows }] : found.kinds;
  return { ...found, kinds, count: found.count + rows.length, cautions: false };
}

/**
 * What was found for the words as they stand. One search runs at a time; of those that were typed meanwhile only the
 * last is looked for. Without words the core makes ready for the first search, piece by piece.
 */
function useFound(strip, typed) {
  const [state, setState] = useState({ found: null, trouble: null });
  const wanted = useRef(typed);
  const running = useRef(false);
  const live = useRef(true);
  wanted.current = typed;
  async function look() {
    if (running.current) return;
    running.current = true;
    try {
      for (let asked = null, ready = false; live.current && !(ready && asked === wanted.current);) {
        asked = wanted.current;
        const stands = () => live.current && asked === wanted.current;
        const found = await search(strip, { typed: asked });
        ready = found.ready;
        if (stands()) setState({ found, trouble: null });
        if (!found.cautions || !stands()) continue;
        await new Promise((resolve) => { setTimeout(resolve, CAUTIONS_AFTER_MS); });
        const more = stands() && (await withCautions(strip, found));
        if (more && stands()) setState({ found: more, trouble: null });
      }
    } catch (error) {
      if (live.current) setState({ found: null, trouble: problemsOf(error)[0] });
    } finally {
      running.current = false;
    }
  }
  useEffect(() => { look(); }, [strip, typed]);
  useEffect(() => {
    live.current = true;
    const stop = shop.onChange((change) => { if (change.strips?.includes(strip) && change.what !== "strips") look(); });
    return () => { live.current = false; stop(); };
  }, [strip]);
  return { ...state, retry: look };
}

/** Keeps what was typed in the address, without a step in the browser's history. */
function useAddress(strip, typed) {
  const keep = () => {
    const address = route.find(strip, typed);
    if (location.hash !== address && location.hash.startsWith(route.find(strip))) history.replaceState(history.state, "", address);
  };
  useEffect(() => {
    const later = setTimeout(keep, ADDRESS_AFTER_MS);
    return () => clearTimeout(later);
  }, [typed]);
  return keep;
}

export function Find({ strip, written = "" }) {
  const whole = useView(strip, "strip");
  const [typed, setTyped] = useState(written);
  const { found, trouble, retry } = useFound(strip, typed);
  const keep = useAddress(strip, typed);
  const page = useRef(null);
  const field = () => page.current.querySelector("input");
  useEffect(() => {
    // After the screen's heading had the focus: whoever comes here comes to type.
    const next = written ? 0 : requestAnimationFrame(() => setTimeout(() => page.current && field().focus()));
    const slash = (event) => {
      if (event.key !== "/" || event.ctrlKey || event.metaKey || event.altKey || event.target === field()) return;
      event.preventDefault();
      field().select();
    };
    addEventListener("keydown", slash);
    return () => { cancelAnimationFrame(next); removeEventListener("keydown", slash); };
  }, []);

  async function open(event) {
    event.preventDefault();
    keep();
    const tag = readTag(typed.trim(), location.origin);
    if (tag.place) return go(tag.place);
    // A scanner is faster than the answer to what it typed.
    const answer = await search(strip, { typed }).catch(() => null);
    const [row, ...more] = answer?.kinds.flatMap((kind) => kind.rows) ?? [];
    if (answer?.opens) return go(placeOf(strip, answer.opens));
    if (row && more.length === 0 && !answer.cautions) return go(placeOf(strip, row));
    page.current?.querySelector(".found a")?.focus();
    return undefined;
  }
  const go = (address) => { location.hash = address; };

  const own = found?.typed === typed ? found : null;
  return html`<${Frame} title=${t("Find")} strip=${strip} of=${whole.data?.name} here="find">
    <div class="stack finding" ref=${page} onClickCapture=${keep}>
      <form role="search" onSubmit=${open}><${Text} field="find" type="search" enterkeyhint="search" autocapitalize="off" spellcheck=${false} big label=${t("Find in this strip-down")}
        hint=${t("A part, a bag’s number, M8x25, a word of a note, a person.")} value=${typed} onValue=${setTyped} onFocus=${toTheTop} maxlength=${LONGEST} /></form>
      <p role="status" class="quiet">${countWords(own, typed)}</p>
      ${trouble && html`<${Standing} views=${[{ data: null, trouble, retry }]} />`}
      ${own?.count === 0 && !own.cautions && typed.trim() && html`<${Nothing} />`}
      ${found && found.count > 0 && typed.trim() && html`<div class="stack found" aria-busy=${!own}>${found.kinds.map((kind) => html`<${Kind} key=${kind.kind + found.typed} ...${{ strip, kind, typed: found.typed }} />`)}</div>`}
    </div>
  <//>`;
}

/** Where fingers type, a keyboard covers half of the screen. */
function toTheTop({ currentTarget: field }) {
  if (matchMedia("(pointer: coarse)").matches) setTimeout(() => field.closest("form").scrollIntoView({ block: "start" }));
}

function countWords(found, typed) {
  if (!typed.trim()) return "";
  if (!found || (found.count === 0 && found.cautions)) return t("Looking…");
  return found.count === 0 ? t("Nothing found.") : t("{count} found.", { count: found.count });
}

function Nothing() {
  return html`<div class="stack close"><p>${t("Nothing here has all of these words.")}</p>
    <ul class="pointed stack close"><li>${t("Leave a word out, or type only its beginning.")}</li>
      <li>${t("A thread is found as M8x25, 8x25 or 1/4-20.")}</li>
      <li>${t("What was struck as a mistake is not found here, and another machine has a search of its own.")}</li></ul></div>`;
}

/** The nearest finds of one kind, and all of them on asking. */
function Kind({ strip, kind: { kind, count, rows }, typed }) {
  const [all, setAll] = useState(null);
  const section = useRef(null);
  const title = headings()[kind];
  async function more() {
    const found = await search(strip, { typed, only: kind }).catch(() => null);
    if (found?.kinds[0]) setAll(found.kinds[0].rows);
  }
  useEffect(() => { if (all) section.current?.querySelectorAll("li > a")[rows.length]?.focus(); }, [all]);
  return html`<section class="stack close" ref=${section}><div class="spread"><h2>${title}</h2><span class="figure">${t("{count}", { count })}</span></div>
    <${LongList} rows=${all ?? rows} keyOf=${(row) => row.id} box=${(drawn) => html`<ul class="lines">${drawn}</ul>`} of=${(row, place) => html`<${Row} key=${row.id} ...${{ strip, row, place }} />`} />
    ${!all && count > rows.length && html`<button type="button" aria-label=${t("Show all {count}: {what}", { count, what: title })} onClick=${more}>${t("Show all {count}", { count })}</button>`}</section>`;
}

const nameless = () => ({ part: t("Part without a name"), setting: t("Setting without a name") });

function titleOf({ kind, title }) {
  if (!title) return nameless()[kind] ?? t("Without a name");
  if (typeof title === "string") return title;
  if ("label" in title) return title.label ? word(title.label) : nameless()[kind];
  return kind === "specification" ? asWritten(t(title)) : t(title);
}

function Row({ strip, row, place }) {
  const beside = row.beside.map((each) => t("{what}", { what: each })).join(" · ");
  return html`<li ...${place}><a class="line" href=${placeOf(strip, row)}><div>
    <span class="name">${titleOf(row)}</span>
    ${beside && html`<p class="quiet">${beside}</p>`}
    ${row.now && html`<p>${t(row.now)}</p>`}
    ${row.mistyped && html`<p><span class="mark">${t("one letter differs")}</span></p>`}</div></a></li>`;
}
