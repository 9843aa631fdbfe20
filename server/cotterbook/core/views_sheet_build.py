"""What the build sheet shows: what became of the machine, masses, settings, torques, what is open, pictures."""

from typing import Any

from . import torque
from .entries import wall_clock_ms
from .figures import shown_amount
from .mass import is_done, outcome_of
from .shown_torque import specification_shown
from .strip import Strip
from .thing import Thing
from .tightening import doubts
from .tool_uses import uses_of_tools
from .views_group import named
from .views_history import photos_view
from .views_masses import statement_view
from .views_open import open_items_view
from .views_second_check import second_check_view
from .views_settings import settings_view
from .views_torque import unit_of

# More would be a picture book, and a printer's ink.
MOST_PICTURES = 24
CHANGED = ("swapped", "stays_off", "cut_down", "moved", "added")


def build_sheet_view(strip: Strip, arguments: dict[str, Any]) -> dict[str, Any]:
    """{"changed": parts that do not go back as they were, "statement", "settings", "open": as their screens have them,
    "torques": [{"part", "side", "what", "count", "on", "tight", "marked", "specification", "unit", "done": [{"count",
    "shown", "tool", "who", "at_ms", "judged", "reason"}], "check"}] of groups that were tightened or have a
    specification, "pictures": [{"sha256", "caption", "name", "who", "at_ms"}], "more_pictures": how many beside}.
    """
    parts = strip.of_type("part")
    pictures = [picture for part in parts for picture in _pictures(part)]
    return {
        "changed": [_changed(strip, part) for part in parts if outcome_of(part.values) in CHANGED],
        "statement": statement_view(strip, {}),
        "settings": settings_view(strip, {})["settings"],
        "torques": _torques(strip, parts),
        "open": open_items_view(strip, arguments),
        "pictures": pictures[:MOST_PICTURES],
        "more_pictures": max(0, len(pictures) - MOST_PICTURES),
    }


def _changed(strip: Strip, part: Thing) -> dict[str, Any]:
    values = part.values
    return {
        "part": part.id,
        "name": values.get("name") or "",
        "side": values.get("side"),
        "place": values.get("place"),
        "pieces": values.get("pieces") or 1,
        "came_in": values.get("came_in"),
        "outcome": outcome_of(values),
        "outcome_done": is_done(values),
        "replacement": values.get("replacement"),
        "note": values.get("note"),
        "change": shown_amount(strip.line(part.id).change),
    }


def _torques(strip: Strip, parts: list[Thing]) -> list[dict[str, Any]]:
    uses = uses_of_tools(strip)
    found = [_torque(strip, part, group, uses) for part in parts for group in strip.groups_of(part.id)]
    return [each for each in found if each["done"] or (each["specification"] is not None and each["on"] > 0)]


def _torque(strip: Strip, part: Thing, group: Thing, uses: Any) -> dict[str, Any]:
    values, ledger, spec = group.values, strip.ledger(group.id), torque.specification(group.values)
    unit = unit_of(values)
    check = second_check_view(strip, group, ledger)

    def told(entry: dict[str, Any]) -> dict[str, Any]:
        at_ms = wall_clock_ms(entry["id"])
        step = torque.of_step(spec, entry.get("step"))
        view = torque.record(entry, step, at_ms, doubts(strip, entry, at_ms, uses))
        names = ("shown", "tool", "who", "at_ms", "judged", "side", "reason")
        return dict({name: view[name] for name in names}, count=entry["count"])

    return {
        "group": group.id,
        "part": part.values.get("name") or "",
        "side": part.values.get("side"),
        "what": named(values),
        "count": ledger.count,
        "on": ledger.on,
        "tight": ledger.tight,
        "marked": ledger.marked,
        "specification": None if spec is None else specification_shown(spec, unit),
        "done": [told(entry) for entry in ledger.applied + ledger.in_doubt],
        "check": {name: check[name] for name in ("wanted", "checked", "of", "last", "waived", "notice")},
    }


def _pictures(part: Thing) -> list[dict[str, Any]]:
    return [dict(picture, name=part.values.get("name") or "") for picture in photos_view(part)]
