// Figures, tags and lines as every screen shows them.

import { html } from "../vendor/preact.js";
import { route } from "../addresses.js";
import { figure, isolated, label, t, weighsInPounds, when } from "../words.js";
import { Waiting } from "./frame.js";
import { Picture } from "./photos.js";

// What is longer would not fit a phone's line at twice the size of text.
const IN_ONE_PIECE = 18;

/** A change with its sign, a gain too. */
export const change = (shown) => (Number(shown.value) > 0 ? `+${figure(shown)}` : figure(shown));

/** A figure of the core in even numerals; `signed` for what changes the machine. */
export function Mass({ shown, signed, none = "–" }) {
  const said = signed ? change : figure;
  if (!shown?.in_pounds || !weighsInPounds()) return html`<span class="figure">${shown ? said(shown) : none}</span>`;
  return html`<span class="figure">${said(shown)} <small class="also">${said(shown.in_pounds)}</small></span>`;
}

/** What a group of fasteners is, by what the core calls them. */
export const groupWords = (count, what) => t("{count}\u00a0×\u00a0{what}", { count, what: what ? sized(what) : t("fasteners") });

/** A size, such as M10×35 or 1/4-20 UNC×25.4, in one piece; words may break as they will. */
const sized = (what) => (typeof what === "string" && /^[A-Z]{0,3}\d/.test(what) && what.length <= IN_ONE_PIECE ? what.replaceAll(" ", "\u00a0") : what);

/**
 * What stands in the way of a screen's views, or that they are on their way; nothing once they are there.
 * @param {{views: {data: object|null, trouble: object|null, retry: () => void}[]}} props
 */
export function Standing({ views }) {
  const troubled = views.filter((view) => view.trouble);
  if (troubled.length === 0) return views.some((view) => view.data === null) && html`<${Waiting} />`;
  return html`<div class="notice bad" role="alert"><p>${t(troubled[0].trouble)}</p>
    <div class="row"><button type="button" onClick=${() => troubled.forEach((view) => view.retry())}>${t("Try again")}</button>
      <a class="button" href=${route.start()}>${t("All machines")}</a></div></div>`;
}

/** A bag's label on its strip of tape. */
export const Bag = ({ label: name }) => html`<span class="tape">${t("Bag {label}", { label: name })}</span>`;

/** Like fasteners as a map has them, "4 × M8×25", each kept in one piece. */
export const foreseenFasteners = (fasteners) => fasteners.map((each) => each.replace(" × ", "\u00a0×\u00a0"));

/** A part in a list to choose from. */
export const partToChoose = ({ name, side }) => (side ? t("{name}, {side}", { name: name || t("Part without a name"), side: { label: side } }) : name || t("Part without a name"));

/** Place, side and pieces in one line. */
export function whereabouts({ place, side, pieces }) {
  return [place && label(place), side && label(side), pieces > 1 && t("{pieces} pieces", { pieces })].filter(Boolean).map(isolated).join(" · ");
}

/** What becomes of a part, and whether it is done. */
export function Outcome({ outcome, outcome_done: done }) {
  if (!outcome) return html`<span class="mark">${t("not decided")}</span>`;
  return html`<span class=${`mark ${done ? "done" : "wait"}`}>${done ? t("{outcome}, done", { outcome: label(outcome) }) : t("{outcome}, planned", { outcome: label(outcome) })}</span>`;
}

/** Who did something, and when. */
export const byWhom = ({ who, at_ms: at }) => t("{who}, {when}", { who, when: when(at) });

/** The three sums in words; they are never added to one another. */
export function Sums({ sums, aim, running }) {
  const line = (words, shown, signed = true) => html`<div><dt>${words}</dt><dd><${Mass} shown=${shown} signed=${signed} /></dd></div>`;
  return html`<div><dl class="sums">
    ${sums.spell && line(running ? t("In this spell") : t("In the last spell"), sums.spell)}
    ${line(t("Since it came in"), sums.came_in)}
    ${line(t("Against the standard machine"), sums.standard)}
    ${aim && line(t("Aim"), aim, false)}
  </dl>
  ${sums.unweighed > 0 && html`<p class="quiet">${t("{count} without a mass: not in these sums.", { count: sums.unweighed })}</p>`}</div>`;
}

const loose = ({ out, of }) => (of > 0 ? out > 0 ? of === 1 ? t("its one fastener out") : t("{out} of {of} fasteners out", { out, of }) : of === 1 ? t("its one fastener on") : t("all {of} fasteners on", { of }) : "");

/** A part as one line of a list, which opens its page; `place` as `LongList` gives it. */
export function PartLine({ strip, row, place }) {
  return html`<li ...${place}><a class=${`line ${row.photo ? "pictured" : ""}`} href=${route.part(strip, row.part)}>
    ${row.photo && html`<${Picture} sha256=${row.photo} small alt="" />`}
    <div>
      <div class="spread"><span class="name">${row.name}</span><${Mass} shown=${row.change} signed none=${row.counted ? "" : t("not weighed")} /></div>
      <p class="quiet">${[whereabouts(row), loose(row)].filter(Boolean).map(isolated).join(" · ")}</p>
      <p class="row tight"><${Outcome} ...${row} />${row.bag && html`<${Bag} label=${row.bag} />`}
        ${row.disputed && html`<span class="mark bad">${t("two answers")}</span>`}</p>
      ${row.reason && html`<p class="quiet">${t(row.reason)}</p>`}
    </div></a></li>`;
}
