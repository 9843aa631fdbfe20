// Sends what the PC lacks and fetches what this phone lacks.
//
// What holds at every moment, whatever fails:
//  1. A cursor moves only in the transaction that stores the batch that it ends.
//  2. An entry becomes sent only from an answer to the request that carried it.
//  3. A refused entry stays, and is not sent again, until a person deals with it or the PC's program is another.
//  4. Pictures go after entries: an entry waits for no more than the two pictures that are on their way.
//  5. One tab sends at a time; two would waste requests and lose nothing.
//  6. The log is the only queue: each request reads what to send afresh, and no
//     token outlives the page.
//  7. A failure is followed by a wait, longer each time until the very thing that
//     failed succeeds; only a person or a sign that the network is back cuts it
//     short. What fails for pictures holds up no entry.
//  8. A picture's bytes stay on the phone at least until the PC acknowledged its hash.
//  9. "Sent" and cursors are those of one PC's data: where others answer, all is unsent
//     and unread again, and no answer of theirs was taken for the first's. A PC whose data
//     are older, or a part of them gone, is told by the last entry that it had there, and
//     answers as one with others. One that is another each time is asked as seldom as one
//     that fails, though a page of it was answered in between.
// 10. What the PC says it lacks is unsent before anything else of its answer is kept:
//     a full phone makes room with pictures that the PC has, and with no others.
// 11. Pictures take turns: one that fails, or that the PC can't be asked about, holds up no other.

import { NotPaired, OtherEachTime, PcAway, PcRefused, StorageFull, Told } from "./errors.js";
import * as log from "./log.js";
import { LOOKS_ON, exchangeEntries, hello, sendPhotos } from "./sync-steps.js";

const EVERY_MS = 30_000;
// At the desk somebody watches what the phones send.
const WATCHED_MS = 5_000;
const AT_THE_DESK = "(min-width: 62rem)";
const FIRST_WAIT_MS = 1_000;
const LONGEST_WAIT_MS = 60_000;
const CLOCK_MAY_DIFFER_MS = 120_000;
// Longer than any step takes: a tab that holds the sender's place beyond it is asleep. On the slowest network that is a
// minute for the question which pictures the PC lacks, one until the last is begun, and five for one of 2 MB.
const STEP_AT_MOST_MS = 450_000;

/** How the sending of entries, or of pictures, has failed since it last succeeded: how often, why, and until when to wait. */
const untroubled = () => ({ failures: 0, notBefore: 0, /** @type {Told|null} */ failure: null });

/**
 * Everything that decides what happens next. Counts are read from the log before each decision. `now` and
 * `notBefore` are of a clock that nobody sets: with the phone's own, an hour put back would be an hour more to wait.
 */
const state = {
  now: 0, csrf: null, csrfIsFresh: false, due: false,
  unsent: 0, unsent_photos: 0,
  /** Whether a device that looks on has yet to ask which pictures another has brought. */ asksPhotos: false,
  entries: untroubled(), photos: untroubled(),
  /** What the PC's list says of this device: {role, name, alone}; null until the PC said it. */ pairing: null,
};

/**
 * The next step, from the state alone.
 * @returns {{step: "wait", ms: number}|{step: "hello"|"entries"|"photos"|"rest"}}
 */
export function decide(state) {
  const what = next(state);
  if (!what) return { step: "rest" };
  const { now, csrf } = state;
  const { notBefore } = state[what];
  if (now < notBefore) return { step: "wait", ms: notBefore - now };
  return { step: csrf ? what : "hello" };
}

/** What is to go next, "entries" or "photos"; null for nothing. */
function next({ due, unsent, unsent_photos, asksPhotos, pairing }) {
  // A device that may only look on keeps what it has, and asks for what is new.
  if (pairing?.role === LOOKS_ON) {
    unsent = 0;
    if (!asksPhotos) unsent_photos = 0;
  }
  if (due || unsent) return "entries";
  return unsent_photos ? "photos" : null;
}

