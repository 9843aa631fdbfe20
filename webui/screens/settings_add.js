// Writing a setting down: what, how it is read, how it was found and how it stands.

import { html } from "../vendor/preact.js";
import { t } from "../words.js";
import { HereAgain, useDrafted } from "../pieces/drafted.js";
import { Pick, Section, Text, Tick, Tiles } from "../pieces/fields.js";
import { Problems } from "../pieces/form.js";
import { useActing } from "../pieces/live.js";
import { partToChoose } from "../pieces/show.js";
import { Value, typedIn } from "./settings_value.js";
import { unitsOf } from "./settings_words.js";

const empty = () => ({ name: "", side: null, counted: null, inwards_is: null, read_how: "", as_found: "", as_found_unknown: false, value: "", why: "", how_to_undo: "", note: "" });

/** Where each is, unless somebody says otherwise. */
const USUAL_PLACE = { lever: "handlebar", handlebar: "handlebar", chain_slack: "rear_wheel", lamp_aim: "front_end", idle: "engine" };
const TURNED = ["clicks", "turns"];

export function AddSetting({ strip, choices, parts, first, begun }) {
  const acting = useActing();
  const start = { adjusted: "preload", measured_in: choices.reads.preload[0], place: null, part: null, unit: "", ...empty() };
  const form = useDrafted(begun, start, acting);
  const { bind } = form;
  const { adjusted, measured_in: unit, as_found_unknown: unknown } = form.form;
  const choose = (what) => form.fill({ adjusted: what, measured_in: choices.reads[what][0], place: USUAL_PLACE[what] ?? null, as_found: "", value: "" });
  async function save(event) {
    event.preventDefault();
    const entered = form.latest.current;
    if (await form.act("add_setting", { strip, ...entered, unit: typedIn(entered, entered.measured_in) })) form.begin({ ...start, adjusted: entered.adjusted, measured_in: entered.measured_in, place: entered.place, part: entered.part });
  }
  return html`<${Section} title=${t("Write down a setting")} open=${first || acting.problems.length > 0 || Boolean(begun.draft)}>
    <form class="stack" onSubmit=${save} novalidate>
      <${HereAgain} back=${form.back} words=${(gaps) => t("Your unfinished setting is here again, from {when}.", gaps)} onAfresh=${form.afresh} /><${Problems} problems=${acting.problems} />
      <${Tiles} ...${bind("adjusted")} onValue=${choose} label=${t("What is adjusted")} options=${choices.adjusted} />
      ${adjusted === "other" && html`<${Text} ...${bind("name")} label=${t("Name")} big />`}
      <${Pick} ...${bind("place")} label=${t("Place on the machine")} options=${choices.places} />
      ${parts.length > 0 && html`<${Pick} ...${bind("part")} label=${t("Which part")} options=${parts.map((each) => [each.part, partToChoose(each)])} />`}
      <${Tiles} ...${bind("side")} label=${t("Side")} options=${choices.sides} />
      ${choices.reads[adjusted].length > 1 && html`<${Tiles} ...${bind("measured_in")} label=${t("Measured in")} options=${unitsOf(choices.reads[adjusted])} />`}
      ${TURNED.includes(unit) && html`<${Tiles} ...${bind("counted")} label=${t("Counted")} options=${choices.counted} />
        <${Tiles} ...${bind("inwards_is")} label=${t("Turned in, it gets")} options=${choices.inwards_is} />`}
      <${Text} ...${bind("read_how")} label=${t("How it is read")} hint=${t("Where, with what, in which state of the machine: at its tightest place, on the side stand, cold.")} />
      <div class="stack close">${!unknown && html`<${Value} form=${form} field="as_found" unit=${unit} label=${t("As found")} choices=${choices} hint=${t("Before anybody turned it.")} />`}
        <${Tick} ...${bind("as_found_unknown")} label=${t("Nobody knows how it was found")} /></div>
      <${Value} form=${form} field="value" unit=${unit} label=${t("How it stands now")} choices=${choices} hint=${t("Left out: as found.")} />
      <${Section} light title=${t("Name, how to undo it, note")}>
        ${adjusted !== "other" && html`<${Text} ...${bind("name")} label=${t("Name")} />`}
        <${Text} ...${bind("why")} label=${t("Why")} />
        <${Text} ...${bind("how_to_undo")} label=${t("How to undo it")} lines />
        <${Text} ...${bind("note")} label=${t("Note")} lines /><//>
      <button type="submit" disabled=${acting.busy}>${t("Save the setting")}</button></form>
  <//>`;
}
