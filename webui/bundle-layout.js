// What lies where in a bundle, as the PC says it in `bundles/layout.py`; a test holds the two equal.

export const FORMAT = "cotterbook bundle";
export const VERSION = 1;
export const MANIFEST = "manifest.json";
export const ENTRIES = /^entries\/([0-9a-f]{8}-[0-9a-f]{4}-7[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12})\.jsonl$/;
export const PHOTO = /^photos\/([0-9a-f]{64})\.jpg$/;
export const MANIFEST_BYTES = 25_000_000;
export const PHOTO_BYTES = 2_000_000;
export const ENTRY_BYTES = 8_192;
export const ENTRIES_A_STRIP = 200_000;
// Entries pack to a tenth or so; a thousandth is a file made to burst.
export const TIMES_PACKED = 100;

// A phone has the entries of a strip-down in its memory while it takes them in, and writes no zip file above 4 GB
// or of more files (PKWARE's APPNOTE 4.4.1.4): a PC goes further.
export const ENTRIES_BYTES_HERE = 100_000_000;
export const BYTES_HERE = 4_000_000_000;
export const FILES_HERE = 65_000;

/** @param {string} strip @returns {string} the file of a strip-down's entries */
export const entriesName = (strip) => `entries/${strip}.jsonl`;

/** @param {string} sha256 @returns {string} the file of a picture */
export const photoName = (sha256) => `photos/${sha256}.jpg`;

/** How long the file of this name may be on a phone; 0 for a name that no bundle has. @param {string} name */
export function mostBytes(name) {
  if (name === MANIFEST) return MANIFEST_BYTES;
  if (ENTRIES.test(name)) return ENTRIES_BYTES_HERE;
  return PHOTO.test(name) ? PHOTO_BYTES : 0;
}
