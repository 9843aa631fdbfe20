// A JPEG picture without anything that its picture does not need, by its markers (ITU-T T.81 | ISO/IEC 10918-1, Annex B).
//
// A browser may write notes of its own into what it makes of a canvas. The PC refuses pictures that carry more, by the
// same rule in `jpeg.py`, and cannot take it away: a picture's name is the hash of its bytes. A test holds the two equal.

import { PhotoRefused } from "./errors.js";

export const NO_JPEG = "The file is no whole JPEG picture.";
const [SOI, EOI, SOS, COM] = [0xd8, 0xd9, 0xda, 0xfe];
// Baseline, extended and progressive, by Huffman codes: no browser draws the others.
const FRAMES = [0xc0, 0xc1, 0xc2];
const TABLES = [0xc4, 0xdb, 0xdd];
const [APP0, APP2, APP14, APP15] = [0xe0, 0xe2, 0xee, 0xef];
// Not markers: what stands between them.
const [SCAN, FILL] = [0x00, 0xff];
// Each scan goes over all pixels once more. Progressive pictures have about ten (from memory).
const SCANS = 100;
// 255 parts of a profile, and tables before each scan: room for all that is right.
const SEGMENTS = 1000;

// JFIF (ITU-T T.871, 10.1): version, unit, densities, and the width and height of a thumbnail that follows.
const [JFIF, JFIF_BYTES] = ["JFIF\0", 14];
// T.872, 6.5.3: version, two flags and the transform of colours.
const [ADOBE, ADOBE_BYTES] = ["Adobe", 12];
// ICC.1, Annex B.4: the number of this part, how many there are, the part; 7.2: the length first, "acsp" at 36.
const ICC = "ICC_PROFILE\0";
const [PROFILE_MARK, PROFILE_HEAD_BYTES] = ["acsp", 128];

const no = (what) => new PhotoRefused(NO_JPEG, {}, new Error(what));
/** Whether it is an application's own, APP0 to APP15. */
const isApplications = (marker) => marker >= APP0 && marker <= APP15;
const begins = (bytes, text) => Array.from(text).every((letter, place) => bytes[place] === letter.charCodeAt(0));
const isProfilePart = ({ marker, body }) => marker === APP2 && begins(body, ICC);
const isTransform = (body) => begins(body, ADOBE) && body.length >= ADOBE_BYTES;

/**
 * The picture alone: its frame, its tables and scans, and of what applications add the head of JFIF, the transform of
 * its colours and their profile.
 * @param {Uint8Array} bytes @returns {Uint8Array} in a buffer of its own
 * @throws {PhotoRefused} the bytes do not follow the syntax to the end of the picture
 */
export function plainJpeg(bytes) {
  const profile = isProfile(profileParts(bytes));
  const out = new Uint8Array(bytes.length);
  let [length, heads, scans] = [0, 0, 0];
  const put = (part) => { out.set(part, length); length += part.length; };
  const putSegment = (marker, body) => { put([0xff, marker, (body.length + 2) >> 8, (body.length + 2) & 0xff]); put(body); };
  put([0xff, SOI]);
  for (const segment of segments(bytes)) {
    const { marker, body } = segment;
    if (marker === SOS) scans += 1;
    // Behind the first scan decoders do not look at what applications add.
    if (marker === COM || (isApplications(marker) && scans)) continue;
    if (marker === SCAN) put(body);
    else if (marker === APP0 && begins(body, JFIF) && body.length >= JFIF_BYTES && !heads) {
      heads += 1;
      putSegment(marker, [...body.subarray(0, JFIF_BYTES - 2), 0, 0]);
    } else if (marker === APP14 && isTransform(body)) putSegment(marker, body.subarray(0, ADOBE_BYTES));
    else if (isProfilePart(segment) ? profile : !isApplications(marker)) putSegment(marker, body);
  }
  put([0xff, EOI]);
  return out.slice(0, length);
}

