// Placing one part: tapped on the side view, moved by arrow keys or buttons, or typed.

import { html, useEffect, useRef, useState } from "../vendor/preact.js";
import { route } from "../addresses.js";
import { t } from "../words.js";
import { HereAgain, useDrafted } from "../pieces/drafted.js";
import { Section, Text, Tiles } from "../pieces/fields.js";
import { Problems } from "../pieces/form.js";
import { useActing } from "../pieces/live.js";
import { LongList } from "../pieces/long_list.js";
import { whereabouts } from "../pieces/show.js";
import { CentreMark, SideView, within } from "../pieces/side_view.js";

const FIELDS = ["along_millimetres", "up_millimetres", "to_along_millimetres", "to_up_millimetres", "position_plus_minus_millimetres", "carried"];
const ENDS = { from: ["along_millimetres", "up_millimetres"], to: ["to_along_millimetres", "to_up_millimetres"] };
const STEP = 10;
/** So many parts are listed unfolded. */
const FEW = 8;

/** A place in words: behind the front axle or ahead of it, and how high. */
export function placeWords(along, up) {
  if (along === null || along === undefined) return t("not placed");
  const [text, high] = along < 0
    ? [t("{along} mm ahead of the front axle", { along: -along }), t("{along} mm ahead of the front axle, {up} mm up", { along: -along, up })]
    : [t("{along} mm behind the front axle", { along }), t("{along} mm behind the front axle, {up} mm up", { along, up })];
  return up === null || up === undefined ? text : high;
}

/** A number as it was typed, or null where it is none: only to draw with; what is saved is read by the core. */
function drawn(text) {
  const typed = String(text ?? "").trim().replace("\u2212", "-");
  return /^-?\d+([.,]\d+)?$/.test(typed) ? Number(typed.replace(",", ".")) : null;
}

const asTyped = (part) => Object.fromEntries(FIELDS.map((field) => [field, part[field] === null ? "" : typeof part[field] === "number" ? String(part[field]) : part[field]]));

/** What is drawn of a part as it is known. */
export const spotOf = (part) => ({
  part: part.part, along: part.along_millimetres, up: part.up_millimetres, to_along: part.to_along_millimetres, to_up: part.to_up_millimetres,
});

const seenOf = (part) => Object.fromEntries(FIELDS.filter((field) => part.fields[field]).map((field) => [field, part.fields[field].heads.map((head) => head.entry)]));

/** The part that is being placed; its draft is kept under this stem. */
export const stemOfPlace = (strip, part = "") => `place/${strip}/${part}`;

export function Placing({ strip, part, data, spots, choices, begun, onDone }) {
  const acting = useActing();
  // What has come since the form began was not seen, and is not overwritten.
  const form = useDrafted(begun, asTyped(part), acting, seenOf(part));
  const [end, setEnd] = useState(part.goes_elsewhere && part.along_millimetres !== null ? "to" : "from");
  const top = useRef(null);
  useEffect(() => { top.current?.scrollIntoView({ block: "start" }); top.current?.focus({ preventScroll: true }); }, [part.part]);
  const { bind } = form;
  const [alongField, upField] = ENDS[end];
  const put = ({ along, up }) => form.fill({ [alongField]: String(along), [upField]: String(up) });
  const usual = part.usual;
  function move(by) {
    const now = form.latest.current;
    const begin = { along: drawn(now[alongField]) ?? usual?.along ?? Math.round(data.drawing.wheelbase / 2), up: drawn(now[upField]) ?? usual?.up ?? 600 };
    put({ along: within("along", begin.along + by.along), up: within("up", begin.up + by.up) });
  }
  async function save(event) {
    event.preventDefault();
    const { start: before, saw: seen } = form;
    const changed = FIELDS.filter((field) => (form.latest.current[field] ?? "") !== before[field]);
    if (changed.length === 0) { onDone(); return; }
    const values = Object.fromEntries(changed.map((field) => [field, form.latest.current[field] === "" ? null : form.latest.current[field]]));
    const saw = Object.fromEntries(changed.map((field) => [field, seen[field] ?? []]));
    if (await form.act("change", { strip, thing: part.part, type: "part", values, saw })) onDone();
  }
  async function leave() {
    await form.drop();
    onDone();
  }
  const here = {
    part: part.part, along: drawn(form.form.along_millimetres), up: drawn(form.form.up_millimetres),
    to_along: drawn(form.form.to_along_millimetres), to_up: drawn(form.form.to_up_millimetres),
  };
  const words = placeWords(drawn(form.form[alongField]), drawn(form.form[upField]));
  const nudge = (sign, along, up, name) => html`<button type="button" class="small" aria-label=${name} onClick=${() => move({ along: along * STEP, up: up * STEP })}>${sign}</button>`;
  return html`<section class="block open" aria-label=${t("Place: {name}", part)}>
    <div><h2 tabindex="-1" ref=${top}>${t("Where does it sit: {name}", part)}</h2><p class="quiet">${whereabouts(part)}</p><a class="reach" href=${route.part(strip, part.part)}>${t("Its page")}</a></div>
    <form class="stack" onSubmit=${save} novalidate>
      <${HereAgain} back=${form.back} words=${(gaps) => t("Your unfinished place is here again, from {when}.", gaps)} onAfresh=${form.afresh} /><${Problems} problems=${acting.problems} />
      ${part.goes_elsewhere && html`<${Tiles} field="end" id="end" value=${end} onValue=${setEnd} label=${t("Which place")} options=${[["from", t("where it sat")], ["to", t("where it went")]]} />`}
      <p class="quiet">${t("Tap the drawing where its middle sits. Arrow keys move it by 10 mm, with Shift by 100. Ahead of the front axle is less than 0.")}</p>
      <${SideView} drawing=${data.drawing} before=${data.before?.at} now=${data.now?.at} chosen=${part.part} onPlace=${put} onMove=${move}
        spots=${[...spots.filter((spot) => spot.part !== part.part), here]} name=${t("Side view. {name}: {place}. Arrow keys move it by 10 mm, with Shift by 100.", { name: part.name, place: words })} />
      <p aria-live="polite"><strong>${words}</strong></p>
      <div class="nudges">${nudge("←", -1, 0, t("10 mm forward"))}${nudge("→", 1, 0, t("10 mm back"))}${nudge("↑", 0, 1, t("10 mm up"))}${nudge("↓", 0, -1, t("10 mm down"))}</div>
      ${usual && html`<button type="button" onClick=${() => { put(usual); if (!form.latest.current.carried && usual.carried) form.set("carried", usual.carried); }}>${t("Usual place of such a part")}</button>`}
      <div class="pair"><${Text} key=${alongField} ...${bind(alongField)} label=${t("Behind the front axle, mm")} figure />
        <${Text} key=${upField} ...${bind(upField)} label=${t("Above the ground, mm")} figure /></div>
      <${Text} ...${bind("position_plus_minus_millimetres")} label=${t("Give or take, mm")} hint=${t("Left out: {tapped} mm, as well as a thumb does.", data)} figure />
      <${Tiles} ...${bind("carried")} label=${t("What carries it")} options=${choices.carried} />
      <div class="row"><button type="submit" class="grow" disabled=${acting.busy}>${t("Save the place")}</button><button type="button" class="grow" onClick=${leave}>${t("Leave it")}</button></div>
    </form></section>`;
}

