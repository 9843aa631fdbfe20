// The whole record of a group of fasteners: why it stands as it does, and each entry with who, when, how, and whether it counts.

import { html } from "../vendor/preact.js";
import { route } from "../addresses.js";
import { asWritten, t } from "../words.js";
import { Problems } from "../pieces/form.js";
import { Frame } from "../pieces/frame.js";
import { useActing, useView } from "../pieces/live.js";
import { LongList } from "../pieces/long_list.js";
import { Standing, byWhom, groupWords } from "../pieces/show.js";
import { Strike } from "../pieces/strike.js";
import { VERDICT_MARKS, verdictWords } from "../pieces/verdict.js";
import { GroupState } from "./back_group.js";

export function Record({ strip, group }) {
  // The core answers in turn: once the whole is there, a group that is not is not in the log.
  const view = useView(strip, "record", { group });
  const whole = useView(strip, "strip");
  const acting = useActing();
  const { data } = view;
  if (!whole.data || !data) {
    const unknown = whole.data && !view.trouble && !whole.trouble;
    return html`<${Frame} title=${t("Record of fasteners")} strip=${strip} of=${whole.data?.name}>
      ${unknown ? html`<p class="notice">${t("These fasteners are not in the log of this phone. They may come with the next sending.")}</p>` : html`<${Standing} views=${[whole, view]} />`}<//>`;
  }
  const { lines } = data;
  return html`<${Frame} title=${data.count ? t("Record of {what}", { what: groupWords(data.count, data.called) }) : t("Record of fasteners")} strip=${strip} of=${whole.data.name}>
    <${Standing} views=${[whole, view]} />
    <p class="row">${data.part && html`<a class="button" href=${route.part(strip, data.part)}><span class="name">${data.part_name || t("Part without a name")}</span></a>`}
      <a class="button" href=${route.torque(strip, group)}>${t("Torque card")}</a></p>
    ${!data.alive && html`<p class="notice">${t("These were struck as a mistake and count nowhere.")}</p>`}
    <section class="section"><h2>${t("How they stand, and why")}</h2><${GroupState} group=${data.state} />
      <ul>${data.why.map((each) => html`<li key=${t(each)}>${t(each)}</li>`)}</ul></section>
    <section class="section"><h2>${t("Every entry, newest first")}</h2><${Problems} problems=${acting.problems} />
      ${lines.length === 0 && html`<p>${t("Nothing is written of these yet: they are as they came.")}</p>`}
      <${LongList} rows=${lines} keyOf=${(line) => line.entry} box=${(rows) => html`<ul class="lines">${rows}</ul>`}
        of=${(line, place) => html`<${Line} key=${line.entry} ...${{ strip, line, place, acting }} />`} /></section>
  <//>`;
}

/** Whether an entry still counts, as a word and a shape. */
function Counts({ line }) {
  if (line.struck) return html`<p class="mark bad">${t("Struck: {why}", line.struck)}</p><p class="quiet">${byWhom(line.struck)}</p>`;
  if (line.counts === null) return null;
  if (line.counts) return html`<p class="mark done">${t("It counts.")}</p>`;
  return html`<p class="mark wait">${t(line.why)}</p>${line.ended && html`<p class="quiet">${byWhom(line.ended)}</p>`}`;
}

function Line({ strip, line, place, acting }) {
  const { tightening, struck, after } = line;
  return html`<li class="line" ...${place}>
    <p class=${struck ? "struck" : ""}><strong>${t(line.text)}</strong></p>
    <p class="quiet">${byWhom(line)}</p>
    ${line.facts.length > 0 && html`<ul>${line.facts.map((fact) => html`<li key=${t(fact)}>${asWritten(t(fact))}</li>`)}</ul>`}
    ${tightening && html`<p class=${`mark ${VERDICT_MARKS[tightening.judged]}`}>${verdictWords(tightening)}</p>${tightening.reason && html`<p>${t(tightening.reason)}</p>`}`}
    ${line.notes.map((note) => html`<p class="mark bad" key=${t(note)}>${t(note)}</p>`)}
    <${Counts} line=${line} />
    ${line.effects.map((effect) => html`<p key=${t(effect)}>${t(effect)}</p>`)}
    ${after && html`<p class="quiet figures">${t("Then {on} of {count} on, {tight} tight, {marked} marked, {checked} looked at.", { ...after, count: line.count })}</p>`}
    ${!struck && line.kind !== "part_back" && html`<div><${Strike} strip=${strip} entry=${line.entry} acting=${acting} text=${t(line.text)} /></div>`}</li>`;
}
