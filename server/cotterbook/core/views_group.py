"""What the screens show of a group of fasteners: its fields, where they are, its torque and its order."""

from typing import Any

from . import torque
from .apart import group_words
from .astray import covered
from .entries import wall_clock_ms
from .fasteners import title
from .going_on import goes_on, is_on
from .group_needs import two_counts
from .patterns import pattern_view, stages
from .replaced import new_each_time
from .shown_torque import rough, settable, specification_shown
from .strip import Strip
from .thing import Thing
from .tightening import doubts, written_later
from .views_fasteners import about
from .views_second_check import second_check_view
from .words import say


def _head_view(entry: dict[str, Any], name: str) -> dict[str, Any]:
    at_ms = wall_clock_ms(entry["id"])
    return {"entry": entry["id"], "who": entry["who"], "at_ms": at_ms, "value": entry["values"][name]}


def fields_view(thing: Any) -> dict[str, Any]:
    """The fields of a thing (none of None): value, whether it is disputed, and the entries that give it."""
    fields = thing.fields if thing is not None else {}
    return {
        name: {
            "value": fields[name].value,
            "disputed": fields[name].disputed,
            "heads": [_head_view(entry, name) for entry in fields[name].heads],
        }
        for name in fields
    }


def bag_label(strip: Strip, bag: Any) -> Any:
    """The label of a bag, or None."""
    thing = strip.thing(bag) if bag else None
    return None if thing is None else thing.values.get("label")


def named(values: dict[str, Any]) -> Any:
    """What a sentence calls a group: its thread and length, or the key it takes, or just fasteners.

    A size that begins with a figure, such as 7 mm or 1/4 UNF, would run into the count before it.
    """
    if values.get("thread") or values.get("size"):
        called = title(values)
        return say("fasteners of {size}", size=called) if called[:1] in "0123456789" else called
    return say("fasteners, key {key}", key=values["key"]) if values.get("key") else say("fasteners")


def parts_to_choose(parts: list[Thing]) -> list[dict[str, Any]]:
    """Parts to choose one from, by name: {"part", "name", "side"} each."""
    named_parts = sorted([(each.values.get("name") or "", each.values.get("side") or "", each.id) for each in parts])
    return [{"part": part, "name": name, "side": side or None} for name, side, part in named_parts]


def counted_view(strip: Strip, group: Thing) -> dict[str, Any]:
    """What a fastener group is called, how many it has and where those are that are not on the machine."""
    ledger = strip.ledger(group.id)
    return {
        "called": named(group.values),
        "count": ledger.count,
        "places": [
            {"where": where, "bag": bag or None, "label": bag_label(strip, bag), "count": count}
            for where, bag, count in ledger.elsewhere() + ledger.in_stock()
        ],
    }


def group_view(strip: Strip, group: Thing, uses: Any = None) -> dict[str, Any]:
    """A fastener group: where its fasteners are, its torque, and what it still needs; `uses` as for `doubts`."""
    values, ledger = group.values, strip.ledger(group.id)
    spec = torque.specification(values)

    def doubts_of(entry: Any) -> list[dict[str, Any]]:
        return doubts(strip, entry, wall_clock_ms(entry["id"]), uses)

    telling = torque.worst(ledger.applied + ledger.in_doubt, spec, doubts_of)
    last = None
    if telling is not None:
        last = torque.record(telling, spec, wall_clock_ms(telling["id"]), doubts_of(telling))
        last["later"] = written_later(group, telling)
    needs = strip.needs(group.id)
    notice = torque.notice(last, spec)
    if notice is None and not needs and ledger.back:
        notice = _not_marked_on(strip, group)
    if ledger.apart is not None:
        notice = group_words(ledger.apart)
    if ledger.moved_twice is not None:
        notice = group_words(ledger.moved_twice)
    elif ledger.overdrawn():
        where, bag = ledger.overdrawn()[0]
        text = "More {what} were moved than were there ({place} {bag}): two counts don't agree. Count them again."
        notice = say(text, what=named(values), place={"label": where}, bag=bag_label(strip, bag) or "")
    elif covered(strip, group):
        text = "More {what} were once moved than were there. Count them again, and strike the move that was not so."
        notice = say(text, what=named(values))
    elif two_counts(group):
        text = "Two counts of {what}: {counts}. Settle which is right."
        notice = say(text, what=named(values), counts=", ".join([str(each) for each in two_counts(group)]))
    view = counted_view(strip, group)
    view.update(
        group=group.id,
        part=values.get("part"),
        title=title(values),
        fields=fields_view(group),
        about=about(group.id, values),
        on=ledger.on,
        out=ledger.out,
        tight=ledger.tight,
        marked=ledger.marked,
        loose=ledger.loose,
        untouched=ledger.untouched,
        is_tightened=ledger.is_tightened,
        specification=None if spec is None else specification_shown(spec, "N.m"),
        next_step=ledger.next_step(),
        at_step=[{"step": step, "count": ledger.at_step[step]} for step in sorted(ledger.at_step)],
        pattern=pattern_of(values, ledger.count, spec),
        last=last,
        second_check=second_check_view(strip, group, ledger),
        needs=needs,
        done=not needs,
        notice=notice,
        new_each_time=new_each_time(strip, group),
    )
    return view


def _not_marked_on(strip: Strip, group: Thing) -> Any:
    """A sentence where all is done to fasteners of a part that is to be on and is not marked so, else None."""
    part = strip.thing(group.values.get("part") or "")
    if part is None or is_on(part.values) or not goes_on(part):
        return None
    return say("These are in, and {part} is not marked as on.", part=part.values.get("name") or "")


def pattern_of(values: dict[str, Any], count: int, spec: Any, unit: str = "N.m") -> dict[str, Any]:
    """The group's pattern as drawn, with the stages of its torque in a unit; without one chosen, what to offer.

    Each stage is "shown" in the unit, and in N.m as "also" where that is another. "angle_degrees" comes after the last.
    """
    view = pattern_view(values.get("pattern"), count)
    found = [] if spec is None or count < 2 else stages((spec["low"] + spec["high"]) / 2.0, spec["steps"])
    view["stages"] = []
    for stage in found:
        # Of 70 % nobody knows the fourth digit.
        as_shown = rough if stage is not found[-1] and not spec["steps"] else settable
        also = None if unit == "N.m" else as_shown(stage["newton_metres"], "N.m")
        view["stages"].append(dict(stage, shown=as_shown(stage["newton_metres"], unit), also=also))
    view["angle_degrees"] = None if spec is None else spec["angle_degrees"]
    return view
