// A plain side view of a motorcycle, front to the left, drawn in millimetres: along from the front axle, up from the ground.

import { html, useRef } from "../vendor/preact.js";

/** A tap is taken to this many millimetres. */
const GRID = 5;
const ROOM = { ahead: 480, behind: 480, up: 1_240, below: 70 };
const RIM = 0.72;

const line = (...points) => points.map(([x, up], index) => `${index ? "L" : "M"}${x} ${-up}`).join("");

/** Frame, engine, tank, seat and what else makes it a motorcycle; `base` is the wheelbase, heights are usual ones. */
function outline({ wheelbase: base, front_axle: front, rear_axle: rear }) {
  const at = (part) => part * base;
  return {
    thick: [
      line([0, front], [at(0.2), 900]),
      line([at(0.62), 430], [base, rear]),
      line([at(0.33), 430], [at(0.4), 235], [at(0.72), 250]),
    ],
    thin: [
      line([at(0.21), 860], [at(0.34), 470], [at(0.42), 300], [at(0.62), 330], [at(0.6), 740], [at(0.24), 800]),
      line([at(0.6), 740], [at(0.98), 800]),
      line([at(0.76), 740], [at(0.85), 400]),
      line([at(0.2), 900], [at(0.215), 985], [at(0.31), 1_010]),
    ],
    filled: [
      // Engine
      `M${at(0.36)} -300 L${at(0.6)} -320 L${at(0.61)} -470 L${at(0.5)} -530 L${at(0.47)} -690 L${at(0.36)} -710 L${at(0.37)} -530 L${at(0.33)} -460 Z`,
      // Tank
      `M${at(0.25)} -790 C${at(0.26)} -960 ${at(0.4)} -960 ${at(0.5)} -880 L${at(0.54)} -780 C${at(0.45)} -760 ${at(0.34)} -750 ${at(0.25)} -790 Z`,
      // Seat
      `M${at(0.53)} -800 C${at(0.62)} -765 ${at(0.7)} -790 ${at(0.8)} -815 L${at(1.02)} -850 L${at(1.04)} -815 L${at(0.8)} -750 L${at(0.56)} -740 Z`,
      // Silencer
      `M${at(0.71)} -215 L${at(1.05)} -330 L${at(1.07)} -415 L${at(0.72)} -290 Z`,
    ],
    lamp: [at(0.12), -845],
  };
}

/** The shape that stands for the centre of mass before (a hollow diamond) and now (a disc in quarters). */
export function CentreShape({ which, x = 0, y = 0, size = 48 }) {
  if (which === "before") return html`<path class="centre before" d=${`M${x} ${y - size}l${size} ${size}l${-size} ${size}l${-size} ${-size}z`} />`;
  const quarter = (sweep) => `M${x} ${y}v${-sweep}a${size} ${size} 0 0 1 ${sweep} ${sweep}z`;
  return html`<g class="centre now"><circle cx=${x} cy=${y} r=${size} /><path class="solid" d=${quarter(size) + quarter(-size)} /></g>`;
}

/** The same shape beside words. */
export const CentreMark = ({ which }) => html`<svg class="centre-mark" viewBox="-60 -60 120 120" aria-hidden="true"><${CentreShape} which=${which} /></svg>`;

/** A centre with how far it may be off; without a height it stands on the ground under a plumb line. */
function Centre({ which, at, top }) {
  if (!at || at.along === null) return null;
  const up = at.up ?? 0;
  return html`<g class="whiskers">
    ${at.up === null && html`<path class="plumb" d=${line([at.along, 0], [at.along, top])} />`}
    <path d=${line([at.along - at.along_within, up], [at.along + at.along_within, up])} />
    ${at.up !== null && html`<path d=${line([at.along, up - at.up_within], [at.along, up + at.up_within])} />`}</g>
    <${CentreShape} which=${which} x=${at.along} y=${-up} size=${which === "before" ? 74 : 44} />`;
}

