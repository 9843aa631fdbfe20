// Putting back: what is short or left over, then each part, last off first, down to its last fastener.

import { html, useState } from "../vendor/preact.js";
import { route } from "../addresses.js";
import { t } from "../words.js";
import { Cautions } from "../pieces/cautions.js";
import { useChosenWrenches } from "../pieces/chosen_wrench.js";
import { Section } from "../pieces/fields.js";
import { Problems } from "../pieces/form.js";
import { stemsLeft } from "../pieces/form_draft.js";
import { Frame } from "../pieces/frame.js";
import { useActing, useChoices, useFresh, useView } from "../pieces/live.js";
import { LongList } from "../pieces/long_list.js";
import { Picture } from "../pieces/photos.js";
import { Bag, Outcome, Standing, whereabouts } from "../pieces/show.js";
import { GroupBack } from "./back_group.js";

const never = () => false;

export function Back({ strip }) {
  const whole = useView(strip, "strip");
  const back = useView(strip, "back");
  // Once for the life of the screen: how old a calibration is does not change while it is looked at.
  const [now] = useState(() => Date.now());
  const wrenches = useView(strip, "tools", { now_ms: now });
  const chosen = useChosenWrenches(strip);
  const left = useFresh(() => stemsLeft(`tighten/${strip}/`), [strip], never);
  const { data } = back;
  const choices = useChoices();
  if (!data || !whole.data || !wrenches.data || !chosen.data || !choices) {
    return html`<${Frame} title=${t("Put back")} strip=${strip} here="back"><${Standing} views=${[whole, back, wrenches, chosen, { data: choices }]} /><//>`;
  }
  const rest = { strip, choices, people: whole.data.spell?.people ?? [], tools: wrenches.data.tools.filter((tool) => !tool.put_away) };
  // A tightening that was begun and not saved is in sight again.
  const begun = (part) => part.groups.some(({ group }) => left.data?.includes(`tighten/${strip}/${group}`));
  const parts = (some) => html`<${LongList} as="plain" rows=${some} needed=${begun} box=${(rows) => rows} of=${(part, place) => html`<${PartBack} key=${part.part} open=${begun(part)} ...${{ part, place, ...rest }} />`} />`;
  return html`<${Frame} title=${t("Put back")} strip=${strip} of=${whole.data.name} here="back">
    <${Standing} views=${[whole, back, wrenches]} />
    <p><a class="button" href=${route.openItems(strip)}>${t("Open items: what stands before riding")}</a></p>
    ${data.notices.length > 0 && html`<section class="notice" aria-label=${t("Short or left over")}><h2>${t("Short or left over")}</h2><${LongList} byHand rows=${data.notices} keyOf=${(notice) => t(notice)} box=${(rows) => html`<ul class="pointed">${rows}</ul>`} of=${(notice, place) => html`<li key=${t(notice)} ...${place}>${t(notice)}</li>`} /></section>`}
    <${Cautions} strip=${strip} spell=${whole.data.spell?.spell} when="back" />
    ${data.parts.length === 0 && data.done.length === 0 && html`<p>${t("Nothing is to go back on. What becomes of a part is said on its page.")}</p>`}
    ${data.parts.length > 0 && html`<section class="stack"><h2>${t("Still open, last off first")}</h2>${parts(data.parts)}</section>`}
    ${data.done.length > 0 && html`<${Section} title=${t("Done")} open=${data.done.some(begun)} says=${data.done.length === 1 ? t("one part") : t("{count} parts", { count: data.done.length })}>${parts(data.done)}<//>`}
  <//>`;
}

/** What the way back may still lack, in words. */
export const missing = () => ({ on: t("it is not on yet"), count: t("fasteners are out"), torque: t("torque is missing"), mark: t("a mark is missing"), second_check: t("a second check is missing") });

/** That a part is done, and whether another person looked at it or the owner does without. */
function doneWords({ groups }) {
  const twice = groups.map((group) => group.second_check).filter((check) => check.wanted);
  if (twice.some((check) => check.waived)) return t("on, counted, tight and marked; no second check, as decided");
  return twice.some((check) => check.checked) ? t("on, counted, tight, marked and checked") : t("on, counted, tight and marked");
}

/** What a part lacks before it is done, in words. */
const lacking = (part) => (part.done ? doneWords(part) : t("{needs}", { needs: part.needs.map((need) => missing()[need] ?? need) }));

function PartBack({ strip, part, open, place, ...rest }) {
  const acting = useActing();
  return html`<details class="part" open=${open} ...${place}>
    <summary><span class="name">${part.name}</span>
      <span class="quiet">${whereabouts(part)}</span>
      <span class=${`mark ${part.done ? "done" : ""}`}>${lacking(part)}</span></summary>
    <div class="inside">
      <p class="row"><${Outcome} ...${part} />${part.bag && html`<${Bag} label=${part.bag} />`}<a class="reach" href=${route.part(strip, part.part)}>${t("Open its page")}</a></p>
      ${part.photo && html`<div class="thumbs"><${Picture} sha256=${part.photo} small alt=${t("As it was: {name}", part)} /></div>`}
      ${part.second_person && html`<p class="notice">${t("A life hangs on these: let a second person look at every fastener, by the manual.")}</p>`}
      ${part.groups.map((group) => html`<${GroupBack} key=${group.group} about=${part.name} ...${{ strip, group }} ...${rest} />`)}
      <${Problems} problems=${acting.problems} />
      ${part.on
        ? html`<button type="button" disabled=${acting.busy} onClick=${() => acting.run("part_off", { strip, part: part.part })}>${t("It came off again")}</button>`
        : html`<button type="button" class="main" disabled=${acting.busy} onClick=${() => acting.run("part_on", { strip, part: part.part })}>${part.outcome === "swapped" ? t("The replacement is on") : t("The part is back on")}</button>`}
    </div>
  </details>`;
}
