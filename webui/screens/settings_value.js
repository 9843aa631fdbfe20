// The field for a setting's value: two large buttons for what is counted, a figure with its unit, or words.

import { html } from "../vendor/preact.js";
import { t, usualUnits } from "../words.js";
import { Figure, Measure, Stepper, Text } from "../pieces/fields.js";

/** The unit that a value was typed in, of those with several: what was chosen, else what stood there. @param {object} entered @param {string} unit the setting's own */
export const typedIn = (entered, unit) => (unit === "kilopascals" ? entered.unit || usualUnits().pressure : "");

const MOST = { clicks: 200, steps: 50 };

/** @param {{form: object, field: string, unit: string, label: string, choices: object, hint?: string}} props `form` of useDrafted, with a field `unit` */
export function Value({ form, field, unit, label: words, choices, hint }) {
  const bound = { ...form.bind(field), label: unit === "in_words" ? words : t("{value}, {unit}", { value: words, unit: { label: unit } }), hint };
  if (MOST[unit]) return html`<${Stepper} ...${bound} low=${0} high=${MOST[unit]} />`;
  if (unit === "in_words") return html`<${Text} ...${bound} lines />`;
  if (unit === "millimetres") return html`<${Measure} ...${bound} unit="mm" big />`;
  if (unit === "kilopascals") {
    const own = form.bind("unit");
    return html`<${Figure} ...${bound} label=${words} unit=${typedIn({ unit: own.value }, unit)} units=${choices.pressure_units} onUnit=${own.onValue} big />`;
  }
  // Turns and degrees may be halves and quarters, or below 0: the keys for all of that.
  return html`<${Text} ...${bound} inputmode="text" big />`;
}
