// The machine's odometer and its heat cycles, and what is to be tightened anew: after how far, how long, how often hot.

import { html, useState } from "../vendor/preact.js";
import { route } from "../addresses.js";
import { figure, isolated, t, usualUnits } from "../words.js";
import { Drafted, HereAgain, useDrafted } from "../pieces/drafted.js";
import { Figure, Section, Stepper, Tick, Tiles } from "../pieces/fields.js";
import { Problems } from "../pieces/form.js";
import { Frame } from "../pieces/frame.js";
import { useActing, useChoices, useView, useViewNow } from "../pieces/live.js";
import { LongList } from "../pieces/long_list.js";
import { Standing, byWhom, groupWords, whereabouts } from "../pieces/show.js";
import { Strike } from "../pieces/strike.js";

export function Retorque({ strip }) {
  const whole = useView(strip, "strip");
  const view = useViewNow(strip, "retorque");
  const choices = useChoices();
  const [saved, setSaved] = useState({ times: 0, unit: null });
  const title = t("Odometer and retorque");
  if (!whole.data || !view.data || !choices) {
    return html`<${Frame} title=${title} strip=${strip} of=${whole.data?.name}><${Standing} views=${[whole, view, { data: choices }]} /><//>`;
  }
  const { uses, due, notices, unit } = view.data;
  // That of the reading just saved, which the view may not know yet.
  const own = saved.unit ?? (uses.length > 0 ? unit : usualUnits().distance);
  return html`<${Frame} title=${title} strip=${strip} of=${whole.data.name}>
    <${Standing} views=${[whole, view]} />
    ${notices.length > 0 && html`<ul class="notice bad">${notices.map((notice) => html`<li key=${t(notice)}>${t(notice)}</li>`)}</ul>`}
    <section class="stack"><h2>${t("To be tightened anew")}</h2>
      <p class="quiet">${t("Only what the manual or the shop wants, as written on each torque card. Its order, its torque and its rules for compound come first.")}</p>
      ${due.length === 0 && html`<p>${t("Nothing is written down yet. It is written on the torque card of the fasteners.")}</p>`}
      <${LongList} rows=${due} keyOf=${(each) => each.group} box=${(rows) => html`<ul class="lines">${rows}</ul>`} of=${(each, place) => html`<${Due} key=${each.group} ...${{ strip, each, place }} />`} /></section>
    <section class="section"><h2>${t("The machine’s odometer")}</h2>
      ${uses.length === 0 && html`<p>${t("Not read yet. Read it before the first ride: from there it counts.")}</p>`}
      <${Drafted} key=${`${saved.times} ${own}`} form=${Reading} stem=${`machine_use/${strip}`} ...${{ strip, choices, own, view: view.data }} onSaved=${(chosen) => setSaved({ times: saved.times + 1, unit: chosen })} />
      ${uses.length > 0 && html`<${Uses} strip=${strip} uses=${uses} />`}</section>
  <//>`;
}

const MARKS = { due: "bad", unknown: "wait", left: "", not_tight: "wait", done: "done" };
const states = () => ({ due: t("due"), unknown: t("not known"), left: t("not yet"), not_tight: t("not tightened yet"), done: t("done") });

/** After what it is wanted, and how often; of several ways the first that comes counts. */
function wantedWords({ wanted, once }) {
  if (wanted.length === 1) return once ? t("Once, {wanted}", { wanted: wanted[0] }) : t("Each time {wanted}", { wanted: wanted[0] });
  return once ? t("Once, whichever comes first: {wanted}", { wanted }) : t("Each time, whichever comes first: {wanted}", { wanted });
}

/** How a retorque stands, in a word and a shape, and each way in which it comes due. */
export function RetorqueState({ stands }) {
  return html`<p class=${`mark ${MARKS[stands.state]}`}>${t("Retorque: {state}", { state: states()[stands.state] })}</p>
    ${stands.lines.map((line) => html`<p class="figures" key=${line.by}>${t(line.text)}</p>${line.note && html`<p class="quiet">${t(line.note)}</p>`}`)}
    <p class="quiet">${[wantedWords(stands), stands.from].filter(Boolean).map(isolated).join(" · ")}</p>
    ${stands.since && html`<p class="quiet">${t("Counted from: {since}", { since: byWhom(stands.since) })}</p>`}`;
}

