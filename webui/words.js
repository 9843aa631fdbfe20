// All text of the interface goes through here. The English text is the key under
// which a language has its own; {gaps} are filled afterwards.

import { LABELS } from "./labels.js";
import { fieldNames } from "./pieces/field_names.js";

const ENGLISH = { locale: navigator.language?.startsWith("en") ? navigator.language : "en-GB", texts: {} };
let language = ENGLISH;
const MINUS = "\u2212";
// A minus before nothing but noughts: what was below 0 and was rounded, or typed so.
const BELOW_NOTHING = /^-(?=[0.,]*$)/;
const NO_BREAK = "\u00a0";
// A sentence may end its line before or after a figure, not between it and what it is a figure of.
const BEFORE_ITS_UNIT = /(\d) (?=(?:%|mm|g|kg|lb|oz|l|kPa|bar|psi|rpm|kB|MB|GB|(?:N|kgf|lbf)[·.](?:m|ft|in))(?![\p{L}\p{N}]))/gu;

const listeners = new Set();

/** @param {{locale: string, texts: Record<string, string>}|null} table null: English again */
export function setLanguage(table) {
  language = table ?? ENGLISH;
  document.documentElement.lang = language.locale;
  for (const listener of listeners) listener();
}

/** Whether all is said in English. */
export const isEnglish = () => language === ENGLISH;

/** Hear that all is to be said in another language. @param {() => void} listener @returns {() => void} stops it */
export function onLanguage(listener) {
  listeners.add(listener);
  return () => listeners.delete(listener);
}

/**
 * Text for a person.
 * @param {string|{text: string, values?: object}} text English with {gaps}, or a whole sentence
 * @param {object} [values] fills the gaps: text, numbers, lists, shown figures, sentences, {label: code}, {field: name}
 * @returns {string}
 */
export function t(text, values = {}) {
  if (typeof text !== "string") return t(text.text, text.values);
  const spoken = Object.hasOwn(language.texts, text) ? language.texts[text] : text;
  return spoken.replace(/\{(\w+)\}/g, (gap, name) => (Object.hasOwn(values, name) ? filled(values[name]) : gap))
    .replace(BEFORE_ITS_UNIT, `$1${NO_BREAK}`);
}

// Hebrew, Arabic, Syriac, Thaana, N'Ko and what is written like them; and what turns the direction by itself.
const RIGHT_TO_LEFT = /[\u0590-\u08ff\u200f\u202a-\u202e\u2066-\u2069\ufb1d-\ufdff\ufe70-\ufefc]/;

/** A text whose direction is its own, so that what stands beside it keeps its place; .name in style.css does it for elements. */
export const isolated = (text) => (RIGHT_TO_LEFT.test(text) ? `\u2068${closed(text)}\u2069` : text);

/** The text with each isolate closed that it opens, and none closed that it did not open: it ends in itself (UAX #9, 2.4). */
function closed(text) {
  if (!/[\u2066-\u2069]/.test(text)) return text;
  let [open, found] = [0, ""];
  for (const letter of text) {
    const closes = letter === "\u2069";
    if (closes && open === 0) continue;
    if (closes) open -= 1;
    else if (/[\u2066-\u2068]/.test(letter)) open += 1;
    found += letter;
  }
  return found + "\u2069".repeat(open);
}

const signed = (digits) => digits.replace(BELOW_NOTHING, "").replace("-", MINUS);

function filled(value) {
  if (typeof value === "number") return signed(new Intl.NumberFormat(language.locale, { maximumFractionDigits: 6 }).format(value));
  if (Array.isArray(value)) return new Intl.ListFormat(language.locale, { type: "conjunction" }).format(value.map(filled));
  if (value === null || value === undefined) return "";
  if (typeof value !== "object") return isolated(String(value));
  if ("label" in value) return label(value.label);
  if ("text" in value) return t(value);
  return "field" in value ? fieldNames()[value.field] ?? value.field : figure(value);
}

/**
 * The word for a choice code such as "flange_hex", or the code itself where there is none.
 * @param {string|null} code @param {string} [field] whose choice it is, where the same code says something else elsewhere
 */
export function label(code, field) {
  if (code === null || code === undefined || code === "") return "";
  const own = [`${field}.${code}`, code].find((each) => Object.hasOwn(LABELS, each));
  return t(own ? LABELS[own] : String(code));
}

