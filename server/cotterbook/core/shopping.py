"""What to buy for the way back: what is new each time, and what is short, by kind and size."""

from typing import Any

from .counting import size_of
from .going_on import goes_on
from .ordering import in_order
from .replaced import new_each_time, new_ones
from .stops import used_again
from .strip import Strip
from .thing import Thing


def shopping_lines(strip: Strip) -> list[dict[str, Any]]:
    """{"kind" (None: short of ordinary ones), "called", "to_buy", "at_hand", "groups": [{"group", "part", "kind",
    "to_buy", "at_hand"}]} of each kind and size that something is to be bought of, or was and is not fitted yet."""
    lines: dict[Any, dict[str, Any]] = {}
    excused = [each["group"] for each in used_again(strip) if each["closed_by"] is not None]
    for part in strip.of_type("part"):
        for group in strip.groups_of(part.id) if goes_on(part) else ():
            wanted = wanted_of(strip, group, group.id in excused)
            if wanted["to_buy"] or wanted["at_hand"]:
                _file(lines, part, group, wanted)
    return in_order(lines.values(), lambda line: line["order"])


def wanted_of(strip: Strip, group: Thing, excused: bool = False) -> dict[str, Any]:
    """{"new": as of `new_each_time`, "to_buy", "at_hand"} of a group; `excused`: used again, and answered for.

    Of what is new each time as many are wanted as are out or were used again without a reason, less the new ones at
    hand; of others as many as neither bags nor spares hold.
    """
    ledger, found, new = strip.ledger(group.id), new_ones(group), new_each_time(strip, group)
    if new is None:
        there = max(0, ledger.at("bag")) + max(0, ledger.at("spares"))
        return {"new": None, "to_buy": max(0, ledger.out - there), "at_hand": 0}
    wanted = ledger.out + (0 if excused else min(found.used, max(0, ledger.on)))
    at_hand = min(wanted, found.at_hand())
    return {"new": new, "to_buy": wanted - at_hand, "at_hand": at_hand}


def _file(lines: dict[Any, dict[str, Any]], part: Thing, group: Thing, wanted: dict[str, Any]) -> None:
    size, kind = size_of(group.values), None if wanted["new"] is None else wanted["new"]["kind"]
    key = (kind or "", size["key"])
    if key not in lines:
        order = (1 if kind is None else 0, kind or "", size["order"])
        lines[key] = {"kind": kind, "called": size["called"], "order": order, "to_buy": 0, "at_hand": 0, "groups": []}
    line = lines[key]
    line["to_buy"] += wanted["to_buy"]
    line["at_hand"] += wanted["at_hand"]
    line["groups"].append((part, group, wanted))
