// The build sheet: the machine as it is by what was written down, to be kept with it.

import { html } from "../vendor/preact.js";
import { dated, figure, isolated, label, t } from "../words.js";
import { itemWords, planWords } from "../pieces/items.js";
import { Picture } from "../pieces/photos.js";
import { Mass, change, groupWords, whereabouts } from "../pieces/show.js";
import { verdictWords } from "../pieces/verdict.js";
import { missing } from "../screens/back_part.js";
import { settingName, stands } from "../screens/settings_words.js";
import { Torque, fromPage } from "./back.js";
import { Name, Points, Under } from "./paper.js";

const byAndWhen = ({ who, at_ms: at }) => t("{who}, {when}", { who, when: dated(at) });

export function BuildSheet({ data, whole }) {
  const { changed, statement, settings, torques, open, pictures, more_pictures: more } = data;
  const beginnings = { riding: t("Open, before riding"), next_spell: t("Open, before the next spell"), some_day: t("Open, some day") };
  return html`
    ${open.not_all_read && html`<p class="boxed">${t(open.not_all_read)}</p>`}
    <${Machine} whole=${whole} />
    <${Under} title=${t("What changed")} rows=${changed} of=${(part) => html`<${Changed} key=${part.part} part=${part} />`} />
    <section><h2>${t("Masses")}</h2>
      <${Sums} sums=${statement.sums} whole=${whole} />
      <ul class="rows">${statement.lines.map((line) => html`<${Line} key=${line.part} line=${line} />`)}</ul>
      <${Points} plain of=${statement.notes.map((note) => t(note))} /></section>
    <${Under} title=${t("Settings")} rows=${settings} of=${(card) => html`<${Setting} key=${card.setting} card=${card} />`} />
    <${Under} title=${t("Torques")} rows=${torques} of=${(group) => html`<${Tightened} key=${group.group} group=${group} />`} />
    ${open.groups.filter((group) => group.count > 0).map((group) => html`<${Under} key=${group.before} title=${beginnings[group.before]} rows=${group.parts} of=${(part) => html`<${StillOpen} key=${part.part} part=${part} />`} />`)}
    ${open.nothing && html`<p>${t(open.nothing)}</p>`}
    ${pictures.length > 0 && html`<section><h2>${t("Pictures")}</h2><ul class="prints">${pictures.map((picture) => html`<li key=${picture.entry}><${Picture} sha256=${picture.sha256} alt=${picture.caption || picture.name} />
      <p><${Name} of=${picture.name} />${picture.caption && html` · <bdi>${picture.caption}</bdi>`}</p><p>${byAndWhen(picture)}</p></li>`)}</ul>${more > 0 && html`<p>${t("{count} more pictures in the log.", { count: more })}</p>`}</section>`}`;
}

function Machine({ whole }) {
  const { machine, weigh_ins: weighings, people } = whole;
  const source = machine?.fields.standard_source?.value;
  const weighed = weighings.filter((each) => each.total).at(-1);
  return html`<section><h2>${t("Machine")}</h2>
    ${machine && html`<p>${machine.standard ? t("{machine}, standard: {mass}.", { machine: machine.name, mass: machine.standard }) : t("{machine}: no standard mass given.", { machine: machine.name })} ${source && t("From: {source}.", { source })}</p>`}
    ${weighed && html`<p>${t("On scales: {total}, {by}.", { total: weighed.total, by: byAndWhen(weighed) })}</p>`}
    ${people.length > 0 && html`<p>${t("Worked on by {people}.", { people })}</p>`}</section>`;
}

function Changed({ part }) {
  const { outcome, outcome_done: done, replacement } = part;
  return html`<li class="whole"><div class="spread"><span><${Name} of=${part.name} /> ${whereabouts(part)}</span><${Mass} shown=${part.change} signed none=${t("not weighed")} /></div>
    <p>${done ? t("{outcome}, done", { outcome: label(outcome) }) : t("{outcome}, planned", { outcome: label(outcome) })}${replacement && ` · ${t("What goes on: {replacement}", { replacement })}`}</p></li>`;
}

