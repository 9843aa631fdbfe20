// The list of a zip file's members, read from its end (PKWARE's APPNOTE 6.3, 4.3): the file itself may be larger than
// a phone's memory, so it is read in places. The library that packs and unpacks reads only whole files in this way.

const END = 0x06054b50;
const MEMBER = 0x02014b50;
const HEAD = 0x04034b50;
const END_BYTES = 22;
const MEMBER_BYTES = 46;
const HEAD_BYTES = 30;
const LONGEST_REMARK = 65_535;
const MOST_LIST_BYTES = 64_000_000;

/** The bytes are no zip file, or no longer one. */
export class NoZip extends Error {}

/** A zip file of the larger kind (4.3.14), which a phone does not read. */
export class LargeZip extends Error {}

/** @param {Blob} file @returns {Promise<DataView>} the bytes from `start` on */
async function bytesOf(file, start, length) {
  if (start < 0 || length < 0 || start + length > file.size) throw new NoZip("beyond the end");
  return new DataView(await file.slice(start, start + length).arrayBuffer());
}

async function findEnd(file) {
  const length = Math.min(file.size, END_BYTES + LONGEST_REMARK);
  const from = file.size - length;
  const tail = await bytesOf(file, from, length);
  for (let at = length - END_BYTES; at >= 0; at -= 1) {
    if (tail.getUint32(at, true) === END && at + END_BYTES + tail.getUint16(at + 20, true) === length) {
      return {
        at: from + at, count: tail.getUint16(at + 10, true), bytes: tail.getUint32(at + 12, true), start: tail.getUint32(at + 16, true),
        disks: tail.getUint32(at + 4, true), here: tail.getUint16(at + 8, true),
      };
    }
  }
  throw new NoZip("no end");
}

// Names of our own are ASCII: any other letter makes a name that is not ours.
const text = (view, at, length) => String.fromCharCode(...new Uint8Array(view.buffer, view.byteOffset + at, Math.min(length, 300)));

/**
 * @param {Blob} file
 * @returns {Promise<{name: string, flags: number, method: number, crc: number, packed: number, size: number, head: number}[]>}
 * @throws {NoZip|LargeZip}
 */
export async function listed(file) {
  const end = await findEnd(file);
  if (end.count === 0xffff || end.start === 0xffffffff) throw new LargeZip();
  if (end.disks || end.here !== end.count || end.bytes > MOST_LIST_BYTES || end.start + end.bytes !== end.at) throw new NoZip("no list");
  const list = await bytesOf(file, end.start, end.bytes);
  const members = [];
  let at = 0;
  for (let number = 0; number < end.count; number += 1) {
    if (at + MEMBER_BYTES > list.byteLength || list.getUint32(at, true) !== MEMBER) throw new NoZip("no member");
    const [nameBytes, extra, remark] = [28, 30, 32].map((place) => list.getUint16(at + place, true));
    const next = at + MEMBER_BYTES + nameBytes + extra + remark;
    if (next > list.byteLength) throw new NoZip("a member cut off");
    members.push({
      name: text(list, at + MEMBER_BYTES, nameBytes), flags: list.getUint16(at + 8, true), method: list.getUint16(at + 10, true),
      crc: list.getUint32(at + 16, true), packed: list.getUint32(at + 20, true), size: list.getUint32(at + 24, true),
      head: list.getUint32(at + 42, true),
    });
    at = next;
  }
  if (at !== list.byteLength) throw new NoZip("more than the list");
  return members;
}

/**
 * The packed bytes of a member, as they lie in the file.
 * @param {Blob} file @param {{name: string, packed: number, head: number}} member @returns {Promise<Blob>} @throws {NoZip}
 */
export async function packedBytes(file, { name, packed, head }) {
  const view = await bytesOf(file, head, HEAD_BYTES);
  const [nameBytes, extra] = [26, 28].map((place) => view.getUint16(place, true));
  if (view.getUint32(0, true) !== HEAD || text(await bytesOf(file, head + HEAD_BYTES, nameBytes), 0, nameBytes) !== name) throw new NoZip("another head");
  const start = head + HEAD_BYTES + nameBytes + extra;
  if (start + packed > file.size) throw new NoZip("beyond the end");
  return file.slice(start, start + packed);
}
