// Taking a bundle in: all of it is checked before anything of it is kept, and then all of it is kept or nothing.

import { BundleRefused } from "./bundle-errors.js";
import * as layout from "./bundle-layout.js";
import { openBundle, strictJson } from "./bundle-reading.js";
import * as carried from "./carried.js";
import * as core from "./core.js";
import { PhotoRefused, StorageFull } from "./errors.js";
import * as log from "./log.js";
import { checkPicture } from "./photos.js";

const PAGE = 250;
const NEW_LINE = 10;
// JSON may write a letter of an entry with up to six bytes.
const LINE_BYTES = 6 * layout.ENTRY_BYTES;

/**
 * Check all of a bundle: its files against its manifest, each entry and picture by the rules that hold for a phone's.
 * @param {File} file @param {(done: number, of: number) => void} [tell] files done
 * @returns {Promise<{bundle: import("./bundle-reading.js").Bundle, strips: number, entries: number, fresh: number,
 *   photos: number, freshPhotos: string[], missing: number, madeMs: number}>} what it holds, and what of it is new here
 * @throws {BundleRefused|CoreAway} nothing of it was kept
 */
export async function look(file, tell = () => {}) {
  const bundle = await openBundle(file);
  const [files, here, seen] = [bundle.strips.length + bundle.photos.length, (await carried.picturesHere()).all, new Map()];
  let [done, entries, fresh] = [0, 0, 0];
  tell(done, files);
  for (const strip of bundle.strips) {
    const found = await checkEntries(bundle, strip, seen);
    entries += found.entries;
    fresh += found.fresh;
    tell(done += 1, files);
  }
  for (const sha256 of bundle.photos) {
    await checkPhoto(bundle, sha256);
    tell(done += 1, files);
  }
  return {
    bundle, strips: bundle.strips.length, entries, fresh, photos: bundle.photos.length, madeMs: bundle.madeMs,
    freshPhotos: bundle.photos.filter((sha256) => !here.has(sha256)), missing: bundle.missing.length,
  };
}

/**
 * Keep everything of a bundle that was looked at and that this phone lacks.
 * @param {{bundle: object, freshPhotos: string[]}} looked @param {(done: number, of: number) => void} [tell] pictures done
 * @returns {Promise<{entries: number, photos: number}>} how many were new
 * @throws {BundleRefused|StorageAway} nothing of it was kept
 */
export async function takeIn({ bundle, freshPhotos }, tell = () => {}) {
  const put = [];
  try {
    const texts = await Promise.all(bundle.strips.map((strip) => bundle.bytes(layout.entriesName(strip))));
    const putIn = async (sha256) => {
      const { bytes, width, height } = await checkPhoto(bundle, sha256);
      if (await log.addPhoto({ sha256, bytes: bytes.buffer, type: "image/jpeg", width, height })) put.push(sha256);
    };
    const pages = function* () { for (const [number, text] of texts.entries()) yield* entryPages(layout.entriesName(bundle.strips[number]), text); };
    const differs = (entry) => new BundleRefused("bundle_differs", { file: layout.entriesName(entry.strip), line: "?" });
    // A picture that was here at the look may be gone by now, out of a form or because the PC has it: then it is put in too.
    for (let wanted = freshPhotos; ;) {
      for (const [place, sha256] of wanted.entries()) {
        tell(place, wanted.length);
        await putIn(sha256);
      }
      const { added, lacking } = await carried.keepCarried(() => entriesOf(pages()), bundle.photos, differs);
      if (!lacking.length) return { entries: added, photos: put.length };
      wanted = lacking;
    }
  } catch (error) {
    await carried.giveUp(put);
    // Before it gets so far, each picture was checked: what refuses one now is the room that it would take.
    throw error instanceof StorageFull || error instanceof PhotoRefused ? new BundleRefused("bundle_phone_full", { file: bundle.file.name }, error) : error;
  }
}

function* entriesOf(pages) {
  for (const page of pages) yield page.map(({ entry }) => entry);
}

/** The entries of a file: pages of {line, entry}, read as they are asked for. */
function* entryPages(name, text) {
  let page = [];
  for (const { line, bytes } of lines(name, text)) {
    page.push({ line, entry: entryOf(name, line, bytes) });
    if (page.length < PAGE) continue;
    yield page;
    page = [];
  }
  if (page.length) yield page;
}

function* lines(name, text) {
  let [from, line] = [0, 0];
  while (from < text.length) {
    const end = text.indexOf(NEW_LINE, from);
    if (end === -1 || end - from > LINE_BYTES) throw new BundleRefused("bundle_damaged", { file: name });
    yield { line: line += 1, bytes: text.subarray(from, end) };
    from = end + 1;
  }
}

const wrong = (file, line, text, values = {}) => new BundleRefused("bundle_entry", { file, line, what: { text, values } });

function entryOf(name, line, bytes) {
  try {
    return strictJson(bytes);
  } catch (error) {
    throw Object.assign(wrong(name, line, "It is not proper JSON."), { cause: error });
  }
}

/** Check the entries of a strip-down; `seen` holds each entry of the bundle that was seen before, by its id. */
async function checkEntries(bundle, strip, seen) {
  const name = layout.entriesName(strip);
  let [entries, fresh] = [0, 0];
  for (const page of entryPages(name, await bundle.bytes(name))) {
    await checkPage(name, page);
    const here = await carried.held(page.map(({ entry }) => entry.id));
    for (const { line, entry } of page) {
      if (entry.strip !== strip) throw wrong(name, line, "It belongs to another strip-down.");
      const own = carried.canonical(entry);
      const before = seen.get(entry.id);
      if (before !== undefined && before !== own) throw wrong(name, line, "Its identifier stands for two entries.");
      const ours = here.get(entry.id);
      if (ours && carried.canonical(ours) !== own) throw new BundleRefused("bundle_differs", { file: name, line });
      if (before === undefined && !ours) fresh += 1;
      seen.set(entry.id, own);
    }
    entries += page.length;
  }
  if (fresh + (await log.countOf(strip)) > layout.ENTRIES_A_STRIP) throw new BundleRefused("bundle_no_room", { strip, limit: layout.ENTRIES_A_STRIP });
  return { entries, fresh };
}

/** The core's one rule of what an entry must hold. */
async function checkPage(name, page) {
  const { place, problem } = await core.call("check_all", { entries: page.map(({ entry }) => entry) });
  if (problem) throw wrong(name, page[place].line, problem.text, problem.values);
}

async function checkPhoto(bundle, sha256) {
  const name = layout.photoName(sha256);
  const bytes = await bundle.bytes(name);
  // It is the picture that its name says, and not only what the manifest says of it.
  if (bundle.told[name].sha256 !== sha256) throw new BundleRefused("bundle_damaged", { file: name });
  try {
    return { bytes, ...await checkPicture(bytes) };
  } catch (error) {
    throw error.sentence ? new BundleRefused("bundle_picture", { file: name, what: error.sentence }, error) : error;
  }
}
