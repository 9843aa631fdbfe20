// An open bundle: its names, lengths and hashes are held against its manifest. What is in its files is checked in
// `bundle-taking.js`.

import { BundleRefused } from "./bundle-errors.js";
import * as layout from "./bundle-layout.js";
import { sha256 } from "./core-image.js";
import { Inflate, ZipPassThrough } from "./vendor/fflate-0.8.3.mjs";
import { LargeZip, NoZip, listed, packedBytes } from "./zip-list.js";

const ENCRYPTED = 0x1;
const [STORED, DEFLATED] = [0, 8];
const PIECE = 65_536;
// So few packed bytes at once that even a file made to burst is noticed before it fills the memory.
const PACKED_PIECE = 16_384;
const DEEPEST = 16;
const HASH = /^[0-9a-f]{64}$/;

const utf8 = new TextDecoder("utf-8", { fatal: true, ignoreBOM: true });

/** JSON as the PC takes it: text in UTF-8, no number beyond what numbers can hold, not nested too deep; an object. */
export function strictJson(bytes) {
  const value = JSON.parse(utf8.decode(bytes), (_, each) => {
    if (typeof each === "number" && !Number.isFinite(each)) throw new SyntaxError("no number");
    return each;
  });
  if (!isObject(value)) throw new SyntaxError("no object");
  let level = [value];
  for (let depth = 0; depth < DEEPEST; depth += 1) level = level.flatMap(Object.values).filter((each) => typeof each === "object" && each !== null);
  if (level.length) throw new SyntaxError("too deep");
  return value;
}

const isObject = (value) => typeof value === "object" && value !== null && !Array.isArray(value);

/** What only the file system can say goes on with its own words; the rest is a file that is not as it should be. */
async function or(code, values, file, work) {
  try {
    return await work();
  } catch (error) {
    if (error instanceof BundleRefused) throw error;
    if (error instanceof LargeZip) throw new BundleRefused("bundle_too_big_here", { file: file.name }, error);
    if (error instanceof DOMException) throw new BundleRefused("bundle_unreadable", { file: file.name, what: error.message }, error);
    throw new BundleRefused(code, values, error);
  }
}

export class Bundle {
  /** @param {File} file @param {Map<string, object>} members @param {object} manifest */
  constructor(file, members, manifest) {
    Object.assign(this, { file, members, told: manifest.files, madeMs: manifest.made_ms, missing: manifest.missing_photos });
    const named = (pattern) => [...members.keys()].map((name) => pattern.exec(name)?.[1]).filter(Boolean).sort();
    this.strips = named(layout.ENTRIES);
    this.photos = named(layout.PHOTO);
  }

  /** The bytes of a file of the bundle. @param {string} name @returns {Promise<Uint8Array>} @throws {BundleRefused} not as told */
  async bytes(name) {
    const bytes = await unpacked(this.file, this.members.get(name));
    if ((await sha256(bytes)) !== this.told[name].sha256) throw new BundleRefused("bundle_damaged", { file: name });
    return bytes;
  }
}

/**
 * Open a bundle, whose names and lengths are then in order.
 * @param {File} file @returns {Promise<Bundle>} @throws {BundleRefused}
 */
export async function openBundle(file) {
  const list = await or("no_bundle", { file: file.name }, file, () => listed(file));
  const members = inOrder(file, list);
  if (!members.has(layout.MANIFEST)) throw new BundleRefused("no_bundle", { file: file.name });
  const manifest = await readManifest(file, members.get(layout.MANIFEST));
  members.delete(layout.MANIFEST);
  holdAgainst(manifest.files, members);
  return new Bundle(file, members, manifest);
}

/** The zip file's own list: no name that is not ours, none twice, nothing that bursts. */
function inOrder(file, list) {
  const whole = list.reduce((sum, { size }) => sum + size, 0);
  if (list.length > layout.FILES_HERE || whole > layout.BYTES_HERE) throw new BundleRefused("bundle_too_big_here", { file: file.name });
  const members = new Map();
  for (const member of list) {
    const { name, flags, method, size, packed } = member;
    const most = layout.mostBytes(name);
    if (!most || members.has(name)) throw new BundleRefused("no_bundle", { file: file.name });
    if (flags & ENCRYPTED || ![STORED, DEFLATED].includes(method)) throw new BundleRefused("bundle_damaged", { file: name });
    if (size > layout.TIMES_PACKED * (packed + PIECE)) throw new BundleRefused("bundle_too_big", { file: name });
    if (size > most) throw new BundleRefused(layout.ENTRIES.test(name) ? "bundle_too_big_here" : "bundle_too_big", { file: name });
    members.set(name, member);
  }
  return members;
}

async function readManifest(file, member) {
  const bytes = await unpacked(file, member);
  const damaged = new BundleRefused("bundle_damaged", { file: layout.MANIFEST });
  if (crc32(bytes) !== member.crc) throw damaged;
  const manifest = await or("bundle_damaged", damaged.sentence.values, file, () => strictJson(bytes));
  if (manifest.format !== layout.FORMAT) throw new BundleRefused("no_bundle", { file: file.name });
  if (manifest.version !== layout.VERSION) throw new BundleRefused("bundle_newer", { file: file.name });
  const { files, missing_photos: missing } = manifest;
  if (!isObject(files) || !Array.isArray(missing) || !missing.every((each) => typeof each === "string" && HASH.test(each))) throw damaged;
  return manifest;
}

/** Whether the manifest names all files that there are, and no others, with their lengths. */
function holdAgainst(told, members) {
  const names = [...new Set([...Object.keys(told), ...members.keys()])].sort();
  for (const name of names) {
    const given = Object.hasOwn(told, name) ? told[name] : null;
    if (!isObject(given) || !members.has(name) || given.bytes !== members.get(name).size) {
      throw new BundleRefused("bundle_damaged", { file: name.slice(0, 100) });
    }
  }
}

// The library's writer of a member that is not packed works its checksum out; nothing is written.
function crc32(bytes) {
  const member = new ZipPassThrough("");
  member.ondata = () => {};
  member.push(bytes, true);
  return member.crc >>> 0;
}

/** The bytes of a member, which are as many as the list says. */
function unpacked(file, member) {
  return or("bundle_damaged", { file: member.name }, file, async () => {
    const packed = new Uint8Array(await (await packedBytes(file, member)).arrayBuffer());
    const bytes = member.method === STORED ? packed : inflated(packed, member.size);
    if (bytes.length !== member.size) throw new NoZip("another length");
    return bytes;
  });
}

function inflated(packed, size) {
  const bytes = new Uint8Array(size);
  let at = 0;
  const stream = new Inflate((piece) => {
    if (at + piece.length > size) throw new NoZip("longer than it says");
    bytes.set(piece, at);
    at += piece.length;
  });
  for (let from = 0; from < packed.length; from += PACKED_PIECE) {
    stream.push(packed.subarray(from, from + PACKED_PIECE), from + PACKED_PIECE >= packed.length);
  }
  if (at !== size) throw new NoZip("shorter than it says");
  return bytes;
}
