// The mass statement, its three sums, and the whole machine on scales.

import { html } from "../vendor/preact.js";
import { route } from "../addresses.js";
import { label, t, when } from "../words.js";
import { Frame } from "../pieces/frame.js";
import { useView } from "../pieces/live.js";
import { Mass, Outcome, Standing, Sums, whereabouts } from "../pieces/show.js";

export function Masses({ strip }) {
  const whole = useView(strip, "strip");
  const statement = useView(strip, "statement");
  const { data } = statement;
  if (!data || !whole.data) {
    return html`<${Frame} title=${t("Masses")} strip=${strip} here="masses"><${Standing} views=${[whole, statement]} /><//>`;
  }
  return html`<${Frame} title=${t("Masses")} strip=${strip} of=${whole.data.name} here="masses">
    <${Standing} views=${[whole, statement]} />
    <div class="twofold"><${Sums} sums=${data.sums} aim=${whole.data.aim} running=${whole.data.spell} />
      <${Machine} view=${whole.data} /></div>
    <${WeighIns} weighIns=${whole.data.weigh_ins} />
    <div class="row"><a class="button grow" href=${route.weighIn(strip)}>${t("The whole machine weighed")}</a>
      <a class="button grow" href=${route.balance(strip)}>${t("Balance")}</a></div>
    <div class="row"><a class="button grow" href=${route.tally(strip)}>${t("Check a total that somebody wrote")}</a>
      <a class="button grow" href=${route.gear(strip)}>${t("Scales and wrenches")}</a></div>
    <${Statement} strip=${strip} lines=${data.lines} notes=${data.notes} />
  <//>`;
}

function Machine({ view: { machine } }) {
  if (!machine) return null;
  const source = machine.fields.standard_source?.value;
  return html`<p class="quiet">${machine.standard ? t("{machine}, standard: {mass}.", { machine: machine.name, mass: machine.standard }) : t("{machine}: no standard mass given.", { machine: machine.name })} ${source && t("From: {source}.", { source })}</p>`;
}

function Statement({ strip, lines, notes }) {
  const cell = (name, shown, signed) => html`<td class="number" data-name=${name}>${shown && html`<${Mass} shown=${shown} signed=${signed} />`}</td>`;
  return html`<section class="section">
    ${lines.length === 0 ? html`<p>${t("No parts yet.")}</p>` : html`<table class="statement">
    <caption><h2>${t("Part by part")}</h2></caption>
    <thead><tr><th scope="col">${t("Part")}</th><th scope="col" class="number">${t("Off")}</th><th scope="col" class="number">${t("On")}</th>
      <th scope="col" class="number">${t("Change")}</th><th scope="col" class="number">${t("Against standard")}</th><th scope="col">${t("Basis")}</th><th scope="col">${t("Counted")}</th></tr></thead>
    <tbody>${lines.map((line) => html`<tr key=${line.part} class=${line.counted ? "" : "uncounted"}>
      <th scope="row"><a href=${route.part(strip, line.part)}>${line.name}</a> <span class="quiet">${whereabouts(line)}</span></th>
      ${cell(t("Off"), line.off)}${cell(t("On"), line.on)}${cell(t("Change"), line.change, true)}${cell(t("Against standard"), line.standard_change, true)}
      <td data-name=${t("Basis")}>${line.basis.map(label).join(", ") || t("none")}</td>
      <td class="wide"><span class=${`mark ${line.counted ? "done" : ""}`}>${line.counted ? t("counted") : t("not counted")}</span> ${line.reason && t(line.reason)}
        ${line.in_spell && html` <span class="quiet">${t("In this spell.")}</span>`} <${Outcome} ...${line} /></td></tr>`)}</tbody></table>`}
    <ul class="quiet">${notes.map((note) => html`<li key=${note.text}>${t(note)}</li>`)}</ul>
  </section>`;
}

/** The whole machine on scales, in a line; it has a screen of its own. */
function WeighIns({ weighIns }) {
  const newest = weighIns.at(-1);
  if (!newest) return html`<p class="quiet">${t("The whole machine: not weighed yet.")}</p>`;
  return html`<p class="spread"><span>${newest.total ? t("The whole machine, weighed {when}", { when: when(newest.at_ms) }) : t("Lift test, {when}", { when: when(newest.at_ms) })}</span>${newest.total && html`<${Mass} shown=${newest.total} />`}</p>`;
}
