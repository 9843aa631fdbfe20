// How a figure will be read, said under its field while it is typed.

import { useEffect, useState } from "../vendor/preact.js";
import * as shop from "../shop.js";
import { figure as shownFigure, label, t } from "../words.js";

// A unit, a fraction: more than digits and their marks.
const MORE_THAN_DIGITS = /[^\d\s.,'+\u2212-]/;

/** Whether a figure was typed with a unit of its own: it has letters. */
export const saysUnit = (typed) => /\p{L}/u.test(String(typed));

/** A torque or a mass as typed, with the unit it was typed in, so that it stays the same in a form of another unit. */
export const withUnit = (typed, unit) => (String(typed ?? "").trim() && !saysUnit(typed) ? `${String(typed).trim()} ${label(unit)}` : typed);

/**
 * How a figure will be read, in words, while it is typed in another unit than it is kept in, or as no plain figure.
 * @param {string} figure as typed @param {string} unit of its field @param {boolean} [several] torques with a space between
 */
export function useReadBack(figure, unit, several) {
  const [words, setWords] = useState("");
  useEffect(() => {
    let live = true;
    const typed = String(figure ?? "");
    const tell = ({ shown, unit: own }) => {
      const all = [shown].flat();
      if (live) setWords((own ?? unit) === all[0].unit && !MORE_THAN_DIGITS.test(typed) ? "" : t("That is {figure}.", { figure: all.map(shownFigure).join(" → ") }));
    };
    if (typed.trim()) (several ? shop.readTorques : shop.readFigure)(typed, unit).then(tell, () => live && setWords(""));
    else setWords("");
    return () => { live = false; };
  }, [figure, unit, several]);
  return words;
}
