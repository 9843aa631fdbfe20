// Torques from a table that somebody made of the machine's own manual: which column is what, each row checked, then taken.

import { html, useEffect, useState } from "../vendor/preact.js";
import { Told } from "../errors.js";
import * as shop from "../shop.js";
import { tableText } from "../table-text.js";
import { asWritten, t, usualUnits } from "../words.js";
import { Pick, Section, Text, Tick, Tiles } from "../pieces/fields.js";
import { fieldNames } from "../pieces/field_names.js";
import { Counts, size } from "../pieces/file_work.js";
import { Problems, useForm } from "../pieces/form.js";
import { Frame } from "../pieces/frame.js";
import { problemsOf, useActing, useChoices, useView } from "../pieces/live.js";
import { LongList } from "../pieces/long_list.js";
import { WrongFile } from "../pieces/map_file.js";
import { Standing } from "../pieces/show.js";

/** A longer text is no table: the core says the same, and would be long about a much longer one. */
const MOST_CHARACTERS = 200_000;
const AFTER_TYPING_MS = 200;
/** What nearly every table has, and what few have. */
const USUAL = ["part", "thread", "torque", "unit", "torque_page"];
const OTHER = ["side", "sits", "torque_high", "torque_tolerance", "torque_angle", "torque_condition"];
const NEEDED = ["part", "torque"];

export function Specifications({ strip }) {
  const whole = useView(strip, "strip");
  const choices = useChoices();
  const title = t("Torques from a table");
  const [file, setFile] = useState(null);
  const [wrong, setWrong] = useState({ name: "", problems: [] });
  if (!whole.data || !choices) return html`<${Frame} title=${title} strip=${strip}><${Standing} views=${[whole, { data: choices }]} /><//>`;
  async function choose(event) {
    const input = event.currentTarget;
    const [chosen] = input.files;
    if (!chosen) return;
    setFile(null);
    setWrong({ name: "", problems: [] });
    try {
      // A character takes up to four bytes.
      const text = chosen.size > 4 * MOST_CHARACTERS ? null : tableText(new Uint8Array(await chosen.arrayBuffer()));
      if (text === null || text.length > MOST_CHARACTERS) throw new Told("This file is too large for a table.");
      setFile({ name: chosen.name, bytes: chosen.size, text, seen: await shop.lookAtTable({ text }), chosen: Date.now() });
    } catch (error) {
      setWrong({ name: chosen.name, problems: problemsOf(error) });
    }
    input.value = "";
  }
  return html`<${Frame} title=${title} strip=${strip} of=${whole.data.name}>
    <p>${t("A table that you made from this machine’s own manual, saved as CSV: a row for each kind of fasteners. It goes to fasteners that are written down already; none is written over. What a map foresees must be off first. No torque comes with this program.")}</p>
    <div class="row"><label class="button over grow">${t("Choose a table")}<input type="file" accept=".csv,.txt,.tsv,text/csv,text/plain" onChange=${choose} /></label></div>
    <${WrongFile} file=${wrong} />
    ${file && html`<${Mapping} key=${file.chosen} ...${{ strip, file, choices }} />`}
  <//>`;
}

/** Columns as a list of choices has them. */
const asText = (columns) => Object.fromEntries(Object.entries(columns).map(([role, column]) => [role, String(column)]));

/** Which column is what; the rows below are checked anew with each change. */
function Mapping({ strip, file, choices }) {
  const acting = useActing();
  const [seen, setSeen] = useState(file.seen);
  const [wrong, setWrong] = useState([]);
  const [taken, setTaken] = useState(0);
  const start = { delimiter: seen.delimiter, heads: seen.heads, unit: usualUnits().torque, manual: "", asked: false, columns: asText(seen.likely) };
  const form = useForm(start, acting.problems);
  const { delimiter, heads, unit, manual } = form.form;
  async function parted(next) {
    try {
      const again = await shop.lookAtTable({ text: file.text, delimiter: next });
      setSeen(again);
      setWrong([]);
      form.fill({ delimiter: next, heads: again.heads, columns: asText(again.likely) });
    } catch (error) {
      form.fill({ delimiter: next });
      setWrong(problemsOf(error));
    }
  }
  const columns = Object.fromEntries(Object.entries(form.form.columns).filter(([, column]) => column !== null));
  const asked = { delimiter, heads, columns, unit, manual };
  const first = seen.preview[0].cells;
  const options = Array.from({ length: seen.columns }, (_, index) => [String(index), heads && first[index] ? t("{column}: {head}", { column: index + 1, head: first[index] }) : t("Column {column}: {cell}", { column: index + 1, cell: first[index] ?? "" })]);
  const names = fieldNames();
  const words = { ...names, part: t("Name of the part"), torque: t("Torque"), unit: t("Unit of the torque"), torque_high: t("Upper end of a range") };
  const pick = (role) => html`<${Pick} key=${role} ...${form.bind(`columns.${role}`)} label=${words[role]} options=${options} none=${NEEDED.includes(role) ? t("Choose a column") : t("In no column")} />`;
  return html`<section class="section"><h2>${t("Which column is what")}</h2>
      <p><strong class="name">${file.name}</strong> <span class="quiet">${size(file.bytes)}</span></p>
      <${Tiles} ...${form.bind("delimiter")} onValue=${parted} label=${t("What parts the cells")} options=${[[",", t("Comma")], [";", t("Semicolon")], ["\t", t("Tab")]]} />
      <${WrongFile} file=${{ name: "", problems: wrong }} />
      <h3>${t("Its first rows")}</h3>
      <ol class="brief">${seen.preview.map(({ line, cells }) => html`<li key=${line}><span class="quiet">${t("Line {line}:", { line })}</span> ${cells.map((cell, index) => html`${index > 0 && " | "}<bdi>${cell}</bdi>`)}</li>`)}</ol>
      <${Tick} ...${form.bind("heads")} label=${t("The first row names the columns")} />
      <div class="stack">${USUAL.map(pick)}</div>
      <${Section} light title=${t("Other columns")} says=${OTHER.filter((role) => role in columns).map((role) => words[role]).join(", ") || t("none chosen")}><div class="stack">${OTHER.map(pick)}</div><//>
      <${Pick} ...${form.bind("unit")} label=${t("Unit where neither row nor column says one")} options=${choices.torque_units} none=${null} />
      <${Text} ...${form.bind("manual")} label=${t("Which manual")} hint=${t("Stands before the page of each row.")} maxlength="80" /></section>
    ${NEEDED.every((role) => role in columns) && wrong.length === 0 && html`<${Checked} ...${{ strip, file, form, asked, acting, taken, setTaken }} />`}`;
}

