// The count: every fastener by thread and length, where it is, and each difference with its part and bag.

import { html } from "../vendor/preact.js";
import { route } from "../addresses.js";
import { label, t } from "../words.js";
import { Frame } from "../pieces/frame.js";
import { useView } from "../pieces/live.js";
import { LongList } from "../pieces/long_list.js";
import { Bag, Standing, groupWords } from "../pieces/show.js";
import { Stops } from "../pieces/stops.js";

/** Words for each place of the count; where all of them are is their sum. */
const places = () => [
  ["on", t("on the machine")], ["in_bags", t("in bags")], ["no_bag", t("out, in no bag")], ["spares", t("in spares")],
  ["scrapped", t("scrapped")], ["lost", t("lost")],
];

const lines = (rows) => html`<ul class="lines">${rows}</ul>`;

export function Count({ strip }) {
  const whole = useView(strip, "strip");
  const count = useView(strip, "count");
  const title = t("Count of fasteners");
  if (!whole.data || !count.data) return html`<${Frame} title=${title} strip=${strip}><${Standing} views=${[whole, count]} /><//>`;
  const { figures, differences, stops, not_all_read: notAll } = count.data;
  return html`<${Frame} title=${title} strip=${strip} of=${whole.data.name} stopped>
    <${Standing} views=${[whole, count]} />
    ${stops.length > 0 && html`<section class="stack close"><h2>${t("Stop")}</h2><${Stops} strip=${strip} stops=${stops} /></section>`}
    ${count.data.lines.length === 0 && html`<p>${t("No fasteners are written down yet.")}</p>`}
    ${count.data.lines.length > 0 && html`<div class="twofold"><div class="stack">
      <section class="stack close"><h2>${t("All together")}</h2><${Figures} figures=${figures} /></section>
      <section class="stack close"><h2>${t("What does not add up")}</h2>
        ${notAll && html`<p class="notice">${t(notAll)}</p>`}
        ${differences.length === 0 ? !notAll && html`<p class="mark done">${t("Every fastener is accounted for.")}</p>` : html`<${LongList} rows=${differences} keyOf=${keyOf} box=${lines} of=${(each, place) => html`<${Difference} key=${keyOf(each)} ...${{ strip, each, place }} />`} />`}</section>
      </div>
      <section class="stack close"><h2>${t("By thread and length")}</h2><${LongList} as="plain" rows=${count.data.lines} keyOf=${(line) => line.key} box=${(rows) => rows} of=${(line, place) => html`<${Line} key=${line.key} ...${{ strip, line, place }} />`} /></section></div>`}
  <//>`;
}

const keyOf = (each) => [each.code, each.group, each.bag].join(" ");

/** The sum at the top, then where they are; what is nowhere is left out. */
function Figures({ figures }) {
  const row = (words, count) => html`<div><dt>${words}</dt><dd class="figure">${t("{count}", { count })}</dd></div>`;
  return html`<dl class="sums">
    ${row(figures.new > 0 ? t("all, {count} of them new from stock", { count: figures.new }) : t("all"), figures.came + figures.new)}
    ${places().filter(([name]) => figures[name] !== 0 || name === "on").map(([name, words]) => row(name === "on" && figures.back > 0 ? t("on the machine, {count} of them put in", { count: figures.back }) : words, figures[name]))}
    ${figures.stock > 0 && row(t("still to come from stock"), figures.stock)}</dl>`;
}

function Difference({ strip, each, place }) {
  const calm = each.ruled_out && each.code === "lost";
  return html`<li ...${place}><a class="line" href=${route.part(strip, each.part)}>
    <p class=${`mark ${calm ? "done" : ["left_over", "no_bag"].includes(each.code) ? "wait" : "bad"}`}>${codes()[each.code]}</p>
    <p>${t(each.text)}${calm && ` ${t("Ruled out that it is inside.")}`}</p></a></li>`;
}

const codes = () => ({
  lost: t("Lost"), overdrawn: t("Counts don’t agree"), two_counts: t("Two counts"), no_bag: t("In no bag"),
  too_many: t("Too many"), short: t("Missing on the machine"), left_over: t("Left over"),
});

function Line({ strip, line, place }) {
  const { figures } = line;
  const troubled = figures.lost > 0 || Object.values(figures).some((count) => count < 0);
  const away = places().filter(([name]) => name !== "on" && figures[name] !== 0).map(([name, words]) => t("{count} {where}", { count: figures[name], where: words }));
  const says = [t("{on} of {all} on the machine", { on: figures.on, all: figures.came + figures.new }), ...away];
  return html`<details class="part" ...${place}>
    <summary><span class="name">${groupWords(figures.came + figures.new, line.called)}</span>
      ${troubled ? html`<span class="mark bad">${t("{list}", { list: says })}</span>` : html`<span class="quiet">${t("{list}", { list: says })}</span>`}</summary>
    <div class="inside"><${Figures} figures=${figures} />
      <ul class="lines">${line.groups.map((group) => html`<${OfGroup} key=${group.group} ...${{ strip, group }} />`)}</ul></div></details>`;
}

/** Where the fasteners of one part are. */
function OfGroup({ strip, group }) {
  const { on, stock } = group.figures;
  return html`<li class="line"><p><a class="reach" href=${route.part(strip, group.part)}>${group.name || t("Part without a name")}</a>${group.side && html` <span class="quiet">${label(group.side)}</span>`}</p>
    ${group.sits && html`<p class="quiet">${group.sits}</p>`}
    <p class="row tight">${t("{on} of {count} on", { on, count: group.count })}${group.places.map((place) => html`<span key=${place.where + place.bag}>${place.label ? html`${place.count} <${Bag} label=${place.label} />` : t("{count} {where}", { count: place.count, where: place.where === "bag" ? t("out, in no bag") : label(place.where) })}</span>`)}${stock > 0 && html`<span>${t("{count} still to come from stock", { count: stock })}</span>`}</p></li>`;
}
