// Tightening one fastener after another, in the order that is drawn: a tap says which one it was.

import { html } from "../vendor/preact.js";
import { t } from "../words.js";
import { Section } from "../pieces/fields.js";
import { HowTo } from "../pieces/how_to.js";
import { useView } from "../pieces/live.js";

/**
 * @param {{strip: string, group: object, step: number|null, busy: boolean, onTap: (place: number) => void}} props
 *   `onTap` saves that the fastener of this place was tightened, as the form above says
 */
export function InTurn({ strip, group, step, busy, onTap }) {
  const { data } = useView(strip, "turns", { group: group.group, step });
  if (!data || data.turns.length === 0) return null;
  const next = data.turns.find((turn) => turn.place === data.next);
  const had = data.turns.filter((turn) => turn.had).length;
  const spoken = (turn, main) => (main ? undefined : turn.had ? t("Number {number}, tightened: once more", turn) : turn === next ? t("Number {number}, the next", turn) : t("Number {number}, out of turn", turn));
  const tap = (turn, main) => html`<button type="button" key=${main ? "next" : turn.place} class=${main ? "main" : "turn"} aria-label=${spoken(turn, main)}
    disabled=${busy} onClick=${() => onTap(turn.place)}>${main ? t("Number {number} is tightened", turn) : turn.had ? t("{number} ◆", turn) : t("{number} ◇", turn)}</button>`;
  return html`<${Section} light open=${data.begun} title=${t("One after another, in the drawn order")} says=${t("{had} of {count} in this round", { had, count: data.turns.length })}><div class="stack close"><${HowTo} card="order" />
    <p class="quiet">${t("Each tap is kept with what stands above. Another than the next is kept too, and noted.")}</p>
    ${next ? tap(next, true) : html`<p class="mark done">${t("All of this round are tightened.")}</p>`}
    <div class="turns-row" role="group" aria-label=${t("By number, as drawn")}>${data.turns.map((turn) => tap(turn, false))}</div></div><//>`;
}
