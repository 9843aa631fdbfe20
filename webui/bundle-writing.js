// Making a bundle: put together a file at a time, read back whole, and only then given out.
//
// A zip file whose parts are handed to the browser as they come need not lie in the page's memory: a picture is there
// once, while it is put in.

import { BundleRefused } from "./bundle-errors.js";
import * as layout from "./bundle-layout.js";
import { openBundle } from "./bundle-reading.js";
import * as carried from "./carried.js";
import { sha256 } from "./core-image.js";
import * as log from "./log.js";
import { VERSION } from "./requests.js";
import { Zip, ZipDeflate, ZipPassThrough } from "./vendor/fflate-0.8.3.mjs";

const PIECE = 262_144;
// A zip file's own times say nothing here: the same data make the same bytes, but for the manifest.
const NO_TIME = new Date(1980, 0, 1);
const utf8 = new TextEncoder();

/** "2026-11-27", by this phone's own clock and place. */
const day = (date) => [date.getFullYear(), date.getMonth() + 1, date.getDate()].map((each) => String(each).padStart(2, "0")).join("-");

/**
 * What a bundle would hold.
 * @param {"all"|"unsent"|string} choice all, what the PC lacks, or one strip-down's id
 * @returns {Promise<{strips: string[], unsent: boolean, entries: number, photos: string[], missing: string[], refused: number}>}
 *   `missing`: pictures that are not on this phone any more; `refused`: entries that the PC refused, which stay out
 */
export async function contentsOf(choice) {
  const here = await carried.picturesHere();
  if (choice === "unsent") {
    const rows = await carried.waiting();
    const strips = [...new Set(rows.map((row) => row.strip))].sort();
    return { strips, unsent: true, entries: rows.length, photos: [...here.unsent].sort(), missing: [], refused: (await log.counts()).refused };
  }
  const strips = choice === "all" ? (await carried.stripsHeld()).sort() : [choice];
  const found = { entries: 0, refused: 0, named: new Set() };
  for (const strip of strips) await lookThrough(await log.entriesOf(strip), found);
  const named = [...found.named].sort();
  return {
    strips, unsent: false, entries: found.entries, refused: found.refused,
    photos: named.filter((each) => here.named.has(each)), missing: named.filter((each) => !here.named.has(each)),
  };
}

function lookThrough(rows, found) {
  for (const { entry, state } of rows) {
    if (state === "refused") found.refused += 1;
    else {
      found.entries += 1;
      if (entry.kind === "photo") found.named.add(entry.sha256);
    }
  }
}

/**
 * Make the bundle.
 * @param {object} contents as `contentsOf` gave it @param {(done: number, of: number) => void} [tell] files done
 * @returns {Promise<File>} read back and whole
 * @throws {BundleRefused|StorageAway}
 */
export async function makeBundle(contents, tell = () => {}) {
  const name = `cotterbook-${day(new Date())}.zip`;
  if (contents.strips.length + contents.photos.length > layout.FILES_HERE) throw new BundleRefused("too_much_for_a_file", {});
  try {
    const file = await packed(name, contents, tell);
    await readBack(file);
    return file;
  } catch (error) {
    if (error instanceof BundleRefused && error.code === "too_much_for_a_file") throw error;
    const what = error.sentence ?? error.message ?? String(error);
    throw new BundleRefused("bundle_not_written", { file: name, what }, error);
  }
}

async function packed(name, { strips, unsent, photos, missing }, tell) {
  const pack = new Packed();
  let done = 0;
  const next = () => tell(done += 1, strips.length + photos.length);
  const waiting = unsent ? await carried.waiting() : null;
  for (const strip of strips) {
    const rows = waiting?.filter((row) => row.strip === strip) ?? await log.entriesOf(strip);
    const lines = rows.filter((row) => row.state !== "refused").map((row) => `${JSON.stringify(row.entry)}\n`);
    await pack.add(layout.entriesName(strip), utf8.encode(lines.join("")), ZipDeflate);
    next();
  }
  const gone = [];
  for (const hash of photos) {
    const kept = await log.photo(hash);
    // A JPEG picture does not get any shorter.
    if (kept) await pack.add(layout.photoName(hash), new Uint8Array(kept.bytes), ZipPassThrough);
    else gone.push(hash);
    next();
  }
  const manifest = {
    format: layout.FORMAT, version: layout.VERSION, program: VERSION, made_ms: Date.now(), files: pack.files,
    missing_photos: [...missing, ...gone].sort(),
  };
  return pack.end(name, utf8.encode(JSON.stringify(manifest, null, 1)));
}

async function readBack(file) {
  const bundle = await openBundle(file);
  for (const name of bundle.members.keys()) await bundle.bytes(name);
}

/** A zip file that grows, and the list of what is in it. */
class Packed {
  files = {};
  #parts = [];
  #bytes = 0;
  #fresh = [];
  #zip = new Zip((error, piece) => {
    if (error) throw error;
    this.#fresh.push(piece);
  });

  async add(name, bytes, Member) {
    if (bytes.length > layout.mostBytes(name)) throw new BundleRefused("too_much_for_a_file", {});
    this.files[name] = { bytes: bytes.length, sha256: await sha256(bytes) };
    await this.#put(name, bytes, Member);
  }

  /** @returns {Promise<File>} */
  async end(name, manifest) {
    await this.#put(layout.MANIFEST, manifest, ZipDeflate);
    this.#zip.end();
    this.#givePartsAway();
    return new File(this.#parts, name, { type: "application/zip" });
  }

  async #put(name, bytes, Member) {
    const member = new Member(name);
    member.mtime = NO_TIME;
    this.#zip.add(member);
    for (let from = 0; from === 0 || from < bytes.length; from += PIECE) {
      member.push(bytes.subarray(from, from + PIECE), from + PIECE >= bytes.length);
      // Whoever taps meanwhile is answered between two pieces.
      await new Promise((done) => { setTimeout(done); });
    }
    this.#givePartsAway();
    if (this.#bytes > layout.BYTES_HERE) throw new BundleRefused("too_much_for_a_file", {});
  }

  #givePartsAway() {
    const part = new Blob(this.#fresh);
    this.#parts.push(part);
    this.#bytes += part.size;
    this.#fresh = [];
  }
}
