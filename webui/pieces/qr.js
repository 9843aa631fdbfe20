// A QR code from its rows of 0 and 1, as one path: always dark on light, or no camera reads it.

import { html } from "../vendor/preact.js";

/** @param {{rows: string[], label: string}} props; the quiet zone is in the rows */
export function Qr({ rows, label }) {
  const path = rows.flatMap((row, y) => [...row].flatMap((dark, x) => (dark === "1" ? [`M${x} ${y}h1v1h-1z`] : []))).join("");
  return html`<svg class="qr" role="img" aria-label=${label} viewBox=${`0 0 ${rows.length} ${rows.length}`} shape-rendering="crispEdges">
    <rect class="light" width="100%" height="100%" /><path class="dark" d=${path} /></svg>`;
}
