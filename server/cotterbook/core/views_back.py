"""What the way back shows: the parts that go on again, and what is short or left over."""

from typing import Any

from .going_on import NEW_THING, came_off, goes_on, is_disputed, is_on
from .hangs_on import life_hangs_on, life_hangs_on_either
from .kept_aside import not_all_read
from .mass import is_done, outcome_of
from .ordering import in_order
from .stops import open_stops
from .strip import Strip
from .thing import Thing
from .tool_uses import uses_of_tools
from .views_group import bag_label, counted_view, group_view
from .views_pins import letters_of, pinned_photos, pins_by_photo
from .way_back import Waits, in_way_back_order, is_on_the_way_back, needs_of
from .words import say


def back_view(strip: Strip, arguments: dict[str, Any]) -> dict[str, Any]:
    """Parts that go on again, in their order; those done apart, last off first; shortages and leftovers in words."""
    waits, uses, pins = Waits(strip), uses_of_tools(strip), pins_by_photo(strip)
    views: dict[str, dict[str, Any]] = {}
    still: list[Thing] = []
    done: list[dict[str, Any]] = []
    short: list[dict[str, Any]] = []
    left_over: list[dict[str, Any]] = []
    for part in in_order(strip.of_type("part"), came_off, reverse=True):
        shown = is_on_the_way_back(strip, part)
        if not shown and not goes_on(part):
            # Of these nothing else is shown, and in a long log they are most.
            counted = [counted_view(strip, group) for group in strip.groups_of(part.id)]
            left_over += _left_over(part, counted)
        if not shown:
            continue
        groups = [group_view(strip, group, uses) for group in strip.groups_of(part.id)]
        view = _part_view(strip, part, groups, waits, pins)
        short += _on_all_the_same(part) + _nobody_knows(part) + _short(part, groups, view["on"])
        short += early_of(strip, part, waits)
        if view["done"]:
            done.append(view)
        else:
            still.append(part)
            views[part.id] = view
    ordered, ring = in_way_back_order(strip, still, waits)
    return {
        "stops": [each["sentence"] for each in open_stops(strip)],
        "notices": _ring(ring) + short + left_over,
        "not_all_read": not_all_read(strip),
        "parts": [views[part.id] for part in ordered],
        "done": done,
    }


def _part_view(
    strip: Strip, part: Thing, groups: list[dict[str, Any]], waits: Waits, pins: dict[str, list[Thing]]
) -> dict[str, Any]:
    values, needs = part.values, needs_of(strip, part)
    letters, bag = letters_of(strip, part.id), strip.thing(values.get("bag") or "")
    return {
        "part": part.id,
        "name": values.get("name") or "",
        "side": values.get("side"),
        "place": values.get("place"),
        "pieces": values.get("pieces") or 1,
        "off": bool(values.get("off")),
        "on": is_on(values),
        "outcome": outcome_of(values),
        "outcome_done": is_done(values),
        "replacement": values.get("replacement"),
        "bag": bag_label(strip, values.get("bag")),
        "bag_kept": None if bag is None else bag.values.get("kept"),
        "kept": values.get("kept"),
        "photos": pinned_photos(strip, part, pins),
        "groups": [dict(group, letter=letters[group["group"]]) for group in groups],
        "blockers": [] if is_on(values) else waits.blockers(part),
        "waits": len(waits.of.get(part.id, ())),
        "second_person": life_hangs_on(values, {})
        or any([life_hangs_on_either(part, group) for group in strip.groups_of(part.id)]),
        "needs": needs,
        "done": not needs,
    }


def early_of(strip: Strip, part: Thing, waits: Waits) -> list[dict[str, Any]]:
    """Sentences on a part that is on although what it waits for is not there yet, with the reason where one was given.

    It can come about where two people work apart, and where somebody said why.
    """
    if not is_on(part.values):
        return []
    found = []
    for blocker in waits.blockers(part):
        why = _why_early(part)
        text = "{part} is on already. {sentence}" if why is None else "{part} is on already, because: {why}. {sentence}"
        found.append(say(text, part=part.values.get("name") or "", sentence=blocker["sentence"], why=why))
    return found


def _why_early(part: Thing) -> Any:
    """The reason that came with the part's going on, not one of an earlier time."""
    field = part.fields.get("early_why")
    went_on = part.fields.get("outcome_done" if outcome_of(part.values) in NEW_THING else "off")
    if field is None or went_on is None or field.heads[-1]["id"] != went_on.heads[-1]["id"]:
        return None
    return field.value


def _on_all_the_same(part: Thing) -> list[dict[str, Any]]:
    if outcome_of(part.values) != "stays_off":
        return []
    return [say("{part} was to stay off, and is on. Settle which it is.", part=part.values.get("name") or "")]


def _nobody_knows(part: Thing) -> list[dict[str, Any]]:
    if not is_disputed(part):
        return []
    text = "{part}: two people wrote apart whether it is on. Settle which it is."
    return [say(text, part=part.values.get("name") or "")]


def _ring(ring: list[Thing]) -> list[dict[str, Any]]:
    if not ring:
        return []
    text = "These wait for one another: {parts}. Take one of the waits back."
    return [say(text, parts=[part.values.get("name") or "" for part in ring])]


def _values(part: Thing, group: dict[str, Any]) -> dict[str, Any]:
    return {
        "count": group["count"],
        "what": group["called"],
        "part": part.values.get("name") or "",
    }


def _in_bags(group: dict[str, Any]) -> list[dict[str, Any]]:
    return [place for place in group["places"] if place["where"] == "bag" and place["count"] > 0]


def _short(part: Thing, groups: list[dict[str, Any]], on: bool) -> list[dict[str, Any]]:
    """Sentences on fasteners that a part on the machine, or half way on, still lacks or has too many of."""
    found = []
    for group in groups:
        values = _values(part, group)
        if group["notice"] is not None:
            found.append(say("{part}: {notice}", part=values["part"], notice=group["notice"]))
        if group["second_check"]["notice"] is not None:
            found.append(say("{part}: {notice}", part=values["part"], notice=group["second_check"]["notice"]))
        if group["on"] > group["count"]:
            found.append(say("{n} {what} too many on {part}", n=group["on"] - group["count"], **values))
        if not group["out"] or not (on or group["on"]):
            continue
        bags = _in_bags(group)
        found += [_still_out(place, values) for place in bags]
        short = group["out"] - sum(place["count"] for place in bags)
        if short > 0:
            found.append(say("{n} of {count} {what} missing on {part}", n=short, **values))
    return found


def _still_out(place: dict[str, Any], values: dict[str, Any]) -> dict[str, Any]:
    if place["label"]:
        return say("{n} of {count} {what} still in bag {bag}: {part}", n=place["count"], bag=place["label"], **values)
    return say("{n} of {count} {what} still out, in no bag yet: {part}", n=place["count"], **values)


def _left_over(part: Thing, groups: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """Sentences on fasteners in bags that nothing going back will use."""
    in_bag = "{n} {what} left over in bag {bag}: {part} stays off"
    loose = "{n} {what} left over, in no bag yet: {part} stays off"
    return [
        say(in_bag if place["label"] else loose, n=place["count"], bag=place["label"], **_values(part, group))
        for group in groups
        for place in _in_bags(group)
    ]
