// Every address of the program: what the pages fetch, and the places inside the app.

export const HELLO = "/api/hello";
export const SYNC = "/api/sync";
export const PAIRING = "/api/pairing";
export const DEVICES = "/api/devices";
export const PAIRING_CODES = "/api/devices/codes";
export const PHOTOS_MISSING = "/api/photos/missing";
export const GIVEN_UP = "/api/gone/given_up";
export const SERVICE_WORKER = "/sw.js";
export const CORE_WORKER = "/core-worker.js";
export const MICROPYTHON = "/vendor/micropython-1.27.0.wasm";
/** The core's Python, all modules in one file. */
export const CORE = "/core.json";
/** Where the phone keeps the core as it stood last; nothing is fetched from there. */
export const CORE_IMAGE = "/core-image";

/** @param {string} code of a language @returns {string} where the PC has its texts */
export const languageAddress = (code) => `/languages/${code}.json`;

/** @param {string} strip @returns {string} all tables of a strip-down in one workbook, made by the PC */
export const workbookAddress = (strip) => `/api/exports/${strip}/tables.xlsx`;

/** @param {string} sha256 @returns {string} where the PC keeps that picture */
export const photoAddress = (sha256) => `/api/photos/${sha256}`;

/** @param {string} device @returns {string} where one device of the list is changed */
export const deviceAddress = (device) => `${DEVICES}/${device}`;
/** @param {string} device @returns {string} where one device is taken off the list */
export const revokeAddress = (device) => `${DEVICES}/${device}/revoke`;

/**
 * Places inside the app, as `location.hash`.
 * `route.part(strip, part)` and so on; `readRoute` is the way back.
 */
export const route = {
  start: () => "#/",
  begin: () => "#/begin",
  sending: () => "#/sending",
  carry: () => "#/carry",
  maps: () => "#/maps",
  pair: () => "#/pair",
  help: () => "#/help",
  devices: () => "#/devices",
  shop: () => "#/shop",
  strip: (strip) => `#/strip/${strip}`,
  takeOff: (strip) => `#/strip/${strip}/take_off`,
  off: (strip) => `#/strip/${strip}/off`,
  back: (strip) => `#/strip/${strip}/back`,
  openItems: (strip) => `#/strip/${strip}/open`,
  buy: (strip) => `#/strip/${strip}/buy`,
  handover: (strip) => `#/strip/${strip}/handover`,
  count: (strip) => `#/strip/${strip}/count`,
  settings: (strip) => `#/strip/${strip}/settings`,
  statement: (strip) => `#/strip/${strip}/statement`,
  gear: (strip) => `#/strip/${strip}/gear`,
  tally: (strip) => `#/strip/${strip}/tally`,
  balance: (strip) => `#/strip/${strip}/balance`,
  weighIn: (strip) => `#/strip/${strip}/weigh_in`,
  retorque: (strip) => `#/strip/${strip}/retorque`,
  record: (strip, group) => `#/strip/${strip}/record/${group}`,
  torque: (strip, group) => `#/strip/${strip}/torque/${group}`,
  toStandard: (strip) => `#/strip/${strip}/standard`,
  pins: (strip, photo) => `#/strip/${strip}/pins/${photo}`,
  sheets: (strip) => `#/strip/${strip}/sheets`,
  sheet: (strip, sheet) => `#/strip/${strip}/sheets/${sheet}`,
  map: (strip) => `#/strip/${strip}/map`,
  specifications: (strip) => `#/strip/${strip}/specifications`,
  part: (strip, part) => `#/strip/${strip}/part/${part}`,
  tags: (strip) => `#/strip/${strip}/labels`,
  bag: (strip, written) => `#/strip/${strip}/bag/${encodeURIComponent(written)}`,
  kept: (strip, place) => `#/strip/${strip}/kept/${encodeURIComponent(place)}`,
  charts: (strip) => `#/strip/${strip}/charts`,
  tables: (strip) => `#/strip/${strip}/tables`,
  pictures: (strip) => `#/strip/${strip}/pictures`,
  machine: (strip) => `#/strip/${strip}/machine`,
  find: (strip, written = "") => `#/strip/${strip}/find${written && `/${encodeURIComponent(written.toWellFormed?.() ?? written)}`}`,
  scan: (strip) => `#/strip/${strip}/scan`,
};