/** Whether a picture is nothing but itself. @param {Uint8Array} bytes @returns {boolean} @throws {PhotoRefused} no picture */
export function isPlain(bytes) {
  const plain = plainJpeg(bytes);
  return plain.length === bytes.length && plain.every((byte, place) => byte === bytes[place]);
}

function profileParts(bytes) {
  const parts = [];
  for (const segment of segments(bytes)) {
    if (segment.marker === SOS) break;
    if (isProfilePart(segment)) parts.push(segment.body);
  }
  return parts;
}

/**
 * The size of a picture in pixels, as its frame says (B.2.2).
 * @param {Uint8Array} bytes @returns {{width: number, height: number}} @throws {PhotoRefused}
 */
export function frameSize(bytes) {
  for (const { marker, body } of segments(bytes)) {
    if (!FRAMES.includes(marker)) continue;
    if (body.length < 6) throw no("a frame cut short");
    return { width: (body[3] << 8) | body[4], height: (body[1] << 8) | body[2] };
  }
  throw no("no frame");
}

/** Whether these are all parts of one profile, in order, and as long as it says. @param {Uint8Array[]} parts */
function isProfile(parts) {
  const at = ICC.length;
  if (parts.length > 255 || parts.some((part, place) => part[at] !== place + 1 || part[at + 1] !== parts.length)) return false;
  const length = parts.reduce((sum, part) => sum + part.length - at - 2, 0);
  if (!parts.length || parts[0].length < at + 2 + PROFILE_HEAD_BYTES) return false;
  const first = parts[0].subarray(at + 2);
  return new DataView(first.buffer, first.byteOffset).getUint32(0) === length && begins(first.subarray(36), PROFILE_MARK);
}

/**
 * The markers between SOI and EOI in order, each with what belongs to it, and the bytes of scans as SCAN. Bytes that only
 * fill are left out.
 */
function* segments(bytes) {
  if (bytes[0] !== 0xff || bytes[1] !== SOI) throw no("no SOI");
  let [at, frames, scans, transforms] = [2, 0, 0, 0];
  for (let count = 0; count < SEGMENTS; count += 1) {
    if (bytes[at] !== 0xff) throw no("no marker");
    while (bytes[at] === FILL) at += 1;
    const marker = bytes[at];
    at += 1;
    if (marker === EOI) {
      if (!scans) throw no("no scan");
      return;
    }
    const body = bodyAt(bytes, at);
    at += 2 + body.length;
    if (FRAMES.includes(marker)) frames += 1;
    if (marker === SOS) scans += 1;
    if (marker === APP14 && !scans && isTransform(body)) transforms += 1;
    if (![...FRAMES, ...TABLES, SOS, COM].includes(marker) && !isApplications(marker)) throw no("a marker that no picture of ours has");
    // Of two transforms decoders would take the last.
    if (frames > 1 || scans > SCANS || (scans && !frames) || transforms > 1) throw no("too many of a kind");
    yield { marker, body };
    if (marker === SOS) at = yield* scanAt(bytes, at);
  }
  throw no("too many segments");
}

function bodyAt(bytes, at) {
  const length = (bytes[at] << 8) | bytes[at + 1];
  if (length < 2 || at + length > bytes.length) throw no("cut off");
  return bytes.subarray(at + 2, at + length);
}

/**
 * The bytes of a scan, in which 0xFF stands before 0 or a restart marker (B.1.1.5, B.2.1).
 * @returns {number} where the next marker stands
 */
function* scanAt(bytes, start) {
  let [from, at] = [start, start];
  for (;;) {
    at = bytes.indexOf(0xff, at);
    const next = at === -1 ? undefined : bytes[at + 1];
    if (next === undefined) throw no("no end of a scan");
    if (next === 0 || (next >= 0xd0 && next <= 0xd7)) {
      at += 2;
      continue;
    }
    if (at > from) yield { marker: SCAN, body: bytes.subarray(from, at) };
    if (next !== FILL) return at;
    from = at += 1;
  }
}
