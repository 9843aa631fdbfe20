// The scales of a strip-down: what each can weigh and how well, and its checks against a known mass.

import { html, useState } from "../vendor/preact.js";
import { figure, label, t, usualUnits } from "../words.js";
import { Drafted, HereAgain, useDrafted } from "../pieces/drafted.js";
import { Facts, factsOf } from "../pieces/facts.js";
import { Figure, Measure, Section, Text, Tiles, word } from "../pieces/fields.js";
import { Problems } from "../pieces/form.js";
import { useActing, useChoices, useView } from "../pieces/live.js";
import { withUnit } from "../pieces/read_back.js";
import { Mass, Standing, byWhom } from "../pieces/show.js";
import { inShort } from "../pieces/scale_fields.js";
import { Strike } from "../pieces/strike.js";

export function Scales({ strip }) {
  // Once for the life of the screen: how old a calibration is does not change while it is looked at.
  const [now] = useState(() => Date.now());
  const gear = useView(strip, "gear", { now_ms: now });
  const choices = useChoices();
  if (!gear.data || !choices) return html`<${Standing} views=${[gear, { data: choices }]} />`;
  const { scales, against } = gear.data;
  const of = { strip, choices, against };
  return html`<section class="section">
    <h2>${t("Scales")}</h2>
    <${Standing} views=${[gear]} />
    <p class="quiet">${t("With its card, a scale gives each reading its step, and what it shows too much or too little is counted once for all that it weighed: it adds up, it does not average out.")}</p>
    ${scales.length === 0 && html`<p>${t("No scale has a card yet.")}</p>`}
    <div class="stack">${scales.map((card) => html`<${Scale} key=${card.scale} card=${card} ...${of} />`)}</div>
    <${Drafted} form=${AddScale} stem=${`scale/${strip}`} ...${of} first=${scales.length === 0} />
  </section>`;
}

function facts(choices) {
  const mass = { units: choices.mass_units, usual: "g" };
  return factsOf({
    name: {}, step_grams: mass, capacity_grams: { ...mass, usual: "kg" }, gain_percent: { figure: true }, zero_grams: mass,
    calibrated_on: { date: true }, certificate: {}, note: { lines: true }, put_away: { options: [[true, t("Yes")], [false, t("No")]] },
  });
}

function Scale({ strip, card, choices, against }) {
  const striking = useActing();
  const checks = card.checks.map((check) => html`<${Check} key=${check.entry} ...${{ strip, check, striking }} />`);
  return html`<article class="block" aria-label=${card.name}>
    <div><h3>${card.name}</h3><p>${inShort(card)}</p>
      <p class="quiet">${card.readings === 0 ? t("Nothing weighed on it yet.") : t("Readings on it: {readings}.", card)} ${card.months !== null && !card.overdue && t("Calibrated {months} months ago.", card)}</p>
      ${card.put_away && html`<p class="mark">${t("put away")}</p>`}</div>
    ${card.notices.length > 0 && html`<ul class="pointed">${card.notices.map((notice) => html`<li key=${notice.text}>${t(notice)}</li>`)}</ul>`}
    ${card.checks.length > 0 && html`<div><h4>${t("Last check")}</h4><${Problems} problems=${striking.problems} />
      <ul class="lines">${checks.slice(0, 1)}</ul>
      ${checks.length > 1 && html`<${Section} light title=${t("Earlier checks")} says=${t("{count} of them", { count: checks.length - 1 })}><ul class="lines">${checks.slice(1)}</ul><//>`}</div>`}
    <${Drafted} form=${AddCheck} stem=${`scale_check/${strip}/${card.scale}`} about=${card.name} ...${{ strip, card, choices, against }} />
    <${Section} light title=${t("Its card")} says=${t("to look at and to change")}>
      ${card.hint && html`<p class="quiet">${t(card.hint)}</p>`}
      <${Facts} strip=${strip} thing=${card.scale} type="scale" fields=${card.fields} facts=${facts(choices)} /><//>
  </article>`;
}

const verdicts = () => ({ covered: ["done", t("covered")], agrees: ["wait", t("agrees, as far as it can tell")], off: ["bad", t("off")] });

function Check({ strip, check, striking }) {
  const [mark, verdict] = verdicts()[check.verdict];
  return html`<li class="line">
    <div class="spread"><span class=${`mark ${mark}`}>${verdict}</span><${Mass} shown=${check.deviation} signed /></div>
    <p>${t("{against}: {shown} shown for {known}.", { ...check, against: word(check.against) })} ${check.known_plus_minus && t("Known within {known_plus_minus}.", check)}</p>
    <p>${t(check.says)}</p>
    <p class="quiet">${t(check.calibration)} ${check.light && t(check.light)}</p>
    ${check.note && html`<p>${check.note}</p>`}
    <div class="spread"><span class="quiet">${byWhom(check)}</span>
      <${Strike} strip=${strip} entry=${check.entry} acting=${striking} title=${t("Strike this check?")} text=${figure(check.shown)} /></div></li>`;
}

