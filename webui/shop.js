// What the screens talk to: the log, the core and who is at work, joined.
//
// Saving ends with the log: what comes after it (folding, telling other tabs,
// sending) can fail without losing anything.

import { forget as forgetCoreImage } from "./core-image.js";
import * as core from "./core.js";
import { CoreAway, CoreFault, CoreProblems, KeptAsDraft, Told } from "./errors.js";
import { ask, inTurn, unload } from "./folding.js";
import * as log from "./log.js";
import { VERSION } from "./requests.js";
import { uuidv7 } from "./vendor/uuidv7-1.2.1.mjs";

const TRY_AGAIN_MS = 5_000;

const listeners = new Set();
/** Strip-downs that a screen has shown: the core goes on holding them. */
const looked = new Set();
const saving = new Map();
let device = null;
/** @type {string|undefined} */
let who;
let persistence = null;

/**
 * Make the shop usable; resolves when the phone's storage answers. The core starts meanwhile.
 * @returns {Promise<{device: string, who: string}>}
 */
export async function ready() {
  core.start();
  await thisDevice();
  const kept = await log.setting("who");
  // Somebody may have said a name while the kept one was being read: the new one stands.
  who ??= kept ?? "";
  workInDrafts();
  refreshLines();
  // Left by forms that were given up; what cannot be dropped now can be at the next start.
  Promise.all([log.dropUnnamedPhotos(), log.dropStrayStates()]).catch(() => {});
  return { device, who: person() };
}

/** What this device is called in entries: made once, and the same for whoever asks first. */
async function thisDevice() {
  device ??= await log.settingOnce("device", uuidv7);
  return device;
}

/** The name that new entries carry. */
export const person = () => who ?? "";
export async function setPerson(name) {
  who = name.trim();
  await log.putSetting("who", who);
}

/**
 * Hear when something changed, here, in another tab or by sending.
 * @param {(change: {what: string, strips?: string[], key?: string, elsewhere: boolean}) => void} listener
 * @returns {() => void} stops it
 */
export function onChange(listener) {
  listeners.add(listener);
  return () => listeners.delete(listener);
}

log.onChange(async (change) => {
  if (change.what === "forgotten") {
    // At once: whatever is asked from now on is asked of a core without it.
    const unloaded = Promise.all(change.strips.map(unload));
    // What a person let go is not to live on in an image.
    await forgetCoreImage();
    await unloaded;
  }
  if (change.what === "settings" && change.elsewhere) who = (await log.setting("who")) ?? who;
  for (const listener of listeners) listener(change);
  if (change.what === "received" || change.what === "forgotten") refreshLines(change.strips);
});

/**
 * What a screen shows.
 * @param {string} strip @param {string} name strip, off, part, back, statement @param {object} [args]
 * @returns {Promise<object>} as the contract of the views says
 */
export function view(strip, name, args = {}) {
  looked.add(strip);
  return inTurn(() => ask("view", strip, { strip, view: name, ...args }));
}

/**
 * What to set a wrench to, while it is typed.
 * @param {string} strip @param {object} form as for the act "tighten", with `now_ms`
 * @returns {Promise<object>} setting, applied, judged, notices; @throws {CoreProblems} with each at its field
 */
export const torqueSetting = (strip, form) => inTurn(() => ask("torque_setting", strip, { strip, ...form }));

/** A torque for other threads, dry or oiled: {group, figure, unit, from, to} to {low, high, warnings, sources}. */
export const convertTorque = (strip, form) => inTurn(() => ask("convert_torque", strip, { strip, ...form }));

/** A map of the kind of machine that was taken apart: {machine, now_ms} to {text, short}. */
export const makeMap = (strip, asked) => inTurn(() => ask("make_map", strip, { strip, ...asked }));

/** As `makeMap`, of a strip-down that no screen shows: the core holds it no longer than it takes. */
export async function mapFrom(strip, asked) {
  try {
    return await makeMap(strip, asked);
  } finally {
    // Outside of the turn: letting go waits for one of its own.
    if (!looked.has(strip)) await unload(strip);
  }
}

/** What is in a map's file; @throws {CoreProblems} with everything that is wrong in it */
export const lookAtMap = (text) => core.call("look_at_map", { text });

/** Two maps into one: {first, second, take} to {text, short, differences, of_other_kinds}. */
export const mergeMaps = (asked) => core.call("merge_maps", asked);

/** What is in a table's text: {text, delimiter} to {delimiter, columns, preview, rows, heads, likely}. */
export const lookAtTable = (asked) => core.call("look_at_table", asked);

/** What would become of each row of a table of torques. */
export const checkTable = (strip, asked) => inTurn(() => ask("check_table", strip, { strip, ...asked }));

// A form of another version may draw lists that this one does not know.
const KEPT_CHOICES = `choices/${VERSION}`;
let choicesOnce = null;

/** The choices for forms, with the limits; asked once. */
export function choices() {
  choicesOnce ??= askChoices().catch((error) => {
    choicesOnce = null;
    throw error;
  });
  return choicesOnce;
}

async function askChoices() {
  const all = await core.call("choices", {});
  // Only a convenience for the next start: a phone that is full does without.
  log.putSetting(KEPT_CHOICES, all, { quiet: true }).catch(() => {});
  return all;
}

