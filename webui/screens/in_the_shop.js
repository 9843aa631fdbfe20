// The shop over all strip-downs: what is kept where, who works here, and what is measured with, calibration due first.

import { html } from "../vendor/preact.js";
import { route } from "../addresses.js";
import { inTheShop, strips, view } from "../shop.js";
import { day, dayOf, inOrder, isolated, label, t } from "../words.js";
import { Section } from "../pieces/fields.js";
import { Frame } from "../pieces/frame.js";
import { useFresh } from "../pieces/live.js";
import { LongList } from "../pieces/long_list.js";
import { Bag, Standing } from "../pieces/show.js";
import { age } from "./gear_tools.js";

async function read() {
  const now = Date.now();
  const found = [];
  // One after the other: each may have to be read from the log first.
  for (const { strip } of await strips()) found.push(await view(strip, "shop"));
  return inTheShop(found, now);
}

const concerns = (change) => change.strips !== undefined && change.what !== "strips";

export function InTheShop() {
  const shop = useFresh(read, [], concerns);
  const title = t("In the shop");
  if (!shop.data) return html`<${Frame} title=${title} here="machines"><${Standing} views=${[shop]} /><//>`;
  const { nowhere, people, gear } = shop.data;
  const places = [...shop.data.places].sort((one, other) => inOrder(one.kept, other.kept));
  return html`<${Frame} title=${title} here="machines">
    <${Standing} views=${[shop]} />
    <section class="stack close"><h2>${t("What is kept where")}</h2>
      ${places.length + nowhere.length === 0 && html`<p>${t("Nothing that is off has a place written down yet. A bag and a part say where they are kept.")}</p>`}
      <div class="twofold">${places.map((place) => html`<${Place} key=${place.kept} place=${place} />`)}</div>
      ${nowhere.length > 0 && html`<${Section} title=${t("No place written down")} says=${nowhereWords(nowhere)}>${nowhere.map((held) => html`<${Held} key=${held.strip} held=${held} />`)}<//>`}</section>
    <div class="twofold"><section class="stack close"><h2>${t("Scales and wrenches")}</h2>
      ${gear.length === 0 ? html`<p>${t("No scale and no wrench has a card yet.")}</p>` : html`<ul class="lines">${gear.map((card) => html`<${Card} key=${card.key} card=${card} />`)}</ul>`}</section>
    <section class="stack close"><h2>${t("Who worked here")}</h2>
      ${people.length === 0 ? html`<p>${t("Nobody has written anything yet.")}</p>` : html`<ul class="lines">${people.map((person) => html`<${Person} key=${person.key} person=${person} />`)}</ul>`}</section></div>
  <//>`;
}

const Place = ({ place }) => html`<section class="stack close"><h3><bdi>${place.kept}</bdi></h3>${place.in.map((held) => html`<${Held} key=${held.strip + held.kept} held=${held} kept=${held.kept} />`)}</section>`;

/** What of one strip-down is at a place. */
function Held({ held, kept }) {
  const rows = [...held.bags.map((bag) => ({ ...bag, key: bag.bag })), ...held.parts.map((part) => ({ ...part, key: part.part }))];
  return html`<div><p class="quiet"><bdi>${[held.machine_name, held.name].filter(Boolean).map(isolated).join(" · ")}</bdi>${kept && html` <a class="reach" href=${route.kept(held.strip, kept)} aria-label=${t("All that is kept here: {place}", { place: kept })}>${t("Its page")}</a>`}</p>
    <${LongList} rows=${rows} keyOf=${(row) => row.key} box=${(lines) => html`<ul class="brief">${lines}</ul>`} of=${(row, place) => html`<li key=${row.key} ...${place}>${row.part
      ? html`<a class="reach" href=${route.part(held.strip, row.part)}><bdi>${row.name || t("Part without a name")}</bdi></a>${row.side && html` <span class="quiet">${label(row.side)}</span>`}`
      : html`<a class="reach" href=${route.bag(held.strip, row.label)}><${Bag} label=${row.label} /></a> <span class="quiet">${row.count > 0 ? t("{count} fasteners", { count: row.count }) : t("empty")}</span>`}</li>`} /></div>`;
}

function nowhereWords(nowhere) {
  const bags = nowhere.reduce((sum, held) => sum + held.bags.length, 0);
  const parts = nowhere.reduce((sum, held) => sum + held.parts.length, 0);
  return t("bags: {bags}, parts: {parts}", { bags, parts });
}

function Card({ card }) {
  const { name, what, calibrated_on: date, overdue, strip, strips: count, cycles, notices } = card;
  const nameless = what === "scale" ? t("Scale without a name") : t("Wrench without a name");
  const where = count > 1 && t("in {count} strip-downs", { count });
  const used = date && cycles > 0 && (cycles === 1 ? t("one fastener since its calibration") : t("{cycles} fasteners since its calibration", { cycles }));
  return html`<li class="line"><a class="reach" href=${route.gear(strip)}><bdi>${name || nameless}</bdi></a> <span class="quiet">${[what === "scale" ? t("scale") : t("torque wrench"), where, used].filter(Boolean).map(isolated).join(" · ")}</span>
    ${date && html`<p class=${overdue ? "mark bad" : ""}>${age(card)} · ${dayOf(date)}${overdue && html` <strong>${t("Due now.")}</strong>`}</p>`}
    ${!date && what === "scale" && html`<p class="mark wait">${t("No day of calibration is written down.")}</p>`}
    ${notices.map((notice) => html`<p class=${overdue ? "" : "mark wait"} key=${notice.text}>${t(notice)}</p>`)}</li>`;
}

/** A date as 2026-05-31 as a moment within that day here: of a date alone the browser takes midnight in London. */

function Person({ person }) {
  const { name, first_ms: first, last_ms: last, strips: count, entries, weigh, tighten, check } = person;
  const did = [weigh && t("{count} weighings", { count: weigh }), tighten && t("{count} tightenings", { count: tighten }), check && t("{count} looks at another’s work", { count: check })].filter(Boolean);
  return html`<li class="line"><strong><bdi>${name}</bdi></strong> <span class="quiet">${count === 1 ? t("in one strip-down") : t("in {count} strip-downs", { count })}</span>
    <p class="quiet">${t("{first} to {last}, {entries} entries", { first: day(first), last: day(last), entries })}${did.length > 0 && `: ${did.join(", ")}`}</p></li>`;
}
