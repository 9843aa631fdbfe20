// Pictures on the phone: their bytes, and beside each how far it has got on its way to the PC.
//
// The bytes are written once and never again. What is to be said of a picture is a small row apart: a full phone can
// delete it and mostly write it, and could not write the picture once more.
//  - A picture that no entry names yet is held, and not sent: `held/` in the settings says so, and is deleted with the
//    save that names it.
//  - A picture with a row in `photo_states` is sent or refused; without one it is unsent. So what counts as sent is
//    unsent again by deletes alone, which need no room and read no bytes.

import { announce, dropSentPictures, read, write, writeOrMakeRoom } from "./database.js";
import { mustBeOf } from "./keep.js";
import { keepRoomForEntries, noRoomForPictures } from "./room.js";

/** The row that says so. @param {string} sha256 */
export const heldKey = (sha256) => `held/${sha256}`;
const HELD = IDBKeyRange.bound(heldKey(""), heldKey("g"));
const ON_ITS_WAY_MS = 3_600_000;

/**
 * Keep a picture until the PC has it; it is sent once an entry names it. The same picture again changes nothing.
 * Bytes as ArrayBuffer: some browsers lose Blobs that lie in IndexedDB.
 * @param {{sha256: string, bytes: ArrayBuffer, type: string, width: number, height: number}} photo
 * @returns {Promise<boolean>} whether it was new here
 * @throws {PhotoRefused} what room is left is for entries
 */
export async function addPhoto(photo) {
  await keepRoomForEntries(photo.bytes.byteLength);
  const isNew = await write(["photos", "photo_states", "settings"], async (transaction) => {
    const store = transaction.objectStore("photos");
    if (await store.getKey(photo.sha256)) return false;
    await store.put(photo);
    // What was said of one that lay here before holds for this one no longer: the PC may have lost it.
    await transaction.objectStore("photo_states").delete(photo.sha256);
    await transaction.objectStore("settings").put({ key: heldKey(photo.sha256), value: Date.now() });
    return true;
  }).catch(noRoomForPictures);
  announce({ what: "photos" });
  return isNew;
}

/** @returns {Promise<{sha256, bytes: ArrayBuffer, type, width, height}|undefined>} */
export const photo = (sha256) => read(["photos"], (transaction) => transaction.objectStore("photos").get(sha256));

/** @param {string} sha256 @returns {Promise<"unsent"|"sent"|"refused">} of a picture that lies here */
export const photoState = async (sha256) =>
  (await read(["photo_states"], (transaction) => transaction.objectStore("photo_states").get(sha256)))?.state ?? "unsent";

/** Entries name these pictures: part of the transaction that keeps the entries. @returns {Promise<void>[]} */
export const named = (transaction, entries) =>
  entries.filter((entry) => entry.kind === "photo").map((entry) => transaction.objectStore("settings").delete(heldKey(entry.sha256)));

/** What lies beside the pictures that no entry names. @returns {Promise<string[]>} as `heldKey` makes them */
export const heldKeys = (transaction) => transaction.objectStore("settings").getAllKeys(HELD);

/** Hashes of pictures that entries name and the PC may lack, in order: part of a transaction over all that is said of them. @returns {Promise<string[]>} */
export async function unsentIn(transaction) {
  const [hashes, states, held] = await Promise.all([
    transaction.objectStore("photos").getAllKeys(), transaction.objectStore("photo_states").getAllKeys(), heldKeys(transaction),
  ]);
  const others = new Set([...states, ...held]);
  return hashes.filter((sha256) => !others.has(sha256) && !others.has(heldKey(sha256)));
}

/** As many of them as `limit`, from the first behind `after` on and round. @param {number} limit @param {string} [after] @returns {Promise<string[]>} */
export async function unsentPhotos(limit, after = "") {
  const hashes = await read(["photos", "photo_states", "settings"], unsentIn);
  const later = hashes.filter((sha256) => sha256 > after);
  return [...later, ...hashes.slice(0, hashes.length - later.length)].slice(0, limit);
}

