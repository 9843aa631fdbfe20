"""What the screens show of what a part waits for on the way back."""

from typing import Any

from .entries import wall_clock_ms
from .going_on import goes_on
from .strip import Strip
from .views_group import parts_to_choose
from .way_back import Waits, sentence_of, why_of


def waits_view(strip: Strip, arguments: dict[str, Any]) -> dict[str, Any]:
    """What one part waits for, each with how it stands, and the parts that it could wait for, by name."""
    part = strip.thing(arguments.get("part") or "")
    if part is None or part.type != "part" or not part.alive:
        return {"waits": [], "parts": []}
    waits = Waits(strip)
    known = waits.firsts(part.id)
    parts = [each for each in strip.of_type("part") if each.id != part.id and each.id not in known and goes_on(each)]
    return {
        "waits": [_wait_view(strip, part, wait) for wait in waits.of.get(part.id, ())],
        "parts": parts_to_choose(parts),
    }


def _wait_view(strip: Strip, part: Any, wait: Any) -> dict[str, Any]:
    first = strip.thing(wait.values["first"])
    return {
        "wait": wait.id,
        "first": first.id,
        "name": first.values.get("name") or "",
        "side": first.values.get("side"),
        "why": why_of(wait),
        "note": wait.values.get("note"),
        "who": wait.first["who"],
        "at_ms": wall_clock_ms(wait.first["id"]),
        "standing": sentence_of(strip, part, first, why_of(wait)),
    }
