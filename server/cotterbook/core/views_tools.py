"""What the screens show of torque tools: a card each, the last used first, with what it tightened lately."""

from typing import Any

from . import torque
from .entries import wall_clock_ms
from .shown_torque import settable
from .strip import Strip
from .thing import Thing, key_of
from .tightening import doubts, written_later
from .tool_uses import NO_USES, Uses, tightenings, uses_of_tools
from .torque_tool import CYCLES_OF_A_CALIBRATION, calibration, deviation_of, out_of_range
from .views_group import fields_view, named
from .words import say

# As many as tell whether a wrench was in use lately, and for what.
LATELY = 5


def tools_view(strip: Strip, arguments: Any = None) -> list[dict[str, Any]]:
    """A card for each tool, the last used first, those put away last; `arguments` may hold `now_ms`."""
    now_ms = (arguments or {}).get("now_ms")
    used = uses_of_tools(strip)
    cards = [_card(strip, tool, used, now_ms) for tool in strip.of_type("tool")]
    return sorted(cards, key=lambda card: (card["put_away"], -card["last_used_at"]))


def tools_and_last(strip: Strip, arguments: Any = None) -> dict[str, Any]:
    """{"tools": cards, "last": {"with_tool", "tool"} of the last tightening or None}."""
    entries = tightenings(strip)
    last = max(entries, key=key_of) if entries else None
    named = None if last is None else {"with_tool": last.get("with_tool"), "tool": last.get("tool")}
    return {"tools": tools_view(strip, arguments), "last": named}


def likely_wrench(strip: Strip, cards: list[dict[str, Any]], last: Any, newton_metres: Any) -> Any:
    """The id of the wrench to offer for a torque: the last one used where it reaches, else the next that does.

    `cards` with the last used first; `last` is an id or None. Where none reaches, or no
    torque is known, the last one.
    """
    at_hand = [card["tool"] for card in cards if not card["put_away"]]
    first = [last] if last in at_hand else []
    for tool in first + at_hand:
        if newton_metres is None or out_of_range(strip.thing(tool).values, newton_metres) is None:
            return tool
    return last


def _card(strip: Strip, tool: Thing, used: dict[str, Uses], now_ms: Any) -> dict[str, Any]:
    values, own = tool.values, used.get(tool.id, NO_USES)
    uses = own.entries
    low, high, step = [values.get(name + "_newton_metres") for name in ("low", "high", "step")]
    date = values.get("calibrated_on")
    cycles = own.since(date)
    state = calibration(date, now_ms, cycles)
    return {
        "tool": tool.id,
        "name": values.get("name") or "",
        "tool_type": values.get("tool_type"),
        "low": settable(low) if low is not None else None,
        "high": settable(high) if high is not None else None,
        "step": settable(step) if step is not None else None,
        "lever_millimetres": values.get("lever_millimetres"),
        "deviation": deviation_of(values, high or 100.0)[1],
        "calibrated_on": date,
        "months": state["months"],
        "overdue": state["overdue"],
        "notices": _notices(state, cycles, low, high),
        "certificate": values.get("certificate"),
        "cycles": cycles,
        "last_used_at": uses[-1]["at"] if uses else 0,
        "lately": [_use(strip, entry, used) for entry in reversed(uses[-LATELY:])],
        "put_away": bool(values.get("put_away")),
        "fields": fields_view(tool),
    }


def _use(strip: Strip, entry: dict[str, Any], used: dict[str, Uses]) -> dict[str, Any]:
    """What a wrench tightened: the record of it, with the group, its part and how many."""
    group = strip.thing(entry["group"])
    part = strip.thing(group.values.get("part") or "") if group is not None else None
    at_ms = wall_clock_ms(entry["id"])
    spec = torque.specification(group.values) if group is not None else None
    step = torque.of_step(spec, entry.get("step"))
    view = torque.record(entry, step, at_ms, doubts(strip, entry, at_ms, used))
    view.update(
        entry=entry["id"],
        later=written_later(group, entry) if group is not None else None,
        count=entry["count"],
        what=named(group.values) if group is not None else say("fasteners"),
        part=part.id if part is not None else None,
        part_name=part.values.get("name") or "" if part is not None else "",
    )
    return dict(view)


def calibration_notices(state: dict[str, Any], cycles: int) -> list[dict[str, Any]]:
    """What is to be said of a wrench's calibration, as sentences; `state` as `torque_tool.calibration` gave it."""
    if state["worn"] and state["calibrated_on"]:
        text = (
            "Used {cycles} times since its calibration, and due at {due} (ISO 6789-1): what is tightened with it now "
            "is in doubt."
        )
        return [say(text, cycles=cycles, due=CYCLES_OF_A_CALIBRATION)]
    if state["overdue"]:
        return [say("Calibration overdue: due after 12 months (ISO 6789-1), if your shop has no rule of its own.")]
    if state["calibrated_on"]:
        return []
    found = [say("No day of calibration is written down.")]
    if state["worn"]:
        text = "Used {cycles} times here; a calibration is due at {due} (ISO 6789-1)."
        found.append(say(text, cycles=cycles, due=CYCLES_OF_A_CALIBRATION))
    return found


def _notices(state: dict[str, Any], cycles: int, low: Any, high: Any) -> list[dict[str, Any]]:
    found = calibration_notices(state, cycles)
    if high is None:
        found.append(say("Its top is not written down, so a torque beyond it is not asked about."))
    if low is None:
        found.append(say("Its lowest mark is not written down, so a torque below it is not asked about."))
    return found
