"""What the way back shows: the parts that go on again, and what is short or left over."""

from typing import Any

from .acts_back import is_on
from .mass import outcome_of
from .strip import Strip, Thing, key_of
from .views_part import bag_label, group_view, named
from .words import say


def back_view(strip: Strip, arguments: dict[str, Any]) -> dict[str, Any]:
    """Parts that go on again, last off first; those done apart; shortages and leftovers in words."""
    still: list[dict[str, Any]] = []
    done: list[dict[str, Any]] = []
    notices: list[dict[str, Any]] = []
    for part in sorted(strip.of_type("part"), key=lambda part: _came_off(part), reverse=True):
        groups = [group_view(strip, group) for group in strip.groups_of(part.id)]
        if not _goes_on(part):
            notices += _left_over(strip, part)
            continue
        view = _part_view(strip, part, groups)
        (done if view["done"] else still).append(view)
        notices += _short(strip, part, groups, view["on"])
    return {"notices": notices, "parts": still, "done": done}


def _came_off(part: Thing) -> Any:
    """(at, id) of the last time the part came off; of its first entry when it never did."""
    field = part.fields.get("off")
    offs = [entry for entry in field.writers if entry["values"]["off"]] if field is not None else []
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
    for need in ("count", "torque", "mark"):
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
        "outcome_done": bool(values.get("outcome_done")),
        "replacement": values.get("replacement"),
        "bag": bag_label(strip, values.get("bag")),
        "photo": photos[-1]["sha256"] if photos else None,
        "groups": groups,
        "needs": needs,
        "done": not needs,
    }


def _short(strip: Strip, part: Thing, groups: list[dict[str, Any]], on: bool) -> list[dict[str, Any]]:
    """Sentences on fasteners that a part on the machine, or half way on, still lacks."""
    found = []
    name = part.values.get("name") or ""
    for group in groups:
        values = {"count": group["count"], "what": group["title"] or say("fasteners"), "part": name}
        if group["notice"] is not None:
            found.append(say("{part}: {notice}", part=name, notice=group["notice"]))
        for place in group["places"]:
            if place["where"] == "lost" and place["count"] > 0 and group["out"]:
                found.append(
                    say(
                        "{n} of {count} {what} of {part} lost. Find it, or rule out that it is inside the machine.",
                        n=place["count"],
                        **values,
                    )
                )
            elif (on or group["on"]) and group["out"] and place["where"] == "bag" and place["count"] > 0:
                found.append(
                    say(
                        "{n} of {count} {what} still in bag {bag}: {part}",
                        n=place["count"],
                        bag=place["label"] or "?",
                        **values,
                    )
                )
        if (on or group["on"]) and group["out"] and not any(place["where"] == "bag" for place in group["places"]):
            found.append(say("{n} of {count} {what} missing on {part}", n=group["out"], **values))
        elif group["on"] > group["count"]:
            found.append(say("{n} {what} too many on {part}", n=group["on"] - group["count"], **values))
    return found


def _left_over(strip: Strip, part: Thing) -> list[dict[str, Any]]:
    """Sentences on fasteners in bags that nothing going back will use."""
    found = []
    for group in strip.groups_of(part.id):
        for where, bag, count in strip.ledger(group.id).elsewhere():
            if where == "bag" and count > 0:
                found.append(
                    say(
                        "{n} {what} left over in bag {bag}: {part} stays off",
                        n=count,
                        what=named(group.values),
                        bag=bag_label(strip, bag) or "?",
                        part=part.values.get("name") or "",
                    )
                )
    return found
