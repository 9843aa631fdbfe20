// Lengths of time in words.

import { t } from "../words.js";

/** Whole minutes as hours and minutes. @param {number} minutes */
export function timeWords(minutes) {
  const [hours, rest] = [Math.floor(minutes / 60), minutes % 60];
  if (hours === 0) return t("{minutes} min", { minutes });
  return rest === 0 ? t("{hours} h", { hours }) : t("{hours} h {minutes} min", { hours, minutes: rest });
}

/** What the record shows roughly, in steps of five minutes; 0 is less than five. @param {number} minutes */
export const aboutWords = (minutes) => (minutes === 0 ? t("less than 5 min") : t("about {time}", { time: timeWords(minutes) }));
