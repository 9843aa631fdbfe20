"""What was written about one thing, newest first: each entry as a sentence, who wrote it, and whether it was struck."""

from typing import Any

from . import torque
from .entries import wall_clock_ms
from .figures import shown_amount
from .ordering import in_order
from .readings import one_look
from .settings_words import told, told_fields
from .strip import Strip
from .thing import Thing, key_of
from .views_group import bag_label, named
from .words import say


def history(strip: Strip, part: str) -> list[dict[str, Any]]:
    """Every entry about a part, its groups and its items, newest first, struck ones too."""
    items = [item.id for item in strip.of_type("item") if item.values.get("part") == part]
    subjects = [part] + [group.id for group in strip.groups_of(part)] + items
    entries = [entry for subject in subjects for entry in strip.filed(subject)]
    entries += [strike for entry in entries for strike in strip.strikes_of(entry["id"])]
    return [_history_view(strip, entry) for entry in in_order(entries, key_of, reverse=True)]


def _history_view(strip: Strip, entry: dict[str, Any]) -> dict[str, Any]:
    strike = strip.striker(entry["id"])
    values, thing = entry.get("values") or {}, strip.thing(entry.get("thing") or "")
    hidden: tuple[str, ...] = ("part", "bag", "machine", "rule", "foreseen")
    if thing is not None and thing.type == "setting":
        hidden += told_fields(thing)
    return {
        "entry": entry["id"],
        "at_ms": wall_clock_ms(entry["id"]),
        "who": entry["who"],
        "kind": entry["kind"],
        "text": _told(strip, entry),
        "can_strike": strike is None,
        "values": [{"field": name, "value": values[name]} for name in sorted(values) if name not in hidden],
        "struck": None if strike is None else {"who": strike["who"], "why": strike["why"]},
    }


def _looked(entry: dict[str, Any], what: Any) -> dict[str, Any]:
    return {"n": entry["count"], "what": what, "looked_at": entry["looked_at"]}


def _told(strip: Strip, entry: dict[str, Any]) -> dict[str, Any]:
    kind = entry["kind"]
    thing = strip.thing(strip.subject(entry)) if kind != "strike" else None
    what = named(thing.values) if thing is not None and thing.type == "group" else ""
    if kind == "set" and thing is not None and thing.type == "setting":
        return told(thing, entry)
    if kind == "set":
        return say("Wrote down {what}", what=what) if what else say("Wrote down")
    if kind == "move":
        label = bag_label(strip, entry.get("to_bag"))
        return say(
            "Moved {n} {what}", n=entry["count"], what=what, **{"from": entry["from"], "to": entry["to"], "bag": label}
        )
    if kind == "weigh":
        return say("Mass {figure}", figure=shown_amount(one_look(entry, strip.scale)))
    if kind == "tighten":
        return say(
            "Tightened {n} {what} to {value}", n=entry["count"], what=what, value=torque.shown(entry["newton_metres"])
        )
    if kind == "witness":
        return say("Marked {n} {what}", n=entry["count"], what=what)
    if kind == "second_check":
        right = say("Looked at {n} {what} and found them right: {looked_at}", **_looked(entry, what))
        not_right = say("Looked at {n} {what} and found them not right: {looked_at}", **_looked(entry, what))
        return right if entry["found"] == "right" else not_right
    if kind == "waive":
        return say("Decided that {what} need no second check: {why}", what=what, why=entry["why"])
    if kind == "machine_use":
        return say("Read the odometer")
    if kind == "strike":
        return say("Struck an entry: {why}", why=entry["why"])
    return say("Took a picture")


def photos_view(thing: Thing) -> list[dict[str, Any]]:
    """The pictures of a thing, in order, each with who took it and when."""
    return [
        {
            "entry": photo["id"],
            "sha256": photo["sha256"],
            "caption": photo.get("caption"),
            "who": photo["who"],
            "at_ms": wall_clock_ms(photo["id"]),
        }
        for photo in thing.of_kind("photo")
    ]
