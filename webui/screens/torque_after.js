// After the tightening, on the torque card: compound that cures, and when to tighten anew; the form that says both.

import { html, useEffect, useState } from "../vendor/preact.js";
import { route } from "../addresses.js";
import { t, usualUnits } from "../words.js";
import { CureOf } from "../pieces/cure.js";
import { Drafted, HereAgain, useDrafted } from "../pieces/drafted.js";
import { Figure, Section, Text, Tiles } from "../pieces/fields.js";
import { Problems } from "../pieces/form.js";
import { useActing, useViewNow } from "../pieces/live.js";
import { RetorqueState } from "./retorque.js";

export function After({ strip, data, choices }) {
  const [saved, setSaved] = useState(0);
  const { retorque, record_notes: notes } = data;
  return html`<section class="section"><h2>${t("After tightening")}</h2>
    ${notes.map((note) => html`<p class="mark bad" key=${t(note)}>${t(note)}</p>`)}
    <${CureOf} strip=${strip} group=${data.group} fields=${data.fields} />
    ${retorque && html`<${Stands} strip=${strip} group=${data.group} />`}
    <p class="row"><a class="button" href=${route.record(strip, data.group)}>${t("The whole record")}</a>
      ${retorque && html`<a class="button" href=${route.retorque(strip)}>${t("Odometer and retorque")}</a>`}</p>
    ${data.alive && html`<${Drafted} key=${saved} form=${AfterForm} stem=${`aftercare/${strip}/${data.group}`} about=${data.part_name} ...${{ strip, data, choices }} onSaved=${() => setSaved(saved + 1)} />`}
  </section>`;
}

function Stands({ strip, group }) {
  const { data } = useViewNow(strip, "retorque");
  const stands = data?.due.find((each) => each.group === group);
  return stands && html`<div class="stack close"><${RetorqueState} stands=${stands} /></div>`;
}

const FIELDS = ["retorque_kilometres", "retorque_unit", "retorque_days", "retorque_heat_cycles", "retorque_once", "retorque_from", "locking_compound", "cure_hours", "cure_from"];
const headsOf = (fields) => Object.fromEntries(FIELDS.filter((name) => fields[name]).map((name) => [name, fields[name].heads.map((head) => head.entry)]));

/** Retorque and cure time on one form; what is blank is taken back. */
function AfterForm({ strip, data, choices, onSaved, begun }) {
  const acting = useActing();
  const start = data.aftercare.retorque_distance === "" ? { ...data.aftercare, retorque_unit: usualUnits().distance } : data.aftercare;
  const form = useDrafted(begun, start, acting, headsOf(data.fields));
  useEffect(() => { if (form.untouched()) form.begin(start, headsOf(data.fields)); }, [JSON.stringify(data.aftercare)]);
  const { bind, back, saw } = form;
  const unit = bind("retorque_unit");
  async function save(event) {
    event.preventDefault();
    if (await form.act("aftercare", { strip, group: data.group, ...form.latest.current, saw })) onSaved();
  }
  const written = data.retorque || data.fields.cure_hours?.value;
  return html`<${Section} open=${Boolean(begun.draft)} title=${written ? t("Correct retorque and cure time") : t("Write down retorque and cure time")}><form class="stack" onSubmit=${save} novalidate>
    <${HereAgain} back=${back} words=${(gaps) => t("Your unfinished retorque is here again, from {when}.", gaps)} onAfresh=${form.afresh} /><${Problems} problems=${acting.problems} />
    <h3>${t("Tighten anew")}</h3>
    <${Figure} ...${bind("retorque_distance")} unit=${unit.value ?? "km"} units=${choices.distance_units} onUnit=${unit.onValue} label=${t("After a distance of")} />
    <div class="pair"><${Text} ...${bind("retorque_days")} figure label=${t("After how many days")} />
      <${Text} ...${bind("retorque_heat_cycles")} figure label=${t("After how many heat cycles")} /></div>
    <${Tiles} ...${bind("retorque_times")} label=${t("How often")} options=${[["once", t("Once")], ["every_time", t("Each time")]]} />
    <${Text} ...${bind("retorque_from")} label=${t("Who wants it")} hint=${t("The manual with its page, or the shop’s own rule.")} maxlength="120" />
    <h3>${t("Locking compound")}</h3>
    <${Text} ...${bind("locking_compound")} label=${t("Which compound")} hint=${t("As its label says.")} maxlength="120" />
    <${Text} ...${bind("cure_hours")} figure label=${t("Cures in how many hours")} hint=${t("From its own sheet, for this metal and this warmth.")} />
    <${Text} ...${bind("cure_from")} label=${t("Where the hours are from")} maxlength="120" />
    <button type="submit" class="main" disabled=${acting.busy}>${t("Save retorque and cure time")}</button>
  </form><//>`;
}
