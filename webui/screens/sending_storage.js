// How this phone keeps things: whether the browser promised to, how full it is, and making room.

import { html, useEffect, useState } from "../vendor/preact.js";
import { letPicturesGo } from "../free-room.js";
import * as log from "../log.js";
import { roomIn } from "../room.js";
import { t } from "../words.js";
import { ask } from "../pieces/ask.js";
import { orSay, say } from "../pieces/live.js";

const toTenths = (number) => (number < 10 ? Math.round(number * 10) / 10 : Math.round(number));
/** As exact as anybody needs it: browsers themselves round what they tell. */
function room(bytes) {
  if (bytes === null) return "?";
  return bytes < 1e9 ? t("{size} MB", { size: toTenths(bytes / 1e6) }) : t("{size} GB", { size: toTenths(bytes / 1e9) });
}

const promised = ({ persisted }) => {
  if (persisted) return t("The browser promised to keep the log.");
  return persisted === false ? t("The browser may clear the log when space runs short. Send often, and put Cotterbook on the home screen.")
    : t("The browser does not say whether it will keep the log. Send often.");
};

export function Storage() {
  const [state, setState] = useState(null);
  const [onPc, setOnPc] = useState(0);
  useEffect(() => {
    let live = true;
    const look = async () => {
      const [storage, sent] = await Promise.all([log.storageState(), log.countSentPhotos()]);
      if (live) { setState(storage); setOnPc(sent); }
    };
    const again = ({ what }) => { if (["entries", "received", "photos"].includes(what)) orSay(look()); };
    orSay(look());
    const stop = log.onChange(again);
    return () => { live = false; stop(); };
  }, []);
  if (!state) return null;
  return html`<section class="section"><h2>${t("Storage here")}</h2>
    <${Full} ...${roomIn(state)} />
    <p>${promised(state)}</p>
    <p class="quiet">${t("Used: {used} of {quota}.", { used: room(state.used_bytes), quota: room(state.quota_bytes) })}</p>
    ${onPc > 0 && html`<${FreeRoom} count=${onPc} />`}</section>`;
}

/** What a storage that is nearly full means; nothing while it is not. */
function Full({ percent, tight, pictures }) {
  if (!pictures) return html`<p class="notice bad">${t("{percent} % full. Photos are not taken in any more, entries still are. Free room, or delete something else on the phone.", { percent })}</p>`;
  return tight && html`<p class="notice">${t("{percent} % full. Send to the PC and free room before photos find none.", { percent })}</p>`;
}

function FreeRoom({ count }) {
  const [busy, setBusy] = useState(false);
  async function free() {
    const sure = await ask({
      title: t("Let these photos go?"), action: t("Free room"),
      text: t("The PC is asked first whether it has each of them. They are fetched from there when you look at them; away from the PC they cannot be seen on this phone."),
    });
    if (!sure) return;
    setBusy(true);
    const done = await orSay(letPicturesGo());
    if (done) say(done.lacking ? t("Photos let go: {gone}. Photos that stay, as the PC lost them: {lacking}. They are sent again.", done) : t("Photos let go: {gone}.", done));
    setBusy(false);
  }
  return html`<dl class="sums"><div><dt>${t("Photos here that the PC has")}</dt><dd class="figure">${count}</dd></div></dl>
    <button type="button" disabled=${busy} onClick=${free}>${t("Free room")}</button>`;
}
