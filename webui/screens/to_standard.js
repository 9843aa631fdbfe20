// Back to standard: where every standard part is, what it would take to put the machine back, what cannot be, what to buy.

import { html } from "../vendor/preact.js";
import { leadOn, orSay, useActing, useView } from "../pieces/live.js";
import { route } from "../addresses.js";
import { isolated, t } from "../words.js";
import { ask } from "../pieces/ask.js";
import { Problems } from "../pieces/form.js";
import { Frame } from "../pieces/frame.js";
import { LongList } from "../pieces/long_list.js";
import { Bag, Mass, Standing, groupWords, whereabouts } from "../pieces/show.js";
import { WayBack } from "./settings_words.js";

/** Words that are a name as somebody wrote it, or a sentence of the core. */
const words = (text) => (typeof text === "string" ? text : t(text));
const several = (count, text) => (count > 1 ? t("{count} × {what}", { count, what: text }) : words(text));

export function ToStandard({ strip }) {
  const whole = useView(strip, "strip");
  const view = useView(strip, "to_standard");
  const { data } = view;
  const list = (rows, of, keyOf) => html`<${LongList} rows=${rows} keyOf=${keyOf} box=${(drawn) => html`<ul class="lines">${drawn}</ul>`} of=${of} />`;
  return html`<${Frame} title=${t("Back to standard")} strip=${strip} of=${whole.data?.name} here="back">
    <${Standing} views=${[whole, view]} />
    ${data && whole.data && html`<p><strong>${t("{on} of {standard} standard parts are on as they were.", data)}</strong></p>
      ${data.sum && html`<dl class="sums"><div><dt>${t("Against the standard machine")}</dt><dd><${Mass} shown=${data.sum} signed /></dd></div></dl>`}
      <p class="quiet">${t("This is what was written down. The machine’s manual says how; a part that was used, dropped or kept long is looked at before it goes back on.")}</p>
      ${data.take_off.length > 0 && html`<section class="section"><h2>${t("Comes off first")}</h2>${list(data.take_off, (row, place) => html`<${ComesOff} key=${row.part} ...${{ strip, row, place }} />`)}</section>`}
      ${data.put_on.length > 0 && html`<section class="section"><h2>${t("Goes on again")}</h2>${list(data.put_on, (row, place) => html`<${GoesOn} key=${row.part} ...${{ strip, row, place }} />`)}</section>`}
      ${data.cannot.length > 0 && html`<section class="section"><h2>${t("Cannot come back")}</h2>${list(data.cannot, (row, place) => html`<${GoesOn} key=${row.part} ...${{ strip, row, place }} />`)}</section>`}
      ${data.buy.length > 0 && html`<section class="section"><h2>${t("To buy")}</h2>${list(data.buy, (row, place) => html`<li class="line" key=${words(row.what)} ...${place}>
        <p><strong>${row.part ? several(row.count, row.what) : groupWords(row.count, row.what)}</strong></p>${row.side && html`<p class="quiet">${whereabouts(row)}</p>`}${row.for.length > 0 && html`<p class="quiet">${t("for {parts}", { parts: row.for })}</p>`}</li>`, (row) => row.part ?? words(row.what))}</section>`}
      ${data.settings.length > 0 && html`<section class="section"><h2>${t("Settings: as the machine came in")}</h2>${list(data.settings, (row, place) => html`<${WayBack} key=${row.setting} card=${row} back=${row.back} place=${place} />`, (row) => row.setting)}</section>`}
      <${AsItIs} strip=${strip} name=${whole.data.name} data=${data} />`}
  <//>`;
}

const ComesOff = ({ strip, row, place }) => html`<li class="line" ...${place}><a class="name" href=${route.part(strip, row.part)}>${words(row.name)}</a>
  <p class="quiet">${[row.of && t("in place of {name}", { name: row.of }), whereabouts(row)].filter(Boolean).map(isolated).join(" · ")}</p></li>`;

function GoesOn({ strip, row, place }) {
  return html`<li class="line" ...${place}><a class="name" href=${route.part(strip, row.part)}>${row.name}</a>
    ${whereabouts(row) && html`<p class="quiet">${whereabouts(row)}</p>`}
    <p class=${`mark ${["gone", "cut", "missing"].includes(row.fate) ? "bad" : "wait"}`}>${t(row.standing)}</p>
    ${row.where && html`<p>${t(row.where)}</p>`}
    ${row.fasteners.map((each) => html`<p class="row" key=${each.group}><span>${groupWords(each.count, each.what)}</span>
      ${each.bags.map((bag) => html`${bag.label ? html`<${Bag} label=${bag.label} />` : html`<span class="quiet">${t("{count} in no bag yet", bag)}</span>`}`)}
      ${each.buy > 0 && html`<span class="mark bad">${t("{count} to buy", { count: each.buy })}</span>`}</p>`)}</li>`;
}

/** The way back as a plan, where there is one for parts; that there is nothing to do, where there is nothing at all. */
function AsItIs({ strip, name, data }) {
  if (data.take_off.length + data.put_on.length + data.cannot.length > 0) return html`<${Plan} strip=${strip} name=${name} />`;
  return data.settings.length === 0 && html`<p class="notice">${t("As far as is written down, this machine is standard.")}</p>`;
}

/** The way back to standard as a strip-down of its own. */
function Plan({ strip, name }) {
  const acting = useActing();
  async function plan() {
    const called = await orSay(ask({
      title: t("Plan it as a strip-down?"), input: t("Name of the new strip-down"), begins: t("{name}, back to standard", { name }), action: t("Plan it"), longest: 120,
      text: t("What comes off and what goes on is written into a new strip-down of the same machine. This one stays as it is."),
    }));
    if (!called) return;
    const made = await acting.run("plan_to_standard", { of_strip: strip, name: called });
    if (made) leadOn(route.back(made.strip));
  }
  return html`<${Problems} problems=${acting.problems} /><div><button type="button" class="main" disabled=${acting.busy} onClick=${plan}>${t("Plan it as a strip-down")}</button></div>`;
}
