// Questions about a figure while it is typed: a likely slip, what to make of it, or "yes, it is so". They never
// stand in the way of saving.

import { html, useEffect, useState } from "../vendor/preact.js";
import * as shop from "../shop.js";
import { t } from "../words.js";

// Between two keys of one figure nothing is asked.
const PAUSE_MS = 350;

/**
 * What the core says of a row while it is typed, a moment after the last key; `nothing` until it has answered.
 * A core that is away says nothing: what it would ask is no reason to wait.
 * @param {string} strip @param {string} view "slips" or "reading" @param {object|null} form null asks nothing
 */
export function useTyped(strip, view, form, nothing) {
  const [said, setSaid] = useState(nothing);
  const asked = JSON.stringify(form);
  useEffect(() => {
    let live = true;
    const hear = (answer) => { if (live) setSaid(answer ?? nothing); };
    if (!form) hear(nothing);
    const timer = form && setTimeout(() => shop.view(strip, view, form).then(hear, () => hear(nothing)), PAUSE_MS);
    return () => { live = false; clearTimeout(timer); };
  }, [strip, view, asked]);
  return said;
}

/** The row's answered questions with one more. */
const withRight = (right, code) => [...String(right ?? "").split(",").filter(Boolean), code].join(",");

/**
 * The questions that stand under some fields of a row.
 * @param {{asked: object[], fields: string[], right: string, onAnswer: (values: object) => void}} props
 *   `right` the codes already answered with yes; `onAnswer` is told what to set in the row
 */
export function Questions({ asked, fields, right, onAnswer }) {
  return html`<div aria-live="polite" class="questions">${asked.filter(({ field }) => fields.includes(field)).map((each) => html`<div class="notice question" key=${each.code} role="group" aria-label=${t("Question")}>
    <p class="asks">${t(each.sentence)}</p>${each.source && html`<p class="quiet">${t(each.source)}</p>`}
    <div class="row">${each.offers.map((offer) => html`<button type="button" key=${JSON.stringify(offer.values)} onClick=${() => onAnswer(offer.values)}>${t(offer.words)}</button>`)}
      <button type="button" onClick=${() => onAnswer({ right: withRight(right, each.code) })}>${t("Yes, it is so")}</button></div></div>`)}</div>`;
}
