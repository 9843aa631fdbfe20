// All cards of help on one screen, to read ahead or to print.

import { html } from "../vendor/preact.js";
import { t } from "../words.js";
import { Frame } from "../pieces/frame.js";
import { Card, First, cards } from "../pieces/how_to.js";

export function Help() {
  return html`<${Frame} title=${t("How to")}><${First} />
    <div class="how-cards">${Object.keys(cards()).map((name) => html`<section class="how stack close" key=${name}><${Card} name=${name} /></section>`)}</div><//>`;
}
