// What the settings' screens share: what a setting is called, and its figures.

import { html } from "../vendor/preact.js";
import { figure, label, t } from "../words.js";
import { word } from "../pieces/fields.js";
import { whereabouts } from "../pieces/show.js";

/** A setting's own name, or what is adjusted. */
export const settingName = ({ name, adjusted }) => name || word(adjusted) || t("Setting without a name");

/** What each choice of unit is called: a symbol keeps its small letters. */
export const unitsOf = (units) => units.map((unit) => [unit, label(unit)]);

/** A value of a setting: a figure of the core, or words; a dash for none. */
export const stands = (shown) => (typeof shown === "string" ? shown : figure(shown));

/** The same pressure as gauges show it. */
export const Also = ({ shown }) => shown.length > 0 && html` <span class="quiet figure">${shown.map(figure).join(" · ")}</span>`;

/** What takes one setting back: what to do, the words that were written down for it, and what to mind. */
export const WayBack = ({ card, back, place }) => html`<li class="line" ...${place}><div><strong><bdi>${settingName(card)}</bdi></strong> <span class="quiet">${whereabouts(card)}</span></div>
  <p class=${back.state === "differs" ? "" : "mark bad"}>${t(back.says)}</p><${Also} shown=${back.also} />
  ${card.how_to_undo && html`<p>${t("As written down: {words}", { words: card.how_to_undo })}</p>`}
  <p class="quiet">${t(card.caution)}</p></li>`;
