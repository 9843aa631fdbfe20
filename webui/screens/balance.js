// Where the parts sit, and what that does to the centre of mass and to what each wheel carries.

import { html, useState } from "../vendor/preact.js";
import { route } from "../addresses.js";
import { t, when } from "../words.js";
import { Drafted } from "../pieces/drafted.js";
import { Facts, factsOf } from "../pieces/facts.js";
import { Section, Tiles } from "../pieces/fields.js";
import { stemsLeft } from "../pieces/form_draft.js";
import { Frame } from "../pieces/frame.js";
import { useChoices, useFresh, useView } from "../pieces/live.js";
import { Mass, Standing } from "../pieces/show.js";
import { SideView } from "../pieces/side_view.js";
import { Legend, Places, Placing, spotOf, stemOfPlace } from "./balance_place.js";

export function Balance({ strip }) {
  const whole = useView(strip, "strip");
  const choices = useChoices();
  const [baseline, setBaseline] = useState(null);
  const [state, setState] = useState("as_it_stands");
  const view = useView(strip, "balance", { baseline, state });
  const of = { strip, choices, data: view.data, state, baseline: baseline ?? view.data?.baseline, onBaseline: setBaseline, onState: setState };
  return html`<${Frame} title=${t("Balance")} strip=${strip} of=${whole.data?.name} here="masses">
    <div class="row"><a class="button grow" href=${route.statement(strip)}>${t("Back to the masses")}</a>
      <a class="button grow" href=${route.weighIn(strip)}>${t("The whole machine weighed")}</a></div>
    <${Standing} views=${[whole, view, { data: choices }]} />
    ${view.data && choices && html`<${Known} ...${of} />`}
  <//>`;
}

const baselineWords = (each) => (each.baseline === "standard"
  ? t("The standard machine: {total}", each) : t("Weighed {when}: {total}", { when: when(each.at_ms), total: each.total }));

const never = () => false;

function Known({ strip, choices, data, state, baseline, onBaseline, onState }) {
  const left = useFresh(() => stemsLeft(stemOfPlace(strip)), [strip], never);
  const [chosen, setChosen] = useState(undefined);
  // A part whose place was begun and not saved is at hand again.
  const named = chosen === undefined ? (left.data ?? []).map((stem) => data.parts.find((each) => stemOfPlace(strip, each.part) === stem)) : [];
  const part = data.parts.find((each) => each.part === chosen) ?? named.find(Boolean);
  const spots = data.parts.map(spotOf);
  const placed = spots.some((spot) => spot.along !== null && spot.up !== null);
  const drawing = { drawing: data.drawing, before: data.before?.at ?? null, now: data.now?.at ?? null, spots };
  return html`
    ${part ? html`<${Drafted} key=${part.part} form=${Placing} stem=${stemOfPlace(strip, part.part)} about=${part.name} ...${{ strip, part, data, spots, choices }} onDone=${() => setChosen(null)} />` : html`<section class="stack close">
      <${SideView} ...${drawing} name=${t("Side view of the machine, front to the left. What it shows stands below in words.")} />
      <${Legend} before=${drawing.before?.along != null} now=${drawing.now?.along != null} spots=${placed} />
      ${data.drawing.usual.length > 0 && html`<p class="quiet">${t("Drawn with usual measures where the machine’s own are not known yet.")}</p>`}</section>`}
    <${Missing} strip=${strip} data=${data} />
    <section class="section"><h2>${t("Centre of mass and wheels")}</h2><${Figures} data=${data} />
      ${data.baselines.length > 0 && html`<${Tiles} field="state" id="state" value=${state} onValue=${onState} label=${t("With which fuel")} options=${choices.machine_states} />`}
      ${data.baselines.length > 1 && html`<${Tiles} field="baseline" id="baseline" value=${baseline} onValue=${onBaseline} wide label=${t("Reckoned from")} options=${data.baselines.map((each) => [each.baseline, baselineWords(each)])} />`}
    </section>
    <${Places} parts=${data.parts} onChoose=${setChosen} />
    <${Carried} carried=${data.carried} />
    ${data.machine && html`<${Measures} strip=${strip} machine=${data.machine} choices=${choices} />`}`;
}

