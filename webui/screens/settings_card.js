// One setting: how it stands and was found, noting a new value, the way back, its card and its history.

import { html } from "../vendor/preact.js";
import { route } from "../addresses.js";
import { isolated, label, t } from "../words.js";
import { Drafted, HereAgain, useDrafted } from "../pieces/drafted.js";
import { Facts, factsOf } from "../pieces/facts.js";
import { Section, Text } from "../pieces/fields.js";
import { Problems } from "../pieces/form.js";
import { History } from "../pieces/history.js";
import { useActing, useView } from "../pieces/live.js";
import { TakePhotos, Thumb } from "../pieces/photos.js";
import { Standing, byWhom, partToChoose, whereabouts } from "../pieces/show.js";
import { Value, typedIn } from "./settings_value.js";
import { Also, settingName, stands, unitsOf } from "./settings_words.js";

/** @param {{strip: string, card: object, choices: object, parts: object[], begun: string[], place: object}} props a card as the core gives it; `begun`: the stems of forms left unsaved */
export function Setting({ strip, card, choices, parts, begun, place }) {
  const name = settingName(card);
  const { fields } = card;
  return html`<article class=${`block ${card.changed ? "open" : card.found !== null ? "done" : ""}`} aria-label=${[name, whereabouts(card)].filter(Boolean).map(isolated).join(" · ")} ...${place}>
    <div><h3 class="name">${name}</h3><p class="quiet">${whereabouts(card)}</p>
      ${card.part && html`<p><a class="reach" href=${route.part(strip, card.part)}>${card.part_name || t("Part without a name")}</a></p>`}
      <p class="figure big">${stands(card.now)}</p><p><${Also} shown=${card.also} /></p>
      ${readWords(card) && html`<p class="quiet">${readWords(card)}</p>`}</div>
    <div class="stack close"><${State} card=${card} />
      ${card.uneven && html`<p class="mark bad">${t(card.uneven)}</p>`}
      ${card.twice && html`<p class="mark bad">${t(card.twice)}</p>`}
      ${card.last && html`<p class="quiet">${[byWhom(card.last), another(card) && t("before that {value}", { value: card.earlier }), card.why].filter(Boolean).map(isolated).join(" · ")}</p>`}
      ${card.note && html`<p>${card.note}</p>`}</div>
    ${card.ask_found && html`<${AskFound} ...${{ strip, card, choices, begun }} />`}
    <div class="stack"><${Section} light late open=${begun.includes(`adjust/${strip}/${card.setting}`)} title=${t("Note a new value")}><${Drafted} form=${Adjust} stem=${`adjust/${strip}/${card.setting}`} about=${name} ...${{ strip, card, choices }} /><//>
    ${card.back.state !== "same" && html`<${Section} light late title=${t("How to go back")}><p>${t(card.back.says)}<${Also} shown=${card.back.also} /></p>
      ${card.how_to_undo && html`<p>${t("As written down: {words}", { words: card.how_to_undo })}</p>`}<${Mind} card=${card} /><//>`}
    <${Section} light late title=${t("Photos")} says=${photosWords(card.photos.length)}><div class="stack close"><${Photos} strip=${strip} card=${card} /></div><//>
    <${Section} light late open=${Object.values(fields).some((field) => field.disputed)} title=${t("Its card and history")}>
      <${Facts} strip=${strip} thing=${card.setting} type="setting" fields=${fields} facts=${facts(card, choices, parts)} />
      <h4>${t("History")}</h4><${SettingHistory} strip=${strip} setting=${card.setting} /><//></div>
  </article>`;
}

const photosWords = (count) => (count === 1 ? t("one picture") : count > 0 && t("{count} pictures", { count }));

/** Whether it stood otherwise before this figure than it was found. */
const another = ({ earlier, found }) => earlier !== null && stands(earlier) !== stands(found);

/** How its figure is counted and read. */
const readWords = ({ counted, inwards_is: inwards, read_how: how }) => [
  counted && label(counted), inwards && t("turned in: {gets}", { gets: label(inwards) }), how,
].filter(Boolean).map(isolated).join(" · ");

/** As found or changed: a word and a shape. */
function State({ card }) {
  if (card.disputed) return html`<p class="mark bad">${t("Two answers: settle it in its card.")}</p>`;
  if (card.nobody_knows) return html`<p class="mark wait">${t("How it was found, nobody knows.")}</p>`;
  if (card.found === null) return null;
  if (!card.changed) return html`<p class="mark done">${t("As found")}</p>`;
  return html`<p><span class="mark wait">${t("Changed")}</span> ${typeof card.found === "string" ? t("found: {value}", { value: card.found }) : t("found at {value}", { value: card.found })}<${Also} shown=${card.found_also} /></p>`;
}

const Mind = ({ card }) => html`<p class="notice">${t(card.caution)} <span class="quiet">${t("Rests on: {basis}", { basis: label(card.basis) })}</span></p>`;

const startOf = ({ now, unit }) => ({ value: now !== null && ["clicks", "steps"].includes(unit) ? Number(now.value) : "", unit: "", why: "" });

/** A new value, typed or clicked; what stands on this screen is what its author saw. */
function Adjust({ strip, card, choices, begun }) {
  const acting = useActing();
  const saw = { [card.unit]: (card.fields[card.unit]?.heads ?? []).map((head) => head.entry) };
  const form = useDrafted(begun, startOf(card), acting, saw);
  async function save(event) {
    event.preventDefault();
    const { value, why } = form.latest.current;
    const unit = typedIn(form.latest.current, card.unit);
    if (await form.act("adjust", { strip, thing: card.setting, value, unit, why, saw: form.saw })) form.begin({ ...startOf(card), value }, undefined);
  }
  return html`<form class="stack" onSubmit=${save} novalidate>
    <${HereAgain} back=${form.back} words=${(gaps) => t("Your unfinished value is here again, from {when}.", gaps)} onAfresh=${form.afresh} /><${Problems} problems=${acting.problems} />
    <${Mind} card=${card} />
    <${Value} form=${form} field="value" unit=${card.unit} label=${t("How it stands now")} choices=${choices} />
    <${Text} ...${form.bind("why")} label=${t("Why")} />
    <button type="submit" disabled=${acting.busy}>${t("Save the value")}</button></form>`;
}

/** How it was found, where nobody wrote it down yet. */
function AskFound({ strip, card, choices, begun }) {
  const acting = useActing();
  return html`<div class="notice"><p>${t("How it was found is not written down.")}</p>
    <${Section} light late open=${begun.includes(`found/${strip}/${card.setting}`)} title=${t("Say how it was found")}><${Drafted} form=${Found} stem=${`found/${strip}/${card.setting}`} about=${settingName(card)} ...${{ strip, card, choices }} /><//>
    <${Problems} problems=${acting.problems} />
    <div><button type="button" disabled=${acting.busy} aria-label=${t("Nobody knows how it was found: {name}", { name: settingName(card) })} onClick=${() => acting.run("found_as", { strip, thing: card.setting, as_found_unknown: true })}>${t("Nobody knows")}</button></div></div>`;
}

function Found({ strip, card, choices, begun }) {
  const acting = useActing();
  const form = useDrafted(begun, { as_found: "", unit: "" }, acting);
  async function save(event) {
    event.preventDefault();
    const entered = form.latest.current;
    await form.act("found_as", { strip, thing: card.setting, ...entered, unit: typedIn(entered, card.unit) });
  }
  return html`<form class="stack" onSubmit=${save} novalidate>
    <${HereAgain} back=${form.back} words=${(gaps) => t("Your unfinished value is here again, from {when}.", gaps)} onAfresh=${form.afresh} /><${Problems} problems=${acting.problems} />
    <${Value} form=${form} field="as_found" unit=${card.unit} label=${t("As found")} choices=${choices} />
    <button type="submit" disabled=${acting.busy}>${t("Save how it was found")}</button></form>`;
}

/** What is counted by turning, in or out. */
const TURNED = ["clicks", "turns"];

function facts(card, choices, parts) {
  const { unit, now, found } = card;
  const own = { clicks: { count: 200 }, steps: { count: 50 }, millimetres: { measure: "mm" }, kilopascals: { units: choices.pressure_units }, in_words: { lines: true } }[unit] ?? { figure: true };
  // In the unit that is shown; rounded as it is shown.
  const shown = (value) => (value !== null && typeof value === "object" ? { mass: value } : {});
  return factsOf({
    [unit]: { ...own, ...shown(now) }, [`as_found_${unit}`]: { ...own, ...shown(found) },
    adjusted: { options: choices.adjusted }, name: {}, place: { options: choices.places }, part: { options: parts.map((each) => [each.part, partToChoose(each)]), named: (part) => called(parts, part) ?? card.part_name ?? t("Part without a name") }, side: { options: choices.sides },
    measured_in: { options: unitsOf(choices.reads[card.adjusted] ?? choices.measured_in) },
    ...(TURNED.includes(unit) && { counted: { options: choices.counted }, inwards_is: { options: choices.inwards_is } }), read_how: {}, how_to_undo: { lines: true }, note: { lines: true },
  });
}

const called = (parts, part) => parts.filter((each) => each.part === part).map(partToChoose)[0];

/** Pictures of where and how it stands: a mark on a clamp says more than a figure. */
function Photos({ strip, card }) {
  const acting = useActing();
  return html`<${Problems} problems=${acting.problems} />
    ${card.photos.length > 0 && html`<ul class="thumbs">${card.photos.map((photo) => html`<li key=${photo.entry}><${Thumb} sha256=${photo.sha256} caption=${photo.caption} /><span class="quiet">${photo.caption ?? byWhom(photo)}</span></li>`)}</ul>`}
    <${TakePhotos} onPhoto=${(photo) => acting.inTurn("photo", { strip, thing: card.setting, photo })} />`;
}

/** The history of a setting, asked for once it is opened. */
export function SettingHistory({ strip, setting }) {
  const view = useView(strip, "setting", { setting });
  return view.data ? html`<${History} strip=${strip} history=${view.data.history} />` : html`<${Standing} views=${[view]} />`;
}
