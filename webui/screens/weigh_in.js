// The whole machine on scales: writing a weighing down, and what it says against what the log predicts.

import { html, useRef, useState } from "../vendor/preact.js";
import { route } from "../addresses.js";
import { label, t, usualUnits, when } from "../words.js";
import { Drafted, HereAgain, useDrafted } from "../pieces/drafted.js";
import { Figure, Measure, Section, Text, word } from "../pieces/fields.js";
import { Problems } from "../pieces/form.js";
import { Frame } from "../pieces/frame.js";
import { HowTo } from "../pieces/how_to.js";
import { useActing, useChoices, useView } from "../pieces/live.js";
import { Questions, useTyped } from "../pieces/questions.js";
import { withUnit } from "../pieces/read_back.js";
import { Mass, Standing, byWhom } from "../pieces/show.js";
import { ScaleTiles } from "../pieces/scale_fields.js";
import { Strike } from "../pieces/strike.js";

export function WeighIn({ strip }) {
  const whole = useView(strip, "strip");
  const view = useView(strip, "weigh_in");
  const choices = useChoices();
  return html`<${Frame} title=${t("The whole machine weighed")} strip=${strip} of=${whole.data?.name} here="masses">
    <div class="row"><a class="button grow" href=${route.statement(strip)}>${t("Back to the masses")}</a>
      <a class="button grow" href=${route.balance(strip)}>${t("Balance")}</a></div>
    <${Standing} views=${[whole, view, { data: choices }]} />
    ${view.data && choices && html`<${Drafted} form=${Write} stem=${`weigh_in/${strip}`} strip=${strip} data=${view.data} choices=${choices} /><${Weighings} strip=${strip} data=${view.data} />`}
  <//>`;
}

const empty = () => ({
  front: "", rear: "", fuel_litres: "", plus_minus_litres: "", rider: "", front_higher: "", rear_raised: "", note: "", right: "",
});
const FOLDED = { scales: ["front_scale", "rear_scale", "step"], stood: ["rider", "front_higher", "note"], lift: ["rear_raised"] };

function Write({ strip, data, choices, begun }) {
  const acting = useActing();
  const form = useDrafted(begun, { ...empty(), unit: usualUnits().heavy, step: "", front_scale: null, rear_scale: null }, acting);
  const { bind, back, afresh } = form;
  const { front, rear, rider, rear_raised: raised, step, right } = form.form;
  // The step was of that scale, whatever unit the next figure is in. What was said to be so was said of the figures as they stood.
  const onUnit = (next) => form.fill({ unit: next, step: withUnit(step, form.form.unit), right: "" });
  const unit = { unit: form.form.unit, units: choices.mass_units, onUnit };
  const typed = (name) => ({ ...bind(name), ...unit, onValue: (next) => form.fill({ [name]: next, right: "" }) });
  const asked = useTyped(strip, "slips", front || rear ? { front, rear, rider, rear_raised: raised, unit: unit.unit, right } : null, []);
  const figures = useRef(null);
  // The button that was tapped goes with its question.
  const onAnswer = (values) => { form.fill(values); figures.current.focus(); };
  const questions = (...fields) => html`<${Questions} ...${{ asked, fields, right, onAnswer }} />`;
  // What is here again is in sight.
  const open = (fields) => acting.problems.some((problem) => fields.includes(problem.field)) || fields.some((field) => begun.draft?.value[field]);
  const { scales } = data;
  async function save(event) {
    event.preventDefault();
    if (await form.act("weigh_in", { strip, ...form.latest.current })) form.begin({ ...form.latest.current, ...empty() });
  }
  return html`<section class="section"><h2>${t("Weigh the whole machine")}</h2>
    <p class="notice">${t("Have somebody hold the machine upright, on firm ground, while one wheel after the other stands on a scale and the other on something as high.")}</p>
    <form class="stack" onSubmit=${save} novalidate>
      <${HereAgain} back=${back} words=${(gaps) => t("Your unfinished weighing is here again, from {when}.", gaps)} onAfresh=${afresh} /><${Problems} problems=${acting.problems} />
      <div class="stack close" tabindex="-1" role="group" aria-label=${t("What the scales show")} ref=${figures}>
        <div class="pair"><${Figure} ...${typed("front")} label=${t("Under the front wheel")} big /><${Figure} ...${typed("rear")} label=${t("Under the rear wheel")} big /></div>${questions("front", "rear")}<div class="row how-tos"><${HowTo} card="scale" /><${HowTo} card="heavy" /></div></div>
      <div class="pair"><${Text} ...${bind("fuel_litres")} label=${t("Fuel in the tank, litres")} figure />
        <${Text} ...${bind("plus_minus_litres")} label=${t("Give or take, litres")} figure /></div>
      <p class="quiet">${t("Without the fuel there is nothing to compare with. Give or take left out: {fuel_by_eye}\u00a0l, as well as an eye does.", data)}</p>
      <${Section} light title=${t("Which scale, its step")} open=${open(FOLDED.scales)}>
        ${(scales.length > 0 || [form.form, begun.draft?.value].some((each) => each?.front_scale || each?.rear_scale)) && html`<${ScaleTiles} ...${bind("front_scale")} scales=${scales} label=${t("Scale under the front wheel")} />
        <${ScaleTiles} ...${bind("rear_scale")} scales=${scales} label=${t("Scale under the rear wheel")} />`}
        <${Measure} ...${bind("step")} unit=${unit.unit} label=${t("Step of the scale, {unit}", { unit: label(unit.unit) })} hint=${t("Left out: the last digit typed, or the step on the card.")} /><//>
      <${Section} light title=${t("Rider, level, note")} open=${open(FOLDED.stood)}>
        <${Figure} ...${typed("rider")} label=${t("Rider on it, with clothes and helmet")} hint=${t("Taken off the total. Left out: no rider.")} />${questions("rider")}
        <${Text} ...${bind("front_higher")} label=${t("Front wheel stood higher by, mm")} hint=${t("0 where it was measured level; with a minus where the rear stood higher. Left out: level within 10 mm.")} figure />
        <${Text} ...${bind("note")} label=${t("Note")} hint=${t("What was on it: tools, stand, luggage.")} lines /><//>
      <${Section} light title=${t("Lift test, for the height of the centre of mass")} open=${open(FOLDED.lift)}>
        <p class="notice">${t("A machine with its rear on high wants to roll and to fall. Chock the front wheel, block the fork and the suspension, strap it on both sides, and never stand where it would fall.")}</p>
        <${Text} ...${bind("rear_raised")} label=${t("Rear axle raised by, mm")} hint=${t("Only the front is weighed then. It goes with a weighing of both wheels, same fuel, same parts on.")} figure /><//>
      <button type="submit" class="main" disabled=${acting.busy}>${t("Save the weighing")}</button></form></section>`;
}

