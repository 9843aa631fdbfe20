// The usual cautions, where the hand is. They are put away for one spell of work and stay a tap away.

import { html, useEffect, useState } from "../vendor/preact.js";
import { orSay, putSetting, setting } from "./live.js";
import { t } from "../words.js";

const before = () => [
  t("The machine’s manual first; where it differs from this, it is right."),
  t("Machine supported: it can’t roll or tip, also with heavy parts off."),
  t("Ignition off, battery off before wiring."),
  t("Engine, exhaust and brakes: let them cool."),
  t("Fuel: no flame, no spark, fresh air."),
  t("Springs hold load: release them as the manual says."),
];

/** What is minded before anything goes back on. */
export const beforeBack = () => [
  t("The machine’s manual first: its torques, its order, new parts where it wants them."),
  t("Brakes, steering, wheels, suspension: a second person looks at every fastener."),
  t("Brake lines, cables, sensor leads: clear of wheel and steering, lock to lock, through full travel."),
  t("Nothing half tight is left unmarked."),
  t("Lamps, indicators, mirrors, plate, guards, reflectors: check your local rules."),
];

/** What is minded at a place, as the core says it in a sentence, or nothing. @param {{caution: object|undefined}} of */
export const PlaceCaution = ({ caution }) => caution && html`<p class="notice">${t(caution)}</p>`;

/** @param {{strip: string, spell: string|undefined, when: "off"|"back"}} of */
export function Cautions({ strip, spell, when }) {
  const key = `cautions:${when}:${strip}`;
  const [seen, setSeen] = useState(undefined);
  useEffect(() => { orSay(setting(key)).then((value) => setSeen(value ?? "")); }, [key]);
  if (seen === undefined) return null;
  const now = spell ?? "none";
  // Kept first, then put out of sight: what is hidden stays hidden when the page is loaded again at once.
  const away = () => orSay(putSetting(key, now).then(() => setSeen(now)));
  return html`<details class="cautions" open=${seen !== now}>
    <summary>${when === "back" ? t("Before it goes back on") : t("Before you begin")}</summary>
    <div class="inside">
      <ul>${(when === "back" ? beforeBack() : before()).map((line) => html`<li key=${line}>${line}</li>`)}</ul>
      ${seen !== now && html`<button type="button" onClick=${away}>${t("Read. Put away for this spell")}</button>`}
    </div>
  </details>`;
}
