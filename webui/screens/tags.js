// Labels to print: for the bags and parts that are off, for boxes, or for empty bags before the work begins.

import { html, useEffect, useState } from "../vendor/preact.js";
import { route } from "../addresses.js";
import { printsOnLetter, t } from "../words.js";
import { Pick, Stepper, Tiles } from "../pieces/fields.js";
import { Problems } from "../pieces/form.js";
import { Frame } from "../pieces/frame.js";
import { orSay, useAnswer, useView } from "../pieces/live.js";
import { Standing } from "../pieces/show.js";
import { TagPages } from "../pieces/tag_pages.js";
import * as log from "../log.js";
import * as shop from "../shop.js";

const KEPT = "label_paper";
const LOOPBACK = /^(localhost|127\.|\[::1\])/;

const kinds = () => [["bags", t("Bags")], ["parts", t("Parts")], ["boxes", t("Boxes and shelves")], ["empty", t("Empty bags")]];

/** What each paper is, in words; the core knows its measures. */
const papers = () => ({
  a4_plain: t("A4, plain, to cut: 90 × 54 mm"), a4_21: t("A4 labels, 3 × 7: 63.5 × 38.1 mm"), a4_24: t("A4 labels, 3 × 8: 70 × 37 mm"),
  a4_8: t("A4 labels, 2 × 4: 99.1 × 67.7 mm"), letter_plain: t("Letter, plain, to cut: 90 × 50.8 mm"),
  letter_30: t("Letter labels, 3 × 10: 2 5/8 × 1 in"), letter_10: t("Letter labels, 2 × 5: 4 × 2 in"),
  roll_58: t("Roll, 58 mm wide"), roll_80: t("Roll, 80 mm wide"),
});

/** The plain paper of a size that sheets are printed on here, or of the country's where none was ever chosen. */
const plainPaper = (size) => ((size ?? (printsOnLetter() ? "letter" : "a4")) === "letter" ? "letter_plain" : "a4_plain");

const nothing = () => ({
  bags: t("No bag is written down yet. Empty bags can be labelled before the work."), parts: t("Nothing is off."),
  boxes: t("Nobody has written down where a bag or a part is kept yet."), empty: "",
});

export function Tags({ strip }) {
  const whole = useView(strip, "strip");
  const [form, setForm] = useState({ what: "bags", paper: plainPaper(), first: null, count: 20, used: 0, passed: 0 });
  const put = (name) => (value) => setForm((old) => ({ ...old, passed: 0, [name]: value }));
  useEffect(() => { orSay(Promise.all([log.setting(KEPT), log.setting("paper")])).then(([kept, size] = []) => put("paper")(kept ?? plainPaper(size))); }, []);
  const choosePaper = (code) => { put("paper")(code); put("used")(0); orSay(log.putSetting(KEPT, code)); };
  const asked = { what: form.what, paper: form.paper, first: form.first, count: form.count, passed: form.passed };
  const { answer, problems } = useAnswer(() => shop.view(strip, "tags", asked), JSON.stringify([strip, asked]));
  const title = t("Labels to print");
  if (!whole.data) return html`<${Frame} title=${title} strip=${strip}><${Standing} views=${[whole]} /><//>`;
  const bind = (name) => ({ field: name, value: form[name], onValue: put(name), problems });
  const each = answer ? answer.paper.columns * answer.paper.rows : 1;
  return html`<${Frame} title=${title} strip=${strip} of=${whole.data.name}>
    <${Standing} views=${[whole]} />
    <p>${t("The code on a label opens its bag, box or part on every phone that has this strip-down, also without the network.")} <a href=${route.scan(strip)}>${t("Read a label")}</a></p>
    ${LOOPBACK.test(location.hostname) && html`<p class="notice">${t("This page was opened at an address that holds on this device only, so phones can’t open these codes. Open the program at its address in the shop’s network, then print.")}</p>`}
    <${Tiles} ...${bind("what")} label=${t("For")} options=${kinds()} />
    ${form.what === "empty" && html`<div class="twofold"><${Stepper} ...${bind("count")} label=${t("How many")} high=${answer?.most ?? 200} />
      <${Stepper} ...${bind("first")} value=${form.first ?? answer?.next_number} label=${t("From number")} high=${99999} /></div>`}
    <${Pick} field="paper" value=${form.paper} onValue=${choosePaper} label=${t("Paper")} options=${Object.entries(papers())} none=${null} />
    ${each > 1 && html`<${Stepper} field="used" label=${t("Labels gone from the first sheet")} low=${0} high=${each - 1} value=${form.used} onValue=${put("used")} />`}
    <${Problems} problems=${problems} />
    ${answer && answer.tags.length === 0 && html`<p>${nothing()[form.what]}</p>`}
    ${answer && answer.left_out + answer.passed > 0 && html`<div class="notice"><p>${t("At most {most} labels at once: here are {from} to {to}.", { most: answer.most, from: answer.passed + 1, to: answer.passed + answer.tags.length })}</p>
      <p class="row">${answer.passed > 0 && html`<button type="button" onClick=${() => put("passed")(0)}>${t("From the first on")}</button>`}
        ${answer.left_out > 0 && html`<button type="button" onClick=${() => put("passed")(answer.passed + answer.most)}>${t("The next {n}", { n: Math.min(answer.left_out, answer.most) })}</button>`}</p></div>`}
    ${answer && answer.tags.length > 0 && html`<button type="button" class="main" onClick=${() => print()}>${answer.tags.length === 1 ? t("Print one label") : t("Print {n} labels", { n: answer.tags.length })}</button>
      <p class="quiet">${t("Print at 100 %, without margins of the printer’s own. Try one sheet on plain paper first and hold it against the labels.")}</p>
      <${TagPages} strip=${strip} of=${whole.data.name} what=${answer.what} paper=${answer.paper} tags=${answer.tags} used=${Math.min(Number(form.used) || 0, each - 1)} />`}
  <//>`;
}
