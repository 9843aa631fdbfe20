// The map of this kind of machine: what it foresees here, taking one, and making one of what was taken apart.

import { html, useState } from "../vendor/preact.js";
import { route } from "../addresses.js";
import * as shop from "../shop.js";
import { isolated, t } from "../words.js";
import { Text } from "../pieces/fields.js";
import { FileOut, fileNamed } from "../pieces/file_out.js";
import { Problems, useForm } from "../pieces/form.js";
import { Frame } from "../pieces/frame.js";
import { problemsOf, useActing, useView } from "../pieces/live.js";
import { LongList } from "../pieces/long_list.js";
import { MapInShort } from "../pieces/map_file.js";
import { Standing, foreseenFasteners, whereabouts } from "../pieces/show.js";
import { Take } from "./map_take.js";

export function MapOfMachine({ strip }) {
  const whole = useView(strip, "strip");
  const view = useView(strip, "foreseen");
  const title = t("Map of this kind of machine");
  if (!whole.data || !view.data) return html`<${Frame} title=${title} strip=${strip}><${Standing} views=${[whole, view]} /><//>`;
  const { parts } = view.data;
  return html`<${Frame} title=${title} strip=${strip} of=${whole.data.name}>
    <${Standing} views=${[whole, view]} />
    <p>${t("A map says what such a machine is made of, in the order it comes apart: parts, fasteners, keys, torques with their page, masses, times. The next machine of its kind goes quicker with it.")}</p>
    <div class=${parts.length > 0 ? "twofold" : "stack"}>${parts.length > 0 && html`<div class="stack"><${Foreseen} strip=${strip} seen=${view.data} /></div>`}
      <div class="stack">
        <${Take} strip=${strip} machine=${view.data.machine} />
        <${Make} strip=${strip} many=${view.data.for_a_map} />
        <section class="section"><h2>${t("Torques from a table")}</h2><p>${t("A table that you made from this machine’s own manual can be taken as a whole, row by row checked.")}</p>
          <p><a class="button" href=${route.specifications(strip)}>${t("Torques from a table")}</a></p></section>
        <section class="section"><h2>${t("Two maps into one")}</h2><p><a class="button" href=${route.maps()}>${t("Merge two maps")}</a></p></section></div></div>
  <//>`;
}

/** How many of what is foreseen came off, and how many were otherwise. */
export function foreseenWords({ left, done, otherwise }) {
  const words = t("{done} off, {left} to come.", { done, left });
  return otherwise > 0 ? `${words} ${t("Otherwise than foreseen: {otherwise}.", { otherwise })}` : words;
}

function Foreseen({ strip, seen }) {
  const acting = useActing();
  const drop = (row, dropped) => acting.run("drop_foreseen", { strip, foreseen: row.foreseen, dropped });
  const of = (row, place) => html`<${ForeseenPart} key=${row.foreseen} ...${{ strip, row, place, drop, busy: acting.busy }} />`;
  return html`<section class="section"><h2>${t("Foreseen")}</h2>
    <p>${foreseenWords(seen)}</p>
    ${seen.left > 0 && html`<p><a class="button main" href=${route.takeOff(strip)}>${t("Take off what is foreseen")}</a></p>`}
    <${Problems} problems=${acting.problems} />
    <${LongList} rows=${seen.parts} keyOf=${(row) => row.foreseen} box=${(rows) => html`<ul class="lines">${rows}</ul>`} of=${of} /></section>`;
}

function ForeseenPart({ strip, row, place, drop, busy }) {
  const { name, fasteners, ordinary, about_minutes: minutes, state, otherwise } = row;
  const what = [whereabouts(row), ...foreseenFasteners(fasteners)].filter(Boolean).map(isolated).join(" · ");
  return html`<li class="line" ...${place}>
    <div class="spread"><span>${row.part ? html`<a class="name" href=${route.part(strip, row.part)}>${name}</a>` : html`<span class="name">${name}</span>`}</span><${State} row=${row} /></div>
    ${what && html`<p class="quiet">${what}</p>`}
    ${(ordinary || minutes > 0) && html`<p class="quiet">${ordinary && t(ordinary)} ${minutes > 0 && t("About {minutes} minutes.", { minutes })}</p>`}
    <${Otherwise} sentences=${otherwise} />
    ${state === "left" && html`<div><button type="button" class="plain" disabled=${busy} aria-label=${t("Not on this machine: {name}", { name })} onClick=${() => drop(row, true)}>${t("Not on this machine")}</button></div>`}
    ${state === "dropped" && html`<div><button type="button" class="plain" disabled=${busy} aria-label=${t("It is there after all: {name}", { name })} onClick=${() => drop(row, false)}>${t("It is there after all")}</button></div>`}
  </li>`;
}

function State({ row: { state, otherwise } }) {
  if (state === "left") return html`<span class="mark">${t("to come off")}</span>`;
  if (state === "dropped") return html`<span class="mark wait">${t("not on this machine")}</span>`;
  return otherwise.length > 0 ? html`<span class="mark bad">${t("off, otherwise")}</span>` : html`<span class="mark done">${t("off, as foreseen")}</span>`;
}

/** In what a part was otherwise than foreseen. */
export const Otherwise = ({ sentences }) => sentences.length > 0 && html`<ul class="pointed">${sentences.map((each, index) => html`<li key=${index}>${t(each)}</li>`)}</ul>`;

function Make({ strip, many }) {
  const [problems, setProblems] = useState([]);
  const [made, setMade] = useState(null);
  const form = useForm({ machine: "" }, problems, () => setMade(null));
  async function make(event) {
    event.preventDefault();
    try {
      const { text, short } = await shop.makeMap(strip, { machine: form.latest.current.machine, now_ms: Date.now() });
      setProblems([]);
      setMade({ short, file: fileNamed([text], "map", "json", "application/json") });
    } catch (error) {
      setMade(null);
      setProblems(problemsOf(error));
    }
  }
  return html`<section class="section"><h2>${t("Make a map of this machine")}</h2>
    ${many === 0 ? html`<p>${t("No part that belongs to such a machine is off yet.")}</p>` : html`<form class="stack" onSubmit=${make} novalidate autocomplete="off">
      <p>${many === 1 ? t("From what came off so far: one part. Accessories and new parts stay out; so do names of people, notes and pictures.") : t("From what came off so far: {count} parts. Accessories and new parts stay out; so do names of people, notes and pictures.", { count: many })}</p>
      <${Problems} problems=${problems} />
      <${Text} ...${form.bind("machine")} label=${t("Kind of machine")} hint=${t("As anybody calls it. Not its number, and not whose it is: the map travels.")} big maxlength="120" />
      <button type="submit">${t("Make the map")}</button>
      ${made && html`<div class="block done"><p class="mark done" role="status">${t("Made, read back, and whole")}</p><${FileOut} file=${made.file}><${MapInShort} short=${made.short} /><//></div>`}
    </form>`}</section>`;
}
