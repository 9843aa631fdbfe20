// A map's file on its way in: chosen, read, looked through whole, and told what is in it or what is wrong with it.

import { html, useState } from "../vendor/preact.js";
import { Told } from "../errors.js";
import * as shop from "../shop.js";
import { t } from "../words.js";
import { Section } from "./fields.js";
import { Counts, size } from "./file_work.js";
import { problemsOf } from "./live.js";

/** A longer text is no map: the core says the same, and would be long about a much longer one. */
const MOST_CHARACTERS = 400_000;

/**
 * A chosen file: {name, bytes, chosen, text, short, problems, busy, choose, make, leave}; `short` once it was found to be a map.
 * @param {(text: string) => Promise<object>} [look] what is to be found out of its text
 */
export function useMapFile(look = shop.lookAtMap) {
  const none = { name: "", bytes: 0, text: null, short: null, problems: [], busy: false };
  const [state, setState] = useState(none);
  async function choose(event) {
    const input = event.currentTarget;
    const [file] = input.files;
    if (!file) return;
    const of = { ...none, name: file.name, bytes: file.size, chosen: Date.now() };
    setState({ ...of, busy: true });
    try {
      // A character takes up to four bytes.
      const text = file.size > 4 * MOST_CHARACTERS ? null : await file.text();
      if (text === null || text.length > MOST_CHARACTERS) throw new Told("This file is too large for a map.");
      setState({ ...of, text, short: await look(text) });
    } catch (error) {
      setState({ ...of, problems: problemsOf(error) });
    }
    // The same file can be chosen again once it was mended.
    input.value = "";
  }
  /** A map that is made here, which no file holds yet; `making` gives its {text, short}. */
  async function make(name, making) {
    const of = { ...none, name, chosen: Date.now() };
    setState({ ...of, busy: true });
    try {
      setState({ ...of, ...(await making()) });
    } catch (error) {
      setState({ ...of, problems: problemsOf(error) });
    }
  }
  return { ...state, choose, make, leave: () => setState(none) };
}

/** The button that chooses a map's file, and what became of it. */
export function ChooseMap({ file, label = t("Choose a map’s file"), field = "map" }) {
  return html`<div class="row"><label class="button over grow">${label}<input type="file" data-field=${field} accept=".json,application/json" disabled=${file.busy} onChange=${file.choose} /></label></div>
    <div role="status">${file.busy && html`<p>${t("Looking through the file…")}</p>`}</div>
    <${WrongFile} file=${file} />`;
}

/** Everything that is wrong with a file; nothing of it was taken. */
export const WrongFile = ({ file: { name, problems } }) => problems.length > 0 && html`<div class="notice bad" role="alert">
  <p><strong class="name">${name}</strong> ${t("Nothing was taken of this file. Please look at this:")}</p>
  <ul class="pointed">${problems.map((problem, index) => html`<li key=${index}>${t(problem)}</li>`)}</ul></div>`;

/** So many doubts are told at once; more of them fold away, so that what follows is in reach. */
const TOLD = 5;

const doubtful = (doubts) => html`<ul class="pointed">${doubts.map((doubt, index) => html`<li class="mark-line" key=${index}>${t(doubt)}</li>`)}</ul>`;

/** What a map holds: counts, and what may be in a wrong unit. */
export function MapInShort({ name, bytes, short }) {
  return html`${name && html`<p><strong class="name">${name}</strong> ${bytes > 0 && html`<span class="quiet">${size(bytes)}</span>`}</p>`}
    <p>${t("Kind of machine:")} <strong class="name">${short.machine}</strong></p>
    <${Counts} lines=${[[t("Parts"), short.parts], [t("Fasteners"), short.fasteners], [t("Torques"), short.specifications], [t("Machines it was seen on"), short.machines]]} />
    ${short.doubts.length > 0 && doubtful(short.doubts.slice(0, TOLD))}
    ${short.doubts.length > TOLD && html`<${Section} light title=${t("{count} more to look at", { count: short.doubts.length - TOLD })}>${doubtful(short.doubts.slice(TOLD))}<//>`}`;
}
