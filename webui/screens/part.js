// One part: everything known of it, each thing open to correction, and its history.

import { html } from "../vendor/preact.js";
import { label, t } from "../words.js";
import { ask } from "../pieces/ask.js";
import { Facts, said } from "../pieces/facts.js";
import { Problems } from "../pieces/form.js";
import { Frame, Waiting } from "../pieces/frame.js";
import { Items } from "../pieces/items.js";
import { useActing, useChoices, useView } from "../pieces/live.js";
import { TakePhotos, Thumb } from "../pieces/photos.js";
import { Bag, Mass, Outcome, byWhom, whereabouts } from "../pieces/show.js";
import { AddGroup, Group } from "./part_groups.js";
import { Readings } from "./part_readings.js";

const facts = (choices, bag) => [
  { name: "name", label: t("Name") },
  { name: "place", label: t("Place on the machine"), options: choices.places },
  { name: "side", label: t("Side"), options: choices.sides },
  { name: "pieces", label: t("Pieces"), count: 200 },
  { name: "outcome", label: t("What becomes of it"), options: choices.outcomes },
  { name: "outcome_done", label: t("Is that done?"), options: [[true, t("Yes")], [false, t("No")]] },
  { name: "replacement", label: t("Swapped for what") },
  { name: "bag_label", seen: "bag", label: t("Bag"), shown: bag ?? "" },
  { name: "came_in", label: t("How the machine came in"), options: choices.came_in },
  { name: "off", label: t("Is it off now?"), options: [[true, t("Yes")], [false, t("No")]] },
  { name: "note", label: t("Note"), lines: true },
];

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
      <dl class="sums"><div><dt>${t("Changes the machine by")}</dt><dd><${Mass} shown=${row.change} none=${t("not weighed")} /></dd></div></dl>
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
      <p class="what">${t(line.text)}${line.kind === "set" && line.values?.length > 0 && `: ${line.values.map(({ field, value }) => `${label(field)} ${typeof value === "string" ? label(value) : said(value)}`).join(", ")}`}</p>
      ${line.struck && html`<p class="mark bad">${t("Struck by {who}: {why}", line.struck)}</p>`}
      <div class="spread"><span class="quiet">${byWhom(line)}</span>
        ${line.can_strike && line.kind !== "strike" && html`<button type="button" class="plain" onClick=${() => strike(line)}>${t("Strike")}<span class="hidden">: ${t(line.text)}</span></button>`}</div></li>`)}</ul>
  </section>`;
}
