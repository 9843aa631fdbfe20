// What was written of one thing, newest first; a mistake is struck, never rubbed out.

import { html } from "../vendor/preact.js";
import { t } from "../words.js";
import { saidOf } from "./facts.js";
import { Problems } from "./form.js";
import { useActing } from "./live.js";
import { LongList } from "./long_list.js";
import { byWhom } from "./show.js";
import { Strike } from "./strike.js";

/** @param {{strip: string, history: object[]}} props lines as the core gives them */
export function History({ strip, history }) {
  const acting = useActing();
  return html`<${Problems} problems=${acting.problems} />
    <${LongList} rows=${history} keyOf=${(line) => line.entry} box=${(rows) => html`<ul class="history">${rows}</ul>`} of=${(line, place) => html`<li key=${line.entry} class=${line.struck ? "struck" : ""} ...${place}>
      <div class="what">${told(line)}${more(line)}</div>
      ${line.struck && html`<p class="mark bad">${t("Struck by {who}: {why}", line.struck)}</p>`}
      <div class="spread"><span class="quiet">${byWhom(line)}</span>
        ${line.can_strike && html`<${Strike} strip=${strip} entry=${line.entry} acting=${acting} text=${told(line)} words=${line.kind === "strike" ? t("Take it back") : t("Strike")} />`}</div></li>`} />`;
}

/** An entry's sentence; a move also says from where to where. */
function told({ kind, text }) {
  if (kind !== "move") return t(text);
  const { from, to, bag, ...values } = text.values;
  const places = { ...values, from: { label: from }, to: { label: to }, bag };
  return bag ? t("Moved {n} {what}: {from} → bag {bag}", places) : t("Moved {n} {what}: {from} → {to}", places);
}

/** The fields that an entry set. */
const more = ({ kind, values }) => kind === "set" && values.length > 0 && html`<ul class="quiet">${values.map(({ field, value }) => html`<li key=${field}>${saidOf(field, value)}</li>`)}</ul>`;
