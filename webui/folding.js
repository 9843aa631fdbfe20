// Keeps the core folded: it holds the strip-downs that were looked at, up to some entry of the log, and before every
// question gets what has come since. If it dies, it is filled again from the log.
//
// Once it has taken in much and nobody asks anything, it is kept as it stands, and the next start goes on from there.
// An image of a log that has lost an entry since holds more than the log: that strip-down is folded anew.

import * as core from "./core.js";
import { CoreAway } from "./errors.js";
import * as log from "./log.js";

const ENTRIES_A_LOAD = 1000;
/** So many entries are folded faster than an image is worth. */
const WORTH_AN_IMAGE = 200;
const QUIET_MS = 5_000;

/**
 * What one life of the core has folded: of each strip-down the last seq and how many entries. What comes from an image
 * is sure once the log has been counted. `fresh`: how much an image made now would hold beyond the last one.
 * @type {{life: number, upTo: Map<string, {seq: number, entries: number, sure: boolean}>, fresh: number}}
 */
let folded = { life: 0, upTo: new Map(), fresh: 0 };
let turn = Promise.resolve();
let quiet = 0;

/** One at a time: what is asked of the core depends on what it was told before. */
export function inTurn(work) {
  const result = turn.then(work);
  turn = result.catch(() => {});
  return result;
}

async function alive() {
  const held = await core.began();
  const life = core.generation();
  if (folded.life === life) return folded;
  const upTo = new Map((held ?? []).map(([strip, seq, entries]) => [strip, { seq, entries, sure: false }]));
  // Without an image the next start would read the core's modules again, so one is made of the empty core already.
  folded = { life, upTo, fresh: held ? 0 : WORTH_AN_IMAGE };
  return folded;
}

async function fold(strip) {
  const { life, upTo } = await alive();
  let { seq, entries, sure } = upTo.get(strip) ?? { seq: 0, entries: 0, sure: false };
  let rows = await log.entriesOf(strip, seq);
  if (!sure && (seq === 0 || (await log.countOf(strip)) !== entries + rows.length)) {
    await core.call("drop", { strip }, life);
    upTo.delete(strip);
    if (seq) rows = await log.entriesOf(strip);
    entries = 0;
  }
  if (upTo.has(strip)) upTo.get(strip).sure = true;
  for (let i = 0; i < rows.length; i += ENTRIES_A_LOAD) {
    const page = rows.slice(i, i + ENTRIES_A_LOAD);
    await core.call("load", { strip, entries: page.map((row) => row.entry) }, life);
    upTo.set(strip, { seq: (seq = page.at(-1).seq), entries: (entries += page.length), sure: true });
  }
  folded.fresh += rows.length;
  keepLater();
  return life;
}

/** Let the core forget a strip-down. */
export const unload = (strip) => inTurn(async () => {
  if (folded.upTo.delete(strip)) await core.call("drop", { strip }, folded.life).catch(() => {});
});

/**
 * Ask the core about a strip-down, folded as far as the log goes. A core that died between two questions is filled and
 * asked once more.
 * @param {string} name @param {string|undefined} strip @param {object} args
 */
export async function ask(name, strip, args) {
  const once = async () => core.call(name, args, strip ? await fold(strip) : undefined);
  try {
    return await once();
  } catch (error) {
    if (!(error instanceof CoreAway)) throw error;
    return once();
  }
}

function keepLater() {
  clearTimeout(quiet);
  if (folded.fresh >= WORTH_AN_IMAGE) quiet = setTimeout(() => inTurn(keep), QUIET_MS);
}

async function keep() {
  const { life, upTo } = folded;
  const holds = [...upTo].map(([strip, { seq, entries }]) => [strip, seq, entries]);
  // A core that is away keeps nothing, and is none the worse for it.
  if (await core.keep(holds, life).catch(() => false)) folded.fresh = 0;
}
