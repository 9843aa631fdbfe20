// A machine over the years: its strip-downs with what was planned and what came of it, what was done, two days compared.

import { html } from "../vendor/preact.js";
import { route } from "../addresses.js";
import { decimal, figure, isolated, label, t, when } from "../words.js";
import { Section } from "../pieces/fields.js";
import { Frame } from "../pieces/frame.js";
import { useFresh } from "../pieces/live.js";
import { LongList } from "../pieces/long_list.js";
import { Standing, change } from "../pieces/show.js";
import { timeWords } from "../pieces/time_words.js";
import { Compare } from "./machine_compare.js";
import { Events } from "./machine_events.js";
import { concernsYears, yearsOf } from "./machine_years.js";

export function Machine({ strip }) {
  const years = useFresh(() => yearsOf(strip, null), [strip], concernsYears);
  const title = t("Over the years");
  if (!years.data) return html`<${Frame} title=${title} strip=${strip}><${Standing} views=${[years]} /><//>`;
  const { phases, events, counts, due } = years.data;
  const costs = phases.flatMap((phase) => phase.costs.map((cost) => ({ ...cost, strip: phase.strip })));
  return html`<${Frame} title=${title} strip=${strip} of=${phases[0].machine_name || t("Machine without a name")}>
    <${Standing} views=${[years]} />
    ${phases.map((phase) => ({ phase, groups: due.filter((each) => each.strip === phase.strip) })).filter(({ groups }) => groups.length > 0).map(({ phase, groups }) => html`<${Due} key=${phase.strip} ...${{ phase, groups, many: phases.length > 1 }} />`)}
    <section class="stack"><h2>${t("Planned, and what came of it")}</h2>
      <div class="twofold">${phases.map((phase) => html`<${Phase} key=${phase.strip} phase=${phase} />`)}</div></section>
    ${costs.length > 0 && html`<${Section} title=${t("What each part cost")} says=${t("and each gram of it")}><${Costs} costs=${costs} /><//>`}
    <${Compare} strip=${strip} />
    <section class="stack close"><h2>${t("What was done")}</h2><${Events} events=${events} counts=${counts} /></section>
  <//>`;
}

/** What of one strip-down is to be tightened anew; its name where there are several. */
function Due({ phase, groups, many }) {
  const words = groups.map((each) => t("{part}: {called}", { part: each.part || t("Part without a name"), called: each.called }));
  return html`<div class="notice">${many && html`<p class="quiet"><bdi>${phase.name || t("Strip-down without a name")}</bdi></p>`}<p>${t("To be tightened anew: {groups}.", { groups: words })}</p>
    <a class="button" href=${route.retorque(phase.strip)}>${t("Odometer and retorque")}</a></div>`;
}

const days = ({ from_ms: from, to_ms: to }) => t("{from} to {to}", { from: when(from), to: when(to) });

function Phase({ phase }) {
  const { plan } = phase;
  return html`<section class="stack close"><h3><a class="reach" href=${route.off(phase.strip)}><bdi>${phase.name || t("Strip-down without a name")}</bdi></a></h3>
    <p class="quiet">${days(phase)}</p>
    ${phase.disputes > 0 && html`<p class="mark bad">${t("Two answers that differ: {count}. Open the part and settle it.", { count: phase.disputes })}</p>`}
    <dl class="facts"><${OfMass} mass=${plan.mass} />${plan.money.map((money) => html`<${OfMoney} key=${money.currency} money=${money} />`)}<${OfTime} time=${plan.time} /></dl></section>`;
}

/** One line: what it is of, planned, and come of it. */
const Row = ({ name, says, children }) => html`<div><dt>${name}</dt><dd><span class="figure">${says}</span>${children}</dd></div>`;

