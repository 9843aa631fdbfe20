// What the phone keeps beside the log: drafts, settings, and a line about each strip-down.

import { announce, read, write, writeOrMakeRoom } from "./database.js";
import { OtherData } from "./errors.js";

const get = (store, key) => read([store], (transaction) => transaction.objectStore(store).get(key));
const all = (store) => read([store], (transaction) => transaction.objectStore(store).getAll());

// Drafts: forms that somebody has begun. A submitted draft waits for the core, under `submitted/...`.

/** @returns {Promise<object|undefined>} the value that was put */
export const draft = async (key) => (await get("drafts", key))?.value;

/** @returns {Promise<{key: string, value: object, at: number, submitted?: object, problems?: object[]}[]>} */
export const drafts = () => all("drafts");

/**
 * Keep the state of a form. `value` is the screen's own.
 * @param {string} key @param {object} value
 * @param {{name: string, form: object}} [submitted] the act to do when the core answers again
 */
export async function putDraft(key, value, submitted) {
  await writeOrMakeRoom(["drafts"], (transaction) =>
    transaction.objectStore("drafts").put({ key, value, at: Date.now(), submitted }));
  announce({ what: "drafts", key });
}

/**
 * A form was submitted while the core was away: it waits under its own key, and its draft's key is free for the next.
 * @param {string} key where it waits @param {object} form kept as its value if it had no draft
 * @param {{name: string, form: object, who: string, draft?: string}} submitted the act, and the draft that the form was
 */
export async function submitDraft(key, form, submitted) {
  await writeOrMakeRoom(["drafts"], async (transaction) => {
    const store = transaction.objectStore("drafts");
    const typed = submitted.draft && (await store.get(submitted.draft));
    if (typed) await store.delete(submitted.draft);
    await store.put({ key, value: typed?.value ?? form, at: Date.now(), submitted });
  });
  announce({ what: "drafts", key });
}

/**
 * The core refused a submitted form: it is an unfinished draft again, beside what its form holds by now.
 * @param {string} key where it waited @param {object[]} problems why
 */
export async function returnDraft(key, problems) {
  await writeOrMakeRoom(["drafts"], async (transaction) => {
    const store = transaction.objectStore("drafts");
    const { submitted, ...row } = (await store.get(key)) ?? {};
    if (!row.key) return;
    const back = submitted?.draft ? `${submitted.draft}/${key.split("/").at(-1)}` : key;
    if (back !== key) await store.delete(key);
    await store.put({ ...row, key: back, problems });
  });
  announce({ what: "drafts", key });
}

export async function deleteDraft(key) {
  await write(["drafts"], (transaction) => transaction.objectStore("drafts").delete(key));
  announce({ what: "drafts", key });
}

/** A strip-down is gone from this phone, and its forms with it: part of the transaction that drops its last entry. */
export async function dropDraftsOf(transaction, strip) {
  const store = transaction.objectStore("drafts");
  const keys = (await store.getAllKeys()).filter((key) => key.split("/")[1] === strip);
  await Promise.all(keys.map((key) => store.delete(key)));
}

// Settings of this phone.

/** @returns {Promise<any>} undefined when it was never set */
export const setting = async (key) => (await get("settings", key))?.value;

/**
 * @param {string} key @param {any} value
 * @param {{quiet?: boolean, letGo?: () => Promise<number>}} [options] quiet: nobody needs to draw it; letGo: as `writeOrMakeRoom`
 */
export async function putSetting(key, value, { quiet = false, letGo } = {}) {
  await writeOrMakeRoom(["settings"], (transaction) => transaction.objectStore("settings").put({ key, value }), { letGo });
  if (!quiet) announce({ what: "settings", key });
}

/**
 * Change a setting that another tab may be changing too: neither overwrites what it did not see.
 * @param {string} key @param {(value: any) => any} change what lies there, undefined for nothing, to what is to lie there
 * @returns {Promise<any>} what lies there now
 */
export async function changeSetting(key, change) {
  const value = await writeOrMakeRoom(["settings"], async (transaction) => {
    const store = transaction.objectStore("settings");
    const next = change((await store.get(key))?.value);
    await store.put({ key, value: next });
    return next;
  });
  announce({ what: "settings", key });
  return value;
}

/**
 * What the PC said of its data holds for no other. A tab may sleep between an answer and this.
 * @param {IDBTransaction} transaction over the settings too @param {string|null} [of] the data's identity; without one nothing is asked
 * @throws {OtherData}
 */
export async function mustBeOf(transaction, of) {
  if (of && (await transaction.objectStore("settings").get("store"))?.value !== of) throw new OtherData();
}

/** The value that lies there, or `make()` kept now: two tabs that start at once get the same. */
export function settingOnce(key, make) {
  return write(["settings"], async (transaction) => {
    const store = transaction.objectStore("settings");
    const known = await store.get(key);
    if (known) return known.value;
    const value = make();
    await store.put({ key, value });
    return value;
  });
}

// A line about each strip-down: {strip, cursor, last, name, machine, machine_name, at, sums}.

/** @returns {Promise<object[]>} */
export const strips = () => all("strips");

/** Change some fields of a strip-down's line. The cursor moves only in `log.receive`. */
export async function putStrip(strip, fields) {
  await writeOrMakeRoom(["strips"], async (transaction) => {
    const store = transaction.objectStore("strips");
    await store.put({ cursor: 0, ...(await store.get(strip)), ...fields, strip });
  });
  announce({ what: "strips", strips: [strip] });
}

export { storageState } from "./room.js";
