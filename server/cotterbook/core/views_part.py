"""What the screens show of one part: its fields, groups, readings, photos, settings and items."""

from typing import Any

from .counting import asked_of
from .entries import wall_clock_ms
from .figures import shown_amount
from .foreseen import fasteners_foreseen, foreseen_of, otherwise
from .mass import is_done, outcome_of
from .open_items import before_of
from .strip import Strip
from .thing import Thing
from .to_do import items_of
from .tool_uses import uses_of_tools
from .views_cautions import cautions_of_part
from .views_group import bag_label, fields_view, group_view
from .views_history import history, photos_view
from .views_reading import reading_view
from .views_settings import settings_of_part
from .words import say


def rows(strip: Strip, parts: list[Thing]) -> Any:
    """Parts as a list shows them, in their order."""

    def made_of(part: Thing) -> list[Any]:
        found, bag = [part, strip.line(part.id)], part.values.get("bag")
        found.append(strip.thing(bag) if bag else None)
        for group in strip.groups_of(part.id):
            found += [group, strip.ledger(group.id)]
        return found

    return strip.kept.rows("parts", parts, made_of, lambda part: row(strip, part))


def row(strip: Strip, part: Thing) -> dict[str, Any]:
    """A part as a list shows it."""
    values, line, groups = part.values, strip.line(part.id), strip.groups_of(part.id)
    ledgers = [strip.ledger(group.id) for group in groups]
    photos = part.of_kind("photo")
    change = line.change
    return {
        "part": part.id,
        "name": values.get("name") or "",
        "place": values.get("place"),
        "side": values.get("side"),
        "pieces": values.get("pieces") or 1,
        "came_in": values.get("came_in") or "fitted",
        "off": bool(values.get("off")),
        "outcome": outcome_of(values),
        "outcome_done": is_done(values),
        "change": shown_amount(change),
        "basis": line.basis,
        "mass": shown_amount(line.off),
        "counted": line.counted,
        "reason": line.reason,
        "bag": bag_label(strip, values.get("bag")),
        "out": sum(ledger.out for ledger in ledgers),
        "of": sum(ledger.count for ledger in ledgers),
        "photo": photos[-1]["sha256"] if photos else None,
        "disputed": any(thing.fields[name].disputed for thing in [part] + groups for name in thing.fields),
        "at_ms": wall_clock_ms(part.first["id"]),
    }


def item_view(strip: Strip, item: Thing) -> dict[str, Any]:
    """An open item as shown."""
    values, fields = item.values, fields_view(item)
    part = strip.thing(values.get("part") or "")
    return {
        "item": item.id,
        "what": values.get("what"),
        "text": values.get("text") or "",
        "now": now_of(strip, item),
        "part": values.get("part"),
        "part_name": last_name(strip, part) or None if part is not None else None,
        "part_struck": part is not None and not part.alive,
        "closed": bool(values.get("closed")),
        "closed_how": values.get("closed_how"),
        "for_whom": values.get("for_whom"),
        "before": before_of(values),
        "due_on": values.get("due_on"),
        "cost": values.get("cost"),
        "currency": values.get("currency"),
        "photos": photos_view(item),
        "fields": fields,
    }


def now_of(strip: Strip, item: Thing) -> Any:
    """How it stands now with fasteners that an open item is about, in sentences; None for any other item.

    Its text says how it stood when a spell ended; since then more may be missing, or less.
    """
    group = item.values.get("group")
    if not group or item.values.get("rule") or item.values.get("closed"):
        return None
    return [each["text"] for each in asked_of(strip, group)] or [say("these are accounted for now")]


def part_view(strip: Strip, arguments: dict[str, Any]) -> Any:
    """Everything about one part; None when it is not in the log."""
    part = strip.thing(arguments["part"])
    if part is None or part.type != "part":
        return None
    uses = uses_of_tools(strip)
    masses = strip.masses(part.id)
    used = [entry for state in masses if masses[state] is not None for entry in masses[state].used]
    return {
        "part": part.id,
        "fields": fields_view(part),
        "struck": not part.alive,
        "name": last_name(strip, part),
        "row": row(strip, part),
        "bag": bag_label(strip, part.values.get("bag")),
        "groups": [group_view(strip, group, uses) for group in strip.groups_of(part.id)],
        "readings": [reading_view(strip, reading, used if part.alive else None) for reading in part.of_kind("weigh")],
        "photos": photos_view(part),
        "items": [item_view(strip, item) for item in items_of(strip, part.id)],
        "otherwise": _otherwise(strip, part),
        "cautions": cautions_of_part(strip, part.id),
        "settings": settings_of_part(strip, part.id),
        "history": history(strip, part.id),
    }


def _otherwise(strip: Strip, part: Thing) -> Any:
    """In what the part was otherwise than a map foresaw, in sentences; None where none foresaw it."""
    foreseen = foreseen_of(strip, part) if part.alive else None
    if foreseen is None:
        return None
    return otherwise(strip, part, foreseen, fasteners_foreseen(strip).get(foreseen.id, []))


def last_name(strip: Strip, part: Thing) -> str:
    """The part's name; of one that is struck, the name it had."""
    names = [entry["values"].get("name") for entry in strip.filed(part.id) if entry["kind"] == "set"]
    return str(part.values.get("name") or ([name for name in names if name] or [""])[-1])
