// The draft of a form, one for each tab: written as it is typed, and found again after the tab was closed.
//
// A stem names the form and its thing: "weigh_in/<strip>", "place/<strip>/<part>". Keys are `stem/<id>`.

import * as log from "../log.js";
import { uuidv7 } from "../vendor/uuidv7-1.2.1.mjs";

// On a reload the page that goes gives its hold up a moment after the one that comes asks for it.
const OWN_WITHIN_MS = 1_000;
const held = new Map();
const keepers = new Map();

/** Hold a draft's key for this tab until the tab is gone; false when another tab holds it. */
function hold(key, options) {
  if (!navigator.locks) return Promise.resolve(true);
  if (!held.has(key)) held.set(key, request(key, options));
  return held.get(key);
}

function request(key, options) {
  return new Promise((answer) => {
    const refuse = () => { held.delete(key); answer(false); };
    const take = (lock) => {
      if (!lock) return refuse();
      answer(true);
      return new Promise(() => {});
    };
    navigator.locks.request(`cotterbook-draft/${key}`, options, take).catch(refuse);
  });
}

const here = (stem) => `draft:${stem}`;

/** The unfinished drafts of these stems, once what this tab still writes lies in the store. */
async function unfinished(begins) {
  const own = [...keepers].filter(([key]) => key.startsWith(begins));
  await Promise.all(own.map(([, keeper]) => keeper.settled()));
  return (await log.drafts()).filter((each) => each.key.startsWith(begins) && !each.submitted);
}

/**
 * The key under which this tab keeps its draft of a form, and what lies there. A tab that has none
 * takes up the newest one that a closed tab left. A duplicated tab begins afresh.
 * @param {string} stem names the form
 * @returns {Promise<{key: string, draft: object|undefined}>}
 */
export async function claimDraft(stem) {
  const take = (key, draft) => {
    sessionStorage.setItem(here(stem), key);
    return { key, draft };
  };
  const left = await unfinished(`${stem}/`);
  const known = sessionStorage.getItem(here(stem));
  const mine = left.find((each) => each.key === known);
  if (mine && (await hold(known, { signal: AbortSignal.timeout(OWN_WITHIN_MS) }))) return take(known, mine);
  for (const draft of left.filter((each) => each !== mine).sort((a, b) => b.at - a.at)) {
    if (await hold(draft.key, { ifAvailable: true })) return take(draft.key, draft);
  }
  // A key that a duplicated tab brought along stays with the tab that it came from.
  const key = held.has(known) ? known : `${stem}/${uuidv7()}`;
  return take(key, undefined);
}

/**
 * The stems under `begins` of which `claimDraft` would find a draft, the newest first: not those another tab is at.
 * @param {string} begins such as "place/<strip>/" @returns {Promise<string[]>}
 */
export async function stemsLeft(begins) {
  const left = (await unfinished(begins)).sort((a, b) => b.at - a.at);
  const locks = (await navigator.locks?.query())?.held ?? [];
  const taken = new Set(locks.map(({ name }) => name));
  const stem = ({ key }) => begins + key.slice(begins.length).split("/")[0];
  const open = (draft) => sessionStorage.getItem(here(stem(draft))) === draft.key || !taken.has(`cotterbook-draft/${draft.key}`);
  return [...new Set(left.filter(open).map(stem))];
}

/**
 * What keeps a draft in this tab: one write at a time, the latest always last.
 * @param {string} key
 * @returns {{keep: (value: object) => void, drop: () => Promise<void>, settled: () => Promise<void>,
 *   onTrouble: (error: Error) => void}} `onTrouble` is told of each write that failed
 */
export function keeperOf(key) {
  if (!keepers.has(key)) keepers.set(key, keeper(key));
  return keepers.get(key);
}

function keeper(key) {
  let busy = null;
  let next;
  const self = {
    keep: (value) => put(value),
    drop: async () => { put(null); await busy; },
    settled: async () => { await busy; },
    onTrouble: () => {},
  };
  const write = async () => {
    await hold(key, { ifAvailable: true });
    while (next !== undefined) {
      const value = next;
      next = undefined;
      try { await (value === null ? log.deleteDraft(key) : log.putDraft(key, value)); } catch (error) { self.onTrouble(error); }
    }
    busy = null;
  };
  const put = (value) => { next = value; busy ??= write(); };
  return self;
}
