// The frame around each screen: the line of saving and sending, the sheet, the bar under the thumb.

import { html, useEffect, useState } from "../vendor/preact.js";
import { route } from "../addresses.js";
import * as sync from "../sync.js";
import { t, when } from "../words.js";
import { Icon } from "./icons.js";
import { useSaid } from "./live.js";
import { StopLine } from "./stops.js";

/** The state of sending, kept fresh. */
export function useSending() {
  const [state, setState] = useState(sync.snapshot());
  useEffect(() => sync.subscribe(setState), []);
  return state;
}

/** Whether the PC knows this device no more, or not yet: nothing goes across then, either way. */
export const offTheList = ({ phase }) => phase === "unpaired" || phase === "revoked";

/** Whether the PC lets this device read only: what is written here stays here. */
export const looksOn = ({ pairing }) => pairing?.role === "looker_on";

function looksOnWords({ last_contact_ms: contact }, count) {
  if (count) return t("{count} not sent: this device may look on only, and what was written here stays here.", { count });
  return contact ? t("This device may look on only. The PC answered last: {when}.", { when: when(contact) }) : t("This device may look on only.");
}

function offTheListWords(phase, count) {
  if (phase === "revoked") {
    return count ? t("{count} not sent yet: this device was taken off the PC's list and gets nothing new.", { count })
      : t("This device was taken off the PC's list and gets nothing new.");
  }
  return count ? t("{count} not sent yet: this device is not paired with the PC and gets nothing new.", { count })
    : t("This device is not paired with the PC and gets nothing new.");
}

/** What waits to be sent, in words. Off the list first: "All sent" would pass an old list off as the newest. Why it waits stands beside it. */
export function waitingWords(state) {
  const unsent = state.unsent + state.unsent_photos;
  if (offTheList(state)) return offTheListWords(state.phase, unsent);
  if (looksOn(state)) return looksOnWords(state, unsent);
  if (unsent === 0) return state.last_contact_ms ? t("All sent, {when}.", { when: when(state.last_contact_ms) }) : t("Nothing to send.");
  if (state.phase === "sending") return t("Sending: {count} to go.", { count: unsent });
  if (state.phase === "away") return t("{count} not sent yet: the PC is not in reach.", { count: unsent });
  return t("{count} not sent yet.", { count: unsent });
}

/** How sending stands, in words: off the list first, as nothing refused can be sent again from there; then what was refused. */
export function sendingWords(state) {
  const refused = state.refused.length + state.refused_photos.length;
  return refused && !offTheList(state) ? t("{count} refused by the PC: see Sending.", { count: refused }) : waitingWords(state);
}

/** What the owner should know of the PC itself, as the PC last said it. */
export const concernsOf = (state) => (offTheList(state) ? [] : state.concerns);

function StateLine() {
  const state = useSending();
  const said = useSaid();
  const concerns = concernsOf(state);
  const trouble = offTheList(state) || concerns.length || state.refused.length + state.refused_photos.length;
  return html`<p class=${`state ${trouble ? "trouble" : ""}`} role="status">${said} ${sendingWords(state)} ${concerns.length > 0 && t("Trouble on the PC: see Sending.")}</p>`;
}

const places = (strip) => [
  ["take_off", t("Take off"), route.takeOff(strip)],
  ["off", t("Off"), route.off(strip)],
  ["back", t("Put back"), route.back(strip)],
  ["masses", t("Masses"), route.statement(strip)],
];

function Bar({ strip, here }) {
  const { unsent, unsent_photos: photos } = useSending();
  const all = [...(strip ? places(strip) : [["machines", t("Machines"), route.start()]]), ["sending", t("Sending"), route.sending()]];
  return html`<nav class="bar" aria-label=${t("Screens")}><ul>${all.map(([name, words, href]) => html`<li key=${name}>
    <a href=${href} aria-current=${name === here ? "page" : undefined}><${Icon} name=${name} />
      <span>${words}${name === "sending" && unsent + photos > 0 ? ` (${unsent + photos})` : ""}</span></a></li>`)}</ul></nav>`;
}

const typing = (event) => event.target.closest?.("input, select, textarea, [contenteditable]");

/** The way to the search, on every screen of a strip-down; at the desk the key "/" takes it, unless somebody types. */
function ToFind({ strip }) {
  useEffect(() => {
    const pressed = (event) => {
      if (event.key !== "/" || event.ctrlKey || event.metaKey || event.altKey || typing(event) || document.querySelector("dialog[open]")) return;
      event.preventDefault();
      location.hash = route.find(strip);
    };
    addEventListener("keydown", pressed);
    return () => removeEventListener("keydown", pressed);
  }, [strip]);
  return html`<a class="to-find" href=${route.find(strip)} aria-keyshortcuts="/"><${Icon} name="find" />${t("Find")}</a>`;
}

/**
 * @param {{title: string, strip?: string, of?: string, here?: string, foot?: object, stopped?: boolean, children: object}} props
 *   `of` names the strip-down above the title; `foot` stands over the bar, under the thumb
 *   `stopped`: the screen itself shows what stops the machine
 */
export function Frame({ title, strip, of, here, foot, stopped, children }) {
  useEffect(() => { document.title = of ? `${title} · ${of}` : title; }, [title, of]);
  return html`<div class="framed">
    <${StateLine} />
    <main class="sheet">
      ${strip && !stopped && html`<${StopLine} strip=${strip} />`}
      <div>
        ${strip && html`<p class="trail"><a href=${route.start()}>${t("All machines")}</a> ${here !== "find" && html`<${ToFind} strip=${strip} />`} ${of && html`<bdi>${of}</bdi>`}</p>`}
        <h1 tabindex="-1"><bdi>${title}</bdi></h1>
      </div>
      ${children}
    </main>
    <div class="foot">${foot && html`<div class="save">${foot}</div>`}<${Bar} strip=${strip} here=${here} /></div>
  </div>`;
}

/** What to show while a view is on its way, or when it cannot come. */
export function Waiting({ trouble, retry }) {
  if (!trouble) return html`<p>${t("Reading the log…")}</p>`;
  return html`<div class="notice bad" role="alert"><p>${t(trouble.text, trouble.values)}</p>
    <button type="button" onClick=${retry}>${t("Try again")}</button></div>`;
}
