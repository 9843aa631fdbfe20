// The way-back sheet: every part in its order, to be ticked with a pencil where no phone may go.

import { html } from "../vendor/preact.js";
import { asWritten, figure, isolated, label, t } from "../words.js";
import { beforeBack } from "../pieces/cautions.js";
import { groupWords } from "../pieces/show.js";
import { Name, Points, Tick, Under, bagWords, lies } from "./paper.js";

const boxWords = () => ({ in: t("in"), tight: t("tight"), marked: t("marked"), second_check: t("second check") });

export function BackSheet({ data }) {
  const { parts, done, before, notices } = data;
  return html`
    ${data.not_all_read && html`<p class="boxed">${t(data.not_all_read)}</p>`}
    <section class="boxed"><h2>${t("Before it goes back on")}</h2><${Points} of=${[...beforeBack(), ...before.map((each) => t(each))]} /></section>
    ${notices.length > 0 && html`<section class="boxed"><h2>${t("Short or left over")}</h2><${Points} of=${notices.map((each) => t(each))} /></section>`}
    ${parts.length === 0 && done.length === 0 && html`<p>${t("Nothing is to go back on. What becomes of a part is said on its page.")}</p>`}
    <${Under} box="ol" title=${t("Still open, in their order")} rows=${parts} of=${onPaper} />
    <${Under} box="ol" title=${t("Done already")} rows=${done} of=${onPaper} />`;
}

const onPaper = (part) => html`<${OnPaper} key=${part.part} part=${part} />`;

/** One part: what stands in its way, where it and its bag are, and its fasteners. */
function OnPaper({ part }) {
  const going = part.outcome === "swapped" && part.replacement;
  return html`<li class="piece">
    <div class="opens"><div class="spread"><h3><${Name} of=${part.name} /></h3><${Tick} words=${going ? t("new one on") : t("on")} crossed=${part.on} named /></div>
      <p>${lies(part)}${part.bag && html` <strong>${bagWords(part)}</strong>`}</p>
      ${going && html`<p>${t("What goes on: {replacement}", part)}</p>`}
      <${Points} of=${part.blockers.map((each) => t(each.sentence))} />
      <${Points} of=${[part.caution && t(part.caution), part.second_person && t("A life hangs on these: let a second person look at every fastener, by the manual.")].filter(Boolean)} /></div>
    ${part.groups.length === 0 && html`<p>${t("No fasteners are written down of it.")}</p>`}
    ${part.groups.map((group) => html`<${Group} key=${group.group} group=${group} letter=${part.photos.some((photo) => photo.pins.length > 0) && group.letter} />`)}
  </li>`;
}

/** Where its fasteners lie that are not in, other than what the part itself says. */
const places = ({ places: all }) => all.filter((place) => place.count > 0).map(({ where, label: bag, count }) => (
  where === "bag" && bag ? t("{count} in bag {bag}", { count, bag }) : where === "bag" ? t("{count} in no bag yet", { count }) : t("{count} {where}", { count, where: { label: where } })));

const kept = (group, name) => group.fields[name]?.value;

function Group({ group, letter }) {
  const spec = group.specification;
  const about = [kept(group, "sits"), kept(group, "key") ? t("Key: {key}", { key: kept(group, "key") }) : t("Key: not written down"), kept(group, "washers") && t("Washers: {washers}", { washers: kept(group, "washers") }),
    kept(group, "torque_condition") && t("Threads: {condition}", { condition: { label: kept(group, "torque_condition") } })].filter(Boolean).map(isolated).join(" · ");
  const fresh = group.new_each_time;
  const points = [...places(group), fresh && (fresh.suggested ? t("New each time, as it seems: {kind}", { kind: { label: fresh.kind } }) : t("New each time: {kind}", { kind: label(fresh.kind) })),
    group.second_check.waived && t("No second check, as decided: {why}", group.second_check.waived), ...group.cautions.map((each) => t(each))].filter(Boolean);
  return html`<div class="group" role="group" aria-label=${t("{what}", { what: group.called })}>
    <div class="spread"><h4>${letter && html`<span class="letter">${letter}</span> `}${groupWords(group.count, group.called)}</h4>${group.is_tightened && html`<${Torque} spec=${spec} none=${t("No torque written down: take it from the manual.")} />`}</div>
    <p>${about}</p>
    ${spec && html`<${Stages} group=${group} spec=${spec} />`}
    <${Points} plain of=${points} />
    <div class="ticks">${group.boxes.map((box) => html`<${Tick} key=${box.box} named words=${boxWords()[box.box]} crossed=${box.all} so_far=${box.done > 0 && !box.all && t("{done} of {of}", box)} />`)}</div></div>`;
}

/** The manual's torque in its own unit, and in newton metres where that is another; the words for none. */
export function Torque({ spec, none }) {
  if (!spec) return html`<strong>${none}</strong>`;
  const { shown, unit } = spec;
  const line = (of) => (shown.high ? t("{low} to {high}", { low: Number(shown.low[of].value), high: shown.high[of] }) : figure(shown.tolerance ? { ...shown.low[of], plus_minus: shown.tolerance[of].value } : shown.low[of]));
  return html`<span><strong>${line("own")}</strong>${unit !== "N.m" && ` (${line("newton_metres")})`}</span>`;
}

/** Which page of the manual a torque is from, and how it stands there. */
export const fromPage = (spec) => [spec?.page && t("From: {page}", { page: spec.page }), spec?.as_written && t("as written: {text}", { text: asWritten(spec.as_written) })].filter(Boolean).map(isolated).join(" · ");

/** The page it is from, the stages it is reached in, the turn after the last, what a locking nut takes. */
function Stages({ group, spec }) {
  const { stages } = group.pattern;
  const words = [fromPage(spec),
    group.staged && stages.length > 1 && t("In stages: {stages}", { stages: stages.map((stage) => stage.shown) }),
    group.staged && kept(group, "pattern") && t("Order: {pattern}", { pattern: label(kept(group, "pattern"), "pattern") }),
    spec.angle_degrees && t("Then by {degrees}°.", { degrees: spec.angle_degrees }),
    spec.shown.prevailing && t("Added for the locking nut: {prevailing}", { prevailing: spec.shown.prevailing.own })].filter(Boolean);
  return words.length > 0 && html`<p>${words.join(" · ")}</p>`;
}
