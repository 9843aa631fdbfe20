// What is in a bag, and what is kept at a place: what the code on a label opens.

import { html } from "../vendor/preact.js";
import { route } from "../addresses.js";
import { label, t } from "../words.js";
import { Facts, factsOf } from "../pieces/facts.js";
import { Frame } from "../pieces/frame.js";
import { useView } from "../pieces/live.js";
import { LongList } from "../pieces/long_list.js";
import { Bag as Tape, Standing, byWhom, groupWords, whereabouts } from "../pieces/show.js";

const lines = (rows) => html`<ul class="lines">${rows}</ul>`;
const list = (rows, keyOf, of) => html`<${LongList} rows=${rows} keyOf=${keyOf} box=${lines} of=${of} />`;

export function Bag({ strip, written }) {
  const whole = useView(strip, "strip");
  const bag = useView(strip, "bag", { label: written });
  const title = t("Bag {label}", { label: written });
  if (!whole.data || !bag.data) return html`<${Frame} title=${title} strip=${strip}><${Standing} views=${[whole, bag]} /><//>`;
  const { groups, parts, bags, count, last, notice } = bag.data;
  const isEmpty = groups.length === 0 && parts.length === 0;
  return html`<${Frame} title=${title} strip=${strip} of=${whole.data.name}>
    <${Standing} views=${[whole, bag]} />
    ${notice && html`<p class="notice">${t(notice)}</p>`}
    ${isEmpty && html`<p>${bags.length > 0 ? t("Nothing is in it, as far as is written down.") : t("No such bag is written down yet: nothing is in it.")}</p>
      <a class="button main" href=${route.takeOff(strip)}>${t("Take off a part")}</a>`}
    ${count > 0 && html`<section class="stack close"><h2>${t("In it: {count}", { count })}</h2>${list(groups, (row) => row.group, (row, place) => html`<${Group} key=${row.group} ...${{ strip, row, place }} />`)}</section>`}
    ${parts.length > 0 && html`<section class="stack close"><h2>${t("Parts it belongs to")}</h2>${list(parts, (row) => row.part, (row, place) => html`<${PartRow} key=${row.part} ...${{ strip, row, place }} />`)}</section>`}
    ${last && html`<p class="quiet">${t("Last in or out: {by}", { by: byWhom(last) })}</p>`}
    ${bags.map((each) => html`<section class="stack close" key=${each.bag}><h2>${t("The bag")}</h2><${Facts} strip=${strip} thing=${each.bag} type="bag" fields=${each.fields} facts=${factsOf({ label: {}, kept: {} })} /></section>`)}
    <p class="row"><a class="button" href=${route.scan(strip)}>${t("Read a label")}</a><a class="button" href=${route.tags(strip)}>${t("Labels to print")}</a></p>
  <//>`;
}

export function Kept({ strip, written }) {
  const whole = useView(strip, "strip");
  const kept = useView(strip, "kept", { kept: written });
  if (!whole.data || !kept.data) return html`<${Frame} title=${written} strip=${strip}><${Standing} views=${[whole, kept]} /><//>`;
  const { parts, bags } = kept.data;
  return html`<${Frame} title=${written} strip=${strip} of=${whole.data.name}>
    <${Standing} views=${[whole, kept]} />
    ${parts.length + bags.length === 0 && html`<p>${t("Nothing of this strip-down is kept here, as far as is written down.")}</p>`}
    ${parts.length > 0 && html`<section class="stack close"><h2>${t("Parts here")}</h2>${list(parts, (row) => row.part, (row, place) => html`<${PartRow} key=${row.part} ...${{ strip, row, place }} />`)}</section>`}
    ${bags.length > 0 && html`<section class="stack close"><h2>${t("Bags here")}</h2>${list(bags, (row) => row.label, (row, place) => html`<li class="line" key=${row.label} ...${place}><div class="spread"><a class="reach" href=${route.bag(strip, row.label)}><${Tape} label=${row.label} /></a><span class="figure">${row.count}</span></div>
      <p class="quiet">${row.groups.map((group, index) => html`${index > 0 && ", "}${groupWords(group.count, group.what)}`)}</p></li>`)}</section>`}
    <p class="row"><a class="button" href=${route.scan(strip)}>${t("Read a label")}</a></p>
  <//>`;
}

const named = (row) => row.name || t("Part without a name");

function Group({ strip, row, place }) {
  return html`<li class="line" ...${place}><div class="spread"><strong>${groupWords(row.count, row.what)}</strong>${row.key && html`<span class="quiet">${t("key {key}", { key: row.key })}</span>`}</div>
    <p>${t("of")} ${row.part ? html`<a class="reach" href=${route.part(strip, row.part)}><bdi>${named(row)}</bdi></a>` : t("a part that is not known here")} <span class="quiet">${whereabouts(row)}</span></p></li>`;
}

function PartRow({ strip, row, place }) {
  return html`<li class="line" ...${place}><a class="reach" href=${route.part(strip, row.part)}><bdi>${named(row)}</bdi></a> <span class="quiet">${whereabouts(row)}${!row.off && ` · ${label("fitted")}`}</span></li>`;
}