/** Drop what is said of pictures that do not lie here: an older program let some go and left that. */
export const dropStrayStates = () => write(["photos", "photo_states"], async (transaction) => {
  const [photos, states] = [transaction.objectStore("photos"), transaction.objectStore("photo_states")];
  const here = new Set(await photos.getAllKeys());
  await Promise.all((await states.getAllKeys()).filter((sha256) => !here.has(sha256)).map((sha256) => states.delete(sha256)));
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
  await write(["photos", "photo_states"], async (transaction) => {
    const states = transaction.objectStore("photo_states");
    if ((await states.get(sha256))?.state !== "refused") return;
    await Promise.all([states.delete(sha256), transaction.objectStore("photos").delete(sha256)]);
  });
  announce({ what: "photos" });
}

const bySaid = (state) => (transaction) => transaction.objectStore("photo_states").index("state").getAllKeys(state);

/** How many pictures lie here that the PC said it holds. @returns {Promise<number>} */
export const countSentPhotos = () => read(["photo_states"], (transaction) => transaction.objectStore("photo_states").index("state").count("sent"));

/** Their hashes. @returns {Promise<string[]>} */
export const sentPhotos = () => read(["photo_states"], bySaid("sent"));

/**
 * Let pictures go from this phone that the PC holds; any other stays. Only deletes: a full phone has no room to write.
 * @param {string[]} hashes @returns {Promise<number>} how many went
 */
export async function dropSentPhotos(hashes) {
  const gone = await dropSentPictures(hashes);
  announce({ what: "photos" });
  return gone;
}

/** Pictures that the PC refused: [{sha256, problem}]. */
export async function refusedPhotos() {
  const rows = await read(["photo_states"], (transaction) => transaction.objectStore("photo_states").index("state").getAll("refused"));
  return rows.map(({ sha256, problem }) => ({ sha256, problem }));
}

/**
 * The PC may lack these: they count as unsent again. Only deletes, and of small rows alone: it is done on a full phone too.
 * @param {string[]} hashes @param {{from?: "sent"|"refused", of?: string|null}} [only] `from`: those that are in this state;
 *   `of`: the PC's data that this is said of @throws {OtherData} nothing was changed
 */
export async function unsendPhotos(hashes, { from, of } = {}) {
  await write(["photo_states", "settings"], async (transaction) => {
    await mustBeOf(transaction, of);
    const known = new Set(from ? await bySaid(from)(transaction) : hashes);
    await Promise.all(hashes.filter((sha256) => known.has(sha256)).map((sha256) => transaction.objectStore("photo_states").delete(sha256)));
  });
  announce({ what: "photos" });
}

/** All that are in this state count as unsent: part of a transaction. @param {"sent"|"refused"} state */
export async function unsendAllIn(transaction, state) {
  const store = transaction.objectStore("photo_states");
  await Promise.all((await bySaid(state)(transaction)).map((sha256) => store.delete(sha256)));
}

/**
 * The PC acknowledged that it holds these pictures. On a phone without room for even that mark these go and no others:
 * they are the ones that are surely there.
 * @param {string[]} hashes @param {{of?: string|null}} [only] the PC's data that this is said of @throws {OtherData} nothing was changed
 */
export async function photosSent(hashes, { of = null } = {}) {
  const letGo = () => write(["photos", "photo_states", "settings"], async (transaction) => {
    await mustBeOf(transaction, of);
    await Promise.all(hashes.flatMap((sha256) => ["photos", "photo_states"].map((name) => transaction.objectStore(name).delete(sha256))));
    return hashes.length;
  });
  await note(hashes, { state: "sent" }, of, { letGo });
}

/** The PC refused a picture; it stays until a person deals with it. @param {string} sha256 @param {object} problem why */
export const photoRefused = (sha256, problem, { of = null } = {}) => note([sha256], { state: "refused", problem }, of);

async function note(hashes, said, of, options) {
  await writeOrMakeRoom(["photos", "photo_states", "settings"], async (transaction) => {
    await mustBeOf(transaction, of);
    const here = await Promise.all(hashes.map((sha256) => transaction.objectStore("photos").getKey(sha256)));
    await Promise.all(here.filter(Boolean).map((sha256) => transaction.objectStore("photo_states").put({ sha256, ...said })));
  }, options);
  announce({ what: "photos" });
}