function Sums({ sums, whole }) {
  const line = (words, shown, signed) => shown && html`<div class="spread"><dt>${words}</dt><dd><strong>${(signed ? change : figure)(shown)}</strong></dd></div>`;
  return html`<dl class="totals">${line(t("Since it came in"), sums.came_in, true)}${line(t("Against the standard machine"), sums.standard, true)}${line(t("Aim"), whole.aim, false)}</dl>`;
}

/** A line of the mass statement, each figure with its ±. */
function Line({ line }) {
  const figures = [line.off && t("off {mass}", { mass: line.off }), line.on && t("on {mass}", { mass: line.on }), line.standard_change && t("against standard {mass}", { mass: change(line.standard_change) }), ...line.basis.map((each) => label(each))].filter(Boolean);
  return html`<li class="whole"><div class="spread"><span><${Name} of=${line.name} /> ${whereabouts(line)}</span><${Mass} shown=${line.change} signed none=${t("not weighed")} /></div>
    <p>${[line.counted ? t("counted") : t("not counted"), ...figures].join(" · ")}${line.reason && html` · ${t(line.reason)}`}</p></li>`;
}

function Setting({ card }) {
  const now = card.disputed ? t("two answers") : stands(card.now);
  return html`<li class="whole"><div class="spread"><span><${Name} of=${settingName(card)} /> ${whereabouts(card)}</span><strong>${now}</strong></div>
    <p>${[card.nobody_knows ? t("nobody knows how it was found") : t("found: {figure}", { figure: stands(card.found) }), card.why, card.last && byAndWhen(card.last)].filter(Boolean).map(isolated).join(" · ")}</p></li>`;
}

/** A group that was tightened: by the manual, by whom, with what and when, marked, looked at. */
function Tightened({ group }) {
  const { specification: spec, check } = group;
  const from = fromPage(spec);
  const looked = check.last && (check.last.found === "right" ? t("Looked at: {looked_at}", check.last) : t("found not right: {looked_at}", check.last));
  const points = [...group.done.map((each) => [t("{count} × {torque}", { count: each.count, torque: each.shown }), each.tool, verdictWords(each), each.reason && t(each.reason), byAndWhen(each)].filter(Boolean).map(isolated).join(" · ")),
    looked && `${looked} · ${byAndWhen(check.last)}`, check.waived && `${t("No second check, as decided: {why}", check.waived)} · ${byAndWhen(check.waived)}`, check.notice && t(check.notice)].filter(Boolean);
  return html`<li class="whole"><div class="spread"><span><${Name} of=${group.part} /> ${group.side && label(group.side)} · <strong>${groupWords(group.count, group.what)}</strong></span><${Torque} spec=${spec} none=${t("no torque from the manual")} /></div>
    <p>${[t("{on} of {count} on, {tight} tight, {marked} marked.", group), check.wanted && !check.waived && t("Second check: {checked} of {of}", check), from].filter(Boolean).map(isolated).join(" · ")}</p>
    <${Points} plain of=${points} /></li>`;
}

/** What is open of one part, or of the machine as a whole. */
function StillOpen({ part }) {
  const needs = part.needs.map((need) => missing()[need] ?? need);
  const points = [needs.length > 0 && t("The way back: {needs}.", { needs }), ...part.used_again.map((each) => t(each.sentence)), ...part.retorque.map((each) => t(each)), ...part.waits.map((each) => t(each)),
    ...part.cautions.map((caution) => t(caution.sentence)), ...part.items.map((item) => [itemWords(item), planWords(item)].filter(Boolean).map(isolated).join(" · "))].filter(Boolean);
  return html`<li class="whole"><p><${Name} of=${part.part ? part.name : t("The machine as a whole")} /> ${part.part && whereabouts(part)}</p><${Points} plain of=${points} /></li>`;
}
