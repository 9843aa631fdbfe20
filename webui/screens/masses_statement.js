// The mass statement part by part: each line with why it counts, what it rests on, and what its ± is made of.

import { html, useState } from "../vendor/preact.js";
import { route } from "../addresses.js";
import { figure, isolated, label, t } from "../words.js";
import { Section } from "../pieces/fields.js";
import { useView } from "../pieces/live.js";
import { LongList } from "../pieces/long_list.js";
import { Mass, Outcome, Standing, byWhom, whereabouts } from "../pieces/show.js";

const columns = () => [[t("Part")], [t("Off"), "number"], [t("On"), "number"], [t("Change"), "number"], [t("Against standard"), "number"], [t("Basis")], [t("Counted")]];

export function Statement({ strip, lines, notes }) {
  const table = (rows, whole) => html`<table class="statement" ...${whole}>
    <caption><h2>${t("Part by part")}</h2></caption>
    <thead><tr>${columns().map(([name, kind]) => html`<th scope="col" key=${name} class=${kind}>${name}</th>`)}</tr></thead>
    <tbody>${rows}</tbody></table>`;
  return html`<section class="section">
    ${lines.length === 0 ? html`<p>${t("No parts yet.")}</p>` : html`<${LongList} as="table" rows=${lines} box=${table} of=${(line, place) => html`<${Line} key=${line.part} ...${{ strip, line, place }} />`} />`}
    <ul class="quiet">${notes.map((note) => html`<li key=${note.text}>${t(note)}</li>`)}</ul>
  </section>`;
}

function Line({ strip, line, place }) {
  const below = place["aria-rowindex"] && place["aria-rowindex"] + 1;
  const cell = (name, shown, signed) => html`<td class="number" data-name=${name}>${shown && html`<${Mass} shown=${shown} signed=${signed} />`}</td>`;
  return html`<tr class=${line.counted ? "" : "uncounted"} ...${place}>
    <th scope="row"><a class="reach" href=${route.part(strip, line.part)}>${line.name}</a> <span class="quiet">${whereabouts(line)}</span></th>
    ${cell(t("Off"), line.off)}${cell(t("On"), line.on)}${cell(t("Change"), line.change, true)}${cell(t("Against standard"), line.standard_change, true)}
    <td data-name=${t("Basis")}>${line.basis.map((each) => label(each)).join(", ") || t("none")}</td>
    <td class="wide"><span class=${`mark ${line.counted ? "done" : ""}`}>${line.counted ? t("counted") : t("not counted")}</span> ${line.reason && t(line.reason)}
      ${line.in_spell && html` <span class="quiet">${t("In this spell.")}</span>`} <${Outcome} ...${line} /></td></tr>
    <tr class="beneath" aria-rowindex=${below}><td colspan="7" class="wide"><${Beneath} ...${{ strip, line }} /></td></tr>`;
}

/** Folded under its line: why it counts or not, the looks it rests on, and the causes of its uncertainty. */
function Beneath({ strip, line }) {
  const [opened, setOpened] = useState(false);
  const title = html`<span class="hidden">${line.name}: </span>${line.counted ? t("Why it counts, and how well it is known") : t("Why it does not count, and how well it is known")}`;
  return html`<${Section} light title=${title} onOpen=${() => setOpened(true)}>
    <ul class="pointless">${[...line.why, ...line.notes].map((each) => html`<li key=${each.text}>${t(each)}</li>`)}</ul>
    ${opened && html`<${MadeOf} strip=${strip} of=${{ part: line.part }} none=${t("No mass, so nothing to be uncertain by.")} />`}<//>`;
}

const sumNames = () => ({ spell: t("In the spell"), came_in: t("Since it came in"), standard: t("Against the standard machine") });

/** What each of the sums is uncertain by; what one scale weighed is shared and adds up. */
export function SumsMadeOf({ strip, sums }) {
  const [opened, setOpened] = useState(false);
  const names = sumNames();
  return html`<${Section} light title=${t("What the ± of these sums is made of")} onOpen=${() => setOpened(true)}>
    ${opened && Object.keys(names).filter((name) => sums[name]).map((name) => html`<section class="stack close" key=${name}><h2>${names[name]}</h2>
      <${MadeOf} strip=${strip} of=${{ sum: name }} none=${t("Nothing counts here yet.")} /></section>`)}<//>`;
}

function MadeOf({ strip, of, none }) {
  const view = useView(strip, "made_of", of);
  if (!view.data) return html`<${Standing} views=${[view]} />`;
  const { causes, few, readings } = view.data;
  return html`${readings.length > 0 && html`<div><h3>${t("Rests on")}</h3><ul class="pointless">${readings.map((each) => html`<li key=${each.entry}><${Look} reading=${each} /></li>`)}</ul></div>`}
    ${causes.length === 0 ? html`<p class="quiet">${none}</p>` : html`<div>${of.part && html`<h3>${t("Its ± is made of")}</h3>`}
      <ul class="causes">${causes.map((each) => html`<li key=${t(each.what)}><span>${t(each.what)}</span> <strong class="number">${t("±\u00a0{mass}", { mass: each.plus_minus })}</strong>
        <span class="number quiet">${t("{percent}\u00a0%", each)}</span><${Share} percent=${each.percent} /></li>`)}</ul></div>`}
    ${few && html`<p class="quiet">${t(few)}</p>`}`;
}

/** One look at a scale, or another source, in a line. */
function Look({ reading }) {
  const from = [label(reading.weighed_as), label(reading.basis), reading.fluid && label(reading.fluid), ...[reading.scale, reading.source].map((each) => each && isolated(each))].filter(Boolean).map(isolated).join(" · ");
  return html`<span class="figure">${figure(reading.shown)}</span> <span class="quiet">${from} · ${byWhom(reading)}</span>`;
}

const Share = ({ percent }) => html`<svg class="share" viewBox="0 0 100 4" preserveAspectRatio="none" aria-hidden="true"><rect width="100" height="4" class="all" /><rect width=${Math.max(1, percent)} height="4" /></svg>`;
