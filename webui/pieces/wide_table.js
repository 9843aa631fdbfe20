// A table as wide as it needs to be: sorted by any column, searched, scrolled sideways inside its own frame.

import { html, useCallback, useMemo, useState } from "../vendor/preact.js";
import { inOrder, t } from "../words.js";
import { Text } from "./fields.js";
import { LongList } from "./long_list.js";
import { finds, folded } from "./searched.js";

/** Two cells in order; what is empty comes last, whichever way round. */
function order(one, other, down) {
  if (one.text === "" || other.text === "") return Number(one.text === "") - Number(other.text === "");
  const found = typeof one.raw === "number" && typeof other.raw === "number" ? one.raw - other.raw : inOrder(one.text, other.text);
  return down ? -found : found;
}

/**
 * @param {{caption: string, heads: {key: string, words: string, number: boolean}[],
 *   rows: {key: string, cells: {text: string, raw?: number, also?: string}[], href?: string|null}[]}} props
 *   the first cell of a row names it, and leads to `href` where there is one; `also` is how else a cell may be searched
 */
export function WideTable({ caption, heads, rows }) {
  // A column by its key: another may come before it, as soon as something is written in it.
  const [by, setBy] = useState({ key: null, down: false });
  const [typed, setTyped] = useState("");
  const searched = useMemo(() => rows.map((row) => ({ ...row, folded: folded(row.cells.map((cell) => `${cell.text} ${cell.also ?? ""}`).join(" ")) })), [rows]);
  const shown = useMemo(() => {
    const has = finds(typed);
    const found = searched.filter((row) => has(row.folded));
    const column = heads.findIndex((head) => head.key === by.key);
    return column < 0 ? found : found.sort((one, other) => order(one.cells[column], other.cells[column], by.down));
  }, [searched, typed, by]);
  const turn = (key) => setBy(by.key === key ? { key, down: !by.down } : { key, down: false });
  const of = useCallback((row, place) => html`<${Row} ...${{ row, heads, place }} />`, [heads]);
  return html`<${Text} field="searched" label=${t("Only rows with")} hint=${t("Words or figures, in any order.")} value=${typed} onValue=${setTyped} type="search" />
    <p role="status">${typed.trim() ? t("{found} of {count} rows", { found: shown.length, count: rows.length }) : rows.length === 1 ? t("one row") : t("{count} rows", { count: rows.length })}</p>
    ${shown.length > 0 && html`<div class="wide_table" tabindex="0" role="region" aria-label=${caption}>
      <${LongList} as="rows" rows=${shown} keyOf=${keyOf} of=${of} box=${(lines, whole) => html`<table ...${whole}><caption class="hidden">${caption}</caption>
        <thead><tr>${heads.map((head) => html`<${Head} key=${head.key} ...${{ head, by, turn }} />`)}</tr></thead><tbody>${lines}</tbody></table>`} /></div>`}`;
}

/** More letters than this want a wide column: a note of a page is not to make its row as high as a screen. */
const LONG = 120;

const keyOf = (row) => row.key;

function Head({ head, by, turn }) {
  const sorted = by.key === head.key && (by.down ? "descending" : "ascending");
  return html`<th scope="col" class=${head.number ? "number" : ""} aria-sort=${sorted || "none"}>
    <button type="button" class="plain" onClick=${() => turn(head.key)}>${head.words}<span aria-hidden="true">${sorted && (by.down ? " ▼" : " ▲")}</span></button></th>`;
}

function Row({ row, heads, place }) {
  const [first, ...rest] = row.cells;
  return html`<tr ...${place}><th scope="row">${row.href ? html`<a class="reach" href=${row.href}><bdi>${first.text || "–"}</bdi></a>` : html`<bdi>${first.text || "–"}</bdi>`}</th>
    ${rest.map((cell, index) => html`<td key=${heads[index + 1].key} class=${heads[index + 1].number ? "number" : cell.text.length > LONG ? "long" : ""}><bdi>${cell.text}</bdi></td>`)}</tr>`;
}
