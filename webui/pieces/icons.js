// Our own line drawings on a 24 by 24 grid.

import { html } from "../vendor/preact.js";

const hex = "M12 9.5l4.8 2.8v5.4L12 20.5l-4.8-2.8v-5.4z";
const drawings = {
  take_off: html`<path d=${hex} /><path d="M12 7V1.5M9.5 4L12 1.5 14.5 4" />`,
  off: html`<path d="M2 14v6h20v-6M2 14h5l1.5 2.5h7L17 14h5" /><circle cx="8" cy="8" r="2.5" /><circle cx="16" cy="6" r="2.5" /><circle class="solid" cx="16" cy="6" r=".5" />`,
  back: html`<path d=${hex} /><path d="M12 1.5V7M9.5 4.5L12 7l2.5-2.5" /><path d="M9.5 17.5l5-5" />`,
  masses: html`<path d="M12 2v3M8 5h8l1.5 5h-11z" /><path d="M12 10v4a3 3 0 1 1-2.8 4" />`,
  sending: html`<rect x="2" y="4" width="9" height="17" rx="1.5" /><path d="M5.5 18h2M13.5 9h8M18.5 6l3 3-3 3M21.5 16h-8" />`,
  machines: html`<path d="M3 21V10l9-6 9 6v11M7 21v-6h10v6M7 18h10" />`,
  camera: html`<path d="M2.5 8h4l2-3h7l2 3h4v12h-19z" /><circle cx="12" cy="13.5" r="3.5" />`,
  gallery: html`<path d="M2.5 6.5h15v14h-15zM6.5 6.5v-3h15v14h-4M2.5 17l4.5-4.5 4 4 2.5-2.5 4 4" />`,
  plus: html`<path d="M12 4v16M4 12h16" />`,
  stop: html`<path d="M8 2h8l6 6v8l-6 6H8l-6-6V8z" /><path d="M12 6.5v7M12 16.5v1" />`,
  find: html`<circle cx="10" cy="10" r="6.5" /><path d="M15 15l6.5 6.5" />`,
  help: html`<circle cx="12" cy="12" r="9.5" /><path d="M9 9.5a3 3 0 1 1 4.2 2.7c-.8.4-1.2 1-1.2 2M12 17v.6" />`,
  minus: html`<path d="M4 12h16" />`,
};

/** A drawing beside a word; never the only sign of what a button does. */
export function Icon({ name }) {
  return html`<svg class="icon" viewBox="0 0 24 24" aria-hidden="true">${drawings[name]}</svg>`;
}

/** One bolt head for each fastener of a group: hollow when out, filled when on, striped when marked, crossed when looked at. */
export function Hexes({ count, on, tight, marked, checked = 0 }) {
  if (count > 24) return null;
  const head = (index) => html`<svg viewBox="0 0 24 24" key=${index}>
    <path class=${index < on ? "in" : ""} d="M12 2l8.7 5v10L12 22l-8.7-5V7z" />
    ${index < on && index >= tight && html`<circle class="hole" cx="12" cy="12" r="4" />`}
    ${index < marked && html`<path class="stripe" d="M6 19L18 5" />`}
    ${index < checked && html`<path class="stripe" d="M6 5L18 19" />`}
  </svg>`;
  return html`<div class="hexes" aria-hidden="true">${Array.from({ length: count }, (unused, index) => head(index))}</div>`;
}
