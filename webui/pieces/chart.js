// Charts: bars on one axis, a row each, with the figure in words beside it. Shapes differ, not colours alone: a loss is
// filled, a gain is hollow, what is planned or less than its own uncertainty is dashed; the whisker is the uncertainty.
// Each is a table, and read as one aloud; a tap leaves the bars away.

import { html, useState } from "../vendor/preact.js";
import { t } from "../words.js";

const HEIGHT = 24;
const place = (at) => ({ "--at": at / 10 });

const Drawn = ({ height, marks, children }) => html`<svg class=${height === HEIGHT ? "bar-of" : "bar-of two"} viewBox=${`0 0 1000 ${height}`} preserveAspectRatio="none" aria-hidden="true">
    ${marks.map((mark) => html`<path class="grid" key=${mark.at} d=${`M${mark.at} 0V${height}`} />`)}${children}</svg>`;

function Bar({ row, marks, zero }) {
  const [left, right] = [Math.min(row.from, row.to), Math.max(row.from, row.to)];
  const whisker = row.spread && row.spread[1] > row.spread[0] && `M${row.spread[0]} 12H${row.spread[1]}M${row.spread[0]} 8V16M${row.spread[1]} 8V16`;
  const kind = row.planned || row.sure === false ? "dashed" : row.to < row.from ? "loss" : "gain";
  return html`<${Drawn} height=${HEIGHT} marks=${marks}><path class="zero" d=${`M${zero} 0V${HEIGHT}`} />
    <rect class=${kind} x=${left} width=${Math.max(2, right - left)} y="4" height=${HEIGHT - 8} />
    ${whisker && html`<path class="whisker under" d=${whisker} /><path class="whisker" d=${whisker} />`}<//>`;
}

const Marks = ({ marks, said }) => html`<div class="marks" aria-hidden="true">${marks.map((mark) => html`<span key=${mark.at} style=${place(mark.at)}>${said(mark)}</span>`)}</div>`;

/** The button that leaves the bars away, or brings them back; none on paper. */
const AsTable = ({ plain, onPlain }) => html`<div class="row"><button type="button" class="plain" aria-pressed=${plain} onClick=${() => onPlain(!plain)}>${t("As a table")}</button></div>`;

const Heads = ({ heads, plain }) => html`<thead role="rowgroup" class=${plain ? "" : "hidden"}><tr role="row">${heads.map((head) => html`<th scope="col" role="columnheader" key=${head}>${head}</th>`)}</tr></thead>`;

/**
 * @param {{rows: object[], marks: object[], zero?: number, keyOf: Function, name: Function, figure: Function, said: Function, heads: string[], sum?: Function, paper?: boolean}} props
 *   `name(row)` and `figure(row)` are what is drawn as words, `said(mark)` the words of a mark; `sum(row)` is a third
 *   column of the table; `heads` are the heads of the two or three; `paper`: nothing to tap
 */
export function Chart({ rows, marks, zero = 0, keyOf, name, figure, said, heads, sum, paper }) {
  const [plain, setPlain] = useState(false);
  const axis = !plain && html`<${Marks} marks=${marks} said=${said} />`;
  return html`<figure class="chart">${!paper && html`<${AsTable} plain=${plain} onPlain=${setPlain} />`}
    ${axis}
    <table role="table" class=${plain ? "plainly" : "bars"}><${Heads} heads=${heads} plain=${plain} />
      <tbody role="rowgroup">${rows.map((row) => html`<tr role="row" key=${keyOf(row)}><th scope="row" role="rowheader">${name(row)}</th><td role="cell" class="figure">${figure(row)}</td>
        ${sum && html`<td role="cell" class=${plain ? "figure" : "hidden"}>${sum(row)}</td>`}
        ${!plain && html`<td class="whole" aria-hidden="true"><${Bar} row=${row} marks=${marks} zero=${zero} /></td>`}</tr>`)}</tbody></table>
    ${axis}</figure>`;
}

const TWO = 36;

/** From where to where a figure may be: a box with its middle, hollow before and filled now. */
const Reach = ({ at: [from, middle, to], y, kind }) => html`<rect class=${kind} x=${from} width=${Math.max(2, to - from)} y=${y} height="12" /><path class="middle" d=${`M${middle} ${y}v12`} />`;

/**
 * Two states of each figure, on an axis of its own.
 * @param {{rows: object[], name: Function, figure: Function, change: Function, verdict: Function, paper?: boolean}} props
 *   `figure(shown)` and `change(shown)` are the words of a figure, `verdict(row)` what may be said of the difference
 */
export function BeforeAndNow({ rows, name, figure, change, verdict, paper }) {
  const [plain, setPlain] = useState(false);
  const heads = [t("What"), t("Before"), t("Now"), t("Change")];
  const cell = (words, before) => html`<td role="cell" class=${plain ? "figure" : "whole"}>${plain ? words : html`${before} <span class="figure">${words}</span>`}</td>`;
  return html`<figure class="chart">${!paper && html`<${AsTable} plain=${plain} onPlain=${setPlain} />`}
    <table role="table" class=${plain ? "plainly of_four" : "bars"}><${Heads} heads=${heads} plain=${plain} />
      <tbody role="rowgroup">${rows.map((row) => html`<tr role="row" key=${row.what}><th scope="row" role="rowheader" class="whole"><strong>${name(row)}</strong></th>
        ${cell(figure(row.before), t("before"))}${cell(figure(row.now), t("now"))}
        ${!plain && html`<td class="whole" aria-hidden="true"><${Drawn} height=${TWO} marks=${row.marks}><${Reach} at=${row.before_at} y=${4} kind="gain" /><${Reach} at=${row.now_at} y=${20} kind="loss" /><//>
          <${Marks} marks=${row.marks} said=${(mark) => t("{n}", { n: Number(mark.shown.value) })} /></td>`}
        <td role="cell" class=${plain ? "figure" : "whole"}>${plain ? change(row.difference) : verdict(row)}</td></tr>`)}</tbody></table></figure>`;
}