const emptyCheck = () => ({ against: "reference_weight", known: "", known_plus_minus: "", figure: "", note: "" });

function AddCheck({ strip, card, choices, against, begun }) {
  const acting = useActing();
  const form = useDrafted(begun, { ...emptyCheck(), unit: usualUnits().part }, acting);
  const { bind, back, afresh } = form;
  // Another unit for what it weighs and shows leaves how well that is known as it was typed.
  const onUnit = (next) => form.fill({ unit: next, known_plus_minus: withUnit(form.form.known_plus_minus, form.form.unit) });
  const unit = { unit: form.form.unit, units: choices.mass_units, onUnit };
  async function save(event) {
    event.preventDefault();
    const done = await form.act("check_scale", { strip, scale_id: card.scale, ...form.latest.current });
    if (done) form.begin({ ...form.latest.current, ...emptyCheck() });
  }
  return html`<${Section} light title=${t("Check it against a known mass")} open=${acting.problems.length > 0 || Boolean(begun.draft)}>
    <form class="stack" onSubmit=${save} novalidate>
      <${HereAgain} back=${back} words=${(gaps) => t("Your unfinished check is here again, from {when}.", gaps)} onAfresh=${afresh} /><${Problems} problems=${acting.problems} />
      <${Tiles} ...${bind("against")} label=${t("Against what")} options=${choices.against} />
      <p class="notice">${t(against[form.form.against])}</p>
      <${Figure} ...${bind("known")} ...${unit} label=${t("What it weighs")} />
      <${Measure} ...${bind("known_plus_minus")} unit=${unit.unit} label=${t("Known within, {unit}", { unit: label(unit.unit) })}
        hint=${form.form.against === "better_scale" ? t("That scale’s step, or more.") : t("Left out: what such a thing is usually good for.")} />
      <${Figure} ...${bind("figure")} ...${unit} label=${t("What this scale shows")} big />
      <${Text} ...${bind("note")} label=${t("Note")} />
      <button type="submit" disabled=${acting.busy}>${t("Save the check")}</button></form>
  <//>`;
}

const emptyScale = () => ({ name: "", step: "", capacity: "", gain_percent: "", zero: "", calibrated_on: "", certificate: "", note: "" });

function AddScale({ strip, choices, first, begun }) {
  const acting = useActing();
  const form = useDrafted(begun, { ...emptyScale(), unit: usualUnits().light, capacity_unit: usualUnits().heavy }, acting);
  const { bind, back, afresh } = form;
  // Another unit for the step leaves the zero as it was typed.
  const onUnit = (next) => form.fill({ unit: next, zero: withUnit(form.form.zero, form.form.unit) });
  const unit = (name) => ({ unit: form.form[name], units: choices.mass_units, onUnit: name === "unit" ? onUnit : bind(name).onValue });
  async function save(event) {
    event.preventDefault();
    if (await form.act("add_scale", { strip, ...form.latest.current })) form.begin({ ...form.latest.current, ...emptyScale() });
  }
  return html`<${Section} title=${t("Add a scale")} open=${first || acting.problems.length > 0 || Boolean(begun.draft)}>
    <form class="stack" onSubmit=${save} novalidate>
      <${HereAgain} back=${back} words=${(gaps) => t("Your unfinished scale is here again, from {when}.", gaps)} onAfresh=${afresh} /><${Problems} problems=${acting.problems} />
      <${Text} ...${bind("name")} label=${t("Name of the scale")} hint=${t("As it is called here, so that everybody takes the same one.")} big />
      <${Figure} ...${bind("step")} ...${unit("unit")} label=${t("Step of the scale")} hint=${t("The smallest change that it shows.")} />
      <${Figure} ...${bind("capacity")} ...${unit("capacity_unit")} label=${t("Most it can weigh")} hint=${t("On its plate: Max.")} />
      <${Text} ...${bind("gain_percent")} label=${t("Gain error, %")} figure hint=${t("The most by which it may show too much or too little, of what lies on it. Left out: none is counted.")} />
      <${Measure} ...${bind("zero")} unit=${form.form.unit} label=${t("Zero, give or take, {unit}", { unit: label(form.form.unit) })} hint=${t("How far from nothing it may stand when empty.")} />
      <${Text} ...${bind("calibrated_on")} label=${t("Calibrated on")} type="date" />
      <${Text} ...${bind("certificate")} label=${t("Certificate")} />
      <${Text} ...${bind("note")} label=${t("Note")} lines />
      <button type="submit" disabled=${acting.busy}>${t("Save the scale")}</button></form>
  <//>`;
}
