// One part on its way back: what stands in its way, where it is, how it was, and its fasteners.

import { html, useState } from "../vendor/preact.js";
import { route } from "../addresses.js";
import { isolated, t } from "../words.js";
import { CuringOf } from "../pieces/cure.js";
import { Text } from "../pieces/fields.js";
import { Problems, useForm } from "../pieces/form.js";
import { useActing } from "../pieces/live.js";
import { PinnedThumb } from "../pieces/pinned.js";
import { Bag, Outcome, whereabouts } from "../pieces/show.js";
import { Waits } from "../pieces/waits.js";
import { GroupBack } from "./back_group.js";

/** What the way back may still lack, in words. */
export const missing = () => ({ on: t("it is not on yet"), count: t("fasteners are out"), torque: t("torque is missing"), mark: t("a mark is missing"), not_right: t("some were found not right"), second_check: t("a second check is missing") });

/** That a part is done, and whether another person looked at it or the owner does without. */
function doneWords({ groups }) {
  if (groups.length === 0) return t("on; no fasteners are written down of it");
  const twice = groups.map((group) => group.second_check).filter((check) => check.wanted);
  if (twice.some((check) => check.waived)) return t("on, counted, tight and marked; no second check, as decided");
  return twice.some((check) => check.checked) ? t("on, counted, tight, marked and checked") : t("on, counted, tight and marked");
}

/** What a part lacks before it is done, in words. */
const lacking = (part) => (part.done ? doneWords(part) : t("{needs}", { needs: part.needs.map((need) => missing()[need] ?? need) }));

/** Where the part and its bag are, as far as somebody said. */
const places = (part) => [part.kept && t("It is here: {place}", { place: part.kept }), part.bag_kept && t("The bag is here: {place}", { place: part.bag_kept })].filter(Boolean).map(isolated).join(" · ");

export function PartBack({ strip, part, open, next, place, ...rest }) {
  const { blockers } = part;
  return html`<details class="part" open=${open} id=${`back-${part.part}`} ...${place}>
    <summary><span class="name">${part.name}</span>
      <span class="quiet">${whereabouts(part)}</span>
      ${next && html`<span class="mark next">${t("Next")}</span>`}
      ${blockers.length > 0 && html`<span class="mark wait">${t(blockers[0].sentence)}</span>`}
      <span class=${`mark ${part.done ? "done" : ""}`}>${lacking(part)}</span>
      <${CuringOf} strip=${strip} groups=${part.groups} /></summary>
    <div class="inside">
      ${blockers.length > 1 && html`<ul class="pointed">${blockers.slice(1).map((each) => html`<li key=${each.first}>${t(each.sentence)}</li>`)}</ul>`}
      <p class="row"><${Outcome} ...${part} />${part.bag && html`<${Bag} label=${part.bag} />`}<a class="reach" href=${route.part(strip, part.part)}>${t("Open its page")}</a></p>
      ${places(part) && html`<p>${places(part)}</p>`}
      ${part.photos.length > 0 && html`<ul class="thumbs">${part.photos.map((photo) => html`<${PinnedThumb} key=${photo.entry} strip=${strip} photo=${photo} name=${t("As it was: {name}", part)} />`)}</ul>`}
      ${part.second_person && html`<p class="notice">${t("A life hangs on these: let a second person look at every fastener, by the manual.")}</p>`}
      ${part.groups.map((group) => html`<${GroupBack} key=${group.group} about=${part.name} letter=${part.photos.some((photo) => photo.pins.length > 0) && group.letter} ...${{ strip, group }} ...${rest} />`)}
      <${OnOrOff} strip=${strip} part=${part} />
      ${!part.done && !part.on && html`<${Order} strip=${strip} part=${part} />`}
      <${Waits} strip=${strip} part=${part.part} name=${part.name} count=${part.waits} left=${rest.left} choices=${rest.choices} />
    </div>
  </details>`;
}

/** The part is on, or came off again; what waits for another asks why first. */
function OnOrOff({ strip, part }) {
  const acting = useActing();
  const form = useForm({ early_why: "" }, acting.problems);
  const [early, setEarly] = useState(false);
  if (part.on) return html`<${Problems} problems=${acting.problems} /><button type="button" disabled=${acting.busy} onClick=${() => acting.run("part_off", { strip, part: part.part })}>${t("It came off again")}</button>`;
  const words = part.outcome === "swapped" ? t("The replacement is on") : t("The part is back on");
  async function save(event) {
    event.preventDefault();
    if (part.blockers.length > 0 && !early) { setEarly(true); return; }
    await acting.run("part_on", { strip, part: part.part, early_why: form.latest.current.early_why });
  }
  return html`<form class="stack" onSubmit=${save} novalidate><${Problems} problems=${acting.problems} />
    ${early && part.blockers.length > 0 && html`<p class="notice bad" role="alert">${t(part.blockers[0].sentence)}</p>
      <${Text} ...${form.bind("early_why")} label=${t("Why does it go on before that?")} />`}
    <button type="submit" class=${part.blockers.length > 0 ? "" : "main"} disabled=${acting.busy}>${early && part.blockers.length > 0 ? t("On all the same") : words}</button></form>`;
}

/** One place earlier or later in the order. */
function Order({ strip, part }) {
  const acting = useActing();
  const move = (way) => acting.run("move_in_order", { strip, part: part.part, way });
  return html`<${Problems} problems=${acting.problems} /><div class="row">
    <button type="button" class="grow" disabled=${acting.busy} aria-label=${t("Goes on earlier: {name}", part)} onClick=${() => move("earlier")}>${t("Goes on earlier")}</button>
    <button type="button" class="grow" disabled=${acting.busy} aria-label=${t("Goes on later: {name}", part)} onClick=${() => move("later")}>${t("Goes on later")}</button></div>`;
}
