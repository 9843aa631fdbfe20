// What goes and comes by file instead of by the network, as the phone's log sees it.
//
// Entries that came so are unsent: they go to the PC like this phone's own, which drops what it has.

import { announce, read, write, writeOrMakeRoom } from "./database.js";
import { heldKey, heldKeys, unsentIn } from "./kept-photos.js";

/** Every strip-down that this phone has entries of. @returns {Promise<string[]>} */
export const stripsHeld = () => read(["entries"], async (transaction) => {
  const found = [];
  for (let at = await transaction.objectStore("entries").index("strip").openKeyCursor(null, "nextunique"); at; at = await at.continue()) found.push(at.key);
  return found;
});

/** All entries that wait for the PC: [{seq, entry}], oldest stored first. */
export const waiting = () => read(["entries"], (transaction) => transaction.objectStore("entries").index("state").getAll("unsent"));

/**
 * Hashes of the pictures that lie on this phone: all, those that an entry names, and of these the unsent ones.
 * @returns {Promise<{all: Set<string>, named: Set<string>, unsent: Set<string>}>}
 */
export const picturesHere = () => read(["photos", "photo_states", "settings"], async (transaction) => {
  const [all, unsent, keys] = await Promise.all([
    transaction.objectStore("photos").getAllKeys(), unsentIn(transaction), heldKeys(transaction),
  ]);
  const nameless = new Set(keys);
  return { all: new Set(all), named: new Set(all.filter((sha256) => !nameless.has(heldKey(sha256)))), unsent: new Set(unsent) };
});

/** The entry as text that is equal for equal content, whoever wrote its JSON. */
export const canonical = (value) => JSON.stringify(value, (_, each) =>
  (typeof each === "object" && each !== null && !Array.isArray(each)
    ? Object.fromEntries(Object.keys(each).sort().map((key) => [key, each[key]])) : each));

/**
 * The entries that the log has under these ids, by id.
 * @param {string[]} ids @returns {Promise<Map<string, object>>}
 */
export const held = (ids) => read(["entries"], (transaction) => heldIn(transaction, ids));

async function heldIn(transaction, ids) {
  const index = transaction.objectStore("entries").index("id");
  const rows = await Promise.all(ids.map((id) => index.get(id)));
  return new Map(rows.filter(Boolean).map((row) => [row.id, row.entry]));
}

/**
 * Keep all entries of these pages that the log lacks, and let the pictures go that came with them: all or nothing.
 * @param {() => Iterable<object[]>} pages called at each try; must not wait for anything
 * @param {string[]} pictures hashes of their pictures, which lie here, held
 * @param {(entry: object) => Error} differs the error for an entry that is another one here
 * @returns {Promise<{added: number, lacking: string[]}>} how many entries were new; where a picture lies here no longer, nothing was kept
 */
export async function keepCarried(pages, pictures, differs) {
  const strips = new Set();
  const { added, lacking } = await writeOrMakeRoom(["entries", "strips", "settings", "photos"], async (transaction) => {
    strips.clear();
    const keys = await Promise.all(pictures.map((sha256) => transaction.objectStore("photos").getKey(sha256)));
    const gone = pictures.filter((_, place) => !keys[place]);
    if (gone.length) return { added: 0, lacking: gone };
    const store = transaction.objectStore("entries");
    let count = 0;
    for (const page of pages()) {
      const here = await heldIn(transaction, page.map(({ id }) => id));
      const fresh = new Map(page.filter(({ id }) => !here.has(id)).map((entry) => [entry.id, entry]));
      const other = page.find((entry) => canonical(here.get(entry.id) ?? fresh.get(entry.id)) !== canonical(entry));
      if (other) throw differs(other);
      for (const entry of fresh.values()) strips.add(entry.strip);
      await Promise.all([...fresh.values()].map((entry) => store.add({ id: entry.id, strip: entry.strip, entry, state: "unsent", problem: null })));
      count += fresh.size;
    }
    const lines = transaction.objectStore("strips");
    for (const strip of strips) if (!(await lines.getKey(strip))) await lines.put({ strip, cursor: 0 });
    await Promise.all(pictures.map((sha256) => transaction.objectStore("settings").delete(heldKey(sha256))));
    return { added: count, lacking: [] };
  });
  if (lacking.length) return { added, lacking };
  const named = [...strips];
  if (named.length) announce({ what: "received", strips: named });
  // Sending hears of new entries; of pictures alone too.
  if (named.length || pictures.length) announce({ what: "entries", strips: named });
  return { added, lacking };
}

/** Pictures that were put here for entries which then were not kept: they go again. @param {string[]} hashes */
export const giveUp = (hashes) => write(["photos", "settings"], async (transaction) => {
  const [photos, settings] = [transaction.objectStore("photos"), transaction.objectStore("settings")];
  for (const sha256 of hashes) {
    if (!(await settings.getKey(heldKey(sha256)))) continue;
    await Promise.all([photos.delete(sha256), settings.delete(heldKey(sha256))]);
  }
});
