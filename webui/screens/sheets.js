// Sheets to print: which one, on which paper, and the one that was chosen as it will lie on the bench.

import { html, useEffect, useState } from "../vendor/preact.js";
import { route } from "../addresses.js";
import { printsOnLetter, t } from "../words.js";
import { Tiles } from "../pieces/fields.js";
import { Frame } from "../pieces/frame.js";
import { orSay, putSetting, setting, useView } from "../pieces/live.js";
import { Standing } from "../pieces/show.js";
import { BackSheet } from "../sheets/back.js";
import { BuildSheet } from "../sheets/build.js";
import { BuySheet } from "../sheets/buy.js";
import { ChartsSheet } from "../sheets/charts.js";
import { KeysSheet } from "../sheets/keys.js";
import { Paper } from "../sheets/paper.js";
import { StandardSheet } from "../sheets/standard.js";

/** Each sheet: its name, what it is for, the view it is drawn from, what draws it, whether it is ticked. */
const sheets = () => ({
  back: { title: t("Way-back sheet"), why: t("To tick with a pencil: each part in its order, with its bag, fasteners and torques."), view: "back_sheet", draw: BackSheet, ticked: true },
  buy: { title: t("Shopping list"), why: t("What is to buy for the way back, and for which part."), view: "buy", draw: BuySheet, ticked: true },
  keys: { title: t("Keys and tools"), why: t("What to lay out: keys by size, the torque wrench, compound and paint."), view: "keys_sheet", draw: KeysSheet, ticked: true },
  build: { title: t("Build sheet"), why: t("To keep with the machine: what changed, masses, settings, torques, what is open, pictures."), view: "build_sheet", draw: BuildSheet },
  charts: { title: t("Pictures of the numbers"), why: t("The masses as a staircase by part, place and spell, the balance before and now, the time by part."), view: "charts_sheet", draw: ChartsSheet },
  standard: { title: t("Back-to-standard sheet"), why: t("What comes off, what goes on again and where it lies, what is to buy."), view: "to_standard", draw: StandardSheet, ticked: true },
});

const sizes = () => [["a4", t("A4, 210 × 297 mm")], ["letter", t("Letter, 8.5 × 11 in")]];

/** Sentences of all that stops the machine, of a view that has them. */
const stopsOf = (data) => data.stops ?? data.open?.stops.map((stop) => stop.sentence);

/** The paper that was chosen on this phone last, for labels where for no sheet, else what its country prints on; undefined until it is known. */
function usePaper() {
  const [size, setSize] = useState(undefined);
  const usual = printsOnLetter() ? "letter" : "a4";
  useEffect(() => {
    orSay(Promise.all([setting("paper"), setting("label_paper")])).then(([kept, labels] = []) => setSize(kept ?? ["a4", "letter"].find((each) => labels?.startsWith(`${each}_`)) ?? usual));
  }, []);
  return [size, (next) => { setSize(next); orSay(putSetting("paper", next)); }];
}

export function Sheets({ strip, sheet }) {
  const whole = useView(strip, "strip");
  const [size, choose] = usePaper();
  const chosen = Object.hasOwn(sheets(), sheet ?? "") ? sheets()[sheet] : null;
  const title = chosen?.title ?? t("Sheets to print");
  if (!whole.data || !size) return html`<${Frame} title=${title} strip=${strip}><${Standing} views=${[whole, { data: size ?? null }]} /><//>`;
  const paper = html`<${Tiles} field="paper" label=${t("Paper")} value=${size} onValue=${choose} options=${sizes()} />`;
  if (chosen) return html`<${One} ...${{ strip, whole, size, title, paper, ...chosen }} />`;
  return html`<${Frame} title=${title} strip=${strip} of=${whole.data.name}>
    ${paper}
    <ul class="lines">${Object.entries(sheets()).map(([name, each]) => html`<li key=${name}><a class="line" href=${route.sheet(strip, name)}><span class="name">${each.title}</span><span class="quiet">${each.why}</span></a></li>`)}</ul>
  <//>`;
}

function One({ strip, whole, size, title, paper, view, draw, ticked }) {
  const [at] = useState(() => Date.now());
  const seen = useView(strip, view, { now_ms: at });
  return html`<${Frame} title=${title} strip=${strip} of=${whole.data.name}>
    <${Standing} views=${[whole, seen]} />
    ${paper}
    <div class="row"><button type="button" class="main" disabled=${!seen.data} onClick=${() => print()}>${t("Print, or save as PDF")}</button>
      <a class="button" href=${route.sheets(strip)}>${t("Other sheets")}</a></div>
    ${seen.data && html`<${Paper} ...${{ title, whole: whole.data, at, size, ticked, stops: stopsOf(seen.data) }} told=${Boolean(seen.data.not_all_read ?? seen.data.open?.not_all_read)}><${draw} data=${seen.data} whole=${whole.data} /><//>`}
  <//>`;
}
