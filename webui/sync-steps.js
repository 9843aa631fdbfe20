// The steps of sending, each one request or a few: what they read from the log, send, and keep of the answer.
//
// Each takes the token and gives back what it changes in the sender's state.

import { NotPaired, OtherEachTime, PcRefused, Told } from "./errors.js";
import * as log from "./log.js";
import * as pc from "./requests.js";
import { uuidv7 } from "./vendor/uuidv7-1.2.1.mjs";

const ENTRIES_A_REQUEST = 1000;
const REQUEST_BYTES = 1_000_000;
// Room in a request for strip-downs that are new here and so are named by their first entry.
const SPARE_BYTES = 10_000;
const PHOTOS_A_STEP = 4;
const HASHES_A_REQUEST = 500;
// A step begins no picture later than this: another tab may have its turn, and is not to take this one for asleep.
const BEGUN_WITHIN_MS = 60_000;

/** What a device that looks on is not let do, and so does not try. */
export const LOOKS_ON = "looker_on";

/** How often the PC's data were others than before, since all had last gone across. Once is a PC that was set up anew. */
let others = 0;

/** @returns {Promise<{csrf: string, csrfIsFresh: true, contact: object, pairing: object}>} */
export async function hello() {
  const { answer, contact } = await timed(pc.hello);
  if (!answer.paired) throw new NotPaired(answer.revoked ? "revoked" : "unpaired");
  const { role, name, alone } = answer;
  await noteRole(role);
  return { csrf: answer.csrf, csrfIsFresh: true, contact, pairing: { role, name, alone } };
}

/**
 * One page each way.
 * @param {string} csrf
 * @param {{unsent: number, unsent_photos: number, pairing: {role: string}|null}} state what the PC is told waits, and whether this device may write
 * @returns {Promise<{due: boolean, contact?: object}>} whether the PC has more
 */
export async function exchangeEntries(csrf, { unsent, unsent_photos, pairing }) {
  const device = await log.settingOnce("device", uuidv7);
  const strips = Object.fromEntries((await log.strips()).map((line) => [line.strip, { cursor: line.cursor ?? 0, last: line.last, entries: [] }]));
  const body = { version: pc.VERSION, now: Date.now(), device, store: await log.setting("store") ?? null, unsent, unsent_photos, strips };
  const looksOn = pairing?.role === LOOKS_ON;
  const entries = looksOn ? [] : await log.unsent(ENTRIES_A_REQUEST, REQUEST_BYTES - SPARE_BYTES - log.jsonBytes(body));
  for (const entry of entries) (strips[entry.strip] ??= { cursor: 0, entries: [] }).entries.push(entry);
  const exchanged = await timed(() => pc.exchange(csrf, body)).catch((error) => otherStore(error, looksOn));
  if (!exchanged) return { due: true };
  const { answer, contact } = exchanged;
  if (!body.store) await log.settingOnce("store", () => answer.store);
  // What the PC lost comes back from whoever still has it: before anything else is kept, for which it might have to go.
  if (answer.wanted_photos?.length) await log.unsendPhotos(answer.wanted_photos, { from: "sent", of: answer.store });
  await noteProgram(answer.version);
  await noteRole(answer.role);
  const refusals = Object.values(answer.strips).flatMap((each) => each.refused ?? []);
  const refusedIds = new Set(refusals.map((each) => each.id));
  const sentIds = new Set(entries.map((entry) => entry.id));
  if (![...refusedIds].every((id) => sentIds.has(id))) throw new Told("The PC refused something that this phone did not send. Everything is kept on this phone.");
  const lasts = Object.fromEntries(entries.map(({ strip }) => [strip, answer.strips[strip]?.last]));
  if (entries.length) await log.settle([...sentIds].filter((id) => !refusedIds.has(id)), refusals, answer.store, lasts);
  const moved = await takeIn(answer.strips, strips, answer.store);
  // A PC that says "more" and sends nothing would keep us asking for ever.
  const due = Boolean(answer.more) && moved;
  if (!due && (looksOn || unsent <= entries.length)) others = 0;
  return {
    due, asksPhotos: looksOn && unsent_photos > 0,
    contact: { ...contact, concerns: answer.concerns ?? [] }, pairing: { ...pairing, role: answer.role },
  };
}

/**
 * The PC keeps other data than before: begin anew with it, at once the first time. Any other failure goes on its way.
 * @throws {OtherEachTime}
 */
async function otherStore(error, looksOn) {
  if (error.code !== "other_store") throw error;
  await (looksOn ? log.readEverythingAgain : log.sendEverythingAgain)(error.sentence.values.store);
  others += 1;
  if (others > 1) throw new OtherEachTime(others - 1);
}

