// The chapters of a machine, read from the log one strip-down after the other.

import { history, strips, view } from "../shop.js";

/** The strip-downs of one's machine on this phone, as the list of the start has them. */
async function ofOneMachine(strip) {
  const lines = await strips();
  const own = lines.find((line) => line.strip === strip);
  return own?.machine ? lines.filter((line) => line.machine === own.machine).map((line) => line.strip) : [strip];
}

/** All chapters of a machine, joined by the core. @param {string} strip any of its strip-downs @param {[number, number]|null} days */
export async function yearsOf(strip, days) {
  const now = Date.now();
  const chapters = [];
  // One after the other: each may have to be read from the log first.
  for (const each of await ofOneMachine(strip)) chapters.push(await view(each, "chapter", { now_ms: now, days }));
  return history(chapters, days);
}

/** Any change may be of another strip-down of the same machine. */
export const concernsYears = (change) => change.strips !== undefined && change.what !== "strips";
