// Beginning a strip-down: of a machine that is known already, or of a new one.

import { html } from "../vendor/preact.js";
import { route } from "../addresses.js";
import { t } from "../words.js";
import { Figure, Text } from "../pieces/fields.js";
import { Problems, useForm } from "../pieces/form.js";
import { Frame, Waiting } from "../pieces/frame.js";
import { useActing, useChoices } from "../pieces/live.js";

export function Begin() {
  const choices = useChoices();
  const acting = useActing();
  const form = useForm({ name: "", machine_name: "", standard: "", standard_unit: "kg", standard_source: "", tank_litres: "" }, acting.problems);
  async function save(event) {
    event.preventDefault();
    const answer = await acting.run("begin_strip", form.form);
    if (answer) location.hash = route.takeOff(answer.strip);
  }
  if (!choices) return html`<${Frame} title=${t("Begin a strip-down")}><${Waiting} /><//>`;
  const unit = form.bind("standard_unit");
  const foot = html`<button type="submit" form="begin" class="main" disabled=${acting.busy}>${t("Begin")}</button>`;
  return html`<${Frame} title=${t("Begin a strip-down")} foot=${foot}>
    <form id="begin" class="stack" onSubmit=${save} novalidate>
      <${Problems} problems=${acting.problems} />
      <${Text} ...${form.bind("machine_name")} label=${t("Machine")} big aria-required="true" />
      <${Text} ...${form.bind("name")} label=${t("Name of the strip-down")} hint=${t("What it is for: you will look for it by this name.")} big aria-required="true" />
      <section class="section"><h2>${t("The standard machine")}</h2>
        <p class="quiet">${t("Only if you know it now; it can be given later.")}</p>
        <${Figure} ...${form.bind("standard")} unit=${unit.value} units=${choices.mass_units} onUnit=${unit.onValue} label=${t("Standard mass")} />
        <${Text} ...${form.bind("standard_source")} label=${t("Where that figure is from")} hint=${t("Papers, manual, own scales; dry or ready to ride.")} />
        <${Text} ...${form.bind("tank_litres")} label=${t("Tank, litres")} figure /></section>
    </form>
  <//>`;
}
