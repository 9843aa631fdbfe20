// The QR code (ISO/IEC 18004) of a text, as rows of 0 and 1 with its quiet zone of four.

import { encodeQR } from "./vendor/qr-0.7.0.mjs";

// A label is handled with oily hands: a sixth of the code may be unreadable.
const ERRORS_CORRECTED = "medium";
// Of a long text the modules would be too fine for till printers: then a fourteenth (ISO/IEC 18004, level L).
const LONG_BYTES = 150;
const OF_LONG = "low";
const QUIET_MODULES = 4;

/** @param {string} text @returns {string[]} */
export const codeRows = (text) =>
  encodeQR(text, "raw", { ecc: new TextEncoder().encode(text).length > LONG_BYTES ? OF_LONG : ERRORS_CORRECTED, border: QUIET_MODULES }).map((row) => row.map((dark) => (dark ? "1" : "0")).join(""));
