// Open items: all that the record says is open, before riding, before the next spell, some day. Never that a machine is fit.

import { html } from "../vendor/preact.js";
import { route } from "../addresses.js";
import { t } from "../words.js";
import { Section } from "../pieces/fields.js";
import { CautionLine } from "../pieces/follow_ups.js";
import { Problems } from "../pieces/form.js";
import { Frame } from "../pieces/frame.js";
import { DoneItem, NewItem, OpenItem } from "../pieces/items.js";
import { useActing, useChoices, useView, useViewNow } from "../pieces/live.js";
import { LongList } from "../pieces/long_list.js";
import { Standing, whereabouts } from "../pieces/show.js";
import { Stops } from "../pieces/stops.js";
import { UsedAgain } from "../pieces/used_again.js";
import { missing } from "./back_part.js";

const headings = () => ({ riding: t("Before riding"), next_spell: t("Before the next spell"), some_day: t("Some day") });

export function OpenItems({ strip }) {
  const whole = useView(strip, "strip");
  const open = useViewNow(strip, "open_items");
  const choices = useChoices();
  const acting = useActing();
  const title = t("Open items");
  if (!whole.data || !open.data || !choices) {
    return html`<${Frame} title=${title} strip=${strip}><${Standing} views=${[whole, open, { data: choices }]} /><//>`;
  }
  const { stops, groups, done, nothing, not_all_read: notAll } = open.data;
  const rest = { strip, choices };
  return html`<${Frame} title=${title} strip=${strip} of=${whole.data.name} stopped>
    <${Standing} views=${[whole, open]} />
    ${stops.length > 0 && html`<section class="stack close"><h2>${t("Stop: before all else")}</h2><${Stops} strip=${strip} stops=${stops} /></section>`}
    <p><a class="button" href=${route.retorque(strip)}>${t("Odometer and retorque")}</a></p>
    ${notAll && html`<p class="notice">${t(notAll)}</p>`}
    ${nothing && html`<p class="notice">${t(nothing)}</p>`}
    ${groups.filter((group) => group.count > 0).map((group) => html`<${Group} key=${group.before} group=${group} ...${rest} />`)}
    ${done.length > 0 && html`<${Section} late title=${t("Done")} says=${t("{count} done", { count: done.length })}>
      <${LongList} rows=${done} keyOf=${(item) => item.item} box=${(rows) => html`<ul class="lines">${rows}</ul>`} of=${(item, place) => html`<${DoneItem} key=${item.item} named=${!item.rule} ...${{ strip, item, place }} />`} /><//>`}
    <div class="stack close"><${Problems} problems=${acting.problems} /><${NewItem} acting=${acting} ...${rest} /></div>
  <//>`;
}

/** So few parts stand open from the start; of more, each says in a line what is open of it. */
const FEW_PARTS = 3;

function Group({ group, ...rest }) {
  const { before, count, parts } = group;
  const open = parts.length <= FEW_PARTS;
  return html`<section class="stack"><div class="spread"><h2>${headings()[before]}</h2><span class="figure">${t("{count} open", { count })}</span></div>
    <div class="stack"><${LongList} as="plain" rows=${parts} keyOf=${keyOf} box=${(rows) => rows} of=${(part, place) => html`<${OfPart} key=${keyOf(part)} ...${{ part, place, open, ...rest }} />`} /></div></section>`;
}

const keyOf = (part) => part.part ?? "machine";

const needsOf = (part) => part.needs.map((need) => missing()[need] ?? need);

/** What is open of a part, in one line: what the way back lacks, how much is to look at, how much to do. */
function inShort(part) {
  const { cautions, items, retorque, waits, used_again: again } = part;
  return [
    ...needsOf(part), again.length > 0 && t("used again without a reason"), retorque.length > 0 && (part.part ? t("a retorque is due") : t("the machine is to be read")),
    waits.length > 0 && t("compound still cures"),
    cautions.length > 0 && t("{count} to look at", { count: cautions.length }),
    items.length > 0 && t("{count} to do", { count: items.length }),
  ].filter(Boolean);
}

/** All that is open of one part, or of the machine as a whole. */
function OfPart({ strip, part, place, open, choices }) {
  const acting = useActing();
  const { cautions, items, needs, retorque, waits, used_again: again } = part;
  const name = part.part ? part.name || t("Part without a name") : t("The machine as a whole");
  const troubled = again.length > 0 || cautions.some((caution) => caution.again);
  return html`<details class="part" open=${open} aria-label=${name} ...${place}>
    <summary><span class="name">${name}</span>
      ${part.part && html`<span class="quiet">${whereabouts(part)}</span>`}${part.struck && html`<span class="mark bad">${t("struck")}</span>`}
      <span class=${`mark ${troubled ? "bad" : "wait"}`}>${t("{open}", { open: inShort(part) })}</span></summary>
    <div class="inside">
      ${part.part && html`<p><a class="reach" href=${route.part(strip, part.part)} aria-label=${t("Open its page: {name}", { name })}>${t("Open its page")}</a></p>`}
      <${Problems} problems=${acting.problems} />
      ${needs.length > 0 && html`<p class="mark wait">${t("The way back: {needs}.", { needs: needsOf(part) })}</p>
        <div><a class="button" href=${route.back(strip)} aria-label=${t("Put back: {name}", { name })}>${t("Put back")}</a></div>`}
      ${again.map((each) => html`<${UsedAgain} key=${each.group} ...${{ strip, each, acting }} />`)}
      ${retorque.map((sentence) => html`<p class="mark bad" key=${t(sentence)}>${t(sentence)}</p>`)}
      ${waits.map((sentence) => html`<p class="mark wait" key=${t(sentence)}>${t(sentence)}</p>`)}
      ${retorque.length > 0 && html`<div><a class="button" href=${route.retorque(strip)} aria-label=${t("Odometer and retorque: {name}", { name })}>${t("Odometer and retorque")}</a></div>`}
      ${cautions.length + items.length > 0 && html`<ul class="lines">
        ${cautions.map((caution) => html`<${CautionLine} key=${caution.rule} ...${{ strip, caution, choices, acting }} />`)}
        ${items.map((item) => html`<${OpenItem} key=${item.item} ...${{ strip, item, choices, acting }} />`)}</ul>`}
    </div></details>`;
}
