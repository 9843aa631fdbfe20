// How a figure will be read, said under its field while it is typed.

import { useEffect, useState } from "../vendor/preact.js";
import * as shop from "../shop.js";
import { t } from "../words.js";

// A unit, a fraction: more than digits and their marks.
const MORE_THAN_DIGITS = /[^\d\s.,'+\u2212-]/;

/** Whether a figure was typed with a unit of its own: it has letters. */
export const saysUnit = (typed) => /\p{L}/u.test(String(typed));

/** How a figure will be read, in words, while it is typed in another unit than it is kept in, or as no plain figure. */
export function useReadBack(figure, unit) {
  const [words, setWords] = useState("");
  useEffect(() => {
    let live = true;
    if (!String(figure ?? "").trim()) setWords("");
    else {
      shop.readFigure(String(figure), unit).then(
        ({ shown, unit: own }) => live && setWords((own ?? unit) === shown.unit && !MORE_THAN_DIGITS.test(figure) ? "" : t("That is {figure}.", { figure: shown })),
        () => live && setWords(""));
    }
    return () => { live = false; };
  }, [figure, unit]);
  return words;
}