/** A plain figure such as "12.50" as people of this language write it, with as many decimals. @param {string|number} text */
export function decimal(text) {
  const places = (String(text).split(".")[1] ?? "").length;
  const format = new Intl.NumberFormat(language.locale, { minimumFractionDigits: places, maximumFractionDigits: places });
  return signed(format.format(Number(text)));
}

/**
 * A figure that the core worked out, as people of this language write it.
 * @param {{value: string, plus_minus?: string|null, unit: string}|null} shown
 * @returns {string} "−3.42 ± 0.05 kg"; a dash for none
 */
export function figure(shown) {
  if (!shown) return "–";
  // A line may end before the ±, and nowhere else.
  const spread = shown.plus_minus ? ` ±${NO_BREAK}${decimal(shown.plus_minus)}` : "";
  return `${decimal(shown.value)}${spread}${shown.unit ? NO_BREAK : ""}${isolated(label(shown.unit))}`;
}

/** A torque as it was written down, its units as they are read: "60 N·m" of "60 N.m". */
export const asWritten = (text) => text.replace(/( ?)((?:N|kgf|lbf)\.(?:m|ft|in))\b/g, (all, space, code) => (space && NO_BREAK) + label(code));

/** A moment in ms since 1970, as short as it is clear: the time today, else the day too. */
export function when(ms, now = Date.now()) {
  const [then, today] = [new Date(ms), new Date(now)];
  const options = { hour: "2-digit", minute: "2-digit" };
  if (then.toDateString() !== today.toDateString()) Object.assign(options, { day: "numeric", month: "short" });
  if (then.getFullYear() !== today.getFullYear()) options.year = "numeric";
  return new Intl.DateTimeFormat(language.locale, options).format(then);
}

/** A moment with its day and year, as paper needs it, which lies about for years. @param {number} ms since 1970 */
export const dated = (ms) => new Intl.DateTimeFormat(language.locale, { dateStyle: "medium", timeStyle: "short" }).format(new Date(ms));

/** The language that is read, as the core takes it for a file that it makes: its words and its way of figures; null for English. */
export const handedLanguage = () => (isEnglish() ? null : {
  code: language.locale, texts: language.texts, fields: fieldNames(),
  labels: Object.fromEntries(Object.keys(LABELS).map((code) => [code, label(code)])),
  decimal: new Intl.NumberFormat(language.locale).formatToParts(0.5).find((part) => part.type === "decimal").value,
});

const orders = new Map();

/** Two words in this language's own order: numbers in them by size, letters with marks beside those without. */
export function inOrder(one, other) {
  const { locale } = language;
  if (!orders.has(locale)) orders.set(locale, new Intl.Collator(locale, { numeric: true, sensitivity: "base" }));
  return orders.get(locale).compare(one, other);
}

const country = () => new Intl.Locale(language.locale).region;

/** Whether people of this language's country print on Letter paper, not on A4. */
export const printsOnLetter = () => ["US", "CA", "MX", "PH"].includes(country());

/** The units that a field begins with, until somebody chooses another: what scales, wrenches and odometers there mostly show. */
export const usualUnits = () => ({
  ...weighsInPounds() ? { light: "oz", part: "lb", heavy: "lb", torque: "lbf.ft" } : { light: "g", part: "g", heavy: "kg", torque: "N.m" },
  distance: ["US", "GB"].includes(country()) ? "mi" : "km",
  // What tyre gauges mostly show; common practice, no source.
  pressure: ["US", "GB", "IE", "IN", "CA", "AU", "NZ", "ZA"].includes(country()) ? "psi" : "bar",
});

/** Whether sums are shown in pounds beside kilograms. */
export const weighsInPounds = () => country() === "US";

/** A day as an entry holds it, "2026-05-31", with its year; as it stands where it is no such day. @param {string} date */
export const dayOf = (date) => (/^\d{4}-\d\d-\d\d$/.test(date) && !Number.isNaN(Date.parse(date)) ? day(Date.parse(`${date}T12:00`)) : date);
/** The day of a moment, with its year: for paper, which is read in another one. @param {number} ms */
export const day = (ms) => new Intl.DateTimeFormat(language.locale, { day: "numeric", month: "short", year: "numeric" }).format(new Date(ms));
