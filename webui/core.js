// The page's side of the core: starts its worker, asks it, and starts another when it dies.

import { CORE_WORKER } from "./addresses.js";
import { forget } from "./core-image.js";
import { CoreAway, CoreFault, CoreProblems } from "./errors.js";

// A poor phone takes its time over the longest lists of a log of 10,000 entries: that is no reason to start afresh.
const ANSWER_WITHIN_MS = 30_000;
// Whoever saves waits no longer than this for a core that hangs: what was typed goes in by itself later.
const ACT_WITHIN_MS = 10_000;
// The first start may fetch the interpreter over a slow network.
const START_WITHIN_MS = 60_000;

/**
 * @type {{worker: Worker, ready: boolean, fromImage: boolean, began: Promise<object|null>,
 *   begin: (holds: object|null) => void, fail: (error: Error) => void}|null}
 */
let running = null;
let lives = 0;
let lastNumber = 0;
/** Calls in the order they came; the first one is with the worker. */
const queue = [];
let timer = 0;

/** How often the core has been started: what it had folded before is gone when this changes. */
export const generation = () => lives;

/** Start the core ahead of the first call. */
export function start() {
  if (running) return;
  lives += 1;
  const worker = new Worker(CORE_WORKER, { type: "module" });
  running = { worker, ready: false, fromImage: false };
  running.began = new Promise((resolve, reject) => Object.assign(running, { begin: resolve, fail: reject }));
  running.began.catch(() => {});
  worker.onmessage = ({ data }) => { if (running?.worker === worker) heard(data); };
  worker.onerror = (event) => {
    event.preventDefault();
    if (running?.worker === worker) die(event.message || "The worker could not be loaded.");
  };
  watch();
}

/**
 * Wait for the core's start.
 * @returns {Promise<object|null>} what was said to `keep` of the image that it started from, if it did from one
 * @throws {CoreAway} it did not start
 */
export function began() {
  start();
  return running.began;
}

function watch() {
  clearTimeout(timer);
  if (!running || (running.ready && !queue.length)) return;
  const within = queue[0]?.message.name === "act" ? ACT_WITHIN_MS : ANSWER_WITHIN_MS;
  timer = setTimeout(() => die("No answer in time."), running.ready ? within : START_WITHIN_MS);
}

function heard(data) {
  if (data.ready) {
    running.ready = true;
    running.fromImage = data.holds !== null;
    running.begin(data.holds);
    return watch();
  }
  if (data.number === null) return die(data.broken);
  const first = queue[0];
  if (first?.number !== data.number) return undefined;
  queue.shift();
  if (data.broken === undefined) finish(first, data.json);
  else if (data.broken.includes("MemoryError")) {
    // An interpreter without memory is of no use any more; the next call gets a fresh one.
    first.reject(new CoreAway(data.broken));
    return die(data.broken);
  } else {
    distrust();
    first.reject(new CoreFault(data.broken));
  }
  return next();
}

function finish({ resolve, reject }, json) {
  let answer;
  try {
    answer = JSON.parse(json);
  } catch (error) {
    return reject(new CoreFault(String(error)));
  }
  if (answer.problems) reject(new CoreProblems(answer.problems));
  else resolve(answer.result);
  return undefined;
}

/** Should the image that it started from be at fault, the next start must not be. */
function distrust() {
  if (running?.fromImage) forget();
}

function die(why) {
  clearTimeout(timer);
  distrust();
  running?.worker.terminate();
  running?.fail(new CoreAway(why));
  running = null;
  // What a new core has not folded it must not be asked about, so nothing is repeated here.
  for (const each of queue.splice(0)) each.reject(new CoreAway(why));
}

function next() {
  const first = queue[0];
  if (first) {
    start();
    if (first.life !== undefined && first.life !== lives) {
      queue.shift();
      first.reject(new CoreAway("It was started again."));
      return next();
    }
    running.worker.postMessage(first.message);
  }
  return watch();
}

// A field's longest length may cut a picture letter in two, and half a one is no text.
const whole = (_, value) => (typeof value === "string" ? (value.toWellFormed?.() ?? value) : value);

function ask(message, life) {
  return new Promise((resolve, reject) => {
    const number = lastNumber += 1;
    queue.push({ number, message: { number, ...message }, life, resolve, reject });
    if (queue.length === 1) next();
  });
}

/** What these carry are entries as they were written, which nothing may make better on the way. */
const AS_IT_IS = ["load", "check_all"];

/**
 * Ask the core.
 * @param {string} name load, drop, check, check_all, choices, figure, view, act
 * @param {object} args as the core's door says
 * @param {number} [life] the generation that holds what the call needs; another one refuses
 * @returns {Promise<any>} its result
 * @throws {CoreProblems} the core refused, and says why
 * @throws {CoreAway} the core died or did not answer; the next call starts a new one
 * @throws {CoreFault} the core broke off over this call, and goes on with the next
 */
export const call = (name, args, life) => ask({ name, json: JSON.stringify(args, AS_IT_IS.includes(name) ? null : whole) }, life);

/**
 * Keep the core as it stands for the next start.
 * @param {object} holds what it has folded @param {number} life as for `call`
 * @returns {Promise<boolean>} whether it could be taken down; it is stored a little later
 */
export const keep = (holds, life) => ask({ keep: holds }, life);
