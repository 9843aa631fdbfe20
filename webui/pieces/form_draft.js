// The draft of a form, one for each tab: written as it is typed, and found again after the tab was closed.

import * as log from "../log.js";
import { uuidv7 } from "../vendor/uuidv7-1.2.1.mjs";

// On a reload the page that goes gives its hold up a moment after the one that comes asks for it.
const OWN_WITHIN_MS = 1_000;
const held = new Set();

/** Hold a draft's key for this tab until the tab is gone; false when another tab holds it. */
function hold(key, options) {
  if (held.has(key) || !navigator.locks) return Promise.resolve(true);
  return new Promise((answer) => {
    const take = (lock) => {
      answer(Boolean(lock));
      if (!lock) return undefined;
      held.add(key);
      return new Promise(() => {});
    };
    navigator.locks.request(`cotterbook-draft/${key}`, options, take).catch(() => answer(false));
  });
}

/**
 * The key under which this tab keeps its draft of a form, and what lies there. A tab that has none
 * takes up the newest one that a closed tab left. A duplicated tab begins afresh.
 * @param {string} stem names the form: keys are `stem/<id>`
 * @returns {Promise<{key: string, draft: object|undefined}>}
 */
export async function claimDraft(stem) {
  const here = `draft:${stem}`;
  const take = (key, draft) => {
    sessionStorage.setItem(here, key);
    return { key, draft };
  };
  const left = (await log.drafts()).filter((each) => each.key.startsWith(`${stem}/`) && !each.submitted);
  const known = sessionStorage.getItem(here);
  const own = known && (await hold(known, { signal: AbortSignal.timeout(OWN_WITHIN_MS) })) ? known : null;
  const mine = own && left.find((each) => each.key === own);
  if (mine) return take(own, mine);
  for (const draft of left.sort((a, b) => b.at - a.at)) {
    if (await hold(draft.key, { ifAvailable: true })) return take(draft.key, draft);
  }
  const key = own ?? `${stem}/${uuidv7()}`;
  await hold(key, { ifAvailable: true });
  return take(key, undefined);
}

/**
 * Keeps a form's draft: one write at a time, the latest always last.
 * @param {string} key @param {(error: Error) => void} onTrouble told of each write that failed
 */
export function draftKeeper(key, onTrouble) {
  let busy = null;
  let next;
  const write = async () => {
    while (next !== undefined) {
      const value = next;
      next = undefined;
      try { await (value === null ? log.deleteDraft(key) : log.putDraft(key, value)); } catch (error) { onTrouble(error); }
    }
    busy = null;
  };
  const put = (value) => { next = value; busy ??= write(); };
  return {
    keep: put,
    settled: async () => { await busy; },
    drop: async () => { put(null); await busy; },
  };
}
