// Python as it stands between two calls: its memory as bytes, kept on the phone and laid down again at the next start.
//
// Reading the core's modules and folding a long log is the slow part of a start, and all that comes of it lies in the
// memory of Python's WebAssembly: whoever lays these bytes down again has the core as it was, strip-downs and all.
// The log stays what counts. An image is only a short cut: one that is gone, torn, of other files or of a log that has
// lost an entry since is left, and everything is read and folded anew.

import { CORE_IMAGE } from "./addresses.js";

const CACHE = "cotterbook-core";
/** Free room as a multiple of an image below which the phone is kept for what cannot be had again. */
const ROOM = 4;
const PAGE_BYTES = 4096;
const PAGE_WORDS = PAGE_BYTES / 8;
/** What JavaScript has lent Python, by number: nothing beyond `globalThis`, `undefined` and these two may be in an image. */
const LENT_BEFORE = 2;

/** @type {WebAssembly.Memory | null} */
let memory = null;

/**
 * Before Python is loaded: get hold of its memory, which it keeps to itself, and let nothing that it lends to
 * JavaScript be taken back. That is a handful of functions; and in an image their numbers may belong to others.
 */
export function watch() {
  for (const name of ["instantiate", "instantiateStreaming"]) {
    const instantiate = WebAssembly[name];
    WebAssembly[name] = async (...given) => {
      const made = await instantiate(...given);
      memory = made.instance.exports.memory;
      return made;
    };
  }
  globalThis.FinalizationRegistry = class { register() {} };
}

const hex = (digest) => Array.from(new Uint8Array(digest), (byte) => byte.toString(16).padStart(2, "0")).join("");

/** SHA-256 of a text or of bytes. @param {string|Uint8Array} of @returns {Promise<string>} */
export const sha256 = async (of) => hex(await crypto.subtle.digest("SHA-256", typeof of === "string" ? new TextEncoder().encode(of) : of));

/** Where memory holds something: first page and number of pages of each stretch that is not all nought, in a row. */
function stretches(pages) {
  const words = new BigUint64Array(memory.buffer, 0, pages * PAGE_WORDS);
  const found = [];
  for (let page = 0; page < pages; page += 1) {
    const end = (page + 1) * PAGE_WORDS;
    let word = end - PAGE_WORDS;
    while (word < end && words[word] === 0n) word += 1;
    if (word === end) continue;
    if (found.length && found.at(-2) + found.at(-1) === page) found[found.length - 1] += 1;
    else found.push(page, 1);
  }
  return Uint32Array.from(found);
}

/** For each stretch of an image: where it lies in memory and where among the image's bytes, and how long it is. */
function* places(found, from) {
  let at = from;
  for (let i = 0; i < found.length; i += 2) {
    const length = found[i + 1] * PAGE_BYTES;
    yield { there: found[i] * PAGE_BYTES, at, length };
    at += length;
  }
}

/**
 * Take Python down as it stands: only between two calls, after it has dropped its garbage.
 * @param {object[]} lent what JavaScript has lent it, in the order of their numbers
 * @returns {{pages: number, bytes: Uint8Array}|null} null where it holds on to more than that
 */
export function take(lent) {
  const refs = globalThis.proxy_js_ref;
  if (refs.length !== LENT_BEFORE + lent.length || lent.some((each, i) => refs[LENT_BEFORE + i] !== each)) return null;
  const pages = memory.buffer.byteLength / PAGE_BYTES;
  const found = stretches(pages);
  const head = Uint32Array.of(found.length, ...found);
  const bytes = new Uint8Array(head.byteLength + found.reduce((sum, each, i) => sum + (i % 2 ? each : 0), 0) * PAGE_BYTES);
  bytes.set(new Uint8Array(head.buffer));
  for (const { there, at, length } of places(found, head.byteLength)) bytes.set(new Uint8Array(memory.buffer, there, length), at);
  return { pages, bytes };
}

/** Leave the image: the next start reads and folds everything. @returns {Promise<boolean>} whether there was one */
export const forget = async () => {
  try {
    return await (await caches.open(CACHE)).delete(CORE_IMAGE);
  } catch {
    // Where nothing can be kept there is nothing to leave.
    return false;
  }
};

/**
 * Keep an image in place of the one before, where there is room enough.
 * @param {string} key says of which files this Python is @param {object} holds said again by `kept`
 */
export async function keep({ pages, bytes }, key, holds) {
  const { quota, usage } = await navigator.storage.estimate();
  if (quota - usage < ROOM * bytes.length) {
    await forget();
    return;
  }
  const about = encodeURIComponent(JSON.stringify({ key, pages, holds, sha256: await sha256(bytes) }));
  await (await caches.open(CACHE)).put(CORE_IMAGE, new Response(bytes, { headers: { "X-About": about } }));
}

/** The kept image if it is whole and of these files, or null. @param {Promise<string>} key */
export async function kept(key) {
  try {
    const answer = await (await caches.open(CACHE)).match(CORE_IMAGE);
    if (!answer) return null;
    const about = JSON.parse(decodeURIComponent(answer.headers.get("X-About")));
    if (about.key !== (await key)) return null;
    const bytes = new Uint8Array(await answer.arrayBuffer());
    return (await sha256(bytes)) === about.sha256 ? { ...about, bytes } : null;
  } catch {
    // Whatever is wrong with it, everything can be made anew without it.
    return null;
  }
}

/**
 * Lay an image down over a Python that has just been loaded and has run nothing yet.
 * @param {object} python as it was loaded @param {{pages: number, bytes: Uint8Array}} image @param {object[]} lent as for `take`
 */
export function restore(python, { pages, bytes }, lent) {
  // Python's own way to grow: it has views of its memory, which must follow. The image overwrites what it noted of this.
  if (memory.buffer.byteLength < pages * PAGE_BYTES) python._module._malloc(pages * PAGE_BYTES);
  const [many] = new Uint32Array(bytes.buffer, 0, 1);
  const found = new Uint32Array(bytes.buffer, 4, many);
  const whole = new Uint8Array(memory.buffer);
  whole.fill(0);
  for (const { there, at, length } of places(found, 4 + found.byteLength)) whole.set(bytes.subarray(at, at + length), there);
  globalThis.proxy_js_ref.push(...lent);
  lent.forEach((each, i) => globalThis.proxy_js_ref_map.set(each, LENT_BEFORE + i));
  globalThis.proxy_js_ref_next = globalThis.proxy_js_ref.length;
}
