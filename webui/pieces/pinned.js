// Pictures with their pins: a letter for each group of fasteners, where one of it sits.

import { html, useEffect, useRef, useState } from "../vendor/preact.js";
import { route } from "../addresses.js";
import { t } from "../words.js";
import { Picture } from "./photos.js";

/** A pin's radius as a part of the picture's longer side; its shape says the group beside its letter. */
const RADIUS = 0.035;

/** What is pinned, in words: "A: 2, B: 3". */
export function pinnedWords(pins) {
  const letters = [...new Set(pins.map((pin) => pin.letter))].sort();
  return letters.map((letter) => t("{letter}: {count}", { letter, count: pins.filter((pin) => pin.letter === letter).length })).join(", ");
}

/** The pins over a picture of this width and height; `cross` shows where the keys would put one. */
export function Pins({ photo: { width, height, pins }, chosen, cross }) {
  const radius = RADIUS * Math.max(width, height);
  const at = (pin) => [(pin.across / 1000) * width, (pin.down / 1000) * height];
  const [x, y] = cross ? at(cross) : [0, 0];
  return html`<svg class="pins" viewBox=${`0 0 ${width} ${height}`} aria-hidden="true">
    ${pins.map((pin) => {
      const [left, top] = at(pin);
      return html`<g key=${pin.pin} class=${pin.group === chosen ? "chosen" : ""}><circle cx=${left} cy=${top} r=${radius} />
        <text x=${left} y=${top} font-size=${radius * 1.4} text-anchor="middle" dominant-baseline="central">${pin.letter}</text></g>`;
    })}
    ${cross && html`<path class="cross" stroke-width=${radius / 6} d=${`M${x - radius * 2} ${y}H${x + radius * 2}M${x} ${y - radius * 2}V${y + radius * 2}`} />`}</svg>`;
}

/** A small picture with its pins, that opens large; `strip` given leads on to its pins. */
export function PinnedThumb({ strip, photo, name }) {
  const dialog = useRef(null);
  const [open, setOpen] = useState(false);
  useEffect(() => { if (open) dialog.current.showModal(); }, [open]);
  const called = photo.caption || name;
  const pinned = photo.pins.length > 0 ? pinnedWords(photo.pins) : null;
  const alt = pinned ? t("{name}, pinned: {pinned}", { name: called, pinned }) : called;
  return html`<li><button type="button" aria-label=${t("Show large: {name}", { name: alt })} onClick=${() => setOpen(true)}><span class="pinned"><${Picture} sha256=${photo.sha256} alt=${called} small />${pinned && html`<span class="tag">${pinned}</span>`}</span></button>
    ${open && html`<dialog class="picture" ref=${dialog} aria-label=${called} onClose=${() => setOpen(false)}>
      <div class="pinned large"><${Picture} sha256=${photo.sha256} alt=${alt} /><${Pins} photo=${photo} /></div>
      <div class="row"><a class="button grow" href=${route.pins(strip, photo.entry)}>${t("Pin fasteners")}</a>
        <button type="button" class="grow" onClick=${() => dialog.current.close()}>${t("Close the picture")}</button></div>
    </dialog>`}</li>`;
}
