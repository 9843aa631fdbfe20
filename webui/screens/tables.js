// The strip-down as tables, for a wide screen: all parts, fasteners, weighings, tightenings, masses; sorted and searched.

import { html, useMemo, useState } from "../vendor/preact.js";
import { route } from "../addresses.js";
import { figure, label, t, when } from "../words.js";
import { Tiles } from "../pieces/fields.js";
import { fieldNames } from "../pieces/field_names.js";
import { Frame } from "../pieces/frame.js";
import { useView } from "../pieces/live.js";
import { Standing } from "../pieces/show.js";
import { WideTable } from "../pieces/wide_table.js";

/** Where a row of a table leads to. */
const LEADS = { parts: route.part, fasteners: route.record };

export function Tables({ strip }) {
  const [table, setTable] = useState("parts");
  const whole = useView(strip, "strip");
  const tables = useView(strip, "tables");
  const title = t("Tables");
  if (!whole.data || !tables.data) return html`<${Frame} title=${title} strip=${strip}><${Standing} views=${[whole, tables]} /><//>`;
  return html`<${Frame} title=${title} strip=${strip} of=${whole.data.name}>
    <${Tiles} field="table" label=${t("Which")} options=${tables.data.map((each) => [each.name, t(each.title)])} value=${table} onValue=${setTable} />
    <${Table} key=${table} ...${{ strip, table }} />
    <p class="row"><a class="button" href=${route.handover(strip)}>${t("For a spreadsheet: Hand over")}</a></p>
  <//>`;
}

function Table({ strip, table }) {
  const seen = useView(strip, "shown_table", { table });
  const drawn = useMemo(() => seen.data && inWords(strip, seen.data), [seen.data]);
  if (!drawn) return html`<${Standing} views=${[seen]} />`;
  return html`<${Standing} views=${[seen]} />${drawn.rows.length === 0 ? html`<p>${t("Nothing is written down for this table yet.")}</p>` : html`<${WideTable} ...${drawn} />`}`;
}

/** A table of the core in the person's words. */
function inWords(strip, { name, title, heads, rows }) {
  const lead = LEADS[name];
  return {
    caption: t(title),
    heads: heads.map((head) => ({ key: head.key, number: head.kind === "number", words: head.unit ? t("{name}, {unit}", { name: t(head.name), unit: head.unit }) : t(head.name) })),
    rows: rows.map((row, number) => ({
      // By what it is of: a row that comes in above it must not make it another one under somebody's hands.
      key: row.id ?? String(number), href: lead && row.id ? lead(strip, row.id) : null,
      cells: row.cells.map((cell, column) => inOneCell(cell, heads[column].kind)),
    })),
  };
}

function inOneCell(cell, kind) {
  if (cell === null || cell === undefined) return { text: "" };
  if (kind === "number") return { text: figure({ ...cell, unit: "" }).trim(), raw: cell.raw, also: cell.value };
  if (kind === "moment") return { text: when(cell), raw: cell };
  if (kind === "yes_no") return { text: cell ? t("yes") : t("no"), raw: Number(cell) };
  if (kind === "word") return { text: label(cell) };
  if (kind === "words") return { text: cell.map((each) => label(each)).join(", ") };
  if (kind === "fields") return { text: cell.map((each) => fieldNames()[each] ?? each).join(", ") };
  return { text: kind === "sentence" ? t(cell) : String(cell) };
}
