// The strip-down's tables for a spreadsheet: each as CSV, made on this device, or all in one workbook that the PC makes.

import { html, useState } from "../vendor/preact.js";
import { handedLanguage, t } from "../words.js";
import { Section } from "../pieces/fields.js";
import { FileOut, fileNamed } from "../pieces/file_out.js";
import { Work, useWork } from "../pieces/file_work.js";
import { useView } from "../pieces/live.js";
import { Standing } from "../pieces/show.js";
import * as requests from "../requests.js";
import * as shop from "../shop.js";

/** The workbook, and whether it is in English because the PC's program is older than this one and writes no other language. */
async function workbook(strip) {
  const language = handedLanguage();
  const made = language && await requests.workbookIn(language, strip, (await requests.hello()).csrf).catch((error) => {
    if (error.code !== "wrong_method") throw error;
  });
  const file = fileNamed([made || await requests.workbook(strip)], "tables", "xlsx", "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet");
  return { file, english: Boolean(language && !made) };
}

async function table(strip, { name }) {
  const { lines } = await shop.view(strip, "table_csv", { table: name, language: handedLanguage() });
  return { file: fileNamed(lines, name, "csv", "text/csv") };
}

export const TablesOut = ({ strip }) => html`<${Section} late title=${t("For a spreadsheet")} says=${t("parts, fasteners, weighings, torques, masses")}><${Tables} strip=${strip} /><//>`;

function Tables({ strip }) {
  const tables = useView(strip, "tables");
  const [made, setMade] = useState(null);
  const work = useWork();
  if (!tables.data) return html`<${Standing} views=${[tables]} />`;
  const make = async (making) => {
    setMade(null);
    setMade(await work.run(making));
  };
  const button = (words, making) => html`<button type="button" key=${words} disabled=${work.busy} onClick=${() => make(making)}>${words}</button>`;
  return html`<p>${t("Names of people and what they wrote are in these files. Whoever gets one can read all of it.")}</p>
    ${button(t("All tables in one workbook (XLSX)"), () => workbook(strip))}
    <p class="quiet">${t("The PC makes the workbook, of what it has; so it must answer, and what is not sent yet is not in it.")}</p>
    <h3>${t("One table as CSV, made here")}</h3>
    <p class="quiet">${t("Where all of it lands in one column, open it through the spreadsheet’s import: a comma parts the cells, the decimal mark is a point. Or take the workbook.")}</p>
    <div class="row">${tables.data.map((each) => button(t(each.title), () => table(strip, each)))}</div>
    <${Work} work=${work} words=${t("Making the file…")} />
    ${made && html`<div class="block done"><p class="mark done" role="status">${t("Made")}</p><${FileOut} file=${made.file}>
      ${made.english && html`<p class="mark wait">${t("It is in English: the PC’s program is older than this one.")}</p>`}<//></div>`}`;
}
