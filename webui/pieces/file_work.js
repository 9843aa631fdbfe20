// Work on a file that takes its time: how far it is, and what went wrong.

import { html, useEffect, useRef, useState } from "../vendor/preact.js";
import { Told } from "../errors.js";
import { stayAwake } from "../wake.js";
import { t } from "../words.js";

/**
 * One piece of work at a time: {busy, done, of, wrong, run}. What ends after the screen was left is not told.
 * `run(work)` gives what work(tell) gave, or null with `wrong` set to its sentence.
 */
export function useWork() {
  const [state, setState] = useState({ busy: false, done: 0, of: 0, wrong: null });
  const live = useRef(true);
  useEffect(() => () => { live.current = false; }, []);
  const put = (change) => { if (live.current) setState((old) => ({ ...old, ...change })); };
  async function run(work) {
    put({ busy: true, done: 0, of: 0, wrong: null });
    stayAwake("a file", true);
    try {
      const answer = await work((done, of) => put({ done, of }));
      put({ busy: false });
      return live.current ? answer : null;
    } catch (error) {
      put({ busy: false, wrong: error.sentence ?? unloaded(error) });
      return null;
    } finally {
      stayAwake("a file", false);
    }
  }
  return { ...state, run };
}

// The modules that pack and unpack come when they are wanted, and may not be there.
const unloaded = (error) =>
  new Told("This did not work: {reason}. Everything is kept as it was. Reload this page and try again.", { reason: String(error?.message ?? error) }).sentence;

/** How far it is, in words and as a bar; what went wrong. */
export function Work({ work: { busy, done, of, wrong }, words }) {
  return html`<div role="status">${busy && html`<p>${words}</p>${of > 0 && html`<progress max=${of} value=${done} aria-label=${words}></progress>`}`}</div>
    ${wrong && html`<div class="notice bad" role="alert"><p>${t(wrong)}</p></div>`}`;
}

const BYTES_A_KILOBYTE = 1000;

/** The size of a file as people say it. */
export function size(bytes) {
  if (bytes < BYTES_A_KILOBYTE ** 2) return t("{size} kB", { size: Math.max(1, Math.round(bytes / BYTES_A_KILOBYTE)) });
  return t("{size} MB", { size: Math.round(bytes / (BYTES_A_KILOBYTE ** 2 / 10)) / 10 });
}

/** Lines of a count each: [[words, count], …]; what counts nothing is left out, but for the first. */
export const Counts = ({ lines }) => html`<dl class="sums">${lines.filter(([, count], place) => place === 0 || count).map(([words, count]) =>
  html`<div key=${words}><dt>${words}</dt><dd class="figure">${t("{count}", { count })}</dd></div>`)}</dl>`;