function Due({ strip, each, place }) {
  const what = groupWords(each.count, each.called);
  return html`<li class="line" ...${place}>
    <p><strong>${what}</strong>${" "}${isolated(each.part_name)}</p><p class="quiet">${whereabouts(each)}</p>
    <${RetorqueState} stands=${each} />
    <div><a class="button" aria-label=${t("Torque card: {what}", { what: each.called })} href=${route.torque(strip, each.group)}>${t("Torque card")}</a></div></li>`;
}

function Reading({ strip, choices, own, view, begun, onSaved }) {
  const acting = useActing();
  const form = useDrafted(begun, { odometer: "", odometer_unit: own, heat_cycles: "", lower: null, far: false }, acting);
  const { bind, back, afresh } = form;
  const unit = bind("odometer_unit");
  const asked = (field) => acting.problems.some((each) => each.field === field) || form.form[field];
  async function save(event) {
    event.preventDefault();
    const now = form.latest.current;
    if (await form.act("read_machine", { strip, ...now, far: now.far || null })) onSaved(now.odometer_unit);
  }
  return html`<form class="stack" onSubmit=${save} novalidate>
    <${HereAgain} back=${back} words=${(gaps) => t("Your unfinished odometer reading is here again, from {when}.", gaps)} onAfresh=${afresh} /><${Problems} problems=${acting.problems} />
    <${Figure} ...${bind("odometer")} unit=${unit.value ?? "km"} units=${choices.distance_units} onUnit=${unit.onValue} label=${t("Odometer shows")} big />
    <${Section} light open=${form.form.heat_cycles !== "" || view.heat_cycles !== null} title=${t("Heat cycles")} says=${view.heat_cycles === null ? t("not counted") : t("{n} counted", { n: view.heat_cycles })}>
      <${Stepper} ...${bind("heat_cycles")} low=${view.heat_cycles === null ? 1 : view.heat_cycles + 1} high=${1_000_000} label=${t("Times run hot and cold again, in all")} hint=${t("Once is: warmed through, then cold again.")} /><//>
    ${asked("lower") && html`<${Tiles} ...${bind("lower")} wide label=${t("Why is it lower now?")} options=${[["changed", t("The odometer was changed or set back")], ["earlier_wrong", t("What was read before was wrong: strike it")]]} />`}
    ${asked("far") && html`<${Tick} ...${bind("far")} label=${t("It did run that far")} />`}
    <button type="submit" class="main" disabled=${acting.busy}>${t("Save the odometer")}</button></form>`;
}

function Uses({ strip, uses }) {
  const acting = useActing();
  const line = (use) => html`<li class="line" key=${use.entry}>
    ${use.distance && html`<p><span class="figure">${figure(use.distance)}</span></p>`}${use.heat_cycles !== null && html`<p class="figures">${t("{n} heat cycles", { n: use.heat_cycles })}</p>`}
    ${use.is_lower && html`<p class="mark bad">${t("lower than the one before it")}</p>`}${use.counts_anew && html`<p class="mark">${t("odometer changed: counts anew from here")}</p>`}
    <div class="spread"><span class="quiet">${byWhom(use)}</span><${Strike} strip=${strip} entry=${use.entry} acting=${acting} title=${t("Strike this reading?")} text=${use.distance ? figure(use.distance) : t("{n} heat cycles", { n: use.heat_cycles })} /></div></li>`;
  const [last, ...before] = uses;
  return html`<div><h3>${t("Read last")}</h3><${Problems} problems=${acting.problems} /><ul class="lines">${line(last)}</ul>
    ${before.length > 0 && html`<${Section} light open=${before.some((use) => use.is_lower)} title=${t("Before that")} says=${t("{count} of them", { count: before.length })}><ul class="lines">${before.map(line)}</ul><//>`}</div>`;
}
