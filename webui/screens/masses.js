// The mass statement, its three sums, and the whole machine on scales.

import { html } from "../vendor/preact.js";
import { route } from "../addresses.js";
import { label, t } from "../words.js";
import { Figure, Text } from "../pieces/fields.js";
import { Problems, useForm } from "../pieces/form.js";
import { Frame } from "../pieces/frame.js";
import { useActing, useChoices, useView } from "../pieces/live.js";
import { Mass, Outcome, Standing, Sums, byWhom, whereabouts } from "../pieces/show.js";
import { Strike } from "../pieces/strike.js";

export function Masses({ strip }) {
  const whole = useView(strip, "strip");
  const statement = useView(strip, "statement");
  const { data } = statement;
  const choices = useChoices();
  if (!data || !whole.data || !choices) {
    return html`<${Frame} title=${t("Masses")} strip=${strip} here="masses"><${Standing} views=${[whole, statement, { data: choices }]} /><//>`;
  }
  return html`<${Frame} title=${t("Masses")} strip=${strip} of=${whole.data.name} here="masses">
    <${Standing} views=${[whole, statement]} />
    <div class="twofold"><${Sums} sums=${data.sums} aim=${whole.data.aim} running=${whole.data.spell} />
      <${Machine} view=${whole.data} /></div>
    <div class="row"><a class="button grow" href=${route.tally(strip)}>${t("Check a total that somebody wrote")}</a>
      <a class="button grow" href=${route.gear(strip)}>${t("Scales and wrenches")}</a></div>
    <${Statement} strip=${strip} lines=${data.lines} notes=${data.notes} />
    <${WeighIns} strip=${strip} weighIns=${whole.data.weigh_ins} choices=${choices} />
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

function WeighIns({ strip, weighIns, choices }) {
  const acting = useActing();
  const striking = useActing();
  const form = useForm({ front: "", rear: "", unit: "kg", step: "", fuel_litres: "", note: "" }, acting.problems);
  const unit = { unit: form.form.unit, units: choices.mass_units, onUnit: form.bind("unit").onValue };
  async function save(event) {
    event.preventDefault();
    if (await acting.run("weigh_in", { strip, ...form.form })) form.fill({ front: "", rear: "", fuel_litres: "", note: "" });
  }
  return html`<section class="section"><h2>${t("The whole machine on scales")}</h2>
    ${weighIns.length === 0 && html`<p class="quiet">${t("Not weighed yet.")}</p>`}
    <ul class="lines">${weighIns.map((each) => html`<li class="line" key=${each.entry}>
      <div class="spread"><${Mass} shown=${each.total} /><span>${t("{percent} % on the rear wheel", { percent: Number(each.rear_percent) })}</span></div>
      <p>${t("Front {front}, rear {rear}.", { front: each.front, rear: each.rear })} ${each.fuel_litres === null ? t("Fuel not known.") : t("{litres} litres of fuel.", { litres: each.fuel_litres })}</p>
      ${each.note && html`<p>${each.note}</p>`}
      <div class="spread"><span class="quiet">${byWhom(each)}</span><${Strike} strip=${strip} entry=${each.entry} acting=${striking} title=${t("Strike this weighing?")} text=${each.total} /></div></li>`)}</ul>
    <${Problems} problems=${striking.problems} />
    <details class="light" open=${acting.problems.length > 0}><summary>${t("Weigh the whole machine")}</summary>
      <form class="inside" onSubmit=${save}><${Problems} problems=${acting.problems} />
        <div class="pair"><${Figure} ...${form.bind("front")} ...${unit} label=${t("Front wheel")} big /><${Figure} ...${form.bind("rear")} ...${unit} label=${t("Rear wheel")} big /></div>
        <div class="pair"><${Text} ...${form.bind("step")} label=${t("Step of the scale, {unit}", { unit: unit.unit })} figure /><${Text} ...${form.bind("fuel_litres")} label=${t("Fuel in the tank, litres")} figure /></div>
        <${Text} ...${form.bind("note")} label=${t("Note")} hint=${t("What was on it: tools, stand, luggage.")} />
        <button type="submit" disabled=${acting.busy}>${t("Save the weighing")}</button></form></details>
  </section>`;
}
