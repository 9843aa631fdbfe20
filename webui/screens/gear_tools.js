// The torque wrenches of a strip-down: what each can, how well, and what it tightened lately.

import { html } from "../vendor/preact.js";
import { route } from "../addresses.js";
import { dayOf, isolated, label, t, usualUnits } from "../words.js";
import { Drafted, HereAgain, useDrafted } from "../pieces/drafted.js";
import { Facts, factsOf } from "../pieces/facts.js";
import { Figure, Pick, Section, Text, word } from "../pieces/fields.js";
import { Problems } from "../pieces/form.js";
import { useActing } from "../pieces/live.js";
import { Mass, byWhom, groupWords } from "../pieces/show.js";
import { VERDICT_MARKS, verdictWords } from "../pieces/verdict.js";
import { rangeWords } from "../pieces/wrench.js";

/** @param {{strip: string, tools: object[], choices: object}} props cards as the core gives them */
export function Tools({ strip, tools, choices }) {
  const first = tools.length === 0;
  return html`<section class="section">
    <h2>${t("Torque wrenches")}</h2>
    <p class="quiet">${t("With its card, a wrench is asked about where a torque lies outside its range or its calibration is out of date, and what it may be off by is counted.")}</p>
    ${first && html`<p>${t("No wrench has a card yet.")}</p>`}
    <div class="stack">${tools.map((card) => html`<${Tool} key=${card.tool} ...${{ strip, card, choices }} />`)}</div>
    <${Drafted} key=${first} form=${AddTool} stem=${`tool/${strip}`} ...${{ strip, choices, first }} />
  </section>`;
}

/** How old a calibration is. @param {{months: number}} card */
export function age({ months }) {
  if (months === 0) return t("Calibrated less than a month ago");
  return months === 1 ? t("Calibrated a month ago") : t("Calibrated {months} months ago", { months });
}

/** What a wrench's card says beside its range, in one line. */
const beside = (card) => [
  card.tool_type && label(card.tool_type, "tool_type"), card.step && t("step {step}", card),
  card.lever_millimetres && t("{lever_millimetres} mm from grip to square", card),
].filter(Boolean).map(isolated).join(" · ");

/** The kinds of wrench, with their words: a bar is a unit elsewhere. */
const kinds = (choices) => choices.tool_types.map((kind) => [kind, word(kind, "tool_type")]);

function facts(choices) {
  const torque = { units: choices.torque_units };
  return factsOf({
    name: {}, tool_type: { options: kinds(choices) }, low_newton_metres: torque, high_newton_metres: torque, step_newton_metres: torque,
    deviation_percent: { figure: true }, lever_millimetres: { figure: true }, calibrated_on: { date: true }, certificate: {},
    note: { lines: true }, put_away: { options: [[true, t("Yes")], [false, t("No")]] },
  });
}

function Tool({ strip, card, choices }) {
  const acting = useActing();
  const put = (away) => acting.run("change", { strip, thing: card.tool, type: "tool", values: { put_away: away } });
  const note = card.fields.note?.value;
  return html`<article class="block" aria-label=${card.name}>
    <div><h3>${card.name}</h3>
      ${rangeWords(card) && html`<p class="figure big">${rangeWords(card)}</p>`}
      <p>${beside(card)}</p>
      <p class="quiet">${t(card.deviation)}</p></div>
    ${card.months !== null && html`<div><p class=${`mark ${card.overdue ? "wait" : "done"}`}>${age(card)}</p>
      <p class="quiet">${[card.calibrated_on && dayOf(card.calibrated_on), card.certificate && t("certificate {certificate}", card)].filter(Boolean).map(isolated).join(" · ")}</p></div>`}
    ${card.put_away && html`<p class="mark">${t("put away")}</p>`}
    ${card.notices.length > 0 && html`<ul class="pointed">${card.notices.map((notice) => html`<li key=${notice.text}>${t(notice)}</li>`)}</ul>`}
    ${note && html`<p>${note}</p>`}
    <${Lately} strip=${strip} card=${card} />
    <div><${Problems} problems=${acting.problems} />
      <button type="button" disabled=${acting.busy} onClick=${() => put(!card.put_away)}>${card.put_away ? t("Take it out again") : t("Put it away")}</button></div>
    <${Section} light title=${t("Its card")} says=${t("to look at and to change")}>
      <${Facts} strip=${strip} thing=${card.tool} type="tool" fields=${card.fields} facts=${facts(choices)} /><//>
  </article>`;
}

