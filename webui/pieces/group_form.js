// One row of like fasteners, as it is filled in.

import { html } from "../vendor/preact.js";
import { t, usualUnits } from "../words.js";
import { BesideKey, BoltLengths, ReadAs, useFastenerWords } from "./fastener_words.js";
import { Figure, Measure, Pick, Section, Stepper, Text, Tick, Tiles } from "./fields.js";
import { HowTo } from "./how_to.js";
import { AskedTorque } from "./torque_questions.js";

const THREADS = ["M4", "M5", "M6", "M8", "M10", "M10×1.25", "M12", "M12×1.25"];
const LENGTHS = ["10", "12", "16", "20", "25", "30", "35", "40", "50", "60"];

/** A fresh row; what the last row was is the likeliest guess for the head and what it screws into. */
export const newGroup = (last) => ({ count: null, head: last?.head ?? null, into: last?.into ?? null, torque_unit: last?.torque_unit ?? usualUnits().torque });

const suggestions = (id, values) => html`<datalist id=${id}>${values.map((value) => html`<option value=${value} />`)}</datalist>`;

/** What the fields of threads and lengths suggest; stands once in the page. */
export const Suggestions = () => html`${suggestions("threads", THREADS)}${suggestions("lengths", LENGTHS)}`;

/** The fields that say what the fasteners are and where they sit. */
export function WhatItIs({ bind, at, choices, row = {} }) {
  const { thread, key, head, grade } = row;
  const said = useFastenerWords({ thread, key, head, grade });
  const set = (name, value) => bind(`${at}${name}`).onValue(value);
  // Somebody was sure of the thread that stood there before, not of another.
  const setThread = (value) => {
    set("thread", value);
    if (row.thread_confirmed) set("thread_confirmed", false);
    // Nor was a torque said to be right for another.
    if (row.right) set("right", "");
  };
  const take = (likely) => { setThread(likely.thread); if (!head) set("head", likely.head); };
  return html`
    <div class="stack close"><div class="pair">
      <${Text} ...${bind(`${at}thread`)} onValue=${setThread} label=${t("Thread")} list="threads" />
      <${Measure} ...${bind(`${at}length`)} unit="mm" label=${t("Length, mm")} list="lengths" />
    </div><${ReadAs} said=${said?.thread} /><${HowTo} card="thread" /></div>
    <${Section} light title=${t("Head, key, where it sits")}>
      <div class="pair">
        <${Pick} ...${bind(`${at}head`)} label=${t("Head")} options=${choices.heads} />
        <${Text} ...${bind(`${at}key`)} label=${t("Key or spanner")} />
      </div>
      <${HowTo} card="key" />
      <${BesideKey} said=${said} thread=${thread} onThread=${take} onKey=${(value) => set("key", value)} />
      <${Pick} ...${bind(`${at}into`)} label=${t("Screws into")} options=${choices.into} />
      <${Text} ...${bind(`${at}washers`)} label=${t("Washers")} maxlength="60" />
      <${Text} ...${bind(`${at}sits`)} label=${t("Where it sits")} hint=${t("Say front, rear, upper, long ones outside: what you will want to know.")} />
      <${Text} ...${bind(`${at}note`)} label=${t("Note")} lines />
    <//>
    <${Section} light title=${t("Grade, finish, bolt length")}><${SeldomSaid} ...${{ bind, at, choices, row, set, grade: said?.grade }} /><//>`;
}

/** What a torque or a mass may rest on later, and few write down at once. */
function SeldomSaid({ bind, at, choices, row, set, grade }) {
  return html`
    ${String(row.thread ?? "").trim() && html`<${Tick} ...${bind(`${at}thread_confirmed`)} label=${t("Thread held to a gauge or a nut")} />`}
    <div class="pair wide">
      <div class="stack close"><${Text} ...${bind(`${at}grade`)} label=${t("Grade on the head")} /><${ReadAs} said=${grade} /></div>
      <${Pick} ...${bind(`${at}finish`)} label=${t("Finish")} options=${choices.finishes} />
    </div>
    <div class="pair wide">
      <${Measure} ...${bind(`${at}engagement`)} unit="mm" label=${t("Thread screwed in, mm")} />
      <${Measure} ...${bind(`${at}grams_each`)} unit="g" label=${t("One weighs, g")} />
    </div>
    <div class="pair wide">
      <${Text} ...${bind(`${at}size`)} label=${t("Size of a pin, washer or clip")} hint=${t("Each kind has a row of its own.")} />
      <${Pick} ...${bind(`${at}replace_each_time`)} label=${t("New each time")} options=${choices.new_each_time} />
    </div>
    <${Tick} ...${bind(`${at}outside_engine`)} label=${t("Only holds something on the engine’s outside")} />
    <${BoltLengths} grip=${bind(`${at}grip`)} row=${row} onPick=${(length) => set("length", length)} />`;
}

/** The torque that somebody reads from the manual. */
function Specification({ bind, at, choices, strip, row }) {
  const { torque_unit: unit = "N.m" } = row;
  const set = (values) => { for (const name of Object.keys(values)) bind(at + name).onValue(values[name]); };
  // What was said to be so was said of the figure as it stood.
  const anew = (name) => (next) => set({ [name]: next, right: "" });
  const units = { unit, units: choices.torque_units, onUnit: anew("torque_unit") };
  return html`
    <${AskedTorque} strip=${strip} row=${row} fields=${["torque", "torque_high"]} onAnswer=${set}>
      <${Figure} ...${bind(`${at}torque`)} onValue=${anew("torque")} ...${units} label=${t("Torque from the manual")} big /><//>
    <${Text} ...${bind(`${at}torque_page`)} label=${t("Manual and page")} />
    <${Tiles} ...${bind(`${at}torque_condition`)} label=${t("Threads")} options=${choices.conditions} />
    <div class="pair wide">
      <${Measure} ...${bind(`${at}torque_high`)} onValue=${anew("torque_high")} unit=${units.unit} label=${t("Up to, where the manual gives a range")} />
      <${Text} ...${bind(`${at}torque_angle`)} label=${t("Then by angle, degrees")} figure />
    </div>`;
}

/** @param {{bind: Function, at: string, strip: string, choices: object, onRemove: () => void}} props; `at` is like "groups.0." */
export function GroupForm({ bind, at, strip, choices, number, onRemove }) {
  const row = bind(at.slice(0, -1)).value ?? {};
  return html`<div class="block" role="group" aria-label=${t("Fasteners {number}", { number })}>
    <${Stepper} ...${bind(`${at}count`)} label=${t("How many")} />
    <${WhatItIs} ...${{ bind, at, choices, row }} />
    <${Section} light title=${t("Torque from the manual")} says=${row.torque ? "" : t("none yet")}>
      <${Specification} ...${{ bind, at, choices, strip, row }} />
    <//>
    <button type="button" class="plain" onClick=${onRemove}>${t("Remove this row")}</button>
  </div>`;
}
