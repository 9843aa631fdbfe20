// What the phone keeps beside the log: pictures, drafts, settings, and a line about each strip-down.

import { announce, read, write, writeOrMakeRoom } from "./database.js";

const get = (store, key) => read([store], (transaction) => transaction.objectStore(store).get(key));
const all = (store) => read([store], (transaction) => transaction.objectStore(store).getAll());

// Pictures, as ArrayBuffer: some browsers lose Blobs that lie in IndexedDB.

/**
 * Keep a picture until the PC has it. The same picture again changes nothing.
 * @param {{sha256: string, bytes: ArrayBuffer, type: string, width: number, height: number}} photo
 */
export async function addPhoto(photo) {
  await writeOrMakeRoom(["photos"], async (transaction) => {
    const store = transaction.objectStore("photos");
    if (!(await store.getKey(photo.sha256))) await store.put({ ...photo, state: "unsent", problem: null });
  });
  announce({ what: "photos" });
}

/** @returns {Promise<{sha256, bytes: ArrayBuffer, type, width, height, state, problem}|undefined>} */
export const photo = (sha256) => get("photos", sha256);

/** @param {number} limit @returns {Promise<string[]>} hashes of pictures that the PC may lack */
export const unsentPhotos = (limit) =>
  read(["photos"], (transaction) => transaction.objectStore("photos").index("state").getAllKeys("unsent", limit));

/** Pictures that the PC refused: [{sha256, problem}]. */
export async function refusedPhotos() {
  const rows = await read(["photos"], (transaction) => transaction.objectStore("photos").index("state").getAll("refused"));
  return rows.map(({ sha256, problem }) => ({ sha256, problem }));
}

/**
 * @param {string[]} hashes
 * @param {"sent"|"unsent"|"refused"} state "sent" only after the PC said that it holds these hashes
 * @param {object|null} [problem] why the PC refused
 */
export async function settlePhotos(hashes, state, problem = null) {
  await write(["photos"], async (transaction) => {
    const store = transaction.objectStore("photos");
    const rows = await Promise.all(hashes.map((sha256) => store.get(sha256)));
    await Promise.all(rows.filter(Boolean).map((row) => store.put({ ...row, state, problem })));
  });
  announce({ what: "photos" });
}

// Drafts: forms that somebody has begun. A submitted draft waits for the core.

/** @returns {Promise<object|undefined>} the value that was put */
export const draft = async (key) => (await get("drafts", key))?.value;

/** @returns {Promise<{key: string, value: object, at: number, submitted?: object, problems?: object[]}[]>} */
export const drafts = () => all("drafts");

/**
 * Keep the state of a form. `value` is the screen's own.
 * @param {string} key @param {object} value
 * @param {{name: string, form: object}} [submitted] the act to do when the core answers again
 * @param {object[]} [problems] why the core refused the submitted act
 */
export async function putDraft(key, value, submitted, problems) {
  await writeOrMakeRoom(["drafts"], (transaction) =>
    transaction.objectStore("drafts").put({ key, value, at: Date.now(), submitted, problems }));
  announce({ what: "drafts", key });
}

export async function deleteDraft(key) {
  await write(["drafts"], (transaction) => transaction.objectStore("drafts").delete(key));
  announce({ what: "drafts", key });
}

// Settings of this phone.

/** @returns {Promise<any>} undefined when it was never set */
export const setting = async (key) => (await get("settings", key))?.value;

/** @param {string} key @param {any} value @param {{quiet?: boolean}} [options] quiet: nobody needs to draw it */
export async function putSetting(key, value, { quiet = false } = {}) {
  await writeOrMakeRoom(["settings"], (transaction) => transaction.objectStore("settings").put({ key, value }));
  if (!quiet) announce({ what: "settings", key });
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

/**
 * Ask the browser to keep this program's data when space runs short, and what it says.
 * @returns {Promise<{persisted: boolean|null, used_bytes: number|null, quota_bytes: number|null}>} null: it does not say
 */
export async function storageState() {
  const storage = navigator.storage;
  const kept = (await storage?.persisted?.()) || (await storage?.persist?.());
  const estimate = await storage?.estimate?.();
  return { persisted: kept ?? null, used_bytes: estimate?.usage ?? null, quota_bytes: estimate?.quota ?? null };
}
