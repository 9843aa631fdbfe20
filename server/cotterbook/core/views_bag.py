"""What is in one bag, and what is kept at one place: what a label's code opens."""

from typing import Any

from .entries import wall_clock_ms
from .strip import Strip
from .thing import Thing
from .views_group import bag_label, fields_view, named
from .words import say


def bag_view(strip: Strip, arguments: dict[str, Any]) -> dict[str, Any]:
    """One bag by what is written on it, `label`; empty where nobody put anything into such a bag yet.

    {"label", "bags": [{"bag", "fields"}], "groups": rows of `group_row`, "count": fasteners in it, "parts": parts whose
    bag it is, "last": {"who", "at_ms"} or None, "notice"}. More than one bag with that label are shown as one.
    """
    label = arguments.get("label") or ""
    bags = bags_labelled(strip, label)
    ids = [bag.id for bag in bags]
    groups = groups_in(strip, ids)
    notice = None
    if len(bags) > 1:
        notice = say("{n} bags are called {label}. Both are shown here; call one otherwise.", n=len(bags), label=label)
    return {
        "label": label,
        "bags": [{"bag": bag.id, "fields": fields_view(bag)} for bag in bags],
        "groups": groups,
        "count": sum([row["count"] for row in groups]),
        "parts": [part_row(part) for part in parts_in(strip, ids)],
        "last": last_move(strip, ids),
        "notice": notice,
    }


def kept_view(strip: Strip, arguments: dict[str, Any]) -> dict[str, Any]:
    """What is at one place, `kept`: {"kept", "parts", "bags": [{"label", "count", "groups"}]}."""
    kept = arguments.get("kept") or ""
    bags = [bag for bag in strip.of_type("bag") if bag.values.get("kept") == kept]
    parts = [part for part in strip.of_type("part") if part.values.get("kept") == kept and part.values.get("off")]
    rows = []
    for bag in bags:
        groups = groups_in(strip, [bag.id])
        rows.append({"label": bag_label(strip, bag.id), "groups": groups, "count": sum([g["count"] for g in groups])})
    return {"kept": kept, "parts": [part_row(part) for part in parts], "bags": rows}


def bags_labelled(strip: Strip, label: str) -> list[Thing]:
    """The bags on which this is written."""
    return [bag for bag in strip.of_type("bag") if bag.values.get("label") == label]


def groups_in(strip: Strip, bags: list[str]) -> list[dict[str, Any]]:
    """{"group", "part", "name", "side", "place", "what", "key", "count"} of each group with some in these bags."""
    rows = []
    for group in strip.of_type("group"):
        count = sum([n for where, bag, n in strip.ledger(group.id).elsewhere() if where == "bag" and bag in bags])
        if count > 0:
            part = strip.thing(group.values.get("part") or "")
            row = dict(part_row(part), group=group.id, count=count) if part is not None else {"group": group.id}
            rows.append(dict(row, what=named(group.values), key=group.values.get("key"), count=count))
    return rows


def part_row(part: Thing) -> dict[str, Any]:
    """{"part", "name", "side", "place", "off"} of a part."""
    values = part.values
    row = {"part": part.id, "name": values.get("name") or "", "side": values.get("side")}
    return dict(row, place=values.get("place"), off=bool(values.get("off")))


def parts_in(strip: Strip, bags: list[str]) -> list[Thing]:
    """The parts whose bag is one of these, while they are off."""
    return [part for part in strip.of_type("part") if part.values.get("bag") in bags and part.values.get("off")]


def last_move(strip: Strip, bags: list[str]) -> Any:
    """Who put fasteners into one of these bags, or took some out of it, last, and when; None if nobody did."""
    last = None
    for group in strip.of_type("group"):
        for entry in group.of_kind("move"):
            if entry.get("to_bag") in bags or entry.get("from_bag") in bags:
                last = entry if last is None or (entry["at"], entry["id"]) > (last["at"], last["id"]) else last
    return None if last is None else {"who": last["who"], "at_ms": wall_clock_ms(last["id"])}
