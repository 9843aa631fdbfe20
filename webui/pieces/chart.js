// Bars on one axis, a row each, with the figure in words beside it. Shapes differ, not colours alone: a loss is filled, a
// gain is hollow, what is planned or less than its own uncertainty is dashed; the whisker is the uncertainty.

import { html } from "../vendor/preact.js";

const HEIGHT = 24;
const place = (at) => ({ "--at": at / 10 });

function Bar({ row, marks, zero }) {
  const [left, right] = [Math.min(row.from, row.to), Math.max(row.from, row.to)];
  const whisker = row.spread && row.spread[1] > row.spread[0] && `M${row.spread[0]} 12H${row.spread[1]}M${row.spread[0]} 8V16M${row.spread[1]} 8V16`;
  const kind = row.planned || row.sure === false ? "dashed" : row.to < row.from ? "loss" : "gain";
  return html`<svg class="bar-of" viewBox=${`0 0 1000 ${HEIGHT}`} preserveAspectRatio="none" aria-hidden="true">
    ${marks.map((mark) => html`<path class="grid" key=${mark.at} d=${`M${mark.at} 0V${HEIGHT}`} />`)}<path class="zero" d=${`M${zero} 0V${HEIGHT}`} />
    <rect class=${kind} x=${left} width=${Math.max(2, right - left)} y="4" height=${HEIGHT - 8} />
    ${whisker && html`<path class="whisker under" d=${whisker} /><path class="whisker" d=${whisker} />`}</svg>`;
}

const Marks = ({ marks, said }) => html`<div class="marks" aria-hidden="true">${marks.map((mark) => html`<span key=${mark.at} style=${place(mark.at)}>${said(mark)}</span>`)}</div>`;

/**
 * @param {{rows: object[], marks: object[], zero?: number, keyOf: Function, name: Function, figure: Function, said: Function}} props
 *   `name(row)` and `figure(row)` are what is drawn as words, `said(mark)` the words of a mark
 */
export const Chart = ({ rows, marks, zero = 0, keyOf, name, figure, said }) => html`<figure class="chart">
    <${Marks} marks=${marks} said=${said} />
    <ol>${rows.map((row) => html`<li key=${keyOf(row)}><div class="spread"><span>${name(row)}</span><span class="figure">${figure(row)}</span></div><${Bar} row=${row} marks=${marks} zero=${zero} /></li>`)}</ol>
    <${Marks} marks=${marks} said=${said} /></figure>`;
