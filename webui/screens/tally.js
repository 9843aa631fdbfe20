// A total that somebody wrote or said, against our sum, and the slips that would explain the difference.

import { html, useEffect, useRef, useState } from "../vendor/preact.js";
import { route } from "../addresses.js";
import * as shop from "../shop.js";
import { figure, label, t } from "../words.js";
import { Figure, Text, Tiles } from "../pieces/fields.js";
import { Problems, useForm } from "../pieces/form.js";
import { Frame } from "../pieces/frame.js";
import { problemsOf, useChoices, useView } from "../pieces/live.js";
import { Mass, Standing } from "../pieces/show.js";

const sumWords = (which) => ({
  spell: t("In this spell"), came_in: t("Since it came in"), standard: t("Against the standard machine"), off: t("Lying off now"),
})[which];

export function Tally({ strip }) {
  const whole = useView(strip, "strip");
  const choices = useChoices();
  const [which, setWhich] = useState("came_in");
  const view = useView(strip, "tally", { which });
  return html`<${Frame} title=${t("Check a total")} strip=${strip} of=${whole.data?.name} here="masses">
    <p><a class="button" href=${route.statement(strip)}>${t("Back to the masses")}</a></p>
    <${Standing} views=${[whole, view, { data: choices }]} />
    ${view.data && choices && html`<${Asked} strip=${strip} choices=${choices} data=${view.data} which=${which} onWhich=${setWhich} />`}
  <//>`;
}

/** The form with our own sum beside it, and the answer below. */
function Asked({ strip, choices, data, which, onWhich }) {
  const [problems, setProblems] = useState([]);
  const [answer, setAnswer] = useState(null);
  const [looking, setLooking] = useState(false);
  // The newest question; what an earlier one is still looking for is no longer wanted.
  const asked = useRef(0);
  const forget = () => { asked.current += 1; setAnswer(null); setLooking(false); };
  useEffect(() => () => { asked.current += 1; }, []);
  const form = useForm({ total: "", unit: "kg", rounded_to: "", figures: "same" }, problems, forget);
  const choose = (next) => { forget(); onWhich(next); };
  const unit = { unit: form.form.unit, units: choices.mass_units, onUnit: form.bind("unit").onValue };
  async function check(event) {
    event.preventDefault();
    setProblems([]);
    forget();
    if (!form.form.total.trim()) {
      setProblems([{ code: "missing", field: "total", text: "Type the total that somebody wrote or said.", values: {} }]);
      return;
    }
    const mine = asked.current;
    const still = () => mine === asked.current;
    setLooking(true);
    try {
      // A long search comes in pieces, so that what is logged meanwhile is saved between them.
      for (let found = { so_far: null }; found && still(); found = found.so_far && found) {
        found = (await shop.view(strip, "tally", { which, ...form.form, so_far: found.so_far })).answer;
        if (still()) setAnswer(found);
      }
    } catch (error) {
      if (still()) setProblems(problemsOf(error));
    } finally {
      if (still()) setLooking(false);
    }
  }
  return html`<form class="stack" onSubmit=${check}><${Problems} problems=${problems} asks />
    <${Tiles} field="which" value=${which} onValue=${choose} label=${t("Which sum it is of")} options=${data.sums.map((name) => [name, sumWords(name)])} />
    <div><dl class="sums"><div><dt>${t("Our sum")}</dt><dd><${Mass} shown=${data.sum} signed=${which !== "off"} /></dd></div></dl>
      <p class="quiet">${t("Of {lines} lines.", data)} ${data.unweighed > 0 && t("{unweighed} more have no mass.", data)}</p></div>
    <${Figure} ...${form.bind("total")} ...${unit} big label=${t("The total that was written or said")} hint=${which === "off" ? "" : t("Without a sign it is taken as our sum is: lost or gained.")} />
    <${Tiles} ...${form.bind("figures")} label=${t("What was added up")} options=${[["same", t("the figures in this log")], ["other", t("other weighings")]]} />
    <details class="light" open=${problems.some((each) => each.field === "rounded_to")}><summary>${t("It was rounded to something else than its last digit")}</summary><div class="inside">
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