function Part({ spot, chosen }) {
  const { along, up, to_along: toAlong, to_up: toUp } = spot;
  const dot = (x, y, kind) => html`<circle class=${`spot ${kind} ${chosen ? "chosen" : ""}`} cx=${x} cy=${-y} r=${chosen ? 34 : 20} />
    ${chosen && html`<path class="cross" d=${`${line([x - 90, y], [x + 90, y])}${line([x, y - 90], [x, y + 90])}`} />`}`;
  const [from, to] = [along !== null && up !== null, toAlong !== null && toUp !== null];
  return html`${from && to && html`<path class="went" d=${line([along, up], [toAlong, toUp])} />`}${from && dot(along, up, "")}${to && dot(toAlong, toUp, "to")}`;
}

const clamp = (value, low, high) => Math.min(high, Math.max(low, value));
const onGrid = (value) => Math.round(value / GRID) * GRID;

/** Where along and up a place may lie, as the core keeps to. */
export const LIMITS = { along: [-1_500, 4_000], up: [0, 2_500] };
export const within = (name, value) => clamp(value, ...LIMITS[name]);

/**
 * @param {{drawing: object, before: object|null, now: object|null, spots: object[], chosen?: string, name: string,
 *   onPlace?: (place: {along: number, up: number}) => void, onMove?: (by: {along: number, up: number}) => void}} props
 *   `spots`: {part, along, up, to_along, to_up} in mm or null; `onPlace` makes it a thing to tap, `onMove` to move by arrow keys
 */
export function SideView({ drawing, before, now, spots, chosen, name, onPlace, onMove }) {
  const svg = useRef(null);
  const known = spots.flatMap((spot) => [[spot.along, spot.up], [spot.to_along, spot.to_up]]).filter(([along, up]) => along !== null && up !== null);
  const reach = (low, list) => list.reduce((far, each) => Math.max(far, each), low);
  const ahead = reach(ROOM.ahead, known.map(([along]) => 100 - along));
  const behind = reach(drawing.wheelbase + ROOM.behind, known.map(([along]) => along + 100));
  const top = reach(ROOM.up, known.map(([, up]) => up + 100));
  const bike = outline(drawing);
  const tapped = (event) => {
    const point = new DOMPoint(event.clientX, event.clientY).matrixTransform(svg.current.getScreenCTM().inverse());
    onPlace({ along: within("along", onGrid(point.x)), up: within("up", onGrid(-point.y)) });
  };
  const moved = (event) => {
    const [along, up] = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] }[event.key] ?? [0, 0];
    if (!along && !up) return;
    event.preventDefault();
    const by = event.shiftKey ? 100 : 10;
    onMove({ along: along * by, up: up * by });
  };
  const wheel = (x, radius) => html`<circle class="tyre" cx=${x} cy=${-radius} r=${radius * 0.87} /><circle cx=${x} cy=${-radius} r=${radius * RIM} /><circle cx=${x} cy=${-radius} r="26" />`;
  const tap = onPlace ? { tabindex: 0, role: "application", onClick: tapped, onKeyDown: moved } : { role: "img" };
  return html`<svg class=${`side-view ${onPlace ? "taps" : ""}`} ref=${svg} viewBox=${`${-ahead} ${-top} ${ahead + behind} ${top + ROOM.below}`} aria-label=${name} ...${tap}>
    <path class="ground" d=${line([-ahead, 0], [behind, 0])} />
    <g class="bike">
      ${wheel(0, drawing.front_axle)}${wheel(drawing.wheelbase, drawing.rear_axle)}
      ${bike.thin.map((d) => html`<path d=${d} key=${d} />`)}
      ${bike.filled.map((d) => html`<path class="body" d=${d} key=${d} />`)}
      ${bike.thick.map((d) => html`<path class="thick" d=${d} key=${d} />`)}
      <circle class="body" cx=${bike.lamp[0]} cy=${bike.lamp[1]} r="82" />
    </g>
    ${spots.filter((spot) => spot.part !== chosen).map((spot) => html`<${Part} key=${spot.part} spot=${spot} />`)}
    <${Centre} which="before" at=${before} top=${top} /><${Centre} which="now" at=${now} top=${top} />
    ${spots.filter((spot) => spot.part === chosen).map((spot) => html`<${Part} key=${spot.part} spot=${spot} chosen />`)}
  </svg>`;
}
