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

const ofPlace = {
  tank: () => t("Fuel: no flame, no spark, fresh air. Close the tap, catch what drips."),
  intake: () => t("Cover the openings, so that nothing falls into the engine."),
  exhaust: () => t("Hot for a long time. Let it cool."),
  electrics: () => t("Battery off first: minus off first, minus on last."),
  fork: () => t("The fork’s springs hold load, and the front must hang free on a support."),
  swing_arm: () => t("The shock holds load. Support the rear before a bolt comes out."),
  front_wheel: () => t("Support the front. Don’t touch the brake lever while the disc is out."),
  rear_wheel: () => t("Support the rear. Don’t touch the brake pedal while the disc is out."),
  front_brake: () => t("Brake lines: keep fluid off paint and air out of the line. Don’t let a caliper hang on its hose."),
  rear_brake: () => t("Brake lines: keep fluid off paint and air out of the line. Don’t let a caliper hang on its hose."),
  handlebar: () => t("Mind cables, hose and leads: note their way before they come off."),
  cooling: () => t("Coolant: only when cold, and catch it."),
  engine: () => t("Hot oil and edges. Support the engine before its bolts come out."),
};

/** One short line for the place where a part sits, or nothing. */
export const placeCaution = (place) => ofPlace[place]?.();

/** The same where a part is taken off. */
export function PlaceCaution({ place }) {
  return ofPlace[place] ? html`<p class="notice">${ofPlace[place]()}</p>` : null;
}

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
