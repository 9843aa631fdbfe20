"""What the way back shows: the parts that go on again, and what is short or left over."""

from typing import Any

from .acts_back import is_on
from .hangs_on import life_hangs_on
from .mass import is_done, outcome_of
from .ordering import in_order
from .strip import Strip
from .thing import Thing, key_of
from .tool_uses import uses_of_tools
from .views_group import bag_label, counted_view, group_view
from .words import say


def back_view(strip: Strip, arguments: dict[str, Any]) -> dict[str, Any]:
    """Parts that go on again, last off first; those done apart; shortages and leftovers in words."""
    still: list[dict[str, Any]] = []
    done: list[dict[str, Any]] = []
    lost: list[dict[str, Any]] = []
    short: list[dict[str, Any]] = []
    left_over: list[dict[str, Any]] = []
    uses = uses_of_tools(strip)
    for part in in_order(strip.of_type("part"), _came_off, reverse=True):
        if not _goes_on(part):
            # Of these nothing else is shown, and in a long log they are most.
            counted = [counted_view(strip, group) for group in strip.groups_of(part.id)]
            lost += lost_of(part, counted)
            left_over += _left_over(part, counted)
            continue
        groups = [group_view(strip, group, uses) for group in strip.groups_of(part.id)]
        lost += lost_of(part, groups)
        if not _was_handled(part, groups):
            continue
        view = _part_view(strip, part, groups)
        (done if view["done"] else still).append(view)
        short += _short(part, groups, view["on"])
    return {"notices": lost + short + left_over, "parts": still, "done": done}


def _came_off(part: Thing) -> Any:
    """(at, id) of the last time the part came off; of its first entry when it never did."""
    offs = [entry for entry in _writers(part, "off") if entry["values"]["off"]]
    return key_of(offs[-1] if offs else part.first)


def _goes_on(part: Thing) -> bool:
    outcome = outcome_of(part.values)
    if outcome == "stays_off" or part.values.get("came_in") == "missing" and outcome != "added":
        return False
    return True


def _part_view(strip: Strip, part: Thing, groups: list[dict[str, Any]]) -> dict[str, Any]:
    values, on = part.values, is_on(part.values)
    photos = part.of_kind("photo")
    needs = [] if on else ["on"]
    for need in ("count", "torque", "mark", "second_check"):
        if any(need in group["needs"] for group in groups):
            needs.append(need)
    return {
        "part": part.id,
        "name": values.get("name") or "",
        "side": values.get("side"),
        "place": values.get("place"),
        "pieces": values.get("pieces") or 1,
        "off": bool(values.get("off")),
        "on": on,
        "outcome": outcome_of(values),
        "outcome_done": is_done(values),
        "replacement": values.get("replacement"),
        "bag": bag_label(strip, values.get("bag")),
        "photo": photos[-1]["sha256"] if photos else None,
        "groups": groups,
        "second_person": life_hangs_on(values, {})
        or any([life_hangs_on(values, group.values) for group in strip.groups_of(part.id)]),
        "needs": needs,
        "done": not needs,
    }


def _was_handled(part: Thing, groups: list[dict[str, Any]]) -> bool:
    """Whether the part, or a fastener of it, ever came off or went on; one that only is planned to is not here yet."""
    values = part.values
    moved = any(group["untouched"] < group["count"] for group in groups)
    came_off = any(entry["values"]["off"] for entry in _writers(part, "off"))
    return came_off or moved or bool(values.get("outcome_done")) or outcome_of(values) == "added"


def _writers(part: Thing, name: str) -> list[dict[str, Any]]:
    field = part.fields.get(name)
    return field.writers if field is not None else []


def lost_of(part: Thing, groups: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """Sentences on lost fasteners, also of parts that stay off: they may lie inside the machine."""
    text = "{n} of {count} {what} of {part} lost. Find it, or rule out that it is inside the machine."
    return [
        say(text, n=place["count"], **_values(part, group))
        for group in groups
        for place in group["places"]
        if place["where"] == "lost" and place["count"] > 0
    ]


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