const STEPS = { hello, entries: exchangeEntries, photos: sendPhotos };

/** @param {string} step a greeting says that the PC is there and knows us, and nothing of what comes after: it ends no row of failures */
async function succeeded(step, { contact, ...changes }) {
  if (step !== "hello") Object.assign(state, { [step]: untroubled(), csrfIsFresh: false });
  for (const what of [state.entries, state.photos]) if (what.failure instanceof PcAway || what.failure instanceof NotPaired) what.failure = null;
  Object.assign(state, changes);
  if (contact) await share(contact);
}

/** @param {unknown} error @param {"entries"|"photos"} [of] what was to go: meanwhile something else may be next */
function failed(error, of = "entries") {
  const what = state[of];
  if (!(error instanceof Told)) error = new Told("Sending stopped: {reason}. Everything is kept on this phone.", { reason: String(error) }, error);
  const tokenRefused = error instanceof PcRefused && error.code === "csrf" && !state.csrfIsFresh;
  state.csrf = null;
  if (error instanceof NotPaired) state.pairing = null;
  // An old token is no failure: the next step fetches another, and only if that one fails too we wait.
  if (tokenRefused) return;
  what.failures = Math.max(what.failures + 1, error instanceof OtherEachTime ? error.times : 0);
  const wait = Math.min(LONGEST_WAIT_MS, FIRST_WAIT_MS * 2 ** (what.failures - 1));
  Object.assign(what, { failure: error, notBefore: performance.now() + wait * (0.5 + Math.random() / 2) });
}

/** @type {Promise<void>|null} */
let running = null;
let timer = 0;
/** Kicked since the last step began: what was saved then may not have been counted. */
let kicked = false;

function run() {
  clearTimeout(timer);
  running ??= steps().catch((error) => failed(error)).finally(() => {
    running = null;
    return kicked ? run() : publish();
  });
  return running;
}

async function steps() {
  while (await alone(oneStep));
}

async function oneStep() {
  kicked = false;
  const { unsent, unsent_photos } = await log.counts();
  Object.assign(state, { unsent, unsent_photos, now: performance.now() });
  const { step, ms } = decide(state);
  const what = next(state);
  if (step === "wait") timer = setTimeout(run, ms);
  if (!STEPS[step]) return false;
  publish();
  try {
    await succeeded(step, await STEPS[step](state.csrf, state));
  } catch (error) {
    failed(error, what);
  }
  return true;
}

async function alone(work) {
  if (!navigator.locks) return work();
  let step = null;
  const place = (options) => navigator.locks.request("cotterbook-sender", options, () => (step = work()));
  try {
    return await place({ signal: AbortSignal.timeout(STEP_AT_MOST_MS) }).catch((error) => {
      if (error.name !== "TimeoutError") throw error;
      return place({ steal: true });
    });
  } catch (error) {
    // Another tab took this one for asleep and has its place. The step comes to its end all the same; the next waits its turn.
    if (error.name === "AbortError" && step) return step;
    throw error;
  }
}

function kick({ atOnce = false } = {}) {
  state.due = true;
  kicked = true;
  if (atOnce) state.entries.notBefore = state.photos.notBefore = 0;
  return run();
}

// What the screens see -------------------------------------------------------

const listeners = new Set();
const channel = new BroadcastChannel("cotterbook-sync");
let shared = { last_contact_ms: null, clock_off_ms: 0, concerns: [] };
let shown = { phase: "idle", unsent: 0, unsent_photos: 0, refused: [], refused_photos: [], ...shared, pairing: null, message: null };

async function share(contact) {
  shared = { ...shared, ...contact };
  channel.postMessage(shared);
  // Said again at the next answer: no picture goes for it, and a phone without room for it sends all the same.
  await log.putSetting("contact", shared, { quiet: true, letGo: async () => 0 }).catch((error) => {
    if (!(error instanceof StorageFull)) throw error;
  });
}
channel.onmessage = ({ data }) => {
  shared = data;
  publish();
};

