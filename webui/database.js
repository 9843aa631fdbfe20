// The phone's database: the only module that opens IndexedDB. `log.js`, `keep.js` and `kept-photos.js` say what is in it.
//
// A write is done when its transaction completes: every writing function here
// resolves then and not before, and rejects if a request, the transaction or its
// commit failed, in which case nothing of it was kept. Never wait for anything
// but the store's own requests inside a transaction: it would close by itself.

import { openDB } from "./vendor/idb-8.0.4.mjs";
import { forget as forgetCoreImage } from "./core-image.js";
import { StorageAway, StorageFull, Told } from "./errors.js";

const NAME = "cotterbook";
const VERSION = 2;

/** @type {Promise<import("./vendor/idb-8.0.4.mjs").IDBPDatabase> | null} */
let opening = null;
/** @type {Set<(change: object) => void>} */
const listeners = new Set();
const channel = new BroadcastChannel("cotterbook-log");
channel.onmessage = ({ data }) => tell({ ...data, elsewhere: true });

function tell(change) {
  for (const listener of listeners) listener(change);
}

/** Tell this tab and the others of a completed write. @param {object} change as in `onChange` */
export function announce(change) {
  tell({ ...change, elsewhere: false });
  channel.postMessage(change);
}

/**
 * Hear of every completed write, of this tab and of the others.
 * @param {(change: {what: "entries"|"received"|"settled"|"forgotten"|"photos"|"drafts"|"strips"|"settings",
 *   strips?: string[], key?: string, elsewhere: boolean}) => void} listener
 * @returns {() => void} stops it
 */
export function onChange(listener) {
  listeners.add(listener);
  return () => listeners.delete(listener);
}

function open() {
  // A full phone has no room to carry over what was said of its pictures. They count as unsent then: the PC is asked.
  opening ??= openWith(carryStates).catch((error) => (error.name === "VersionError" ? Promise.reject(error) : openWith(null))).catch((error) => {
    opening = null;
    throw new StorageAway(error);
  });
  return opening;
}

const openWith = (carry) => openDB(NAME, VERSION, {
  async upgrade(database, from, _, transaction) {
    if (from < 1) {
      const entries = database.createObjectStore("entries", { keyPath: "seq", autoIncrement: true });
      entries.createIndex("id", "id", { unique: true });
      entries.createIndex("strip", "strip");
      entries.createIndex("state", "state");
      database.createObjectStore("photos", { keyPath: "sha256" });
      database.createObjectStore("drafts", { keyPath: "key" });
      database.createObjectStore("settings", { keyPath: "key" });
      database.createObjectStore("strips", { keyPath: "strip" });
    }
    if (from < 2) {
      database.createObjectStore("photo_states", { keyPath: "sha256" }).createIndex("state", "state");
      if (from === 1) await carry?.(transaction);
      if (from === 1) transaction.objectStore("photos").deleteIndex("state");
    }
  },
  blocking: close,
  terminated: () => { opening = null; },
});

/** In version 1 a picture's row said itself how far it had got, which stays there unread: rows with bytes are not written again. */
async function carryStates(transaction) {
  const [photos, states] = [transaction.objectStore("photos"), transaction.objectStore("photo_states")];
  for (const sha256 of await photos.index("state").getAllKeys("sent")) await states.put({ sha256, state: "sent" });
  for (const sha256 of await photos.index("state").getAllKeys("refused")) {
    const { problem } = await photos.get(sha256);
    await states.put({ sha256, state: "refused", problem });
  }
}

/** Give the database up politely, as a newer version in another tab may ask; the next use opens it again. */
export async function close() {
  const database = await opening;
  opening = null;
  database?.close();
}

async function begin(stores, mode) {
  const options = { durability: "strict" };
  try {
    return (await open()).transaction(stores, mode, options);
  } catch (error) {
    if (error.name !== "InvalidStateError") throw error;
    // The browser dropped the connection without saying so; a fresh one serves.
    opening = null;
    return (await open()).transaction(stores, mode, options);
  }
}

function inWords(error) {
  if (error instanceof Told) return error;
  return error?.name === "QuotaExceededError" ? new StorageFull(error) : new StorageAway(error);
}

/**
 * One transaction that is kept whole or not at all.
 * @template T
 * @param {string[]} stores @param {(transaction) => Promise<T>} work only requests of this transaction
 * @returns {Promise<T>} resolves when the transaction has completed
 */
export async function write(stores, work) {
  let transaction;
  try {
    transaction = await begin(stores, "readwrite");
    const [result] = await Promise.all([work(transaction), transaction.done]);
    return result;
  } catch (error) {
    if (transaction) {
      // Work that threw by itself leaves a live transaction, which would commit its first half.
      try { transaction.abort(); } catch { /* it is over already */ }
      await transaction.done.catch(() => {});
    }
    throw inWords(transaction?.error ?? error);
  }
}

/** As `write`, for reading only. */
export async function read(stores, work) {
  try {
    return await work(await begin(stores, "readonly"));
  } catch (error) {
    throw inWords(error);
  }
}

/**
 * As `write`; when the phone is full, give up what can be had again, and try once more: the core's image, and when that
 * was not enough, pictures that the PC holds.
 * @param {{letGo?: () => Promise<number>}} [options] lets other pictures go than all that the PC holds
 */
export async function writeOrMakeRoom(stores, work, { letGo = dropSentPictures } = {}) {
  let full;
  for (const makeRoom of [null, forgetCoreImage, letGo]) {
    if (makeRoom && !(await makeRoom())) continue;
    try {
      return await write(stores, work);
    } catch (error) {
      if (!(error instanceof StorageFull)) throw error;
      full = error;
    }
  }
  throw full;
}

/**
 * Let pictures go that the PC holds. Only deletes: a full phone has no room to write even that something is gone.
 * @param {string[]} [only] of these; else all @returns {Promise<number>} how many went
 */
export const dropSentPictures = (only) => write(["photos", "photo_states"], async (transaction) => {
  const [photos, states] = [transaction.objectStore("photos"), transaction.objectStore("photo_states")];
  const sent = new Set(await states.index("state").getAllKeys("sent"));
  const going = only ? only.filter((sha256) => sent.has(sha256)) : [...sent];
  await Promise.all(going.flatMap((sha256) => [photos.delete(sha256), states.delete(sha256)]));
  return going.length;
});
