// Putting back: what is short or left over, then each part in its order, down to its last fastener.

import { html, useEffect, useState } from "../vendor/preact.js";
import { route } from "../addresses.js";
import { t } from "../words.js";
import { Cautions } from "../pieces/cautions.js";
import { useChosenWrenches } from "../pieces/chosen_wrench.js";
import { Section } from "../pieces/fields.js";
import { stemsLeft } from "../pieces/form_draft.js";
import { Frame } from "../pieces/frame.js";
import { useChoices, useFresh, useView } from "../pieces/live.js";
import { LongList } from "../pieces/long_list.js";
import { Standing } from "../pieces/show.js";
import { waitsLeft } from "../pieces/waits.js";
import { PartBack } from "./back_part.js";

const never = () => false;
const formsLeft = async (strip) => (await Promise.all([stemsLeft(`tighten/${strip}/`), waitsLeft(strip)])).flat();

export function Back({ strip }) {
  const whole = useView(strip, "strip");
  const back = useView(strip, "back");
  // Once for the life of the screen: how old a calibration is does not change while it is looked at.
  const [now] = useState(() => Date.now());
  const wrenches = useView(strip, "tools", { now_ms: now });
  const chosen = useChosenWrenches(strip);
  const left = useFresh(() => formsLeft(strip), [strip], never);
  const [goingOn, setGoingOn] = useState(null);
  useEffect(() => { if (goingOn) document.querySelector(`#back-${CSS.escape(goingOn)} > summary`)?.focus(); }, [goingOn]);
  const { data } = back;
  const choices = useChoices();
  if (!data || !whole.data || !wrenches.data || !chosen.data || !choices || !left.data) {
    return html`<${Frame} title=${t("Put back")} strip=${strip} here="back"><${Standing} views=${[whole, back, wrenches, chosen, left, { data: choices }]} /><//>`;
  }
  const rest = { strip, choices, left: left.data, people: whole.data.spell?.people ?? [], tools: wrenches.data.tools.filter((tool) => !tool.put_away) };
  // What was begun and not saved is in sight again.
  const begun = (part) => part.part === goingOn || [`wait/${strip}/${part.part}`, ...part.groups.map(({ group }) => `tighten/${strip}/${group}`)].some((stem) => left.data.includes(stem));
  const next = data.parts.find((part) => part.blockers.length === 0);
  const parts = (some) => html`<${LongList} as="plain" rows=${some} needed=${begun} box=${(rows) => rows} of=${(part, place) => html`<${PartBack} key=${part.part} open=${begun(part)} next=${part === next} ...${{ part, place, ...rest }} />`} />`;
  return html`<${Frame} title=${t("Put back")} strip=${strip} of=${whole.data.name} here="back">
    <${Standing} views=${[whole, back, wrenches]} />
    <div class="row"><a class="button" href=${route.openItems(strip)}>${t("Open items: what stands before riding")}</a>
      <a class="button" href=${route.toStandard(strip)}>${t("Back to standard")}</a>
      <a class="button" href=${route.sheets(strip)}>${t("Sheets to print")}</a></div>
    ${data.not_all_read && html`<p class="notice">${t(data.not_all_read)}</p>`}
    ${data.notices.length > 0 && html`<section class="notice" aria-label=${t("Short or left over")}><h2>${t("Short or left over")}</h2><${LongList} byHand rows=${data.notices} keyOf=${(notice) => t(notice)} box=${(rows) => html`<ul class="pointed">${rows}</ul>`} of=${(notice, place) => html`<li key=${t(notice)} ...${place}>${t(notice)}</li>`} /></section>`}
    <${Cautions} strip=${strip} spell=${whole.data.spell?.spell} when="back" />
    ${data.parts.length === 0 && data.done.length === 0 && !data.not_all_read && html`<p>${t("Nothing is to go back on. What becomes of a part is said on its page.")}</p>`}
    ${data.parts.length > 0 && html`<section class="stack"><h2>${t("Still open, in their order")}</h2>
      <p class="quiet">${t("Last off goes on first, and nothing before what it waits for. Change the order where the manual has another.")}</p>
      ${next && html`<button type="button" class="main" onClick=${() => setGoingOn(next.part)}>${t("Next: {name}", next)}</button>`}${parts(data.parts)}</section>`}
    ${data.done.length > 0 && html`<${Section} title=${t("Done")} open=${data.done.some(begun)} says=${data.done.length === 1 ? t("one part") : t("{count} parts", { count: data.done.length })}>${parts(data.done)}<//>`}
  <//>`;
}
