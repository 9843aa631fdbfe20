// Lists that grow with the parts. Short ones are drawn whole. Of long ones the first rows are drawn at once, and more
// as their end comes near; the End key, the button below and a printer get all of them.
//
// Rows are only ever added below, so that nothing jumps, and what is drawn is not drawn again when more comes.

import { Fragment, html, useEffect, useLayoutEffect, useRef, useState } from "../vendor/preact.js";
import { t } from "../words.js";
import { goBackTo, keepPlace, keptPlace } from "./kept_place.js";

/** Up to so many rows are drawn at once, whatever comes. */
export const FEW = 60;
/** So many stand ready before anybody scrolls, and are drawn in one go. */
const PIECE = 20;
/** So many more when the end comes near. */
const MORE = 2 * PIECE;
/** The end is near when it lies within two screens. */
const NEAR = "0px 0px 200% 0px";

/** What a row says of its place among all, drawn or not. */
const PLACED = {
  list: (index, many) => ({ "aria-posinset": index + 1, "aria-setsize": many }),
  // A line of the table is two rows of it, below one row of headings.
  table: (index) => ({ "aria-rowindex": 2 + 2 * index }),
  rows: (index) => ({ "aria-rowindex": 2 + index }),
  plain: () => ({}),
};

/** How many rows a table of them has in all, with its row of headings. */
const COUNTED = { table: (many) => ({ "aria-rowcount": 1 + 2 * many }), rows: (many) => ({ "aria-rowcount": 1 + many }) };

const typing = (event) => event.target.closest?.("input, select, textarea, [contenteditable]");

/**
 * Rows as drawn, each drawn anew only when it, its place or the way to draw it changes. All stand beside each other under
 * their own keys: a row that moves down as another comes in above it stays the same one, with the focus in it.
 */
function useDrawn(rows, { many, of, keyOf, as }) {
  const kept = useRef(null);
  if (kept.current?.of !== of || kept.current.many !== many) kept.current = { of, many, drawn: new WeakMap() };
  const { drawn } = kept.current;
  return rows.map((row, index) => {
    if (drawn.get(row)?.index !== index) {
      const place = many > FEW ? { "data-row": keyOf(row), ...PLACED[as](index, many) } : {};
      drawn.set(row, { index, one: html`<${Fragment} key=${keyOf(row)}>${of(row, place)}<//>` });
    }
    return drawn.get(row).one;
  });
}

/**
 * @param {{rows: object[], of: (row: object, place: object) => object, box: (rows: object, whole: object) => object,
 *   keyOf?: (row: object) => string, as?: "list"|"table"|"rows"|"plain", needed?: (row: object) => boolean, byHand?: boolean}} props
 *   `of` draws a row and gives its element the attributes in `place`; `box` draws what is around the rows, with the
 *   attributes in `whole`; a row that is `needed` is drawn wherever it stands; `byHand`: only the button draws more
 */
export function LongList({ rows, of, box, keyOf = (row) => row.part, as = "list", needed, byHand = false }) {
  const many = rows.length;
  const long = many > FEW;
  const [back] = useState(keptPlace);
  const [reach, setReach] = useState(() => PIECE + (back ? rows.findIndex((row) => keyOf(row) === back.row) + 1 : 0));
  const [all, setAll] = useState(null);
  const end = useRef(null);
  const most = useRef(0);
  // What was drawn stays drawn, also when the list has only now become a long one.
  const wanted = long ? Math.max(reach, most.current, needed ? rows.findLastIndex(needed) + 1 : 0) : many;
  const shown = Math.min(many, Math.ceil(wanted / PIECE) * PIECE);
  most.current = shown;
  const rest = shown < many;
  useEffect(() => {
    if (!long) return undefined;
    if (back && rows.some((row) => keyOf(row) === back.row)) goBackTo(back);
    return keepPlace();
  }, [long]);
  useEffect(() => {
    if (!rest || byHand || all) return undefined;
    const watch = new IntersectionObserver((seen) => { if (seen.at(-1).isIntersecting) setReach(shown + MORE); }, { rootMargin: NEAR });
    watch.observe(end.current);
    return () => watch.disconnect();
  }, [rest, shown, byHand, all]);
  // As soon as the rows stand there, not once they were painted: nobody is to print the first of them only.
  useLayoutEffect(() => {
    if (!rest) return undefined;
    const printed = () => setReach(many);
    const pressed = (event) => {
      if (event.key === "End" && !byHand && !typing(event) && end.current.checkVisibility()) setAll({ from: shown, toEnd: true });
    };
    addEventListener("beforeprint", printed);
    addEventListener("keydown", pressed);
    return () => { removeEventListener("beforeprint", printed); removeEventListener("keydown", pressed); };
  }, [rest, shown, many, byHand]);
  // All of it comes in pieces, so that whoever does not want to wait can go elsewhere meanwhile.
  useEffect(() => {
    if (!all) return undefined;
    if (rest) {
      const next = setTimeout(() => setReach(shown + MORE));
      return () => clearTimeout(next);
    }
    setAll(null);
    if (all.toEnd) scrollTo(0, document.documentElement.scrollHeight);
    else firstOf(end.current, keyOf(rows[all.from]))?.focus();
    return undefined;
  }, [all, shown, rest]);

  const drawn = useDrawn(rows.slice(0, shown), { many, of, keyOf, as });
  return html`${box(drawn, long ? COUNTED[as]?.(many) ?? {} : {})}
    ${long && html`<div class="list-end" ref=${end}><p class="quiet" aria-live=${byHand || all ? "polite" : "off"}>${all ? t("Showing all {many}…", { many }) : rest ? t("{shown} of {many} shown.", { shown, many }) : t("All {many} shown.", { many })}</p>
      ${rest && html`<button type="button" onClick=${() => setAll({ from: shown, toEnd: false })}>${t("Show all {many}", { many })}</button>`}</div>`}`;
}

/** Where the focus goes when the button that showed a row is gone: what can be pressed first in it, else the row itself. */
function firstOf(end, key) {
  const row = Array.from(end.parentElement.querySelectorAll("[data-row]")).find((each) => each.dataset.row === key);
  const pressed = row?.querySelector("a, summary, button");
  if (row && !pressed) row.tabIndex = -1;
  return pressed ?? row;
}
