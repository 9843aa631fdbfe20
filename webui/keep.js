// What the phone keeps beside the log: pictures, drafts, settings, and a line about each strip-down.

import { announce, read, write, writeOrMakeRoom } from "./database.js";
import { OtherData } from "./errors.js";
import { keepRoomForEntries, noRoomForPictures } from "./room.js";

const get = (store, key) => read([store], (transaction) => transaction.objectStore(store).get(key));
const all = (store) => read([store], (transaction) => transaction.objectStore(store).getAll());

// Pictures, as ArrayBuffer: some browsers lose Blobs that lie in IndexedDB.

// A picture that no entry names yet is held, and not sent: a small row beside it says so, which is deleted
// with the save that names it. A full phone could delete that row, and not write the picture again.
/** The row that says so. @param {string} sha256 */
export const heldKey = (sha256) => `held/${sha256}`;
const HELD = IDBKeyRange.bound(heldKey(""), heldKey("g"));
const ON_ITS_WAY_MS = 3_600_000;

/**
 * Keep a picture until the PC has it; it is sent once an entry names it. The same picture again changes nothing.
 * @param {{sha256: string, bytes: ArrayBuffer, type: string, width: number, height: number}} photo
 * @throws {PhotoRefused} what room is left is for entries
 */
export async function addPhoto(photo) {
  await keepRoomForEntries(photo.bytes.byteLength);
  await writeOrMakeRoom(["photos", "settings"], async (transaction) => {
    const store = transaction.objectStore("photos");
    if (await store.getKey(photo.sha256)) return;
    await store.put({ ...photo, state: "unsent", problem: null });
    await transaction.objectStore("settings").put({ key: heldKey(photo.sha256), value: Date.now() });
  }, { picture: true }).catch(noRoomForPictures);
  announce({ what: "photos" });
}

/** @returns {Promise<{sha256, bytes: ArrayBuffer, type, width, height, state, problem}|undefined>} */
export const photo = (sha256) => get("photos", sha256);

/** Entries name these pictures: part of the transaction that keeps the entries. @returns {Promise<void>[]} */
export const named = (transaction, entries) =>
  entries.filter((entry) => entry.kind === "photo").map((entry) => transaction.objectStore("settings").delete(heldKey(entry.sha256)));

/** How many unsent pictures are not to be sent, as no entry names them. */
export const countHeld = (transaction) => transaction.objectStore("settings").count(HELD);

/** What lies beside the pictures that no entry names. @returns {Promise<string[]>} as `heldKey` makes them */
export const heldKeys = (transaction) => transaction.objectStore("settings").getAllKeys(HELD);

/** @param {number} limit @returns {Promise<string[]>} hashes of pictures that entries name and the PC may lack */
export const unsentPhotos = (limit) =>
  read(["photos", "settings"], async (transaction) => {
    const held = new Set(await heldKeys(transaction));
    const all = await transaction.objectStore("photos").index("state").getAllKeys("unsent", limit + held.size);
    return all.filter((sha256) => !held.has(heldKey(sha256))).slice(0, limit);
  });

/**
 * Drop pictures that no entry and no draft names.
 * @param {string[]} [hashes] those that a person took out of a form; else all but the newest, which may be on their way into one
 */
export async function dropUnnamedPhotos(hashes) {
  await write(["photos", "settings", "drafts"], async (transaction) => {
    const [settings, photos] = [transaction.objectStore("settings"), transaction.objectStore("photos")];
    const held = await settings.getAll(HELD);
    if (!held.length) return;
    const drafts = JSON.stringify(await transaction.objectStore("drafts").getAll());
    const goes = ({ sha256, at }) => (hashes ? hashes.includes(sha256) : at < Date.now() - ON_ITS_WAY_MS) && !drafts.includes(sha256);
    const rows = held.map(({ key, value }) => ({ key, sha256: key.slice(heldKey("").length), at: value })).filter(goes);
    await Promise.all(rows.flatMap(({ key, sha256 }) => [settings.delete(key), photos.delete(sha256)]));
  });
  announce({ what: "photos" });
}

/** A person decided to drop a picture that the PC refused; no other can be dropped so. */
export async function forgetPhoto(sha256) {
  await write(["photos"], async (transaction) => {
    const store = transaction.objectStore("photos");
    if ((await store.get(sha256))?.state === "refused") await store.delete(sha256);
  });
  announce({ what: "photos" });
}

/** How many pictures lie here that the PC said it holds. @returns {Promise<number>} */
export const countSentPhotos = () => read(["photos"], (transaction) => transaction.objectStore("photos").index("state").count("sent"));

/** Their hashes. @returns {Promise<string[]>} */
export const sentPhotos = () => read(["photos"], (transaction) => transaction.objectStore("photos").index("state").getAllKeys("sent"));

/**
 * Let pictures go from this phone that the PC holds; any other stays. Only deletes: a full phone has no room to write.
 * @param {string[]} hashes @returns {Promise<number>} how many went
 */
export async function dropSentPhotos(hashes) {
  const gone = await write(["photos"], async (transaction) => {
    const store = transaction.objectStore("photos");
    const sent = new Set(await store.index("state").getAllKeys("sent"));
    const going = hashes.filter((sha256) => sent.has(sha256));
    await Promise.all(going.map((sha256) => store.delete(sha256)));
    return going.length;
  });
  announce({ what: "photos" });
  return gone;
}

/** Pictures that the PC refused: [{sha256, problem}]. */
export async function refusedPhotos() {
  const rows = await read(["photos"], (transaction) => transaction.objectStore("photos").index("state").getAll("refused"));
  return rows.map(({ sha256, problem }) => ({ sha256, problem }));
}

/**
 * What the PC said of its data holds for no other. A tab may sleep between an answer and this.
 * @param {IDBTransaction} transaction over the settings too @param {string|null} [of] the data's identity; without one nothing is asked
 * @throws {OtherData}
 */
export async function mustBeOf(transaction, of) {
  if (of && (await transaction.objectStore("settings").get("store"))?.value !== of) throw new OtherData();
}

/**
 * @param {string[]} hashes
 * @param {"sent"|"unsent"|"refused"} state "sent" only after the PC said that it holds these hashes
 * @param {object|null} [problem] why the PC refused
 * @param {{from?: string, of?: string|null}} [only] `from`: those that are in this state; `of`: the PC's data that this is said of
 */
export async function settlePhotos(hashes, state, problem = null, { from = null, of } = {}) {
  await writeOrMakeRoom(["photos", "settings"], async (transaction) => {
    await mustBeOf(transaction, of);
    const store = transaction.objectStore("photos");
    const rows = await Promise.all(hashes.map((sha256) => store.get(sha256)));
    await Promise.all(rows.filter((row) => row && (!from || row.state === from)).map((row) => store.put({ ...row, state, problem })));
  });
  announce({ what: "photos" });
}

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

/** @param {string} key @param {any} value @param {{quiet?: boolean}} [options] quiet: nobody needs to draw it */
export async function putSetting(key, value, { quiet = false } = {}) {
  await writeOrMakeRoom(["settings"], (transaction) => transaction.objectStore("settings").put({ key, value }));
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

// A line about each strip-down: {strip, cursor, name, machine, machine_name, at, sums}.

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