const mark = (part) => {
  if (part.lacks.length > 0) return ["wait", part.lacks.map((each) => t(each.sentence)).join(" ")];
  return part.along_millimetres === null && part.to_along_millimetres === null ? ["", t("not placed")] : ["done", t("placed")];
};

/** Every part with its place in words, which also mirrors the drawing for those who do not see it. */
export function Places({ parts, onChoose }) {
  const wanted = parts.filter((part) => part.lacks.length > 0);
  const rest = parts.filter((part) => part.lacks.length === 0);
  const list = (some) => html`<${LongList} rows=${some} box=${(rows) => html`<ul class="lines">${rows}</ul>`}
    of=${(part, place) => html`<li class="line" key=${part.part} ...${place}><${Place} part=${part} onChoose=${onChoose} /></li>`} />`;
  return html`<section class="section"><h2>${t("Places of the parts")}</h2>
    ${parts.length === 0 && html`<p>${t("No parts yet.")}</p>`}
    ${wanted.length > 0 && html`<p>${t("Something is missing of {count} that count.", { count: wanted.length })}</p>${list(wanted)}`}
    ${rest.length > 0 && (parts.length > FEW ? html`<${Section} light title=${wanted.length > 0 ? t("The other parts") : t("All parts")} says=${t("{count} of them", { count: rest.length })}>${list(rest)}<//>` : list(rest))}
  </section>`;
}

function Place({ part, onChoose }) {
  const [shape, words] = mark(part);
  return html`<div class="spread"><span class="name">${part.name || t("Part without a name")}</span>
      <button type="button" aria-label=${t("Place: {name}", part)} onClick=${() => onChoose(part.part)}>${t("Place it")}</button></div>
    <p class="quiet">${whereabouts(part)}</p>
    <p class="row tight"><span class=${`mark ${shape}`}>${words}</span>${part.disputed && html`<span class="mark bad">${t("two answers")}</span>`}</p>
    ${part.along_millimetres !== null && html`<p class="quiet">${placeWords(part.along_millimetres, part.up_millimetres)}</p>`}
    ${part.to_along_millimetres !== null && html`<p class="quiet">${t("Went to: {place}", { place: placeWords(part.to_along_millimetres, part.to_up_millimetres) })}</p>`}`;
}

/** The shapes of the drawing with their words. */
export const Legend = ({ before, now, spots }) => html`<ul class="row quiet">
  ${before && html`<li class="row tight"><${CentreMark} which="before" />${t("centre of mass before")}</li>`}
  ${now && html`<li class="row tight"><${CentreMark} which="now" />${t("centre of mass now")}</li>`}
  ${spots && html`<li class="row tight"><svg class="centre-mark" viewBox="-60 -60 120 120" aria-hidden="true"><circle class="spot" r="26" /></svg>${t("parts with a place")}</li>`}</ul>`;