function Weighings({ strip, data }) {
  const striking = useActing();
  const [newest, ...earlier] = data.weighings;
  const of = { strip, striking };
  return html`<section class="section"><h2>${t("Weighings")}</h2><${Problems} problems=${striking.problems} />
    ${!newest && html`<p class="quiet">${t("Not weighed yet.")}</p>`}
    ${newest && html`<${Weighing} key=${newest.entry} each=${newest} ...${of} />`}
    ${earlier.length > 0 && html`<${Section} light title=${t("Earlier weighings")} says=${t("{count} of them", { count: earlier.length })}>
      ${earlier.map((each) => html`<${Weighing} key=${each.entry} each=${each} ...${of} />`)}<//>`}
  </section>`;
}

function Weighing({ strip, each, striking }) {
  return html`<article class="block" aria-label=${each.raised ? t("Lift test, {when}", { when: when(each.at_ms) }) : t("Weighing, {when}", { when: when(each.at_ms) })}>
    <div><h3>${each.raised ? t("Lift test, {when}", { when: when(each.at_ms) }) : t("Weighing, {when}", { when: when(each.at_ms) })}</h3>
      <p class="quiet">${each.rear ? t("Front {front}, rear {rear}.", each) : t("Front {front}.", each)}
        ${" "}${each.fuel ? t("Fuel {fuel}.", each) : t("Fuel not known.")} ${each.rider && t("Rider {rider}, taken off the total.", each)}
        ${each.scales.length > 0 && ` ${t("Weighed on: {scales}.", each)}`}</p></div>
    ${each.states.length > 0 && html`<dl class="sums">${each.states.map((one) => html`<div key=${one.state}><dt>${word(one.state)}</dt>
      <dd>${one.total ? html`<${Mass} shown=${one.total} />` : html`<span class="quiet">${t(one.why)}</span>`}</dd></div>`)}</dl>`}
    ${each.level && html`<${Level} level=${each.level} />`}
    ${each.lift && html`<${Lift} lift=${each.lift} />`}
    ${each.predictions ? each.predictions.map((found) => html`<${Predicted} key=${found.source} strip=${strip} found=${found} />`) : html`<${Later} strip=${strip} entry=${each.entry} />`}
    ${each.note && html`<p>${each.note}</p>`}
    <div class="spread"><span class="quiet">${byWhom(each)}</span>
      <${Strike} strip=${strip} entry=${each.entry} acting=${striking} title=${t("Strike this weighing?")} text=${each.total ?? each.front} /></div>
  </article>`;
}

function Level({ level }) {
  return html`<div class="stack close">${level.front && html`<h4>${level.rider ? t("On level ground, with the rider") : t("On level ground")}</h4><dl class="sums">
      <div><dt>${t("Front wheel")}</dt><dd><${Mass} shown=${level.front} /></dd></div><div><dt>${t("Rear wheel")}</dt><dd><${Mass} shown=${level.rear} /></dd></div>
      <div><dt>${t("Share on the rear wheel")}</dt><dd><${Mass} shown=${level.rear_percent} /></dd></div></dl>`}
    <p class="quiet">${t(level.says)}</p></div>`;
}

function Lift({ lift }) {
  return html`<div class="stack close"><p>${t("Rear axle raised by {raised}.", lift)}</p>
    ${lift.above_axles && html`<dl class="sums"><div><dt>${t("Centre above the axles")}</dt><dd><${Mass} shown=${lift.above_axles} /></dd></div>
      ${lift.up && html`<div><dt>${t("Centre above the ground")}</dt><dd><${Mass} shown=${lift.up} /></dd></div>`}</dl>`}
    ${lift.missing.length > 0 && html`<ul class="pointed">${lift.missing.map((each) => html`<li key=${each.text}>${t(each)}</li>`)}</ul>`}</div>`;
}

/** An earlier weighing is held against the log when somebody asks. */
function Later({ strip, entry }) {
  const [asked, setAsked] = useState(false);
  return html`<${Section} light title=${t("Against what the log predicts")} onOpen=${() => setAsked(true)}>${asked && html`<${Compared} strip=${strip} entry=${entry} />`}<//>`;
}

