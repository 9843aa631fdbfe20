// The page to send: one file without scripts or links, made on this device, that tells as much as somebody chooses.

import { html, useState } from "../vendor/preact.js";
import { handedLanguage, t } from "../words.js";
import { Section, Tick } from "../pieces/fields.js";
import { FileOut, fileNamed } from "../pieces/file_out.js";
import { Work, useWork } from "../pieces/file_work.js";
import { smallCopy } from "../photos.js";
import * as shop from "../shop.js";

/** What may be told, as the core calls it; ticked at first is what the core takes where nothing is said. */
const options = () => [["names", t("Names of people")], ["pictures", t("Pictures")], ["number", t("Number of its frame or plate")], ["costs", t("Costs")], ["notes", t("Notes, reasons, words under pictures")]];
const AT_FIRST = { names: false, pictures: true, number: false, costs: false, notes: false };

/** The file, and how many pictures are not in it because they are neither here nor to be had from the PC. */
async function page(strip, told, tell) {
  const { pieces, picture_side: side } = await shop.view(strip, "share_page", { ...told, now_ms: Date.now(), language: handedLanguage() });
  const of = pieces.filter((piece) => typeof piece !== "string").length;
  const parts = [];
  let [done, missing] = [0, 0];
  for (const piece of pieces) {
    if (typeof piece === "string") {
      parts.push(piece);
      continue;
    }
    const address = await smallCopy(piece.sha256, side);
    if (address === null) missing += 1;
    parts.push(...(address === null ? [piece.instead] : [piece.before, address, piece.after]));
    tell(done += 1, of);
  }
  return { file: fileNamed(parts, "share", "html", "text/html"), missing };
}

export const ShareOut = ({ strip }) => html`<${Section} late title=${t("A page to send")} says=${t("one file: masses, torques, settings, what is open")}><${Share} strip=${strip} /><//>`;

function Share({ strip }) {
  const [told, setTold] = useState(AT_FIRST);
  const [made, setMade] = useState(null);
  const work = useWork();
  const choose = (name, value) => { setTold({ ...told, [name]: value }); setMade(null); };
  const make = async () => {
    setMade(null);
    setMade(await work.run((tell) => page(strip, told, tell)));
  };
  return html`<p>${t("One file that opens in any browser, without a network. What may be in it:")}</p>
    <div class="tiles wide" role="group" aria-label=${t("What may be in it")}>${options().map(([name, words]) => html`<${Tick} key=${name} field=${`share_${name}`} label=${words} value=${told[name]} onValue=${(value) => choose(name, value)} />`)}</div>
    ${!told.names && html`<p class="quiet">${t("Without names each person is “person 1”, “person 2” and so on, also in what parts and wrenches are called. A name that the log does not know can’t be found.")}</p>`}
    ${!told.names && told.notes && html`<p class="notice">${t("Notes are left out with the names: nobody can tell which names stand in them.")}</p>`}
    ${told.pictures && html`<p class="quiet">${t("Look at the pictures first: a face or a plate on one is sent with it.")}</p>`}
    <button type="button" class="main" disabled=${work.busy} onClick=${make}>${t("Make the page")}</button>
    <${Work} work=${work} words=${t("Making the file…")} />
    ${made && html`<div class="block done"><p class="mark done" role="status">${t("Made")}</p><${FileOut} file=${made.file}>
      ${made.missing > 0 && html`<p class="mark wait">${t("Pictures that are neither here nor to be had from the PC now, and not in it: {count}.", { count: made.missing })}</p>`}
      <p>${t("Read it over before you send it: whoever gets it can read all of it.")}</p><//></div>`}`;
}
