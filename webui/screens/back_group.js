// One group of fasteners on its way back: counted out, tightened, marked, looked at.

import { html } from "../vendor/preact.js";
import { route } from "../addresses.js";
import { asWritten, figure, isolated, label, t } from "../words.js";
import { CureOf } from "../pieces/cure.js";
import { Drafted } from "../pieces/drafted.js";
import { Facts, factsOf, torqueDetails } from "../pieces/facts.js";
import { Section, Stepper } from "../pieces/fields.js";
import { Problems, useForm } from "../pieces/form.js";
import { HowTo } from "../pieces/how_to.js";
import { Hexes } from "../pieces/icons.js";
import { useActing } from "../pieces/live.js";
import { Bag, byWhom, groupWords } from "../pieces/show.js";
import { VERDICT_MARKS, verdictWords } from "../pieces/verdict.js";
import { NewEachTime, WhyUsed } from "../pieces/used_again.js";
import { SecondCheck, SecondCheckState } from "./back_check.js";
import { Again, Tighten } from "./tighten.js";

/** The specification in words, as it was taken from the manual. */
export function SpecificationWords({ specification: spec }) {
  if (!spec) return html`<p class="mark wait">${t("No specification: take it from the machine’s manual.")}</p>`;
  const low = spec.shown.low.newton_metres, high = spec.shown.high?.newton_metres;
  const torque = high ? t("{low} to {high}", { low: Number(low.value), high }) : figure(low);
  return html`<p><span class="quiet">${t("Specification")}</span> <span class="figure big">${torque}</span>${spec.angle_degrees && html` <span>${t("Then by {degrees}°.", { degrees: spec.angle_degrees })}</span>`}
    ${" "}${spec.condition && label(spec.condition)} <span class="quiet">${[spec.page, spec.as_written && t("as written: {text}", { text: asWritten(spec.as_written) })].filter(Boolean).map(isolated).join(" · ")}</span></p>`;
}

/** What else was done at a tightening: the wrench's own setting where that is another figure, what a locking nut took. */
const besides = ({ shown, setting, prevailing, clamping }) => [
  setting && Number(setting.value) !== Number(shown.value) && t("wrench set to {setting}", { setting }),
  prevailing && t("{prevailing} of it for the locking nut, {clamping} tighten it", { prevailing, clamping }),
].filter(Boolean).map(isolated).join(" · ");

/** A tightening, and how it stands against the specification. */
function tightened(last) {
  const values = { torque: figure(last.shown), tool: last.tool, judged: verdictWords(last) };
  return last.tool ? t("{torque} with {tool}: {judged}", values) : t("{torque}: {judged}", values);
}

/** How a group stands, in words. */
export function GroupState({ group }) {
  const { count, on, tight, marked, last } = group;
  return html`<${Hexes} ...${group} checked=${group.second_check.checked} />
    <p class="figures">${t("{on} of {count} on, {tight} tight, {marked} marked.", { on, count, tight, marked })}</p>
    ${last && html`<p class=${`mark ${VERDICT_MARKS[last.judged]}`}>${tightened(last)}</p>
      ${last.reason && html`<p>${t(last.reason)}</p>`}${last.later && html`<p>${t(last.later)}</p>`}<p class="quiet">${[besides(last), byWhom(last)].filter(Boolean).map(isolated).join(" · ")}</p>`}
    ${group.notice && html`<p class="mark bad">${t(group.notice)}</p>`}
    <${SecondCheckState} check=${group.second_check} needed=${group.needs.includes("second_check")} />`;
}

/** Where they sit, what lies under them and how their threads are treated. */
const inWords = ({ fields }) => [fields.sits?.value, fields.washers?.value && t("Washers: {washers}", { washers: fields.washers.value }), fields.torque_condition?.value && label(fields.torque_condition.value)].filter(Boolean).map(isolated).join(" · ");

export function GroupBack({ strip, group, letter, choices, tools, about, people }) {
  const { needs } = group;
  const wanted = needs.includes("torque");
  const sources = group.places.filter((place) => ["bag", "spares", "stock"].includes(place.where) && place.count > 0);
  const [bag] = sources;
  const parts = { strip, group };
  return html`<div role="group" class=${`block ${group.done ? "done" : "open"}`} aria-label=${t("{what}", { what: group.called })}>
    <div class="spread"><h3>${letter && html`<span class="letter">${letter}</span> `}${groupWords(group.count, group.called)}</h3>${bag?.label && html`<${Bag} label=${bag.label} />`}</div>
    ${inWords(group) && html`<p>${inWords(group)}</p>`}
    <${GroupState} group=${group} /><${CureOf} strip=${strip} group=${group.group} fields=${group.fields} />
    ${needs.includes("count") && (bag ? html`<${PutIn} key=${`${bag.where}${bag.bag}${bag.count}`} from=${bag} ...${parts} />` : html`<p class="mark bad">${t("{count} not in any bag: find them, or take new ones on the part’s page.", { count: group.out })}</p>`)}
    <${SpecificationWords} specification=${group.specification} />
    <p class="row"><a class="button" href=${route.torque(strip, group.group)} aria-label=${t("Torque card: {what}", { what: group.called })}>${t("Torque card")}</a>
      <a class="button" href=${route.record(strip, group.group)} aria-label=${t("The whole record: {what}", { what: group.called })}>${t("The whole record")}</a></p>
    ${!group.specification && html`<${Section} light title=${t("Write down the manual’s torque")}>
      <${Facts} strip=${strip} thing=${group.group} type="group" fields=${group.fields} facts=${factsOf(torqueDetails(choices))} /><//>`}
    ${group.on > 0 && html`<${Drafted} key=${[group.on, group.tight, group.next_step, wanted].join()} form=${wanted ? Tighten : Again} stem=${`tighten/${strip}/${group.group}`} about=${about} ...${parts} choices=${choices} tools=${tools} />`}
    ${needs.includes("mark") && group.tight > 0 && html`<${Mark} key=${group.tight} ...${parts} />`}
    ${["second_check", "not_right"].some((need) => needs.includes(need)) && group.on > 0 && html`<${SecondCheck} ...${parts} people=${people} />`}
  </div>`;
}

function PutIn({ strip, group, from }) {
  const acting = useActing();
  const form = useForm({ count: Math.min(from.count, group.out), why: "" }, acting.problems);
  const save = (event) => {
    event.preventDefault();
    acting.run("move", { strip, group: group.group, count: form.form.count, from: from.where, from_bag: from.bag, to: "machine", why: form.form.why });
  };
  return html`<form class="stack close" onSubmit=${save}><${Problems} problems=${acting.problems} />
    <${Stepper} ...${form.bind("count")} label=${from.where === "bag" ? (from.label ? t("Out of bag {label} and in", from) : t("In, from no bag")) : t("In, from: {place}", { place: label(from.where) })} high=${from.count} />
    <${NewEachTime} of=${group.new_each_time} /><${WhyUsed} bind=${form.bind} problems=${acting.problems} />
    <button type="submit" disabled=${acting.busy}>${t("Put {count} back", { count: form.form.count ?? 0 })}</button></form>`;
}

function Mark({ strip, group }) {
  const acting = useActing();
  const left = Math.max(1, group.tight - group.marked);
  return html`<${Problems} problems=${acting.problems} />
    <button type="button" disabled=${acting.busy} onClick=${() => acting.run("mark", { strip, group: group.group, count: left })}>${t("Paint mark on {count}", { count: left })}</button><div><${HowTo} card="mark" /></div>`;
}
