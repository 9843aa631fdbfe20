// The drawings of the cards of help, our own, on a field of 320 by 120. Lines take the colour of the text around them.

import { html } from "../vendor/preact.js";
import { t } from "../words.js";

/** A measure between two ends, along x or down y, with its ticks. */
const across = (from, to, y, words) => html`<path class="measure" d=${`M${from} ${y}H${to}M${from} ${y - 6}v12M${to} ${y - 6}v12`} />${words && html`<text x=${(from + to) / 2} y=${y - 5} text-anchor="middle">${words}</text>`}`;
const down = (x, from, to) => html`<path class="measure" d=${`M${x} ${from}V${to}M${x - 6} ${from}h12M${x - 6} ${to}h12`} />`;
const scale = (x, wide, figure) => html`<path d=${`M${x} 84h${wide}l-8 8h${16 - wide}z`} /><rect x=${x + 4} y="92" width=${wide - 8} height="20" rx="3" />
  ${figure && html`<text x=${x + wide / 2} y="107" text-anchor="middle">${figure}</text>`}`;
const hexagon = (x, y, flat) => {
  const [r, half] = [flat / Math.sqrt(3), flat / 2];
  return `M${x - r / 2} ${y - half}h${r}l${r / 2} ${half}l${-r / 2} ${half}h${-r}l${-r / 2} ${-half}z`;
};
/** Flanks of a thread, `many` crests from x on, between two heights. */
const thread = (x, many, pitch, top, bottom) => Array.from({ length: many }, (unused, n) => `M${x + n * pitch} ${top}l${pitch / 2} 4M${x + (n + 0.5) * pitch} ${top + 4}l${pitch / 2} -4M${x + n * pitch} ${bottom}l${pitch / 2} -4M${x + (n + 0.5) * pitch} ${bottom - 4}l${pitch / 2} 4M${x + n * pitch} ${top}L${x + (n + 0.5) * pitch} ${bottom - 4}`).join("");
const turn = (x, y, number, first) => html`<g class=${first ? "first" : ""}><circle cx=${x} cy=${y} r="15" /><text x=${x} y=${y + 5.5} text-anchor="middle">${number}</text></g>`;
const code = (x, y, each) => {
  const rows = ["1110111", "1010101", "1110111", "0001010", "1110110", "1010011", "1110101"];
  return rows.map((row, down_) => Array.from(row, (one, along) => (one === "1" ? `M${x + along * each} ${y + down_ * each}h${each}v${each}h${-each}z` : "")).join("")).join("");
};

export const drawings = () => ({
  scale: html`${scale(100, 120, "412 g")}<path class="tint" d="M128 84V58q0-10 10-10h12l8-16h20l-6 18h10q10 0 10 10v24z" />
    <path class="dashed" d="M20 113h280" /><path d="M262 60v50M262 60l26-10v50l-26 10" /><path class="no" d="M226 62l22 22M248 62l-22 22" />`,
  heavy: html`${scale(30, 84)}<rect class="tint" x="50" y="54" width="44" height="30" /><path d="M6 44h132v10H6z" />
    ${scale(172, 60)}${scale(254, 60)}<path d="M176 66h134v10H176z" /><path d="M202 76v8M284 76v8" /><path class="dashed" d="M156 8v104" />`,
  thread: html`<path d="M24 26h18v56H24z" /><path d="M42 38h60M42 70h60" /><path d=${thread(102, 11, 10, 38, 70)} /><path d="M212 38v32" />
    ${across(42, 212, 104, "25")}${across(102, 202, 24, t("{n} × {what}", { n: 10, what: 1.25 }))}${down(228, 38, 70)}<text x="238" y="59">8</text>
    <path d="M268 26l14 12h20v32h-20l-14 12z" />${across(268, 302, 104)}`,
  key: html`<path d=${hexagon(84, 60, 70)} />${down(84, 25, 95)}<text x="93" y="65">13</text>
    <circle cx="230" cy="60" r="44" /><path class="tint" d=${hexagon(230, 60, 40)} />${down(230, 40, 80)}<text x="258" y="65">6</text>`,
  adapter: html`<rect class="tint" x="14" y="52" width="84" height="18" rx="8" /><path d="M98 56h112v10H98z" /><path d="M210 54h64v14h-64z" />
    <path d=${hexagon(274, 61, 26)} /><rect class="solid" x="203" y="54" width="14" height="14" /><path class="measure" d="M56 40v46M210 40v50M274 40v50" />
    ${across(56, 210, 100, "L")}${across(210, 274, 100, "E")}<path d="M56 6v26M50 24l6 9 6-9" />`,
  mark: html`<rect class="tint" x="14" y="6" width="122" height="108" rx="8" /><rect class="tint" x="184" y="6" width="122" height="108" rx="8" />
    <path class="top" d=${hexagon(75, 52, 56)} /><path class="top" d=${hexagon(245, 52, 56)} transform="rotate(-34 245 52)" />
    <path class="paint" d="M75 30v76" /><path class="paint" d="M245 86v20" /><path class="paint" d="M245 30v48" transform="rotate(-34 245 52)" />`,
  order: html`<rect x="70" y="4" width="180" height="112" rx="14" /><path class="dashed" d="M104 30L216 90M104 90L216 30" />
    ${turn(104, 30, "1", true)}${turn(216, 90, "2")}${turn(216, 30, "3")}${turn(104, 90, "4")}`,
  label: html`<rect x="92" y="6" width="136" height="108" rx="10" /><rect class="white" x="104" y="16" width="112" height="88" /><path class="black" d=${code(132, 32, 8)} />
    <path class="measure on_white" d="M112 34V24h10M208 34V24h-10M112 86v10h10M208 86v10h-10" /><path d="M20 30l34 18M14 62h40M20 94l34-18" />`,
});