/** Who only looked on, and may write now, brings whatever the PC may have lost meanwhile. */
async function noteRole(role) {
  const [known, store] = await Promise.all([log.setting("role"), log.setting("store")]);
  if (known === role) return;
  if (known === LOOKS_ON && store) await log.sendEverythingAgain(store);
  await log.putSetting("role", role, { quiet: true });
}

/** Another program on the PC may take what the one before refused: a field that was new to it, say. */
async function noteProgram(version) {
  const known = await log.setting("pc_version");
  if (known === version) return;
  if (known) await log.sendRefusedAgain();
  await log.putSetting("pc_version", version, { quiet: true });
}

async function takeIn(answers, asked, store) {
  let moved = false;
  for (const [strip, { entries = [], cursor, last }] of Object.entries(answers)) {
    const before = asked[strip]?.cursor ?? 0;
    if (cursor < before) await log.sendAllAgain(strip);
    else if (entries.length || cursor > before || (last && last.number > (asked[strip]?.last?.number ?? 0))) await log.receive(strip, entries, cursor, store, last);
    moved ||= cursor !== before;
  }
  return moved;
}

/** The picture that was asked for or tried last: the next step goes on behind it, so that one which fails holds up no other. */
let tried = "";
/**
 * Whether they go one by one, as after a failure: it may be about any of those that went together, or two have too little
 * of a slow network each. Until one gets across in less than half its time.
 */
let oneByOne = false;

/** How far a device that looks on has asked: a page that fails is asked again after all others. */
let askedTo = "";

/** Who may not send hears all the same once another has brought a picture: a page of them is asked about. @returns {Promise<{asksPhotos: boolean}>} whether more are to be */
async function askAboutPhotos(csrf, of) {
  const page = (await log.unsentPhotos(HASHES_A_REQUEST, askedTo)).filter((sha256) => sha256 > askedTo);
  askedTo = page.length < HASHES_A_REQUEST ? "" : page.at(-1);
  const asksPhotos = askedTo !== "";
  if (page.length) await lacking(csrf, page, of);
  return { asksPhotos };
}

/**
 * A few pictures: only those that the PC lacks are sent, two at a time, until an entry wants to go.
 * @param {string} csrf @param {{pairing: {role: string}|null}} state
 */
export async function sendPhotos(csrf, { pairing }) {
  const of = await log.setting("store");
  if (pairing?.role === LOOKS_ON) return askAboutPhotos(csrf, of);
  const hashes = await log.unsentPhotos(oneByOne ? 1 : PHOTOS_A_STEP, tried);
  if (!hashes.length) return {};
  tried = hashes.at(-1);
  oneByOne = true;
  const waiting = await lacking(csrf, hashes, of);
  const began = performance.now();
  let slow = false;
  // Nothing is waited for between the look whether one is left and its taking: the other lane would take it too.
  const lane = async () => {
    while (!(await log.counts()).unsent && performance.now() - began < BEGUN_WITHIN_MS && waiting.length) {
      slow = (await sendPhoto(csrf, waiting.shift(), of)) || slow;
    }
  };
  const lanes = await Promise.allSettled([lane(), lane()]);
  for (const { reason } of lanes) if (reason) throw reason;
  oneByOne = slow;
  return {};
}

/** Those of these pictures that the PC lacks; the others count as sent. */
async function lacking(csrf, hashes, of) {
  const missing = await pc.missingPhotos(csrf, hashes);
  const there = hashes.filter((sha256) => !missing.includes(sha256));
  if (there.length) await log.photosSent(there, { of });
  return hashes.filter((sha256) => missing.includes(sha256));
}

/** @returns {Promise<boolean>} whether the network is slow: it took more than half of its time */
async function sendPhoto(csrf, sha256, of) {
  tried = sha256;
  const photo = await log.photo(sha256);
  // Another tab has sent it meanwhile, and let it go.
  if (!photo) return false;
  const began = performance.now();
  try {
    await pc.sendPhoto(csrf, sha256, photo.bytes);
  } catch (error) {
    if (!(error instanceof PcRefused) || ![413, 415, 422].includes(error.status)) throw error;
    await log.photoRefused(sha256, { code: error.code, ...error.sentence }, { of });
    return false;
  }
  const slow = performance.now() - began > pc.limitMs(photo.bytes.byteLength) / 2;
  await log.photosSent([sha256], { of });
  return slow;
}

// The PC's clock is compared with the middle of the request, which is about when it looked.
async function timed(request) {
  const sent = Date.now();
  const answer = await request();
  const received = Date.now();
  return { answer, contact: { last_contact_ms: received, clock_off_ms: Math.round((sent + received) / 2 - answer.now) } };
}
