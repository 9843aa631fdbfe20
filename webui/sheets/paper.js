// What all sheets on paper share: the head that every page repeats, boxes to tick, and words of a part's place.

import { html } from "../vendor/preact.js";
import { dated, isolated, t } from "../words.js";
import { whereabouts } from "../pieces/show.js";

/** That a name is there at all, in its own direction. */
export const Name = ({ of, none }) => html`<bdi class="name">${of || none || t("Part without a name")}</bdi>`;

/** The box of something that is done with the hand, crossed where the log has it already. */
export const Box = ({ crossed }) => html`<svg class="tick" viewBox="0 0 12 12" aria-hidden="true"><path d="M1 1H11V11H1Z" />${crossed && html`<path d="M3 3L9 9M9 3L3 9" />`}</svg>`;

/** A box with its word, how far the log has it, and room for a name. */
export const Tick = ({ words, crossed, so_far: soFar, named }) => html`<span class="ticked"><${Box} crossed=${crossed} /> <span>${words}${crossed && html`<span class="hidden"> ${t("done")}</span>`}${soFar && html` <small>${soFar}</small>`}</span>${named && html`<span class="room"></span>`}</span>`;

/** Place, side and pieces, and where the part and its bag are, as far as somebody said. */
export const lies = (part) => [whereabouts(part), part.kept && t("It is here: {place}", { place: part.kept })].filter(Boolean).map(isolated).join(" · ");

/** A bag, and where it is kept. */
export const bagWords = ({ bag, bag_kept: kept }) => bag && (kept ? t("Bag {label}: {place}", { label: bag, place: kept }) : t("Bag {label}", { label: bag }));

/** A list of sentences; nothing where there are none. */
export const Points = ({ of, plain }) => of.length > 0 && html`<ul class=${plain ? "points plainly" : "points"}>${of.map((each) => html`<li key=${each}>${each}</li>`)}</ul>`;

/** A heading with what it is the heading of; nothing where there is nothing under it. */
export const Under = ({ title, rows, of, box = "ul" }) => rows.length > 0 && html`<section><h2>${title}</h2><${box} class="rows">${rows.map(of)}<//></section>`;

/**
 * A sheet of paper on the screen; printed, as many pages as it takes, each with its head and its number.
 * @param {{title: string, whole: object, at: number, size: "a4"|"letter", ticked?: boolean, told?: boolean, children: object}} props
 *   `whole`: the view "strip"; `at`: ms since 1970 at which it is drawn; `ticked`: there is something to tick on it;
 *   `told`: the sheet says itself that not all entries could be read; `stops`: the sentences of all that stops the
 *   machine, where the sheet has them: else the first few are told, and how many more
 */
export function Paper({ title, whole, at, size, ticked, told, stops, children }) {
  const { notices } = whole;
  const shown = stops ?? whole.stops.first;
  const more = stops ? 0 : whole.stops.count - shown.length;
  return html`<article class=${`paper on_${size}`} aria-label=${title}>
    <table role="presentation"><thead><tr><td><div class="head">
      <p class="title"><strong>${title}</strong><span>${t("Printed {when}", { when: dated(at) })}</span></p>
      <p>${whole.machine && html`<${Name} of=${whole.machine.name} none=${t("Machine without a name")} /> · `}<bdi>${whole.name}</bdi></p></div></td></tr></thead>
    <tbody><tr><td><div class="body">
      ${shown.length > 0 && html`<div class="boxed">${shown.map((sentence) => html`<p key=${t(sentence)}><strong>${t("Stop:")}</strong> ${t(sentence)}</p>`)}${more > 0 && html`<p>${t("{count} more like this.", { count: more })}</p>`}</div>`}
      ${!told && html`<${Points} of=${notices.map((notice) => t(notice))} />`}
      ${children}
      <p class="honest">${t("This is what was written down when it was printed. Nothing on it says that the machine is fit to ride: the machine’s manual, and whoever looks it over, come first.")}${ticked && ` ${t("What is ticked here by pencil is in no log until somebody types it in.")}`}</p>
    </div></td></tr></tbody></table></article>`;
}
