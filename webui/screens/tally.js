// A total that somebody wrote or said, against our sum, and the slips that would explain the difference.

import { html, useEffect, useRef, useState } from "../vendor/preact.js";
import { route } from "../addresses.js";
import * as shop from "../shop.js";
import { figure, label, t, usualUnits } from "../words.js";
import { Drafted, HereAgain, useDrafted } from "../pieces/drafted.js";
import { Figure, Text, Tiles } from "../pieces/fields.js";
import { Problems } from "../pieces/form.js";
import { Frame } from "../pieces/frame.js";
import { problemsOf, useChoices, useView } from "../pieces/live.js";
import { Mass, Standing } from "../pieces/show.js";

const sumWords = (which) => ({
  spell: t("In this spell"), came_in: t("Since it came in"), standard: t("Against the standard machine"), off: t("Lying off now"),
})[which];

export function Tally({ strip }) {
  const whole = useView(strip, "strip");
  const choices = useChoices();
  return html`<${Frame} title=${t("Check a total")} strip=${strip} of=${whole.data?.name} here="masses">
    <p><a class="button" href=${route.statement(strip)}>${t("Back to the masses")}</a></p>
    <${Standing} views=${[whole, { data: choices }]} />
    ${whole.data && choices && html`<${Drafted} form=${Typing} stem=${`tally/${strip}`} strip=${strip} choices=${choices} />`}
  <//>`;
}

const start = () => ({ which: "came_in", total: "", unit: usualUnits().heavy, rounded_to: "", figures: "same" });

/** What is typed is kept, answered or not, until it is emptied: the answer leads away to the parts that it names. */
function Typing({ strip, choices, begun }) {
  const [problems, setProblems] = useState([]);
  const form = useDrafted(begun, start(), { problems, setProblems });
  const view = useView(strip, "tally", { which: form.form.which });
  const of = { strip, choices, form, problems, setProblems, opened: Boolean(begun.draft?.value.rounded_to) };
  return html`<${Standing} views=${[view]} />${view.data && html`<${Asked} data=${view.data} ...${of} />`}`;
}

/** The form with our own sum beside it, and the answer below. */
function Asked({ strip, choices, data, form, problems, setProblems, opened }) {
  const [search, setSearch] = useState(null);
  const here = useRef(true);
  useEffect(() => () => { here.current = false; }, []);
  const { which } = form.form;
  // What was found is an answer to what was asked, and to nothing that was typed since.
  const { answer, looking } = search?.to === form.form ? search : { answer: null, looking: false };
  const unit = { unit: form.form.unit, units: choices.mass_units, onUnit: form.bind("unit").onValue };
  async function check(event) {
    event.preventDefault();
    const asked = form.latest.current;
    const still = () => here.current && form.latest.current === asked;
    const tell = (found, more) => { if (still()) setSearch({ to: asked, answer: found, looking: more }); };
    setProblems([]);
    setSearch(null);
    if (!asked.total.trim()) {
      setProblems([{ code: "missing", field: "total", text: "Type the total that somebody wrote or said.", values: {} }]);
      return;
    }
    tell(null, true);
    try {
      // A long search comes in pieces, so that what is logged meanwhile is saved between them.
      for (let found = { so_far: null }; found && still(); found = found.so_far && found) {
        found = (await shop.view(strip, "tally", { ...asked, so_far: found.so_far })).answer;
        tell(found, Boolean(found?.so_far));
      }
    } catch (error) {
      if (still()) setProblems(problemsOf(error));
      tell(null, false);
    }
  }
  return html`<form class="stack" onSubmit=${check}>
    <${HereAgain} back=${form.back} words=${(gaps) => t("What you asked last is here again, from {when}.", gaps)} onAfresh=${form.afresh} /><${Problems} problems=${problems} asks />
    <${Tiles} ...${form.bind("which")} label=${t("Which sum it is of")} options=${data.sums.map((name) => [name, sumWords(name)])} />
    <div><dl class="sums"><div><dt>${t("Our sum")}</dt><dd><${Mass} shown=${data.sum} signed=${which !== "off"} /></dd></div></dl>
      <p class="quiet">${data.lines === 1 ? t("Of one line.") : t("Of {lines} lines.", data)} ${data.unweighed > 0 && t("{unweighed} more have no mass.", data)}</p></div>
    <${Figure} ...${form.bind("total")} ...${unit} big label=${t("The total that was written or said")} hint=${which === "off" ? "" : t("Without a sign it is taken as our sum is: lost or gained.")} />
    <${Tiles} ...${form.bind("figures")} label=${t("What was added up")} options=${[["same", t("the figures in this log")], ["other", t("other weighings")]]} />
    <details class="light" open=${opened || problems.some((each) => each.field === "rounded_to")}><summary>${t("It was rounded to something else than its last digit")}</summary><div class="inside">
      <${Text} ...${form.bind("rounded_to")} label=${t("Rounded to, {unit}", { unit: label(form.form.unit) })} hint=${t("5, where a scale goes in steps of 5.")} figure /></div></details>
    <button type="submit" class="main" disabled=${looking}>${looking ? t("Looking…") : t("Look for what differs")}</button>
    <div aria-live="polite">${answer && html`<${Answer} strip=${strip} answer=${answer} />`}</div>
  </form>`;
}

function Answer({ strip, answer }) {
  const agrees = answer.size === 0;
  return html`<section class="section">
    <h2>${t("What differs")}</h2>
    <div class=${`notice ${agrees ? "good" : ""}`}>
      <p><strong>${t(answer.told)}</strong></p>
      ${answer.taken_as_loss && html`<p class="quiet">${t("Taken as {total}: a loss.", answer)}</p>`}
      ${answer.verdict.map((each) => html`<p key=${each.text}>${t(each)}</p>`)}
      ${answer.so_far && html`<progress max="100" value=${answer.percent} aria-label=${t("Three at once, tried so far")}></progress>`}
    </div>
    ${answer.sets.length > 0 && html`<ol class="lines">${answer.sets.map((set, index) => html`<li class="line" key=${index}><${Ways} strip=${strip} set=${set} /></li>`)}</ol>`}
    ${answer.more > 0 && html`<p class="quiet">${t("And {more} less likely ones.", answer)}</p>`}
    ${!agrees && html`<p class="quiet">${t("Differences up to {within} are not looked at: the figures are not known any closer.", answer)}</p>`}
  </section>`;
}

/** One way to explain the difference: one slip, or several that happened together. */
function Ways({ strip, set }) {
  return html`<ul class="stack close">${set.slips.map((slip, index) => html`<li key=${index}>
      ${index > 0 && html`<span class="quiet">${t("together with")}</span> `}
      <a class="reach" href=${route.part(strip, slip.part)}><span class="name">${slip.name || t("Part without a name")}</span> ${slip.side && html`<span class="quiet">${label(slip.side)}</span>`}</a>
      <p>${t(slip.sentence)}</p></li>`)}</ul>
    ${set.left && html`<p class="quiet">${t("What is left: {left}.", { left: figure(set.left) })}</p>`}`;
}
