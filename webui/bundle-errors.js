// Why a bundle is not made or not taken in. What the PC refuses too is said in the PC's words; a test holds them equal.

import { Told } from "./errors.js";

export const TEXTS = {
  bundle_not_written: "The bundle {file} could not be written ({what}). There is no half of it, and what it was made of is as it was.",
  no_bundle: "{file} is no bundle of Cotterbook. Nothing was taken from it.",
  bundle_unreadable: "{file} could not be read ({what}). Nothing was taken from it.",
  bundle_newer: "{file} was made by a newer Cotterbook. Nothing was taken from it. Install that version or a later one.",
  bundle_damaged: "The bundle was damaged or changed since it was made ({file} in it is not as it was). Nothing was taken from it. " +
    "Have it made and carried over again.",
  bundle_too_big: "{file} holds more than any bundle of Cotterbook. Nothing was taken from it.",
  bundle_entry: "An entry of the bundle is not right ({file}, line {line}: {what}) Nothing was taken from it.",
  bundle_picture: "A picture of the bundle is not right ({file}: {what}) Nothing was taken from it.",
  bundle_differs: "An entry of the bundle ({file}, line {line}) is another one here, under the same identifier. " +
    "Nothing was taken from the bundle, and what is here is as it was.",
  bundle_no_room: "The strip-down {strip} would hold more than {limit} entries. Nothing was taken from the bundle.",
  // What only a phone says.
  bundle_too_big_here: "{file} holds more than a phone takes in. Nothing was taken from it. Take it in on the PC.",
  bundle_phone_full: "This phone has no room for all of {file}. Nothing was taken from it, and what is here is as it was. " +
    "Send to the PC or delete something else on the phone, then take it in again.",
  too_much_for_a_file: "That is more than one file from a phone may hold. Everything is as it was. Take one strip-down at a time, or send to the PC.",
};

export class BundleRefused extends Told {
  /** @param {keyof TEXTS} code @param {object} values of its gaps @param {unknown} [cause] */
  constructor(code, values, cause) {
    super(TEXTS[code], values, cause);
    this.code = code;
  }
}