const MARKED = { fine: "done", asked: "wait", same: "", waits: "wait", refused: "bad" };
const stateWords = (state) => ({ fine: t("can be taken"), asked: t("asked about"), same: t("stands there already"), waits: t("not kept, for later"), refused: t("not kept, refused") })[state];

/** Each row, and what would become of it. Nothing is taken until somebody says so. */
function Checked({ strip, file, form, asked, acting, taken, setTaken }) {
  const [state, setState] = useState({ data: null, problems: [] });
  const typed = JSON.stringify(asked);
  useEffect(() => {
    let live = true;
    const check = () => shop.checkTable(strip, { text: file.text, ...asked }).then(
      (data) => live && setState({ data, problems: [] }),
      (error) => live && setState({ data: null, problems: problemsOf(error) }));
    const timer = setTimeout(check, state.data ? AFTER_TYPING_MS : 0);
    return () => { live = false; clearTimeout(timer); };
  }, [typed, taken]);
  const { data } = state;
  if (!data) return html`<${WrongFile} file=${{ name: "", problems: state.problems }} />`;
  const some = data.fine + (form.form.asked ? data.asked : 0);
  async function take() {
    const answer = await acting.run("take_specifications", { strip, csv: file.text, ...asked, asked: Boolean(form.form.asked) });
    if (answer) setTaken((before) => before + answer.entries.length);
  }
  const of = (row, place) => html`<li class="line" key=${row.line} ...${place}>
    <div class="spread"><span><span class="quiet">${t("Line {line}:", { line: row.line })}</span> <bdi>${row.part || t("no part")}</bdi> ${row.what}</span><span class=${`mark ${MARKED[row.state]}`}>${stateWords(row.state)}</span></div>
    ${row.torque && html`<p>${asWritten(row.torque)}</p>`}
    ${row.why.map((each, index) => html`<p class="quiet" key=${index}>${t(each)}</p>`)}</li>`;
  return html`<section class="section"><h2>${t("Its rows, checked")}</h2>
    <${Counts} lines=${[[t("Can be taken"), data.fine], [t("Asked about"), data.asked], [t("Stand there already"), data.same], [t("For later, not kept: the part is not off yet"), data.waits], [t("Refused, not kept"), data.refused]]} />
    ${data.waits > 0 && html`<p class="notice">${t("For later means not kept: nothing of these rows is written down. Take the parts off, then choose this table again.")}</p>`}
    ${data.refused > 0 && html`<p class="notice">${t("Refused means not kept. Mend the row in the table, or write the part and its fasteners down here, then choose the table again: what stands already stays.")}</p>`}
    <${LongList} rows=${data.rows} keyOf=${(row) => String(row.line)} box=${(rows) => html`<ul class="lines">${rows}</ul>`} of=${of} />
    ${data.asked > 0 && html`<${Tick} ...${form.bind("asked")} label=${t("Those asked about are right: take them too")} />`}
    <${Problems} problems=${acting.problems} />
    ${taken > 0 && html`<p class="mark done" role="status">${taken === 1 ? t("One torque taken") : t("{count} torques taken", { count: taken })}</p>`}
    ${some > 0 && html`<button type="button" class="main" disabled=${acting.busy} onClick=${take}>${some === 1 ? t("Take one torque") : t("Take {count} torques", { count: some })}</button>`}</section>`;
}