function OfMass({ mass }) {
  const { aim, asked, change: changed, left, planned, undone, undone_unweighed: lacking, unweighed } = mass;
  return html`${aim && html`<${Row} name=${t("Aim")} says=${asked ? t("{aim}, so {asked} of change", { aim, asked: change(asked) }) : figure(aim)} />`}
    <${Row} name=${t("Mass changed")} says=${change(changed)}>${unweighed > 0 && html` <span class="mark wait">${t("{count} not weighed", { count: unweighed })}</span>`}<//>
    ${left && html`<${Row} name=${t("Left to the aim")} says=${change(left)} />`}
    ${planned && html`<${Row} name=${t("Decided, and not done yet")} says=${change(planned)}> <span class="quiet">${undone === 1 ? t("one part") : t("{count} parts", { count: undone })}</span>${lacking > 0 && html` <span class="mark wait">${t("{count} not weighed", { count: lacking })}</span>`}<//>`}`;
}

/** A sum with its currency, where one was written. */
export const money = (sum, currency) => inMoney(decimal(sum), currency);
const inMoney = (said, currency) => (currency ? t("{sum} {currency}", { sum: said, currency }) : said);

function OfMoney({ money: of }) {
  const { currency, budget, estimated, spent, open, by_estimate: guessed, over, per_gram: gram, why, notes } = of;
  const above = (sentence) => sentence && html` <span class="mark bad">${t(sentence)}</span>`;
  return html`${budget && html`<${Row} name=${t("To cost in all")} says=${money(budget, currency)}>${over.budget && html` <span class="quiet">${t(over.budget)}</span>`}<//>`}
    ${estimated && html`<${Row} name=${t("Estimates together")} says=${money(estimated, currency)} />`}
    ${spent && html`<${Row} name=${t("Spent")} says=${money(spent, currency)}>${above(over.spent)}${guessed > 0 && html` <span class="quiet">${t("{count} by the estimate, as nobody wrote what was paid", { count: guessed })}</span>`}<//>`}
    ${open && html`<${Row} name=${t("Still to spend, by the estimates")} says=${money(open, currency)}>${above(over.open)}<//>`}
    ${(gram || why) && html`<${Row} name=${t("Each gram lost cost")} says=${gram ? money(gram.value, currency) : "–"}>${gram && gram.low !== gram.high && html` <span class="quiet">${t("from {low} to {high}", { low: decimal(gram.low), high: decimal(gram.high) })}</span>`}${[why, ...notes].filter(Boolean).map((each) => html` <span class="quiet" key=${each.text ?? each}>${t(each)}</span>`)}<//>`}`;
}

/** What a gram cost, from its least to its most as the scales allow. */
export const perGram = ({ value, low, high }) => (low === high ? decimal(value) : t("{value}, from {low} to {high}", { value: decimal(value), low: decimal(low), high: decimal(high) }));

function OfTime({ time }) {
  return html`${time.planned_hours && html`<${Row} name=${t("To take")} says=${t("{hours} h", { hours: time.planned_hours })} />`}
    <${Row} name=${t("Time worked")} says=${timeWords(time.minutes)} />`;
}

function Costs({ costs }) {
  return html`<${LongList} rows=${costs} keyOf=${(cost) => cost.part + cost.currency} box=${(rows) => html`<ul class="lines">${rows}</ul>`} of=${(cost, place) => html`<li class="line" key=${cost.part + cost.currency} ...${place}>
    <div class="spread"><a class="reach" href=${route.part(cost.strip, cost.part)}><bdi>${cost.name || t("Part without a name")}</bdi></a><span class="figure">${money(cost.spent, cost.currency)}</span></div>
    <p class="quiet">${[cost.side && label(cost.side), cost.change && t("changed by {change}", { change: change(cost.change) }), cost.per_gram ? t("{money} for each gram", { money: inMoney(perGram(cost.per_gram), cost.currency) }) : t(cost.why), ...cost.notes.map((note) => t(note))].filter(Boolean).map(isolated).join(" · ")}</p></li>`} />`;
}
