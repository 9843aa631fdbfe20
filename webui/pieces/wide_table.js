// A table as wide as it needs to be: sorted by any column, searched, scrolled sideways inside its own frame.

import { html, useMemo, useState } from "../vendor/preact.js";
import { t } from "../words.js";
import { Text } from "./fields.js";
import { LongList } from "./long_list.js";

/** The browser's own order of words: numbers in them by size, letters with marks beside those without. */
const inOrder = new Intl.Collator(undefined, { numeric: true, sensitivity: "base" });
const plain = (text) => text.normalize("NFKD").replaceAll(/\p{M}/gu, "").toLocaleLowerCase();

/** Two cells in order; what is empty comes last, whichever way round. */
function order(one, other, down) {
  if (one.text === "" || other.text === "") return Number(one.text === "") - Number(other.text === "");
  const found = typeof one.raw === "number" && typeof other.raw === "number" ? one.raw - other.raw : inOrder.compare(one.text, other.text);
  return down ? -found : found;
}

const holds = (row, words) => words.every((word) => row.folded.includes(word));

/**
 * @param {{caption: string, heads: {key: string, words: string, number: boolean}[],
 *   rows: {key: string, cells: {text: string, raw?: number, also?: string}[], href?: string|null}[]}} props
 *   the first cell of a row names it, and leads to `href` where there is one; `also` is how else a cell may be searched
 */
export function WideTable({ caption, heads, rows }) {
  const [by, setBy] = useState({ column: -1, down: false });
  const [typed, setTyped] = useState("");
  const searched = useMemo(() => rows.map((row) => ({ ...row, folded: plain(row.cells.map((cell) => `${cell.text} ${cell.also ?? ""}`).join(" ")) })), [rows]);
  const shown = useMemo(() => {
    const words = plain(typed).split(/\s+/u).filter(Boolean);
    const found = searched.filter((row) => holds(row, words));
    return by.column < 0 ? found : [...found].sort((one, other) => order(one.cells[by.column], other.cells[by.column], by.down));
  }, [searched, typed, by]);
  const turn = (column) => setBy(by.column === column ? { column, down: !by.down } : { column, down: false });
  return html`<${Text} field="searched" label=${t("Only rows with")} hint=${t("Words or figures, in any order.")} value=${typed} onValue=${setTyped} type="search" />
    <p role="status">${typed.trim() ? t("{found} of {count} rows", { found: shown.length, count: rows.length }) : t("{count} rows", { count: rows.length })}</p>
    ${shown.length > 0 && html`<div class="wide_table" tabindex="0" role="region" aria-label=${caption}>
      <${LongList} as="table" rows=${shown} keyOf=${(row) => row.key} box=${(lines, whole) => html`<table ...${whole} aria-rowcount=${shown.length + 1}><caption class="hidden">${caption}</caption>
        <thead><tr>${heads.map((head, column) => html`<${Head} key=${head.key} ...${{ head, by, column, turn }} />`)}</tr></thead><tbody>${lines}</tbody></table>`}
        of=${(row, place) => html`<${Row} key=${row.key} ...${{ row, heads, place }} />`} /></div>`}`;
}

function Head({ head, by, column, turn }) {
  const sorted = by.column === column && (by.down ? "descending" : "ascending");
  return html`<th scope="col" class=${head.number ? "number" : ""} aria-sort=${sorted || "none"}>
    <button type="button" class="plain" onClick=${() => turn(column)}>${head.words}<span aria-hidden="true">${sorted && (by.down ? " ▼" : " ▲")}</span></button></th>`;
}

function Row({ row, heads, place }) {
  const [first, ...rest] = row.cells;
  return html`<tr data-row=${place["data-row"]}><th scope="row">${row.href ? html`<a class="reach" href=${row.href}><bdi>${first.text || "–"}</bdi></a>` : html`<bdi>${first.text || "–"}</bdi>`}</th>
    ${rest.map((cell, index) => html`<td key=${heads[index + 1].key} class=${heads[index + 1].number ? "number" : ""}><bdi>${cell.text}</bdi></td>`)}</tr>`;
}
