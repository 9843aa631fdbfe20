// What is asked of a torque as it is typed from the manual, beside the thread that it is for.

import { html, useRef } from "../vendor/preact.js";
import { t } from "../words.js";
import { Questions, useTyped } from "./questions.js";

/**
 * The fields of a torque, with the questions about them underneath.
 * @param {{strip: string, row: {thread?: string, torque?: string, torque_high?: string, torque_unit?: string, right?: string},
 *   fields: string[], onAnswer: (values: object) => void, children: any}} props `fields` those that stand here
 */
export function AskedTorque({ strip, row, fields, onAnswer, children }) {
  const { thread, torque, torque_high, torque_unit = "N.m", right } = row;
  const asked = useTyped(strip, "slips", torque && thread ? { groups: [{ torque, torque_high, torque_unit, thread, right }], index: 0 } : null, []);
  const around = useRef(null);
  // The button that was tapped goes with its question.
  const answer = (values) => { onAnswer(values); around.current.focus(); };
  return html`<div class="stack close" tabindex="-1" role="group" aria-label=${t("What the manual gives")} ref=${around}>${children}
    <${Questions} ...${{ asked, fields, right, onAnswer: answer }} /></div>`;
}