/** What stands in the way now: of entries first. @returns {Told|null} */
const failure = () => state.entries.failure ?? (state.unsent_photos ? state.photos.failure : null);

function phase(unsent) {
  const why = failure();
  if (why instanceof PcAway) return "away";
  if (why instanceof NotPaired) return why.pairing;
  if (why?.code === "elsewhere") return "elsewhere";
  if (why) return "trouble";
  if (running) return "sending";
  return unsent ? "waiting" : "idle";
}

function span(minutes) {
  if (minutes < 120) return { text: "{n} minutes", values: { n: Math.round(minutes) } };
  if (minutes < 2 * 24 * 60) return { text: "{n} hours", values: { n: Math.round(minutes / 60) } };
  return { text: "{n} days", values: { n: Math.round(minutes / (24 * 60)) } };
}

function message() {
  if (failure()) return failure().sentence;
  if (state.pairing?.role === LOOKS_ON && state.unsent + state.unsent_photos > 0) {
    return { text: "This device may look on, and not write. What was written here is kept here: ask the owner for another role, or hand it over by a file.", values: {} };
  }
  const off = shared.clock_off_ms;
  if (Math.abs(off) <= CLOCK_MAY_DIFFER_MS) return null;
  const text = off > 0 ? "This phone's clock is {span} ahead of the PC's. Nothing is lost; set the clock that is wrong."
    : "This phone's clock is {span} behind the PC's. Nothing is lost; set the clock that is wrong.";
  return { text, values: { span: span(Math.abs(off) / 60_000) } };
}

async function publish() {
  try {
    const [counts, refused, refused_photos] = await Promise.all([log.counts(), log.refused(), log.refusedPhotos()]);
    const { unsent, unsent_photos } = counts;
    shown = { phase: phase(unsent + unsent_photos), unsent, unsent_photos, refused, refused_photos, ...shared, pairing: state.pairing, message: message() };
  } catch (error) {
    shown = { ...shown, phase: "trouble", message: error.sentence };
  }
  for (const listener of listeners) listener(shown);
}

/**
 * How sending stands. `concerns` is what the PC last said of its own troubles, to an owner.
 * @returns {{phase: "idle"|"sending"|"waiting"|"away"|"unpaired"|"revoked"|"elsewhere"|"trouble", unsent: number, unsent_photos: number,
 *   refused: {id: string, entry: object, problem: object}[], refused_photos: {sha256: string, problem: object}[],
 *   concerns: {text: string, values: object}[], pairing: {role: string, name: string, alone: boolean}|null, last_contact_ms: number|null, clock_off_ms: number, message: {text: string, values: object}|null}}
 */
export const snapshot = () => shown;

/** Hear of every change of the snapshot, and at once of the present one. @returns {() => void} stops it */
export function subscribe(listener) {
  listeners.add(listener);
  listener(shown);
  return () => listeners.delete(listener);
}

/** By hand: try now, without waiting for the next turn. */
export const sendNow = () => kick({ atOnce: true });

/** Begin sending by itself: now, when the page comes back, when a network appears, after a save, and every 30 s, at the desk every 5 s. */
export async function start() {
  shared = { ...shared, ...(await log.setting("contact")) };
  document.addEventListener("visibilitychange", () => { if (!document.hidden) sendNow(); });
  addEventListener("online", sendNow);
  log.onChange(({ what, elsewhere }) => {
    if (["entries", "settled", "forgotten", "photos"].includes(what)) publish();
    if (!elsewhere && what === "entries") kick();
  });
  let turn = 0;
  setInterval(() => {
    turn += 1;
    if (!document.hidden && (matchMedia(AT_THE_DESK).matches || turn % (EVERY_MS / WATCHED_MS) === 0)) kick();
  }, WATCHED_MS);
  await kick({ atOnce: true });
}
