// The order in which a group is tightened: drawn with numbers, and the same as a list to be read out.

import { html } from "../vendor/preact.js";
import { figure, t } from "../words.js";

// The core draws in a box one unit wide; fonts want to be larger than that.
const SCALE = 100;
// Of more, the lines from turn to turn hide each other.
const LINED_UP_TO = 12;
const scaled = (...lengths) => lengths.map((length) => length * SCALE);

/** The marks where the core puts them, each with its turn, and a line that runs from turn to turn. */
function Drawing({ pattern }) {
  const { places, order, drawing: box } = pattern;
  const points = order.map((place) => places[place - 1]).map((spot) => scaled(spot.x, spot.y).join(",")).join(" ");
  const mark = ({ x, y, number, number_y: numberY }) => {
    const [across, down, beside, radius, height] = scaled(x, y, numberY, box.radius, box.height);
    return html`<g key=${number} class=${number === 1 ? "first" : ""}><circle cx=${across} cy=${down} r=${radius} />
      <text x=${across} y=${beside} class=${y === numberY ? "" : "outside"} font-size=${height} text-anchor="middle" dominant-baseline="central">${number}</text></g>`;
  };
  return html`<svg class="pattern" viewBox=${scaled(box.left, box.top, box.width, box.tall).join(" ")} aria-hidden="true">${places.length <= LINED_UP_TO && html`<polyline points=${points} />`}${places.map(mark)}</svg>`;
}

/** The places in turn, counted as the words before them say; out of sight where the drawing says the same. */
function Listed({ pattern, hidden }) {
  return html`<div class=${hidden ? "hidden" : "stack close"}><p>${t(pattern.counted)}</p>
    <ol role="list" class="turns" aria-label=${t("Order of tightening")}>${pattern.order.map((place) => html`<li key=${place}>${t("place {place}", { place })}</li>`)}</ol></div>`;
}

/** Up to which torque the order is gone through, each time anew, and the turn after the last. */
export function Stages({ pattern: { stages, angle_degrees: degrees } }) {
  if (stages.length === 0) return null;
  const last = stages.length - 1;
  return html`<div><ol role="list" class="stages" aria-label=${t("Stages")}>${stages.map((stage, index) => html`<li key=${index}>
      <span class="quiet">${last === 0 ? t("Once through, to") : t("Round {round}, to", { round: index + 1 })}</span>${" "}
      <span class="figure big">${figure(stage.shown)}</span>${stage.also && html` <span class="figure">${figure(stage.also)}</span>`}</li>`)}
      ${degrees && html`<li><span class="quiet">${t("Then each turned by")}</span> <span class="figure big">${t("{degrees}°", { degrees })}</span></li>`}</ol>
    <p class="quiet">${t(stages[last].source)}</p></div>`;
}

/** @param {{pattern: object}} props a pattern as the core lays it out */
export function Pattern({ pattern }) {
  if (pattern.trouble) return html`<p class="mark wait">${t(pattern.trouble)}</p>`;
  if (!pattern.order) return null;
  return html`<figure class="order">
    ${pattern.drawing && html`<${Drawing} pattern=${pattern} />`}
    <${Listed} pattern=${pattern} hidden=${Boolean(pattern.drawing)} />
    <figcaption class="quiet">${t(pattern.source)}</figcaption></figure>`;
}