const STRIP_SCREENS = ["take_off", "off", "back", "open", "settings", "count", "buy", "handover", "map", "specifications", "statement", "standard", "part", "pins", "torque", "gear", "tally", "balance", "weigh_in", "retorque", "record", "sheets", "labels", "bag", "kept", "find", "scan", "charts", "machine", "tables", "pictures"];
/** Screens of one thing, and what the screen calls it. */
const OF_A_THING = { part: "part", torque: "group", pins: "photo", record: "group", sheets: "sheet", bag: "written", kept: "written", find: "written" };

/** The address of what a search found. @param {string} strip @param {{screen: string, of: string|null}} found as the core names it */
export const placeOf = (strip, { screen, of }) => `#/strip/${strip}/${screen}${of ? `/${encodeURIComponent(of)}` : ""}`;

/** What an address holds of something that a person wrote; as it stands where it is no such text. */
function decoded(text) {
  try {
    return decodeURIComponent(text ?? "");
  } catch {
    return text;
  }
}

/**
 * @param {string} hash as in `location.hash`
 * @returns {{screen: string, strip?: string, part?: string, group?: string, photo?: string, sheet?: string, written?: string, code?: string}} the start for what is unknown
 */
export function readRoute(hash) {
  const [first, strip, screen, thing] = hash.replace(/^#\/?/, "").split("/");
  if (first === "pair") return { screen: first, code: strip ?? "" };
  if (["begin", "sending", "carry", "maps", "devices", "shop", "help"].includes(first)) return { screen: first };
  if (first !== "strip" || !strip) return { screen: "start" };
  if (!screen || !STRIP_SCREENS.includes(screen)) return { screen: "strip", strip };
  const named = OF_A_THING[screen];
  if (!named) return { screen, strip };
  return { screen, strip, [named]: named === "written" ? decoded(thing) : thing };
}

/** An address with the letters of other scripts as they are, not three signs for each of their bytes: a code of a third the size. */
export const inLetters = (address) => address.replaceAll(/(?:%[89a-f][\da-f])+/giu, decoded);

// A code may hold thousands of letters. Of a long host its end says most of whose it is.
const HOST_LONGEST = 60;
const HOST_BEGIN = 20;
const shortHost = (host) => (host.length > HOST_LONGEST ? `${host.slice(0, HOST_BEGIN)}…${host.slice(HOST_BEGIN - HOST_LONGEST)}` : host);

/**
 * What the code on a label leads to.
 * @param {string} text as a camera read it
 * @param {string} origin where this program comes from
 * @returns {{place?: string, host?: string}} a place inside the app; or whose address it is instead; or neither: no label of ours
 */
export function readTag(text, origin) {
  if (!URL.canParse(text)) return {};
  const address = new URL(text);
  const { screen, strip } = readRoute(address.hash);
  if (!/^https?:$/.test(address.protocol) || !strip || !["bag", "part", "kept"].includes(screen)) return {};
  return address.origin === origin ? { place: address.hash } : { host: shortHost(address.host) };
}

/** Where each form is filled in, by the first word of its draft's key: "weigh_in/<strip>/…". */
const FORMS = {
  take_off: route.takeOff, weigh_in: route.weighIn, tally: route.tally, scale: route.gear, scale_check: route.gear, tool: route.gear,
  place: route.balance, tighten: route.back, specification: route.torque, aftercare: route.torque, machine_use: route.retorque, reading: route.part, fasteners: route.part, wait: route.part,
  move: route.part, begin: route.begin, setting: route.settings, adjust: route.settings, found: route.settings,
};

/** @param {string} key of a draft @returns {string|null} the screen with its form; null for one that stands in none */
export function formAddress(key) {
  const [form, ...of] = key.split("/");
  return FORMS[form]?.(...of) ?? null;
}
