// The readings of a part: all of them, which one counts, and another look.

import { html, useEffect, useState } from "../vendor/preact.js";
import { isolated, label, t } from "../words.js";
import { Drafted, HereAgain, useDrafted } from "../pieces/drafted.js";
import { Problems } from "../pieces/form.js";
import { putSetting, setting, useActing, useView } from "../pieces/live.js";
import { ReadingForm, asReading, keptFor, keptOf, newReading, statesOf } from "../pieces/reading_form.js";
import { Mass, byWhom } from "../pieces/show.js";
import { Strike } from "../pieces/strike.js";

export const Readings = (props) => html`<${Drafted} form=${Weight} stem=${`reading/${props.strip}/${props.part}`} about=${props.name} ...${props} />`;

function Weight({ strip, part, choices, readings, outcome, pieces, struck, begun }) {
  const acting = useActing();
  const gear = useView(strip, "gear");
  const scales = gear.data?.scales ?? [];
  const [kept, setKept] = useState({});
  const form = useDrafted(begun, { readings: [] }, acting);
  useEffect(() => { setting("last_reading").then((last) => setKept(keptFor(last, strip))); }, []);
  const states = statesOf(outcome);
  const begin = (values) => form.begin({ readings: [{ ...newReading(kept, pieces, states[0], scales), ...values }] });
  const leave = () => { form.begin({ readings: [] }); form.drop(); };
  async function save(event) {
    event.preventDefault();
    const rows = form.latest.current.readings;
    if (!(await form.act("add", { strip, part, readings: rows.map(asReading) }))) return;
    const last = keptOf(rows[0], strip);
    setKept(last);
    putSetting("last_reading", last);
    leave();
  }
  const again = (reading) => begin({ again: reading.entry, weighed_as: reading.weighed_as, pieces: reading.pieces, with_fasteners: !!reading.with_fasteners, held: reading.held, unit: reading.unit, step: reading.on_scale ? "" : reading.step, scale: reading.on_scale ? "" : reading.scale ?? "", on_scale: reading.on_scale });
  const line = (reading) => html`<li class="line" key=${reading.entry}>
    <div class="spread"><${Mass} shown=${reading.shown} /><span class=${`mark ${reading.used ? "done" : ""}`}>${reading.used ? t("counts") : t("does not count")}</span></div>
    <p>${[label(reading.weighed_as), label(reading.basis), t("{pieces} of {all} on the scale", { pieces: reading.pieces, all: pieces }), reading.fluid && label(reading.fluid), reading.as_read && t("as read: {text}", { text: reading.as_read }), ...[reading.source, reading.scale].map((each) => each && isolated(each)), reading.maturity && label(reading.maturity)].filter(Boolean).map(isolated).join(" · ")}</p>
    ${reading.reason && html`<p>${t(reading.reason)}</p>`}
    <p class="quiet">${byWhom(reading)}</p>
    <div class="row">${!struck && html`<button type="button" onClick=${() => again(reading)}>${t("Weigh again")}</button>`}
      ${!struck && reading.pieces < pieces && html`<button type="button" onClick=${() => begin({ weighed_as: reading.weighed_as, pieces: 1 })}>${t("Weigh another piece")}</button>`}
      <${Strike} strip=${strip} entry=${reading.entry} acting=${acting} title=${t("Strike this reading?")} text=${reading.as_read ?? reading.shown} /></div></li>`;
  return html`<section class="section"><h2>${t("Weight")}</h2>
    ${readings.length === 0 && html`<p class="quiet">${t("Not weighed yet.")}</p>`}
    <ul class="lines">${readings.map(line)}</ul>
    ${!struck && (form.form.readings.length === 0
      ? html`<${Problems} problems=${acting.problems} /><button type="button" onClick=${() => begin({})}>${t("Add a reading")}</button>`
      : html`<form class="stack close" onSubmit=${save}>
        <${HereAgain} back=${form.back} words=${(gaps) => t("Your unfinished reading is here again, from {when}.", gaps)} onAfresh=${form.afresh} /><${Problems} problems=${acting.problems} />
        <${ReadingForm} bind=${form.bind} index=${0} rows=${form.form.readings} about=${{ part, pieces }} ...${{ strip, choices, scales, states, pieces }} onRemove=${leave} />
        <button type="submit" disabled=${acting.busy}>${t("Save the reading")}</button></form>`)}
  </section>`;
}
