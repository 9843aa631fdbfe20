// What to buy for the way back: what is new each time, what is short, and what people wrote down to buy.

import { html } from "../vendor/preact.js";
import { route } from "../addresses.js";
import { label, t } from "../words.js";
import { Facts, factsOf } from "../pieces/facts.js";
import { Section, word } from "../pieces/fields.js";
import { Problems } from "../pieces/form.js";
import { Frame } from "../pieces/frame.js";
import { OpenItem } from "../pieces/items.js";
import { useActing, useChoices, useView } from "../pieces/live.js";
import { LongList } from "../pieces/long_list.js";
import { Standing, byWhom, groupWords } from "../pieces/show.js";

const lines = (rows) => html`<ul class="lines">${rows}</ul>`;

export function Buy({ strip }) {
  const whole = useView(strip, "strip");
  const buy = useView(strip, "buy");
  const choices = useChoices();
  const acting = useActing();
  const title = t("To buy");
  if (!whole.data || !buy.data || !choices) return html`<${Frame} title=${title} strip=${strip}><${Standing} views=${[whole, buy, { data: choices }]} /><//>`;
  const { items, to_buy: count, used_again: again, fields, policy } = buy.data;
  return html`<${Frame} title=${title} strip=${strip} of=${whole.data.name}>
    <${Standing} views=${[whole, buy]} />
    <p>${count > 0 ? t("Fasteners to buy: {count}.", { count }) : t("No fasteners to buy, as far as is written down.")}</p>
    <${Problems} problems=${acting.problems} />
    ${buy.data.lines.length > 0 && html`<${LongList} rows=${buy.data.lines} keyOf=${keyOf} box=${lines} of=${(line, place) => html`<${Line} key=${keyOf(line)} ...${{ strip, line, acting, place }} />`} />`}
    ${items.length > 0 && html`<section class="stack close"><h2>${t("Written down to buy")}</h2><ul class="lines">${items.map((item) => html`<${OpenItem} key=${item.item} named="part" ...${{ strip, item, choices, acting }} />`)}</ul></section>`}
    ${again.length > 0 && html`<section class="stack close"><h2>${t("Used again, and why")}</h2><ul class="lines">${again.map((each, index) => html`<li class="line" key=${index}>
      <p>${t("{n} {what} of {part}: {why}", { n: each.n, what: each.called, part: each.name, why: each.why })}</p><p class="quiet">${byWhom(each)}</p></li>`)}</ul></section>`}
    <${Section} title=${t("Self-locking nuts in this shop")} says=${word(policy, "self_locking_nuts")}>
      <p>${t("Two published rules differ: a new one each time (TB 43-0218), or again while it still drags as much as its prevailing torque (AC 43.13-1B, table 7-2). The machine’s manual comes before both.")}</p>
      <${Facts} strip=${strip} thing=${strip} type="strip" fields=${fields} facts=${factsOf({ self_locking_nuts: { options: choices.self_locking_nuts } })} /><//>
  <//>`;
}

const keyOf = (line) => `${line.kind} ${line.groups[0].group}`;

/** One kind and size: how many in all, and for which parts; what is here is ticked part by part. */
function Line({ strip, line, acting, place }) {
  return html`<li class="line" ...${place}>
    <div class="spread"><strong>${groupWords(line.to_buy || line.at_hand, line.called)}</strong><span class=${`mark ${line.to_buy > 0 ? "wait" : "done"}`}>${line.to_buy > 0 ? t("to buy") : t("all here")}</span></div>
    <p class="quiet">${line.kind ? t("{kind}: new each time", { kind: label(line.kind) }) : t("lost, scrapped or short")}${line.at_hand > 0 && ` · ${t("{count} here already", { count: line.at_hand })}`}</p>
    <ul class="stack close">${line.groups.map((group) => html`<${ForPart} key=${group.group} ...${{ strip, line, group, acting }} />`)}</ul></li>`;
}

function ForPart({ strip, line, group, acting }) {
  const { to_buy: count, name } = group;
  const got = (some) => acting.run("arrived", { strip, group: group.group, count: some });
  const named = { count, what: line.called, part: name };
  return html`<li><p>${t("{count} for", { count })} <a class="reach" href=${route.part(strip, group.part)}>${name || t("Part without a name")}</a>${group.side && html` <span class="quiet">${label(group.side)}</span>`}</p>
    ${group.suggested && html`<p class="quiet">${t("Nobody wrote down that these are new each time; it is taken from what they are. The part’s page puts it right.")}</p>`}
    ${count > 0 && html`<div class="row"><button type="button" disabled=${acting.busy} aria-label=${t("Here: {count} {what} for {part}", named)} onClick=${() => got(count)}>${count === 1 ? t("It is here") : t("All {count} are here", { count })}</button>
      ${count > 1 && html`<button type="button" disabled=${acting.busy} aria-label=${t("One is here: {what} for {part}", named)} onClick=${() => got(1)}>${t("One is here")}</button>`}</div>`}</li>`;
}
