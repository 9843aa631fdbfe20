// Sending: what the PC does not have yet, what it refused, and how this phone keeps things.

import { html, useEffect, useState } from "../vendor/preact.js";
import { route } from "../addresses.js";
import * as devices from "../devices.js";
import * as log from "../log.js";
import { sendNow } from "../sync.js";
import { check, subscribe, takeOver } from "../update.js";
import { t, when } from "../words.js";
import { ask } from "../pieces/ask.js";
import { Frame, concernsOf, looksOn, useSending, waitingWords } from "../pieces/frame.js";
import { orSay, say } from "../pieces/live.js";
import { Picture } from "../pieces/photos.js";
import { Theme } from "../pieces/theme.js";
import { Forms } from "./sending_forms.js";
import { Storage } from "./sending_storage.js";

export function Sending({ strip }) {
  const state = useSending();
  const { unsent, unsent_photos: photos, refused, refused_photos: refusedPhotos, message, last_contact_ms: contact } = state;
  return html`<${Frame} title=${t("Sending")} strip=${strip} here="sending">
    ${message && html`<p class="notice">${t(message)}</p>`}
    ${concernsOf(state).length > 0 && html`<${Trouble} concerns=${concernsOf(state)} />`}
    <${Pairing} ...${state} />
    <dl class="sums">
      <div><dt>${t("Entries not sent")}</dt><dd class="figure">${unsent}</dd></div>
      <div><dt>${t("Photos not sent")}</dt><dd class="figure">${photos}</dd></div>
      <div><dt>${t("The PC answered last")}</dt><dd class="when">${contact ? when(contact) : t("never")}</dd></div>
    </dl>
    <p>${waitingWords(state)} ${unsent + photos > 0 && keptWords(state)}</p>
    ${longAway(state) && html`<p>${t("The PC has not answered for more than a day. If the owner gave it a new address, carry what waits by a file, and pair this phone there.")}</p>`}
    <button type="button" class="main" disabled=${state.phase === "sending"} onClick=${sendNow}>${state.phase === "sending" ? t("Sending…") : t("Send now")}</button>
    ${refused.length + refusedPhotos.length > 0 && html`<section class="section"><h2>${t("Refused by the PC")}</h2>
      ${refused.map((each) => html`<${Refused} key=${each.id} refusal=${each} />`)}
      ${refusedPhotos.map((each) => html`<${RefusedPhoto} key=${each.sha256} ...${each} />`)}</section>`}
    <section class="section"><h2>${t("Without a network")}</h2>
      <p>${t("A file does the same job: to the PC, to another phone, or to keep.")}</p>
      <a class="button" href=${route.carry()}>${t("Carry by file")}</a></section>
    <${Forms} />
    <${Storage} />
    <${Version} />
    <section class="section"><${Theme} /></section>
  <//>`;
}

/** What is wrong on the PC. What is gone from there stands until it is back, or until the owner gives it up, all at once. */
function Trouble({ concerns }) {
  const gone = concerns.filter((each) => each.about === "gone").at(-1);
  async function giveUp() {
    const text = t("What is on no phone and in no file that you took in is then gone for good: the daily copies on the PC, which may hold it, are let go again as they grow old.");
    if (await ask({ title: t("No more of it will come?"), text, action: t("No more will come") })) await orSay(devices.giveUp(gone.noticed_ms));
  }
  return html`<section class="section"><h2>${t("Trouble on the PC")}</h2>
    ${concerns.map((each) => html`<p class="notice" key=${t(each)}>${t(each)}</p>${each === gone && html`<button type="button" onClick=${giveUp}>${t("No more will come…")}</button>`}`)}</section>`;
}

const DAY_MS = 86_400_000;

/** Whether something waits so long that the PC may be at another address by now: this phone could not tell. */
const longAway = ({ phase, unsent, unsent_photos: photos, last_contact_ms: contact }) =>
  phase === "away" && unsent + photos > 0 && contact !== null && Date.now() - contact > DAY_MS;

/** Where what waits is kept, and what brings it across from there. */
function keptWords(state) {
  if (state.phase === "revoked") return t("What waits is kept on this phone until it is paired again or you carry it by a file.");
  if (state.phase === "unpaired") return t("What waits is kept on this phone until it is paired or you carry it by a file.");
  if (state.phase === "elsewhere") return t("It does not go across from here any more.");
  if (looksOn(state)) return t("It is kept on this phone until the owner lets it write or you carry it by a file.");
  return t("What waits is kept on this phone and goes across by itself when the PC is in reach.");
}

/** Whether this device is on the PC's list, and the way to change that. */
function Pairing({ phase, pairing }) {
  if (phase === "unpaired" || phase === "revoked") return html`<p><a class="button main" href=${route.pair()}>${t("Pair with the PC")}</a></p>`;
  if (!pairing || pairing.alone) return null;
  return html`<p>${t("Paired as {name}: {role}.", { name: pairing.name, role: { label: pairing.role } })} ${pairing.role === "owner" && html`<a href=${route.devices()}>${t("Devices of this shop")}</a>`}</p>`;
}

/** One refused entry: why, and what a person can do about it. */
function Refused({ refusal: { id, entry, problem } }) {
  const text = JSON.stringify(entry, null, 1);
  async function copy() {
    try { await navigator.clipboard.writeText(text); say(t("Copied.")); } catch { say(t("This browser does not let the page copy. Hold a finger on the text instead.")); }
  }
  async function drop() {
    if (await ask({ title: t("Drop this entry?"), text: t("It is then gone from this phone, and the PC never had it. Copy its text first if you may need it."), action: t("Drop it") })) await orSay(log.forget(id));
  }
  return html`<div class="block"><p class="mark bad">${t(problem.text, problem.values)}</p>
    <p>${t("Written by {who}. It still counts on this phone, and nowhere else.", { who: entry.who })}</p>
    <details class="light"><summary>${t("Look at it")}</summary><pre class="inside" tabindex="0">${text}</pre></details>
    <div class="row"><button type="button" class="grow" onClick=${() => orSay(log.sendAgain(id).then(sendNow))}>${t("Try again")}</button>
      <button type="button" class="grow" onClick=${copy}>${t("Copy its text")}</button><button type="button" class="grow" onClick=${drop}>${t("Drop it")}</button></div></div>`;
}

/** One refused picture: why, and what a person can do about it. */
function RefusedPhoto({ sha256, problem }) {
  async function drop() {
    if (await ask({ title: t("Drop this photo?"), text: t("It is then gone from this phone, and the PC never had it. The entry that names it stays."), action: t("Drop it") })) await orSay(log.forgetPhoto(sha256));
  }
  return html`<div class="block"><p><strong>${t("A photo")}</strong></p><${Picture} sha256=${sha256} alt=${t("The photo that was refused")} small />
    <p class="mark bad">${t(problem)}</p>
    <div class="row"><button type="button" class="grow" onClick=${() => orSay(log.unsendPhotos([sha256], { from: "refused" }).then(sendNow))}>${t("Try again")}</button>
      <button type="button" class="grow" onClick=${drop}>${t("Drop it")}</button></div></div>`;
}

function Version() {
  const [update, setUpdate] = useState("none");
  useEffect(() => subscribe(setUpdate), []);
  return html`<section class="section"><h2>${t("Program")}</h2>
    ${update === "none" ? html`<button type="button" onClick=${check}>${t("Look for a newer version")}</button>`
      : html`<p>${t("A newer version is here. Nothing unsent is lost by taking it; what you are filling in stays as a draft.")}</p><button type="button" onClick=${takeOver}>${t("Take the newer version")}</button>`}</section>`;
}
