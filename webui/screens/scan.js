// Reading a label: through the camera, or by typing what stands on it.

import { html, useEffect, useRef, useState } from "../vendor/preact.js";
import { readTag, route } from "../addresses.js";
import { t } from "../words.js";
import { Text } from "../pieces/fields.js";
import { Frame } from "../pieces/frame.js";
import { HowTo } from "../pieces/how_to.js";
import { useView } from "../pieces/live.js";
import { Bag, Standing } from "../pieces/show.js";
import { canSee, look } from "../scanning.js";

export function Scan({ strip }) {
  const whole = useView(strip, "strip");
  const [typed, setTyped] = useState("");
  const title = t("Read a label");
  if (!whole.data) return html`<${Frame} title=${title} strip=${strip}><${Standing} views=${[whole]} /><//>`;
  const written = typed.trim();
  const go = (event) => {
    event.preventDefault();
    if (written) location.hash = route.bag(strip, written);
  };
  return html`<${Frame} title=${title} strip=${strip} of=${whole.data.name}>
    <${Standing} views=${[whole]} />
    <form class="stack close" onSubmit=${go}><${Text} field="written" label=${t("What stands on the bag")} value=${typed} onValue=${setTyped} maxlength=${40} big />
      <button type="submit" disabled=${!written}>${t("Open the bag")}</button></form>
    <${Camera} />
    ${whole.data.bags.length > 0 && html`<section class="stack close"><h2>${t("Bags")}</h2><ul class="row">${whole.data.bags.map((bag) => html`<li key=${bag.bag}><a class="reach" href=${route.bag(strip, bag.label)}><${Bag} label=${bag.label} /></a></li>`)}</ul></section>`}
  <//>`;
}

const refusals = () => ({
  NotAllowedError: t("The camera may not be used by this page. Allow it in the browser’s settings for this address, or type what stands on the bag."),
  NotFoundError: t("This device has no camera. Type what stands on the bag."),
  NotReadableError: t("Another program holds the camera. Close it and try again, or type what stands on the bag."),
});

const wrongWords = ({ host }) => (host
  ? t("This label leads to another shop’s PC ({host}). Nothing was opened.", { host })
  : t("This code is no label of a bag, box or part. Nothing was opened."));

/** What the camera sees, once somebody asks for it; it is off again as soon as a label is read, or the screen left. */
function Camera() {
  const video = useRef(null);
  const [on, setOn] = useState(false);
  const [words, setWords] = useState("");
  useEffect(() => {
    if (!on) return undefined;
    let stop = () => {};
    let left = false;
    const seen = (text) => {
      const tag = readTag(text, location.origin);
      if (!tag.place) return setWords(wrongWords(tag));
      stop();
      location.hash = tag.place;
      return undefined;
    };
    const ended = () => { stop(); setOn(false); setWords(t("The camera stopped by itself. Turn it on again, or type what stands on the bag.")); };
    look(video.current, seen, ended).then((stopped) => { stop = stopped; if (left) stop(); }, (error) => {
      if (left) return;
      setOn(false);
      setWords(refusals()[error.name] ?? t("The camera does not start. Type what stands on the bag."));
    });
    return () => { left = true; stop(); };
  }, [on]);
  if (!canSee()) return html`<p>${t("This browser does not let the page use the camera at this address. Type what stands on the bag, or read the label with the phone’s own camera.")}</p>`;
  return html`<section class="stack close"><h2>${t("With the camera")}</h2>
    ${on ? html`<video class="viewfinder" ref=${video} muted playsinline aria-label=${t("What the camera sees")}></video>
      <button type="button" onClick=${() => setOn(false)}>${t("Camera off")}</button>`
      : html`<button type="button" onClick=${() => { setWords(""); setOn(true); }}>${t("Camera on")}</button>`}
    <div><${HowTo} card="label" /></div>
    <p role="status">${words || (on ? t("Hold the code of a label before the camera.") : "")}</p></section>`;
}
