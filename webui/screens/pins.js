// One picture of a part: tap where each fastener sits, so that the long ones go back where they came from.

import { html, useRef, useState } from "../vendor/preact.js";
import { route } from "../addresses.js";
import { isolated, t } from "../words.js";
import { Tiles } from "../pieces/fields.js";
import { Problems } from "../pieces/form.js";
import { Frame } from "../pieces/frame.js";
import { useActing, useView } from "../pieces/live.js";
import { Picture } from "../pieces/photos.js";
import { Pins, pinnedWords } from "../pieces/pinned.js";
import { Standing } from "../pieces/show.js";

/** How near a tap must come to a pin to mean it, in thousandths of the picture's longer side. */
const NEAR = 40;
const STEP = 10;
const ARROWS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };
const kept = (value) => Math.min(1000, Math.max(0, Math.round(value)));

/** A group with its letter, where it sits, and how many of it are on the picture. */
const chosenWords = (group) => [t(group.what), group.sits, t("{pinned} of {count} pinned", group)].filter(Boolean).map(isolated).join(" · ");

export function PinsOfPhoto({ strip, photo: entry }) {
  const whole = useView(strip, "strip");
  const view = useView(strip, "pins", { photo: entry });
  const { data } = view;
  const title = data?.name ? t("Pins: {name}", data) : t("Pins");
  return html`<${Frame} title=${title} strip=${strip} of=${whole.data?.name}>
    <${Standing} views=${[whole, view]} />
    ${data && !data.photo && html`<p class="notice">${t("This picture is not in the log of this phone. It may come with the next sending.")}</p>`}
    ${data?.photo && html`<${Sheet} strip=${strip} data=${data} />
      <p class="row"><a class="button" href=${route.part(strip, data.part)}>${t("Open its page")}</a><a class="button" href=${route.back(strip)}>${t("The way back")}</a></p>`}
  <//>`;
}

function Sheet({ strip, data: { photo, groups } }) {
  const acting = useActing();
  const [chosen, setChosen] = useState(groups[0]?.group);
  const [cross, setCross] = useState(null);
  const sheet = useRef(null);
  const turn = useRef(Promise.resolve());
  const seen = useRef(photo.pins);
  seen.current = photo.pins;
  const group = groups.find((each) => each.group === chosen) ?? groups[0];
  const longer = Math.max(photo.width, photo.height);
  const apart = (pin, at) => Math.hypot(((pin.across - at.across) * photo.width) / longer, ((pin.down - at.down) * photo.height) / longer);
  if (!group) return html`<p class="notice">${t("This part has no fasteners written down yet. Add them on its page, then pin them here.")}</p>`;

  // Quick thumbs tap again before the last pin is saved: each tap has its turn, and judges by the pins of that moment.
  function put(at) {
    turn.current = turn.current.then(() => putNow(at));
  }
  function putNow(at) {
    const [nearest] = seen.current.map((pin) => ({ pin, far: apart(pin, at) })).sort((a, b) => a.far - b.far);
    if (nearest && nearest.far < NEAR) return acting.run("unpin", { strip, pin: nearest.pin.pin });
    return acting.run("pin", { strip, on_photo: photo.entry, group: group.group, ...at });
  }
  function tapped(event) {
    // A press of the key Enter comes as a click too, and means the cross.
    if (event.detail === 0) return;
    const box = sheet.current.getBoundingClientRect();
    setCross(null);
    put({ across: kept(((event.clientX - box.left) / box.width) * 1000), down: kept(((event.clientY - box.top) / box.height) * 1000) });
  }
  function keyed(event) {
    const from = cross ?? { across: 500, down: 500 };
    if (ARROWS[event.key]) {
      const [across, down] = ARROWS[event.key];
      const by = event.shiftKey ? STEP * 10 : STEP;
      setCross({ across: kept(from.across + across * by), down: kept(from.down + down * by) });
    } else if (event.key === "Enter" || event.key === " ") put(from);
    else return;
    event.preventDefault();
  }
  return html`<div class="stack">
    <p>${t("Choose the fasteners, then tap the picture where each one sits. A tap on a pin takes it away.")}</p>
    <${Tiles} wide field="pinned_group" value=${group.group} onValue=${setChosen} label=${t("Fasteners")} options=${groups.map((each) => [each.group, chosenWords(each)])} />
    <${Problems} problems=${acting.problems} />
    <button type="button" class="pinned large" ref=${sheet} aria-describedby="pin_keys" aria-label=${t("Picture. Pinned: {pinned}", { pinned: pinnedWords(photo.pins) || t("none") })} onClick=${tapped} onKeyDown=${keyed}>
      <${Picture} sha256=${photo.sha256} alt="" /><${Pins} photo=${photo} chosen=${group.group} cross=${cross} /></button>
    <p class="quiet" id="pin_keys">${t("With keys: arrows move the cross, with Shift ten times as far; Enter puts a pin there or takes it away.")}</p>
    <p class="hidden" role="status">${cross ? t("Cross at {across} % from the left, {down} % from the top", { across: cross.across / 10, down: cross.down / 10 }) : ""}</p></div>`;
}