/** The choices as the core gave them last, from storage alone: a form is drawn before the core has started. */
export const keptChoices = () => log.setting(KEPT_CHOICES);

/** A machine's chapters, as the view "chapter" has them, joined; `days` as they were asked of it, or null. */
export const history = (chapters, days) => core.call("history", { chapters, days });

/** Strip-downs, as the view "shop" has each, joined: places, people, scales and wrenches; `now` is the clock, in ms. */
export const inTheShop = (found, now) => core.call("in_the_shop", { strips: found, now_ms: now });

/** What the core says beside fasteners as they are typed: likely threads, usual keys, lengths for a grip. */
export const fasteners = (typed) => core.call("fasteners", typed);

/** The live reading of a figure being typed: {value, step, unit, shown}; `unit` where one was typed. */
export const readFigure = (figure, unit) => core.call("figure", { figure, unit });

/** The same of several torques in one field, "10 20": {shown: one for each, unit}. */
export const readTorques = (figures, unit) => core.call("torques", { figures, unit });

/**
 * Do an act: the core makes its entries, the log keeps them all or none; then it is saved.
 * @param {string} name as in the core's list of acts
 * @param {object} form figures as typed; `who` where another than the phone's person does it
 * @param {{draft?: string}} [options] the draft that this form was; deleted with the save
 * @returns {Promise<object>} what the core answered: {entries, strip?, part?, ...}
 * @throws {CoreProblems} with `problems`, each at its field; nothing was kept but the draft
 * @throws {CoreFault} the core broke off over it; nothing was kept but the draft
 * @throws {KeptAsDraft} the core is away; the form waits, its draft is gone, and it goes in by itself
 * @throws {StorageFull|StorageAway}
 */
export function act(name, form, { draft } = {}) {
  const key = draft ?? waitingKey(name, form);
  // A second tap on Save is the same save.
  if (saving.has(key)) return saving.get(key);
  const result = inTurn(() => actOrSubmit(name, form, key, draft));
  saving.set(key, result);
  result.catch(() => {}).then(() => saving.delete(key));
  return result;
}

// A form without a draft is known by what it says, so that saving it again while it waits is no second one.
const waitingKey = (name, form) => `submitted/${JSON.stringify([name, form])}`;

async function actOrSubmit(name, form, key, draft) {
  const whose = form.who?.trim() || person();
  try {
    return await keepAct(name, form, key, whose);
  } catch (error) {
    if (!(error instanceof CoreAway)) throw error;
    await log.submitDraft(draft ? `submitted/${uuidv7()}` : key, form, { name, form, who: whose, draft });
    tryAgainLater();
    throw new KeptAsDraft(error);
  }
}

async function keepAct(name, form, key, whose) {
  const stamp = { now: Date.now(), device: await thisDevice(), who: whose };
  const result = await ask("act", form.of_strip ?? form.strip, { act: name, form, ...stamp });
  await log.addEntries(result.entries, { draft: key });
  refreshLines(result.entries.map((entry) => entry.strip));
  // From the first save on there is something to lose, so the browser is asked to keep it.
  persistence ??= log.storageState().catch(() => null);
  return result;
}

async function workInDrafts() {
  await alone("cotterbook-drafts", async () => {
    for (const { key, submitted } of await log.drafts()) {
      if (submitted && !(await inTurn(() => workIn(key)))) return;
    }
  });
}

/** Whether the next one may be tried. */
async function workIn(key) {
  // It may have been saved by hand, or in another tab, while this one waited for its turn.
  const { submitted } = (await log.drafts()).find((each) => each.key === key) ?? {};
  if (!submitted) return true;
  try {
    await keepAct(submitted.name, submitted.form, key, submitted.who);
  } catch (error) {
    const refused = error instanceof CoreProblems || error instanceof CoreFault;
    // What the core cannot take today it cannot take in five seconds: it goes back to a person.
    if (refused) await log.returnDraft(key, error.problems ?? [{ code: error.name, field: "", ...error.sentence }]);
    else tryAgainLater();
    return refused;
  }
  return true;
}

let again = 0;
function tryAgainLater() {
  clearTimeout(again);
  again = setTimeout(workInDrafts, TRY_AGAIN_MS);
}

const alone = (name, work) => (navigator.locks ? navigator.locks.request(name, work) : work());

/** The lines of the start screen: [{strip, name, machine, machine_name, at, sums}], from storage alone. */
export const strips = () => log.strips();

/**
 * Bring the lines of the start screen up to date, of these strip-downs or of those that lack something yet.
 * @param {string[]} [which]
 */
async function refreshLines(which) {
  try {
    const lines = which ?? (await log.strips()).filter((line) => !line.name || !line.stops).map((line) => line.strip);
    for (const strip of new Set(lines)) await refreshLine(strip);
  } catch (error) {
    // The log is safe without this; the next change or the next start draws the line.
    if (!(error instanceof Told)) throw error;
  }
}

async function refreshLine(strip) {
  const shown = await inTurn(() => ask("view", strip, { strip, view: "strip" }));
  await log.putStrip(strip, {
    name: shown.name, machine: shown.machine?.id ?? null, machine_name: shown.machine?.name ?? null,
    at: Date.now(), sums: shown.sums, counts: shown.counts, stops: shown.stops, spell: shown.spell,
  });
  if (!looked.has(strip)) await unload(strip);
}