/** What a wrench tightened: the last in sight, those before it folded. */
function Lately({ strip, card }) {
  if (card.lately.length === 0) return html`<p class="quiet">${t("Nothing tightened with it yet.")}</p>`;
  const [last, ...before] = card.lately.map((use) => html`<${Use} key=${use.entry} strip=${strip} use=${use} />`);
  return html`<div><div class="spread"><h4>${t("Tightened last")}</h4>${card.calibrated_on && html`<span class="quiet">${card.cycles === 1 ? t("one fastener in this strip-down since its calibration") : t("{cycles} fasteners in this strip-down since its calibration", card)}</span>`}</div><ul class="lines">${last}</ul>
    ${before.length > 0 && html`<${Section} light title=${t("Before that")} says=${t("{count} of them", { count: before.length })}><ul class="lines">${before}</ul><//>`}</div>`;
}

function Use({ strip, use }) {
  return html`<li class="line">
    <div class="spread"><span>${groupWords(use.count, use.what)}</span><${Mass} shown=${use.shown} /></div>
    ${use.part && html`<a class="reach" href=${route.part(strip, use.part)}>${use.part_name || t("Part without a name")}</a>`}
    <p class=${`mark ${VERDICT_MARKS[use.judged]}`}>${verdictWords(use)}</p>
    ${use.reason && html`<p>${t(use.reason)}</p>`}
    <p class="quiet">${byWhom(use)}</p></li>`;
}

const emptyTool = () => ({ name: "", tool_type: null, low: "", high: "", step: "", deviation: "", lever: "", calibrated_on: "", certificate: "", note: "" });

function AddTool({ strip, choices, first, begun }) {
  const acting = useActing();
  const form = useDrafted(begun, { ...emptyTool(), torque_unit: usualUnits().torque }, acting);
  const { bind, back, afresh } = form;
  const unit = label(form.form.torque_unit);
  async function save(event) {
    event.preventDefault();
    if (await form.act("add_tool", { strip, ...form.latest.current })) form.begin({ ...form.latest.current, ...emptyTool() });
  }
  return html`<${Section} title=${t("Add a wrench")} open=${first || acting.problems.length > 0 || Boolean(begun.draft)}>
    <form class="stack" onSubmit=${save} novalidate>
      <${HereAgain} back=${back} words=${(gaps) => t("Your unfinished wrench is here again, from {when}.", gaps)} onAfresh=${afresh} /><${Problems} problems=${acting.problems} />
      <${Text} ...${bind("name")} label=${t("Name of the wrench")} hint=${t("As it is called here, so that everybody takes the same one.")} big />
      <${Pick} ...${bind("tool_type")} label=${t("Kind of wrench")} options=${kinds(choices)} />
      <${Figure} ...${bind("high")} unit=${form.form.torque_unit} units=${choices.torque_units} onUnit=${bind("torque_unit").onValue} label=${t("Top")} hint=${t("The highest mark on its scale.")} />
      <div class="pair"><${Text} ...${bind("low")} label=${t("Lowest mark, {unit}", { unit })} figure />
      <${Text} ...${bind("step")} label=${t("Step, {unit}", { unit })} figure /></div>
      <${Text} ...${bind("deviation")} label=${t("Permissible deviation, %")} figure hint=${t("From its certificate. Left out: 4 %, and 6 % up to 10 N·m (ISO 6789) or for a bar or a screwdriver (from memory).")} />
      <${Text} ...${bind("lever")} label=${t("From the middle of the grip to the square, mm")} figure hint=${t("Only needed with an adapter.")} />
      <${Text} ...${bind("calibrated_on")} label=${t("Calibrated on")} type="date" />
      <${Text} ...${bind("certificate")} label=${t("Certificate")} />
      <${Text} ...${bind("note")} label=${t("Note")} lines />
      <button type="submit" disabled=${acting.busy}>${t("Save the wrench")}</button></form>
  <//>`;
}
