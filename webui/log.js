// The log on the phone: entries, and how far each has got on its way to the PC.
//
// An entry never changes here; only its state does: unsent, sent, refused.

import { announce, read, write, writeOrMakeRoom } from "./database.js";
import { dropDraftsOf, mustBeOf } from "./keep.js";
import { named, unsendAllIn, unsentIn } from "./kept-photos.js";

const AGAIN_AT_ONCE = 500;

export { close, onChange } from "./database.js";
export * from "./keep.js";
export * from "./kept-photos.js";

/**
 * Keep new entries of this phone, all or none, let the pictures they name go, and delete the draft they came from.
 * @param {object[]} entries as the core built them
 * @param {{draft?: string}} [options]
 */
export async function addEntries(entries, { draft } = {}) {
  await writeOrMakeRoom(["entries", "drafts", "settings"], (transaction) => {
    const store = transaction.objectStore("entries");
    const requests = entries.map((entry) =>
      store.add({ id: entry.id, strip: entry.strip, entry, state: "unsent", problem: null }));
    requests.push(...named(transaction, entries));
    if (draft) requests.push(transaction.objectStore("drafts").delete(draft));
    return Promise.all(requests);
  });
  announce({ what: "entries", strips: [...new Set(entries.map((entry) => entry.strip))], key: draft });
}

/**
 * Keep a batch from the PC and the cursor that it ends at, together or not at all. Doubles are dropped by id.
 * @param {string} strip @param {object[]} entries @param {number} cursor
 * @param {string} [of] the PC's data that they come from @throws {OtherData} nothing was kept
 * @param {{number: number, id: string}|null} [last] the last entry that the PC has of the strip-down
 * @returns {Promise<number>} how many were new
 */
export async function receive(strip, entries, cursor, of, last = null) {
  const added = await writeOrMakeRoom(["entries", "strips", "settings"], async (transaction) => {
    await mustBeOf(transaction, of);
    const store = transaction.objectStore("entries");
    const known = await Promise.all(entries.map((entry) => store.index("id").getKey(entry.id)));
    const fresh = entries.filter((_, i) => known[i] === undefined);
    const record = (await transaction.objectStore("strips").get(strip)) ?? { strip };
    await Promise.all([
      ...fresh.map((entry) => store.add({ id: entry.id, strip, entry, state: "sent", problem: null })),
      transaction.objectStore("strips").put({ ...record, cursor, ...further(record, last) }),
    ]);
    return fresh.length;
  });
  if (added) announce({ what: "received", strips: [strip] });
  return added;
}

/**
 * Entries of a strip-down that were stored after `afterSeq`, oldest stored first.
 * @returns {Promise<{seq: number, id: string, entry: object, state: string, problem: object|null}[]>}
 */
export function entriesOf(strip, afterSeq = 0) {
  return read(["entries"], async (transaction) => {
    const store = transaction.objectStore("entries");
    if (!afterSeq) return store.index("strip").getAll(strip);
    const rows = await store.getAll(IDBKeyRange.lowerBound(afterSeq, true));
    return rows.filter((row) => row.strip === strip);
  });
}

/** How many entries a strip-down has. @returns {Promise<number>} */
export const countOf = (strip) => read(["entries"], (transaction) => transaction.objectStore("entries").index("strip").count(strip));

const utf8 = new TextEncoder();
/** Bytes of a value as JSON in UTF-8, which is what limits count. */
export const jsonBytes = (value) => utf8.encode(JSON.stringify(value)).length;

/** The oldest unsent entries, at most `limit` of them and at most `bytes` bytes of JSON together; at least one. */
export async function unsent(limit, bytes) {
  const rows = await read(["entries"], (transaction) =>
    transaction.objectStore("entries").index("state").getAll("unsent", limit));
  let total = 0;
  const end = rows.findIndex((row) => (total += jsonBytes(row.entry) + 1) > bytes);
  return rows.slice(0, end === -1 ? rows.length : Math.max(end, 1)).map((row) => row.entry);
}

/**
 * Take in the PC's answer about entries that one request carried.
 * @param {string[]} sentIds accepted and on the PC's disk
 * @param {{id: string, code: string, field: string, text: string, values: object}[]} refusals
 * @param {string} [of] the PC's data that they are in now @throws {OtherData} nothing was changed
 * @param {Object<string, {number: number, id: string}>} [lasts] the last entry that the PC has of each of their strip-downs
 */
export async function settle(sentIds, refusals, of, lasts = {}) {
  await changeEntries([...sentIds.map((id) => [id, "sent", null]), ...refusals.map((each) => [each.id, "refused", each])], of, lasts);
}

/**
 * What a strip-down's line is to say of the PC's last entry there: none that counts as sent here has a higher number. So
 * a PC that has lost one has lost that last one too, and is told of it. An answer that comes late takes nothing back.
 */
const further = (record, last) => (last && last.number > (record?.last?.number ?? 0) ? { last } : {});

