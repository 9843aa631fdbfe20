// What is off: the running sums, the parts, where the loose fasteners are, and what is still to do.

import { html } from "../vendor/preact.js";
import { route } from "../addresses.js";
import { label, t } from "../words.js";
import { Section } from "../pieces/fields.js";
import { Frame } from "../pieces/frame.js";
import { Items } from "../pieces/items.js";
import { useChoices, useView } from "../pieces/live.js";
import { FEW, LongList } from "../pieces/long_list.js";
import { Bag, PartLine, Standing, Sums, groupWords } from "../pieces/show.js";
import { Spell } from "../pieces/spell.js";
import { About, Bags, disputed } from "./about.js";

export function Off({ strip }) {
  const whole = useView(strip, "strip");
  const off = useView(strip, "off");
  const choices = useChoices();
  if (!whole.data || !off.data || !choices) {
    return html`<${Frame} title=${t("What is off")} strip=${strip} here="off"><${Standing} views=${[whole, off, { data: choices }]} /><//>`;
  }
  const { counts, aim, notices, name, fields, machine, bags } = whole.data;
  const twoAnswers = (things) => things.some((thing) => disputed(thing.fields));
  const { parts, places, items } = off.data;
  // What could not be read may be a bolt that is out: the notice above says so, and nothing here says otherwise.
  const allRead = counts.not_understood === 0;
  // Of the whole, which is worked out in no time: in a long log the list comes a little later.
  const { sums } = whole.data;
  return html`<${Frame} title=${t("What is off")} strip=${strip} of=${name} here="off">
    <${Standing} views=${[whole, off]} />
    ${notices.map((notice) => html`<p class="notice" key=${notice.text}>${t(notice)}</p>`)}
    <div class="twofold">
      <div class="stack">
        <${Sums} sums=${sums} aim=${aim} running=${whole.data.spell} />
        <${Spell} strip=${strip} view=${whole.data} />
        <p>${t("{off} of {parts} parts off. {out} of {fasteners} fasteners out.", { off: counts.off, parts: counts.parts, out: counts.fasteners_out, fasteners: counts.fasteners })}</p>
        ${counts.disputes > 0 && html`<p class="mark bad">${t("Two answers that differ: {count}. Open the part and settle it.", { count: counts.disputes })}</p>`}
        <p><a class="button" href=${route.openItems(strip)}>${t("Open items: what stands before riding")}</a></p>
        <p class="row"><a class="button" href=${route.tables(strip)}>${t("Tables")}</a><a class="button" href=${route.pictures(strip)}>${t("Pictures")}</a><a class="button" href=${route.count(strip)}>${t("Count")}</a><a class="button" href=${route.buy(strip)}>${t("To buy")}</a><a class="button" href=${route.handover(strip)}>${t("Hand over")}</a><a class="button" href=${route.map(strip)}>${t("Map")}</a><a class="button" href=${route.sheets(strip)}>${t("Sheets to print")}</a></p>
        <p><a class="button" href=${route.settings(strip)}>${settingsWords(whole.data.settings)}</a></p>
        <div class="stack"><${Section} title=${t("Where the fasteners are")} late=${places.flatMap((place) => place.what).length > FEW} open=${twoAnswers(bags)} says=${counts.fasteners_out > 0 ? t("{count} not on the machine", { count: counts.fasteners_out }) : allRead && t("all on the machine")}>
          <${Places} strip=${strip} places=${places} /><p class="row"><a class="button" href=${route.tags(strip)}>${t("Labels to print")}</a><a class="button" href=${route.scan(strip)}>${t("Read a label")}</a></p>${bags.length > 0 && html`<h2>${t("Bags")}</h2><${Bags} strip=${strip} bags=${bags} />`}<//>
        <${Section} title=${t("Still to do")} open=${twoAnswers(items)} says=${counts.items_open > 0 ? t("{count} open", { count: counts.items_open }) : allRead && t("nothing open")}><${Items} strip=${strip} items=${items} choices=${choices} /><//>
        <${Section} title=${t("About this strip-down and machine")} open=${twoAnswers([{ fields }, machine ?? { fields: {} }])} says=${machine?.name}><${About} view=${whole.data} choices=${choices} /><//></div>
      </div>
      <section class="stack close"><h2>${t("Parts, newest first")}</h2>
        ${parts.length === 0 && html`<p>${t("Nothing has come off yet.")}</p><a class="button main" href=${route.takeOff(strip)}>${t("Take off the first part")}</a>`}
        ${off.data.struck.length > 0 && html`<${Section} title=${t("Struck as a mistake")} says=${off.data.struck.length === 1 ? t("one part") : t("{count} parts", { count: off.data.struck.length })}><${LongList} rows=${off.data.struck} box=${lines} of=${(each, place) => html`<li class="line" key=${each.part} ...${place}><a href=${route.part(strip, each.part)}>${each.name || t("Part without a name")}</a></li>`} /><//>`}
        <${LongList} rows=${parts} box=${lines} of=${(row, place) => html`<${PartLine} key=${row.part} ...${{ strip, row, place }} />`} />
      </section>
    </div>
  <//>`;
}

function settingsWords({ count, changed }) {
  if (count === 0) return t("Settings: preload, tyres, levers, lamp");
  return changed === 0 ? t("Settings: as the machine came in") : t("Settings: {changed} changed since it came in", { changed });
}

const lines = (rows) => html`<ul class="lines">${rows}</ul>`;

/** Where fasteners are that are not on the machine. */
function Places({ strip, places }) {
  return html`<ul class="lines">${places.map((place) => html`<li class="line" key=${place.where + place.bag}>
      <div class="spread">${place.label ? html`<a class="reach" href=${route.bag(strip, place.label)}><${Bag} label=${place.label} /></a>` : html`<strong>${place.where === "bag" ? t("in no bag yet") : label(place.where)}</strong>`}<span class="figure">${place.count}</span></div>
      <p>${place.what.map((each, index) => html`${index > 0 && ", "}<a href=${route.part(strip, each.part)}>${groupWords(each.count, each.title)}</a>`)}</p></li>`)}</ul>`;
}
