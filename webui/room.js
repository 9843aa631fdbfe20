// How much room this phone's storage has, and what may still go in: pictures stop before entries have to.
//
// An entry is a thousandth of a picture, and is what must not be lost: it goes in until the browser itself refuses.
// Not every browser says how much it will take (some add the same to whatever is used). There a picture is refused
// once the browser refuses it, while entries still have the room that the core's image takes (`database.js`).

import { PhotoRefused, StorageFull } from "./errors.js";

/** From here on a person is told. */
const TIGHT = 0.8;
// What pictures leave free: a twentieth of the whole, and no more than some ten thousand entries need.
const RESERVE_PART = 0.05;
const RESERVE_BYTES = 20_000_000;

const NO_ROOM = "This phone has room left for entries only. The picture was not taken in; everything saved is still here. " +
  "Free room on Sending, or delete something else on the phone.";

const unsaid = () => null;

/**
 * Ask the browser to keep this program's data when space runs short, and what it says.
 * @returns {Promise<{persisted: boolean|null, used_bytes: number|null, quota_bytes: number|null}>} null: it does not say
 */
export async function storageState() {
  const storage = navigator.storage;
  const kept = (await storage?.persisted?.().catch(unsaid)) || (await storage?.persist?.().catch(unsaid));
  return { persisted: kept ?? null, ...await estimate() };
}

async function estimate() {
  const found = await navigator.storage?.estimate?.().catch(unsaid);
  return { used_bytes: found?.usage ?? null, quota_bytes: found?.quota ?? null };
}

/**
 * How full the storage is, rounded down, and whether `bytes` more of pictures may go in.
 * @param {{used_bytes: number|null, quota_bytes: number|null}} state
 * @returns {{percent: number|null, tight: boolean, pictures: boolean}} what the browser does not say is no reason to refuse
 */
export function roomIn({ used_bytes: used, quota_bytes: quota }, bytes = 0) {
  if (used === null || !quota) return { percent: null, tight: false, pictures: true };
  const reserve = Math.min(RESERVE_PART * quota, RESERVE_BYTES);
  return { percent: Math.floor((100 * used) / quota), tight: used >= TIGHT * quota, pictures: used + bytes <= quota - reserve };
}

/** As `roomIn`, of this phone now. */
export const room = async (bytes) => roomIn(await estimate(), bytes);

/** @param {number} bytes of a picture that is about to be kept @throws {PhotoRefused} entries need what is left */
export async function keepRoomForEntries(bytes) {
  if (!(await room(bytes)).pictures) throw new PhotoRefused(NO_ROOM);
}

/** What failed while a picture was put: a full phone is one that has room for entries only. */
export function noRoomForPictures(error) {
  throw error instanceof StorageFull ? new PhotoRefused(NO_ROOM, {}, error) : error;
}
