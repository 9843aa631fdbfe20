// Pictures: taking them, choosing them, showing them small and large.

import { html, useEffect, useRef, useState } from "../vendor/preact.js";
import { route } from "../addresses.js";
import { pictureUrl, shrink } from "../photos.js";
import { room } from "../room.js";
import { t } from "../words.js";
import { Icon } from "./icons.js";

/** How soon a picture that the PC does not give is asked for again: it may still be on its way there. Twice as long each time. */
const AGAIN_MS = 5_000;

/** A picture from this phone or the PC; words where neither has it at hand, and it as soon as one has. */
export function Picture({ sha256, alt, small }) {
  const [found, setFound] = useState({ of: null, url: null, wrong: null });
  const { url, wrong } = found.of === sha256 ? found : {};
  const put = (next) => setFound({ of: sha256, url: null, wrong: null, ...next });
  useEffect(() => {
    let live = true;
    pictureUrl(sha256).then((at) => live && put(at ? { url: at } : { wrong: "away" }), () => live && put({ wrong: "away" }));
    return () => { live = false; };
  }, [sha256]);
  useEffect(() => {
    if (wrong !== "away") return undefined;
    let [live, timer, wait] = [true, 0, AGAIN_MS];
    const later = () => { if (live) timer = setTimeout(look, wait); wait *= 2; };
    const look = () => pictureUrl(sha256).then((at) => {
      const image = new Image();
      image.onload = () => live && put({ url: at });
      image.onerror = later;
      image.src = at;
    }, later);
    later();
    return () => { live = false; clearTimeout(timer); };
  }, [sha256, wrong]);
  if (url) return html`<img class=${small ? "thumb" : ""} src=${url} alt=${alt} onError=${() => put({ wrong: url.startsWith("blob:") ? "broken" : "away" })} />`;
  return html`<span class=${`${small ? "thumb" : ""} blank`}>${wrong && (small ? html`<span class="hidden">${wrongWords(wrong)}</span>` : wrongWords(wrong))}</span>`;
}

const wrongWords = (wrong) => (wrong === "broken" ? t("This picture’s file is damaged, and cannot be shown.")
  : t("This picture is not on this phone, and the PC does not give it now."));

/** A small picture that opens large. */
export function Thumb({ sha256, caption }) {
  const dialog = useRef(null);
  const [open, setOpen] = useState(false);
  useEffect(() => { if (open) dialog.current.showModal(); }, [open]);
  const name = caption || t("Photo");
  return html`<button type="button" aria-label=${t("Show large: {name}", { name })} onClick=${() => setOpen(true)}><${Picture} sha256=${sha256} alt=${name} small /></button>
    ${open && html`<dialog class="picture" ref=${dialog} aria-label=${name} onClose=${() => setOpen(false)}>
      <${Picture} sha256=${sha256} alt=${name} />
      <button type="button" onClick=${() => dialog.current.close()}>${t("Close the picture")}</button>
    </dialog>`}`;
}

/**
 * Two ways to a picture: the camera and the gallery.
 * @param {{onPhoto: (photo: {sha256, bytes, width, height}) => void}} props told of each picture once the phone keeps it
 */
export function TakePhotos({ onPhoto }) {
  const [wrong, setWrong] = useState(null);
  const [busy, setBusy] = useState(false);
  async function takeIn(file) {
    try {
      const { sha256, bytes, width, height } = await shrink(file);
      onPhoto({ sha256, bytes, width, height });
    } catch (error) {
      if (!error.sentence) throw error;
      setWrong(error.sentence);
    }
  }
  async function taken(event) {
    const input = event.currentTarget;
    setBusy(true);
    setWrong(null);
    try {
      for (const file of Array.from(input.files)) await takeIn(file);
    } finally {
      input.value = "";
      setBusy(false);
    }
  }
  return html`<div class="stack close">
    <${Room} busy=${busy} />
    <div class="row">
      <label class="button over grow"><${Icon} name="camera" />${t("Take a photo")}<input type="file" accept="image/*" capture="environment" onChange=${taken} /></label>
      <label class="button over grow"><${Icon} name="gallery" />${t("From the gallery")}<input type="file" accept="image/*" multiple onChange=${taken} /></label>
    </div>
    ${busy && html`<p role="status">${t("Making the picture smaller…")}</p>`}
    ${wrong && html`<p class="wrong" role="alert">${t(wrong)}</p>`}
  </div>`;
}

/** Before it is too late: that the phone is nearly full, asked again after each picture. */
function Room({ busy }) {
  const [found, setFound] = useState(null);
  useEffect(() => {
    let live = true;
    if (!busy) room().then((now) => { if (live) setFound(now); });
    return () => { live = false; };
  }, [busy]);
  if (!found?.tight && found?.pictures !== false) return null;
  return html`<p class=${`notice ${found.pictures ? "" : "bad"}`}>${found.pictures
    ? t("This phone’s storage is {percent} % full.", { percent: found.percent }) : t("This phone has room left for entries only, not for photos.")} <a href=${route.sending()}>${t("Free room on Sending.")}</a></p>`;
}
