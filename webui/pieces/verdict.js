// How a torque stands against its specification, its uncertainty counted: words and the shape of their mark.

import { label } from "../words.js";

/** The mark of each judgement. Doubt is not drawn as a fault: nothing is proven either way. */
export const VERDICT_MARKS = { accepted: "done", doubtful: "wait", refused: "bad", no_specification: "" };

const SIDES = { low: "below", high: "above" };

/**
 * A judgement of the core in words; what is refused says on which side.
 * @param {{judged: string, side: "low"|"high"|null}} verdict
 */
export const verdictWords = ({ judged, side }) => label(judged === "refused" && side ? SIDES[side] : judged);
