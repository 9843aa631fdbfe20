// One way to ask the PC: a time limit, JSON back, and every failure with its sentence.

import { DEVICES, GIVEN_UP, HELLO, PAIRING, PAIRING_CODES, PHOTOS_MISSING, SYNC, deviceAddress, languageAddress, photoAddress, revokeAddress, workbookAddress } from "./addresses.js";
import { PcAway, PcRefused, TooSlow } from "./errors.js";

/** The version of what is sent; the PC may refuse one that it does not know. */
export const VERSION = "0.1.0";
// What a PC needs at the most for its answer, however busy it is.
const LIMIT_MS = 30_000;
// What it needs for the workbook of the longest log that it takes, folded anew and written.
const WORKBOOK_MS = 180_000;
// What a network carries at the least: 8 kB/s. A picture of 2 MB takes four minutes so, and an entry may have to wait for
// it; at a lower rate it would wait longer still. The PC goes by half of this and by the same LIMIT_MS (settings.py): it
// never gives up what still moves before this phone does.
const LEAST_BYTES_A_MS = 8;
const AWAY = "The PC does not answer. Everything is kept on this phone and goes across when the PC is back.";
const NOT_OURS = "Something else than the PC's program answers at this address. Nothing was sent. Check the network.";

/** How long so many bytes may take to get across, and be answered. @param {number} bytes */
export const limitMs = (bytes) => LIMIT_MS + bytes / LEAST_BYTES_A_MS;

/** A signal that stops what it is given to; `set` gives it time, anew, for so many bytes, and for `more` work. */
function timeLimit() {
  const stop = new AbortController();
  let time = null;
  const set = (bytes, more = 0) => {
    if (time) time.onabort = null;
    const now = time = AbortSignal.timeout(limitMs(bytes) + more);
    now.onabort = () => stop.abort(now.reason);
  };
  return { set, signal: stop.signal };
}

/** A refusal is JSON, a file is not; a page is never what was asked for. */
const fileOf = (answer) => (answer.ok && !answer.headers.get("Content-Type")?.startsWith("text/html") ? answer.blob() : answer.json());
const jsonOf = (answer) => answer.json();

/**
 * @param {string} address @param {RequestInit} [options] @param {number} [bytes] of the request's body
 * @param {{read?: (answer: Response) => Promise<any>, more?: number}} [of] how its content is read, and how much longer it may take
 */
async function ask(address, options = {}, bytes = 0, { read = jsonOf, more = 0 } = {}) {
  const limit = timeLimit();
  limit.set(bytes, more);
  let answer;
  try {
    answer = await fetch(address, { cache: "no-store", redirect: "error", signal: limit.signal, ...options });
  } catch (error) {
    throw limit.signal.aborted && options.method === "PUT" ? new TooSlow(limitMs(bytes)) : new PcAway(AWAY, {}, error);
  }
  limit.set(Number(answer.headers.get("Content-Length")));
  let content;
  try {
    content = await read(answer);
  } catch (error) {
    // A body cut off half-way is the PC going away; a whole page of something else is not the PC.
    throw new PcAway(error instanceof SyntaxError && answer.ok ? NOT_OURS : AWAY, {}, error);
  }
  if (answer.ok) return content;
  if (content?.error?.text) throw new PcRefused(answer.status, content.error);
  throw new PcAway(NOT_OURS);
}

function post(address, csrf, content, of = {}) {
  const body = JSON.stringify(content);
  return ask(address, { method: "POST", headers: { "Content-Type": "application/json", "X-CSRFToken": csrf }, body }, new Blob([body]).size, of);
}

/**
 * Who is there, and whether this device is on its list.
 * @returns {Promise<{version: string, now: number, csrf: string, paired: boolean, revoked?: boolean, role?: string, name?: string, alone?: boolean}>}
 */
export async function hello() {
  const answer = await ask(HELLO);
  if (answer.program !== "cotterbook") throw new PcAway(NOT_OURS);
  return answer;
}

/** @param {string} csrf @param {{code: string, device: string, name: string}} body @returns {Promise<{role: string, name: string}>} */
export const pair = (csrf, body) => post(PAIRING, csrf, body);

/** @param {string} strip @returns {Promise<Blob>} */
export const workbook = (strip) => ask(workbookAddress(strip), {}, 0, { read: fileOf, more: WORKBOOK_MS });

/** As `workbook`, in another language than English. @param {object} language as `handedLanguage` has it */
export const workbookIn = (language, strip, csrf) => post(workbookAddress(strip), csrf, { language }, { read: fileOf, more: WORKBOOK_MS });

/** For owners: the list of devices, a code for one more, one changed, one taken off the list. */
export const devices = () => ask(DEVICES);
export const pairingCode = (csrf, role) => post(PAIRING_CODES, csrf, { role });
export const changeDevice = (csrf, device, body) => post(deviceAddress(device), csrf, body);
export const revokeDevice = (csrf, device) => post(revokeAddress(device), csrf, {});

/** For owners: no more will come of the entries that were gone from the PC at this moment. */
export const giveUp = (csrf, noticed_ms) => post(GIVEN_UP, csrf, { noticed_ms });

/** @param {string} csrf @param {object} body as the contract of /api/sync says */
export const exchange = (csrf, body) => post(SYNC, csrf, body);

/** @param {string} csrf @param {string[]} hashes at most 500 @returns {Promise<string[]>} those that the PC lacks */
export const missingPhotos = async (csrf, hashes) => (await post(PHOTOS_MISSING, csrf, { hashes })).missing;

/** @param {string} csrf @param {string} sha256 @param {ArrayBuffer} bytes @throws {TooSlow} */
export const sendPhoto = (csrf, sha256, bytes) =>
  ask(photoAddress(sha256), { method: "PUT", headers: { "Content-Type": "image/jpeg", "X-CSRFToken": csrf }, body: bytes }, bytes.byteLength);

/** The texts of a language: English to its own. @param {string} code */
export const language = (code) => ask(languageAddress(code));
