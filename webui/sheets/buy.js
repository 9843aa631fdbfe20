// The shopping list on paper: fasteners by kind and size, what people wrote down to buy, and what is here already.

import { html } from "../vendor/preact.js";
import { label, t } from "../words.js";
import { itemWords, planWords } from "../pieces/items.js";
import { groupWords, partToChoose } from "../pieces/show.js";
import { Box, Points, Under } from "./paper.js";

export function BuySheet({ data }) {
  const { lines, items, used_again: again, to_buy: count } = data;
  const here = lines.filter((line) => line.at_hand > 0);
  return html`
    <p><strong>${count > 0 ? t("Fasteners to buy: {count}.", { count }) : t("No fasteners to buy, as far as is written down.")}</strong> ${t("Take an old one along, and hold the new one to it: thread, length and grade.")}</p>
    <${Under} title=${t("Fasteners")} rows=${lines.filter((line) => line.to_buy > 0)} of=${(line) => html`<li class="whole">
      <p class="ticked"><${Box} /> <strong>${groupWords(line.to_buy, line.called)}</strong> <span>${line.kind ? t("{kind}: new each time", { kind: label(line.kind) }) : t("lost, scrapped or short")}</span></p>
      <${Points} plain of=${line.groups.filter((group) => group.to_buy > 0).map(forPart)} /></li>`} />
    <${Under} title=${t("Written down to buy")} rows=${items} of=${(item) => html`<li class="whole">
      <p class="ticked"><${Box} /> <span><strong>${itemWords(item)}</strong>${item.part_name && html` · <bdi>${item.part_name}</bdi>`}${planWords(item, true) && ` · ${planWords(item, true)}`}</span></p></li>`} />
    <${Under} title=${t("Here already")} rows=${here} of=${(line) => html`<li class="whole"><p>${groupWords(line.at_hand, line.called)}</p></li>`} />
    <${Under} title=${t("Used again, and why")} rows=${again} of=${(each) => html`<li class="whole"><p>${t("{n} {what} of {part}: {why}", { n: each.n, what: each.called, part: each.name, why: each.why })}</p></li>`} />
    ${lines.length + items.length > 0 && html`<p class="boxed">${t("The machine’s manual first: it says which parts are new each time, and of which grade.")}</p>`}`;
}

/** How many are for which part, and where that they are new each time is only taken from what they are. */
function forPart({ to_buy: count, name, side, suggested }) {
  const words = t("{count} for {part}", { count, part: partToChoose({ name, side }) });
  return suggested ? t("{for_part}: as it seems, nobody wrote it down", { for_part: words }) : words;
}
