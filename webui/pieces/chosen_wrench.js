// Which wrench and adapter a person chose last, for each group of a strip-down: this phone keeps them, so that the
// torque card, the way back and a page that is loaded anew begin with the same.

import { orSay, putSetting, setting, useFresh } from "./live.js";
import { withUnit } from "./read_back.js";

/** What of a form for a wrench is carried on to the next one. */
const CARRIED = ["with_tool", "tool", "lever", "adapter", "angle_is", "adapter_degrees", "prevailing"];
const known = new Map();
const keyOf = (strip) => `wrenches:${strip}`;

/** What of a form is carried on; a prevailing torque goes with its unit, as the next form may begin with another. */
export const carried = (form) => Object.fromEntries(CARRIED.filter((name) => form[name] !== undefined)
  .map((name) => [name, name === "prevailing" ? withUnit(form.prevailing, form.torque_unit) : form[name]]));

async function read(strip) {
  if (!known.has(strip)) {
    const kept = await orSay(setting(keyOf(strip)));
    if (!known.has(strip)) known.set(strip, kept ?? { last: {}, groups: {} });
  }
  return known.get(strip);
}

/** Read what this phone keeps of a strip-down's wrenches; `data` is null until it is there. */
export const useChosenWrenches = (strip) => useFresh(() => read(strip), [strip], () => false);

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
  const before = known.get(strip) ?? { last: {}, groups: {} };
  const last = done ? { with_tool: form.with_tool, tool: form.tool } : before.last;
  const next = { last, groups: { ...before.groups, [group]: { ...before.groups[group], ...carried(form) } } };
  known.set(strip, next);
  orSay(putSetting(keyOf(strip), next));
}
