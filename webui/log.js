// The log on the phone: entries, and how far each has got on its way to the PC.
//
// An entry never changes here; only its state does: unsent, sent, refused.

import { announce, read, write, writeOrMakeRoom } from "./database.js";
import { countHeld, dropDraftsOf, mustBeOf, named } from "./keep.js";

export { close, onChange } from "./database.js";
export * from "./keep.js";

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
 * @returns {Promise<number>} how many were new
 */
export async function receive(strip, entries, cursor, of) {
  const added = await writeOrMakeRoom(["entries", "strips", "settings"], async (transaction) => {
    await mustBeOf(transaction, of);
    const store = transaction.objectStore("entries");
    const known = await Promise.all(entries.map((entry) => store.index("id").getKey(entry.id)));
    const fresh = entries.filter((_, i) => known[i] === undefined);
    const record = (await transaction.objectStore("strips").get(strip)) ?? { strip };
    await Promise.all([
      ...fresh.map((entry) => store.add({ id: entry.id, strip, entry, state: "sent", problem: null })),
      transaction.objectStore("strips").put({ ...record, cursor }),
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
 */
export async function settle(sentIds, refusals, of) {
  await changeEntries([...sentIds.map((id) => [id, "sent", null]), ...refusals.map((each) => [each.id, "refused", each])], of);
}

async function changeEntries(changes, of) {
  const strips = await writeOrMakeRoom(["entries", "settings"], async (transaction) => {
    await mustBeOf(transaction, of);
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
  await writeOrMakeRoom(["entries", "photos"], async (transaction) => {
    for (const name of ["entries", "photos"]) {
      const store = transaction.objectStore(name);
      const rows = await store.index("state").getAll("refused");
      await Promise.all(rows.map((row) => store.put({ ...row, state: "unsent", problem: null })));
    }
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
  await write(["entries", "strips", "photos"], async (transaction) => {
    const store = transaction.objectStore("entries");
    const rows = await store.index("strip").getAll(strip);
    const record = await transaction.objectStore("strips").get(strip);
    const photos = await transaction.objectStore("photos").index("state").getAll("sent");
    await Promise.all([
      ...rows.filter((row) => row.state === "sent").map((row) => store.put({ ...row, state: "unsent" })),
      ...photos.map((row) => transaction.objectStore("photos").put({ ...row, state: "unsent" })),
      transaction.objectStore("strips").put({ ...record, strip, cursor: 0 }),
    ]);
  });
  announce({ what: "entries", strips: [strip] });
}

/**
 * The PC keeps other data than before: everything that this phone holds is unsent again, and it has read nothing there.
 * @param {string} store the identity of what the PC keeps now
 */
export async function sendEverythingAgain(store) {
  await write(["entries", "strips", "photos", "settings"], async (transaction) => {
    const again = async (name) => {
      const rows = await transaction.objectStore(name).index("state").getAll("sent");
      await Promise.all(rows.map((row) => transaction.objectStore(name).put({ ...row, state: "unsent" })));
    };
    await Promise.all([again("entries"), again("photos"), readAnew(transaction, store)]);
  });
  announce({ what: "entries", strips: [] });
}

/** As `sendEverythingAgain`, for a device that may not send: what it holds counts as it did. @param {string} store */
export const readEverythingAgain = (store) => write(["strips", "settings"], (transaction) => readAnew(transaction, store));

async function readAnew(transaction, store) {
  const records = await transaction.objectStore("strips").getAll();
  await Promise.all([
    transaction.objectStore("settings").put({ key: "store", value: store }),
    ...records.map((record) => transaction.objectStore("strips").put({ ...record, cursor: 0 })),
  ]);
}

/** @returns {Promise<{unsent: number, refused: number, unsent_photos: number}>} */
export function counts() {
  return read(["entries", "photos", "settings"], async (transaction) => {
    const states = transaction.objectStore("entries").index("state");
    const [waiting, refusals, pictures, held] = await Promise.all([
      states.count("unsent"), states.count("refused"), transaction.objectStore("photos").index("state").count("unsent"),
      countHeld(transaction),
    ]);
    return { unsent: waiting, refused: refusals, unsent_photos: pictures - held };
  });
}
