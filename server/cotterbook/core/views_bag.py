"""What is in one bag, and what is kept at one place: what a label's code opens."""

from typing import Any

from .entries import wall_clock_ms
from .ordering import in_order
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
    contents = Contents(strip)
    groups = contents.groups_in(ids)
    notice = None
    if len(bags) > 1:
        notice = say("{n} bags are called {label}. Both are shown here; call one otherwise.", n=len(bags), label=label)
    return {
        "label": label,
        "bags": [{"bag": bag.id, "fields": fields_view(bag)} for bag in bags],
        "groups": groups,
        "count": sum([row["count"] for row in groups]),
        "parts": [part_row(part) for part in contents.parts_in(ids)],
        "last": contents.last_move(ids),
        "notice": notice,
    }


def kept_view(strip: Strip, arguments: dict[str, Any]) -> dict[str, Any]:
    """What is at one place, `kept`: {"kept", "parts", "bags": [{"label", "count", "groups"}]}."""
    kept = arguments.get("kept") or ""
    bags = [bag for bag in strip.of_type("bag") if bag.values.get("kept") == kept]
    parts = [part for part in strip.of_type("part") if part.values.get("kept") == kept and part.values.get("off")]
    rows, contents = [], Contents(strip)
    for bag in bags:
        groups = contents.groups_in([bag.id])
        rows.append({"label": bag_label(strip, bag.id), "groups": groups, "count": sum([g["count"] for g in groups])})
    return {"kept": kept, "parts": [part_row(part) for part in parts], "bags": rows}


def bags_labelled(strip: Strip, label: str) -> list[Thing]:
    """The bags on which this is written."""
    return [bag for bag in strip.of_type("bag") if bag.values.get("label") == label]


class Contents:
    """What is in which bag, and who had a hand in it last: gone through once, however many bags are asked for."""

    def __init__(self, strip: Strip):
        self._strip = strip
        self._groups: dict[str, list[tuple[int, Thing, int]]] = {}
        self._parts: dict[str, list[tuple[int, Thing]]] = {}
        self._last: dict[str, dict[str, Any]] = {}
        for n, group in enumerate(strip.of_type("group")):
            for where, bag, count in strip.ledger(group.id).elsewhere():
                if where == "bag" and bag:
                    self._groups.setdefault(bag, []).append((n, group, count))
            for entry in group.of_kind("move"):
                for end in ("to_bag", "from_bag"):
                    own = entry.get(end)
                    if own and (own not in self._last or _key(entry) > _key(self._last[own])):
                        self._last[own] = entry
        for n, part in enumerate(strip.of_type("part")):
            if part.values.get("bag") and part.values.get("off"):
                self._parts.setdefault(part.values["bag"], []).append((n, part))

    def groups_in(self, bags: list[str]) -> list[dict[str, Any]]:
        """{"group", "part", "name", "side", "place", "what", "key", "count"} of each group with some in these bags."""
        counts: dict[int, int] = {}
        groups: dict[int, Thing] = {}
        for bag in bags:
            for n, group, count in self._groups.get(bag, ()):
                groups[n], counts[n] = group, counts.get(n, 0) + count
        return [self._row(groups[n], counts[n]) for n in in_order(groups, _itself) if counts[n] > 0]

    def _row(self, group: Thing, count: int) -> dict[str, Any]:
        part = self._strip.thing(group.values.get("part") or "")
        row = dict(part_row(part), group=group.id) if part is not None else {"group": group.id}
        return dict(row, what=named(group.values), key=group.values.get("key"), count=count)

    def parts_in(self, bags: list[str]) -> list[Thing]:
        """The parts whose bag is one of these, while they are off."""
        found: dict[int, Thing] = {}
        for bag in bags:
            for n, part in self._parts.get(bag, ()):
                found[n] = part
        return [found[n] for n in in_order(found, _itself)]

    def last_move(self, bags: list[str]) -> Any:
        """Who put fasteners into one of these bags, or took some out of it, last, and when; None if nobody did."""
        last = None
        for bag in bags:
            entry = self._last.get(bag)
            if entry is not None and (last is None or _key(entry) > _key(last)):
                last = entry
        return None if last is None else {"who": last["who"], "at_ms": wall_clock_ms(last["id"])}


def _itself(number: int) -> int:
    return number


def _key(entry: dict[str, Any]) -> Any:
    return (entry["at"], entry["id"])


def part_row(part: Thing) -> dict[str, Any]:
    """{"part", "name", "side", "place", "off"} of a part."""
    values = part.values
    row = {"part": part.id, "name": values.get("name") or "", "side": values.get("side")}
    return dict(row, place=values.get("place"), off=bool(values.get("off")))
