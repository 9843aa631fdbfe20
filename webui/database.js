// The phone's database: the only module that opens IndexedDB. `log.js` and `keep.js` say what is in it.
//
// A write is done when its transaction completes: every writing function here
// resolves then and not before, and rejects if a request, the transaction or its
// commit failed, in which case nothing of it was kept. Never wait for anything
// but the store's own requests inside a transaction: it would close by itself.

import { openDB } from "./vendor/idb-8.0.4.mjs";
import { forget as forgetCoreImage } from "./core-image.js";
import { StorageAway, StorageFull, Told } from "./errors.js";

const NAME = "cotterbook";
const VERSION = 1;

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
  opening ??= openDB(NAME, VERSION, {
    upgrade(database) {
      const entries = database.createObjectStore("entries", { keyPath: "seq", autoIncrement: true });
      entries.createIndex("id", "id", { unique: true });
      entries.createIndex("strip", "strip");
      entries.createIndex("state", "state");
      const photos = database.createObjectStore("photos", { keyPath: "sha256" });
      photos.createIndex("state", "state");
      database.createObjectStore("drafts", { keyPath: "key" });
      database.createObjectStore("settings", { keyPath: "key" });
      database.createObjectStore("strips", { keyPath: "strip" });
    },
    blocking: close,
    terminated: () => { opening = null; },
  }).catch((error) => {
    opening = null;
    throw new StorageAway(error);
  });
  return opening;
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
 * As `write`; when the phone is full, give up what can be had again, the core's image and pictures that the PC holds,
 * and try once more.
 * @param {{picture?: boolean}} [options] a picture leaves the image: what it takes is the room that entries have then
 */
export async function writeOrMakeRoom(stores, work, { picture = false } = {}) {
  try {
    return await write(stores, work);
  } catch (error) {
    if (!(error instanceof StorageFull)) throw error;
    const freed = [!picture && (await forgetCoreImage()), await dropSentPictures()];
    if (!freed.some(Boolean)) throw error;
    return write(stores, work);
  }
}

// Only deletes: a full phone has no room to write even that something is gone.
function dropSentPictures() {
  return write(["photos"], async (transaction) => {
    const store = transaction.objectStore("photos");
    const keys = await store.index("state").getAllKeys("sent");
    await Promise.all(keys.map((key) => store.delete(key)));
    return keys.length;
  });
}
