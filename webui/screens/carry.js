// Carry by file: what goes to the PC or to another phone where there is no network, and what comes from there.

import { html } from "../vendor/preact.js";
import { t } from "../words.js";
import { Frame } from "../pieces/frame.js";
import { MakeFile } from "./carry_make.js";
import { TakeFile } from "./carry_take.js";

export function Carry({ strip }) {
  return html`<${Frame} title=${t("Carry by file")} strip=${strip} here="sending">
    <p>${t("Make a file here, carry it over by cable, card or message, and take it in there. Taking it in twice does no harm: what is there already is left as it is.")}</p>
    <div class="twofold"><${MakeFile} /><${TakeFile} /></div>
  <//>`;
}