function Compared({ strip, entry }) {
  const view = useView(strip, "weigh_in", { compared: entry });
  const found = view.data?.weighings.find((each) => each.entry === entry)?.predictions ?? [];
  return html`<${Standing} views=${[view]} />${found.map((each) => html`<${Predicted} key=${each.source} strip=${strip} found=${each} />`)}`;
}

/** What the log says it should weigh, beside what it weighs. */
function Predicted({ strip, found }) {
  const { agreement: judged } = found;
  const title = found.source === "standard" ? t("Against the standard machine") : t("Against the weighing of {when}", { when: when(found.at_ms) });
  if (!judged) {
    return html`<${Section} light title=${title} says=${t("Cannot be compared yet")}><p>${t("To compare, this is missing:")}</p>
      <ul class="pointed">${found.missing.map((each, index) => html`<li key=${index}>${each.part ? html`<a class="reach" href=${route.part(strip, each.part)}>${t(each.sentence)}</a>` : t(each.sentence)}
        ${each.where === "machine" && html`<a class="reach" href=${route.balance(strip)}>${t("Measures of the machine")}</a>`}</li>`)}</ul><//>`;
  }
  return html`<div class="stack close"><h4>${title}</h4>
    <dl class="sums"><div><dt>${t("By the log it should weigh")}</dt><dd><${Mass} shown=${found.expected} /></dd></div>
      <div><dt>${t("Weighed, more or less than that")}</dt><dd><${Mass} shown=${judged.difference} signed /></dd></div></dl>
    <div class=${`notice ${judged.agrees ? "good" : ""}`}><p><span class=${`mark ${judged.agrees ? "done" : "bad"}`}>${t("En = {number}", { number: Number(judged.number) })}</span></p>
      <p><strong>${t(judged.says)}</strong></p>${judged.told.map((each) => html`<p key=${each.text}>${t(each)}</p>`)}
      <p class="quiet">${t("En is the difference over its expanded uncertainty: up to 1 the two agree.")}</p></div>
    ${judged.things.length > 0 && html`<${Section} light open=${!judged.agrees} title=${t("If one thing were forgotten")} says=${t("What would be left of the difference")}>
      <ul class="lines">${judged.things.map((thing, index) => html`<li class="line" key=${index}><${Thing} strip=${strip} thing=${thing} /></li>`)}</ul><//>`}</div>`;
}

function Thing({ strip, thing }) {
  const name = typeof thing.name === "string" ? thing.name || t("Part without a name") : t(thing.name);
  const inside = html`<span class="name">${name}</span> ${thing.side && html`<span class="quiet">${label(thing.side)}</span>`}`;
  return html`${thing.part ? html`<a class="reach" href=${route.part(strip, thing.part)}>${inside}</a>` : html`<p>${inside}</p>`}
    <p>${t(thing.what)}</p>
    <div class="spread"><span class=${`mark ${thing.agrees ? "done" : ""}`}>${thing.agrees ? t("would explain it") : t("would not explain it")}</span>
      <span>${t("left: {left}", thing)}</span></div>`;
}