/** What is not known, and the way to where it is put right. */
function Missing({ strip, data }) {
  const places = data.parts.filter((part) => part.lacks.length > 0).length;
  if (data.missing.length === 0 && places === 0) return null;
  const way = { weigh_in: [route.weighIn(strip), t("Weigh it")], parts: [route.statement(strip), t("Masses")] };
  return html`<div class="notice"><p><strong>${t("What is not known yet")}</strong></p><ul>
    ${data.missing.map((each) => html`<li key=${each.sentence.text}><p>${t(each.sentence)}</p>${way[each.where] && html`<a class="reach" href=${way[each.where][0]}>${way[each.where][1]}</a>`}
      ${each.where === "machine" && html`<button type="button" class="plain" onClick=${() => toMeasures()}>${t("To the measures")}</button>`}</li>`)}
    ${places > 0 && html`<li>${places === 1 ? t("The mass or the place of one part: it is named below.") : t("Masses or places of {places} parts: they are named below.", { places })}</li>`}</ul></div>`;
}

function toMeasures() {
  const measures = document.getElementById("measures");
  const folded = measures?.querySelector("details");
  if (folded) folded.open = true;
  measures?.scrollIntoView({ block: "start" });
  measures?.querySelector("summary")?.focus({ preventScroll: true });
}

const rows = () => [
  ["mass", t("Mass")], ["along", t("Centre behind the front axle")], ["up", t("Centre above the ground")],
  ["front", t("On the front wheel")], ["rear", t("On the rear wheel")], ["rear_percent", t("Share on the rear wheel")],
];

function Figures({ data }) {
  const { before, now, difference, masses } = data;
  const at = (end, which, name) => end?.[name] ?? (name === "mass" ? masses[which] : null);
  const shown = rows().filter(([name]) => at(before, "before", name) || at(now, "now", name));
  if (shown.length === 0) return html`<p>${t("No figure can be given yet.")}</p>`;
  const cell = (name, each, signed) => html`<td class="number" data-name=${name}>${each ? html`<${Mass} shown=${each} signed=${signed} />` : html`<span class="quiet">${t("not known")}</span>`}</td>`;
  return html`<table class="statement">
    <thead><tr><th scope="col">${t("What")}</th><th scope="col" class="number">${t("Before")}</th><th scope="col" class="number">${t("Now")}</th><th scope="col" class="number">${t("Change")}</th></tr></thead>
    <tbody>${shown.map(([name, words]) => html`<tr key=${name}><th scope="row">${words}</th>
      ${cell(t("Before"), at(before, "before", name))}${cell(t("Now"), at(now, "now", name))}${difference?.[name] ? cell(t("Change"), difference[name], true) : html`<td></td>`}</tr>`)}</tbody></table>
    ${data.height && html`<p class="quiet">${t(data.height)}</p>`}
    <p class="quiet">${t("Before: as it came in, or standard. Now: as the log has it, with what goes back on. Uncertainties are expanded ones, k = 2.")}</p>`;
}

function Carried({ carried }) {
  const line = (words, shown) => html`<div><dt>${words}</dt><dd><${Mass} shown=${shown} signed /></dd></div>`;
  const unsaid = Number(carried.not_said.value) !== 0;
  if (Object.values(carried).every((each) => Number(each.value) === 0)) return null;
  return html`<section class="section"><h2>${t("What the springs carry")}</h2><dl class="sums">
    ${line(t("Sprung mass, change"), carried.sprung)}${line(t("Unsprung mass, change"), carried.unsprung)}
    ${line(t("Of that, turning with a wheel"), carried.rotating)}${unsaid && line(t("Not said what carries it"), carried.not_said)}</dl></section>`;
}

function Measures({ strip, machine, choices }) {
  const facts = factsOf({
    wheelbase_millimetres: { figure: true }, front_axle_millimetres: { figure: true }, rear_axle_millimetres: { figure: true },
    tank_litres: { figure: true }, tank_along_millimetres: { figure: true }, tank_up_millimetres: { figure: true },
    standard_grams: { units: choices.mass_units, usual: "kg" }, standard_state: { options: choices.machine_states }, standard_source: {},
    standard_rear_percent: { figure: true }, standard_up_millimetres: { figure: true },
  });
  return html`<div id="measures"><${Section} title=${t("Measures of the machine")} says=${t("Wheelbase, axles, tank, published figures")}>
    <${Facts} strip=${strip} thing=${machine.id} type="machine" fields=${machine.fields} facts=${facts} /><//></div>`;
}
