// Which wrench and adapter a person chose last, for each group of a strip-down: this phone keeps them, so that the
// torque card, the way back and a page that is loaded anew begin with the same. Of two tabs, whoever chose last for a
// group wins there, and takes nothing from the other groups.

import { changeSetting, orSay, setting, useFresh } from "./live.js";
import { withUnit } from "./read_back.js";

/** What of a form for a wrench is carried on to the next one. */
const CARRIED = ["with_tool", "tool", "lever", "adapter", "angle_is", "adapter_degrees", "prevailing"];
const known = new Map();
const keyOf = (strip) => `wrenches:${strip}`;

/** What of a form is carried on; a prevailing torque goes with its unit, as the next form may begin with another. */
export const carried = (form) => Object.fromEntries(CARRIED.filter((name) => form[name] !== undefined)
  .map((name) => [name, name === "prevailing" ? withUnit(form.prevailing, form.torque_unit) : form[name]]));

let turns = 0;
const none = () => ({ last: {}, groups: {} });

async function read(strip) {
  const turn = turns;
  const kept = await orSay(setting(keyOf(strip)));
  // What was chosen while it was read is newer.
  if (turn === turns || !known.has(strip)) known.set(strip, kept ?? known.get(strip) ?? none());
  return known.get(strip);
}

/** Read what this phone keeps of a strip-down's wrenches, again when another tab chose; `data` is null until it is there. */
export const useChosenWrenches = (strip) => useFresh(() => read(strip), [strip],
  (change) => change.what === "settings" && change.key === keyOf(strip) && change.elsewhere);

/** What was chosen last for a group, its wrench only while it has a card in `tools`; {} where nothing was. */
export function chosenFor(strip, group, tools) {
  const { [group]: chosen } = known.get(strip)?.groups ?? {};
  const { with_tool: wrench, ...rest } = chosen ?? {};
  return tools.some((each) => each.tool === wrench) || wrench === "" ? { ...rest, with_tool: wrench } : rest;
}

/** The wrench that was tightened with last: {with_tool, tool}. */
export const chosenLast = (strip) => known.get(strip)?.last ?? {};

/** Keep what was chosen for a group; with `done` it was tightened with, and is offered for others too. */
export function choose(strip, group, form, done = false) {
  const chosen = (kept) => {
    const before = kept ?? none();
    const last = done ? { with_tool: form.with_tool, tool: form.tool } : before.last;
    return { last, groups: { ...before.groups, [group]: { ...before.groups[group], ...carried(form) } } };
  };
  const turn = ++turns;
  // At hand at once, and again as it lies on the phone with what other tabs chose.
  known.set(strip, chosen(known.get(strip)));
  orSay(changeSetting(keyOf(strip), chosen)).then((kept) => kept && turn === turns && known.set(strip, kept));
}
