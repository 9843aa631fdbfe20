// One part: everything known of it, each thing open to correction, and its history.

import { html } from "../vendor/preact.js";
import { label, t } from "../words.js";
import { ask } from "../pieces/ask.js";
import { Facts, factsOf, said } from "../pieces/facts.js";
import { fieldNames } from "../pieces/field_names.js";
import { Problems } from "../pieces/form.js";
import { Frame, Waiting } from "../pieces/frame.js";
import { Items } from "../pieces/items.js";
import { useActing, useChoices, useView } from "../pieces/live.js";
import { TakePhotos, Thumb } from "../pieces/photos.js";
import { Bag, Mass, Outcome, byWhom, whereabouts } from "../pieces/show.js";
import { AddGroup, Group } from "./part_groups.js";
import { Readings } from "./part_readings.js";

function facts(choices, bag) {
  const yesOrNo = [[true, t("Yes")], [false, t("No")]];
  const details = {
    name: {}, place: { options: choices.places }, side: { options: choices.sides }, pieces: { count: 200 },
    outcome: { options: choices.outcomes }, outcome_done: { options: yesOrNo }, replacement: {},
    bag_label: { seen: "bag", shown: bag ?? "" }, came_in: { options: choices.came_in }, off: { options: yesOrNo }, note: { lines: true },
  };
  return factsOf(details);
}

export function Part({ strip, part }) {
  const whole = useView(strip, "strip");
  const { data, trouble, retry } = useView(strip, "part", { part });
  const choices = useChoices();
  if (!whole.data || !choices || (!data && trouble) || data === null) {
    const known = whole.data && choices && !trouble;
    return html`<${Frame} title=${t("Part")} strip=${strip} of=${whole.data?.name}><${known ? Unknown : Waiting} trouble=${trouble ?? whole.trouble} retry=${retry} /><//>`;
  }
  const { row, groups } = data;
  const of = { strip, part, choices };
  return html`<${Frame} title=${row.name} strip=${strip} of=${whole.data.name}>
    <div class="stack close"><p>${whereabouts(row)}</p>
      <p class="row"><${Outcome} ...${row} />${row.bag && html`<${Bag} label=${row.bag} />`}</p>
      <dl class="sums"><div><dt>${t("Changes the machine by")}</dt><dd><${Mass} shown=${row.change} signed none=${t("not weighed")} /></dd></div></dl>
      ${row.reason && html`<p>${t(row.reason)}</p>`}</div>
    <div class="twofold">
      <div class="stack">
        <section class="section"><h2>${t("Fasteners")}</h2>
          ${groups.map((group) => html`<${Group} key=${group.group} group=${group} ...${of} />`)}
          <${AddGroup} bag=${row.bag} off=${row.off} ...${of} /></section>
        <${Readings} readings=${data.readings} outcome=${row.outcome} pieces=${row.pieces} ...${of} />
        <${Photos} photos=${data.photos} ...${of} />
        <section class="section"><h2>${t("Still to do")}</h2><${Items} items=${data.items} ...${of} /></section>
      </div>
      <div class="stack">
        <section class="section"><h2>${t("The part")}</h2><${Facts} strip=${strip} thing=${part} type="part" fields=${data.fields} facts=${facts(choices, row.bag)} /></section>
        <${History} strip=${strip} history=${data.history} />
      </div>
    </div>
  <//>`;
}

const Unknown = () => html`<p class="notice">${t("This part is not in the log of this phone. It may come with the next sending.")}</p>`;

function Photos({ strip, part, photos }) {
  const acting = useActing();
  return html`<section class="section"><h2>${t("Photos")}</h2><${Problems} problems=${acting.problems} />
    ${photos.length > 0 && html`<ul class="thumbs">${photos.map((photo) => html`<li key=${photo.entry}><${Thumb} sha256=${photo.sha256} caption=${photo.caption} /><span class="quiet">${photo.caption ?? byWhom(photo)}</span></li>`)}</ul>`}
    <${TakePhotos} onPhoto=${(photo) => acting.run("photo", { strip, thing: part, photo })} /></section>`;
}

/** What was written, newest first; a mistake is struck, never rubbed out. */
function History({ strip, history }) {
  const acting = useActing();
  async function strike(line) {
    const why = await ask({ title: t("Strike this?"), text: t("It stays readable in the history, struck out, and counts no more."), input: t("Why was it a mistake?"), action: t("Strike it") });
    if (why) acting.run("strike", { strip, entry: line.entry, why });
  }
  return html`<section class="section"><h2>${t("History")}</h2><${Problems} problems=${acting.problems} />
    <ul class="history">${history.map((line) => html`<li key=${line.entry} class=${line.struck ? "struck" : ""}>
      <div class="what">${told(line)}${more(line)}</div>
      ${line.struck && html`<p class="mark bad">${t("Struck by {who}: {why}", line.struck)}</p>`}
      <div class="spread"><span class="quiet">${byWhom(line)}</span>
        ${line.can_strike && line.kind !== "strike" && html`<button type="button" class="plain" aria-label=${t("Strike: {text}", { text: told(line) })} onClick=${() => strike(line)}>${t("Strike")}</button>`}</div></li>`)}</ul>
  </section>`;
}

/** An entry's sentence. */
const told = ({ text }) => t(text);

/** What an entry says beyond its sentence: the fields that it set, or from where to where it moved. */
function more({ kind, values, text }) {
  if (kind === "move") return `: ${label(text.values.from)} → ${label(text.values.to)}${text.values.bag ? ` ${text.values.bag}` : ""}`;
  if (kind !== "set") return "";
  const names = fieldNames();
  return html`<ul class="quiet">${values.map(({ field, value }) => html`<li key=${field}>${names[field] ?? field}: ${typeof value === "string" ? label(value) : said(value)}</li>`)}</ul>`;
}