async function changeEntries(changes, of, lasts = {}) {
  const strips = await writeOrMakeRoom(["entries", "strips", "settings"], async (transaction) => {
    await mustBeOf(transaction, of);
    const lines = transaction.objectStore("strips");
    for (const [strip, last] of Object.entries(lasts)) {
      if (!last) continue;
      const record = await lines.get(strip);
      await lines.put({ strip, cursor: 0, ...record, ...further(record, last) });
    }
    const store = transaction.objectStore("entries");
    const rows = await Promise.all(changes.map(([id]) => store.index("id").get(id)));
    const known = rows.flatMap((row, i) => (row ? [{ ...row, state: changes[i][1], problem: changes[i][2] }] : []));
    await Promise.all(known.map((row) => store.put(row)));
    return [...new Set(known.map((row) => row.strip))];
  });
  announce({ what: "settled", strips });
}

/** Entries that the PC refused: [{id, entry, problem}]. They stay until a person deals with them. */
export async function refused() {
  const rows = await read(["entries"], (transaction) => transaction.objectStore("entries").index("state").getAll("refused"));
  return rows.map(({ id, entry, problem }) => ({ id, entry, problem }));
}

/** A person decided to try a refused entry again. */
export const sendAgain = (id) => changeEntries([[id, "unsent", null]]);

/** The PC's program is another than when it refused: whatever it refused is asked once more. */
export async function sendRefusedAgain() {
  await writeOrMakeRoom(["entries", "photo_states"], async (transaction) => {
    const store = transaction.objectStore("entries");
    const rows = await store.index("state").getAll("refused");
    await Promise.all([...rows.map((row) => store.put({ ...row, state: "unsent", problem: null })), unsendAllIn(transaction, "refused")]);
  });
  announce({ what: "entries", strips: [] });
}

/** A person decided to drop a refused entry; no other entry can be deleted. With the last one go the forms begun there. */
export async function forget(id) {
  const strip = await write(["entries", "drafts"], async (transaction) => {
    const store = transaction.objectStore("entries");
    const row = await store.index("id").get(id);
    if (row?.state !== "refused") return null;
    await store.delete(row.seq);
    if (!(await store.index("strip").count(row.strip))) await dropDraftsOf(transaction, row.strip);
    return row.strip;
  });
  if (strip) announce({ what: "forgotten", strips: [strip] });
}

/** The PC holds less than this phone sent it (it went back to an older copy): everything of the strip-down is unsent again. */
export async function sendAllAgain(strip) {
  await sendSentAgain(strip, async (transaction) => {
    const record = await transaction.objectStore("strips").get(strip);
    await transaction.objectStore("strips").put(unread({ ...record, strip }));
  });
  announce({ what: "entries", strips: [strip] });
}

/**
 * The PC keeps other data than before: everything that this phone holds is unsent again, and it has read nothing there.
 * @param {string} store the identity of what the PC keeps now
 */
export async function sendEverythingAgain(store) {
  await sendSentAgain(null, (transaction) => readAnew(transaction, store));
  announce({ what: "entries", strips: [] });
}

/**
 * Pictures first and with deletes alone, so that none goes for room that the PC may not have. Then entries, so many at
 * a time as a full phone has room for. What is to be so `then` is kept with the last of them: where this breaks off,
 * the next exchange begins it again.
 * @param {string|null} strip null for all @param {(transaction) => Promise<void>} then
 */
async function sendSentAgain(strip, then) {
  await write(["photo_states"], (transaction) => unsendAllIn(transaction, "sent"));
  const some = () => writeOrMakeRoom(["entries", "strips", "photo_states", "settings"], async (transaction) => {
    const store = transaction.objectStore("entries");
    const rows = await sentOf(store, strip);
    await Promise.all(rows.map((row) => store.put({ ...row, state: "unsent" })));
    if (rows.length === AGAIN_AT_ONCE) return true;
    await Promise.all([unsendAllIn(transaction, "sent"), then(transaction)]);
    return false;
  });
  while (await some());
}

async function sentOf(store, strip) {
  if (!strip) return store.index("state").getAll("sent", AGAIN_AT_ONCE);
  const [sent, there] = await Promise.all([store.index("state").getAllKeys("sent"), store.index("strip").getAllKeys(strip)]);
  const ours = new Set(there);
  return Promise.all(sent.filter((seq) => ours.has(seq)).slice(0, AGAIN_AT_ONCE).map((seq) => store.get(seq)));
}

/** As `sendEverythingAgain`, for a device that may not send: what it holds counts as it did. @param {string} store */
export const readEverythingAgain = (store) => write(["strips", "settings"], (transaction) => readAnew(transaction, store));

async function readAnew(transaction, store) {
  const records = await transaction.objectStore("strips").getAll();
  await Promise.all([
    transaction.objectStore("settings").put({ key: "store", value: store }),
    ...records.map((record) => transaction.objectStore("strips").put(unread(record))),
  ]);
}

/** A strip-down's line as if the PC had not been asked for it yet. */
function unread(record) {
  const line = { ...record, cursor: 0 };
  delete line.last;
  return line;
}

/** @returns {Promise<{unsent: number, refused: number, unsent_photos: number}>} */
export function counts() {
  return read(["entries", "photos", "photo_states", "settings"], async (transaction) => {
    const states = transaction.objectStore("entries").index("state");
    const [unsent, refused, photos] = await Promise.all([states.count("unsent"), states.count("refused"), unsentIn(transaction)]);
    return { unsent, refused, unsent_photos: photos.length };
  });
}
