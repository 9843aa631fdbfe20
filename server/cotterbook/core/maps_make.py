"""Making a map of a kind of machine out of one that was taken apart."""

from typing import Any

from .maps import FORMAT, MOST_FASTENERS, MOST_PARTS
from .spell_time import about_minutes, by_part
from .strip import Strip
from .thing import Thing
from .things import OF_FORESEEN_FASTENERS
from .words import Refused, problem


def map_of(strip: Strip, machine: Any, now_ms: Any = None) -> dict[str, Any]:
    """The map of a strip-down: its parts in the order that they came off; `machine` is the kind in a person's words.

    Refused with no words for the kind, or no part that belongs in a map.
    """
    parts = parts_for(strip)
    kind = str(machine or "").strip()
    problems = []
    if not kind:
        problems.append(problem("missing", "machine", "Say which kind of machine this is."))
    elif len(kind) > 120:
        problems.append(problem("too_long", "machine", "This is longer than {limit} characters.", limit=120))
    if not parts:
        problems.append(problem("no_parts", "", "No part that belongs to such a machine is off yet."))
    elif len(parts) > MOST_PARTS:
        problems.append(problem("too_many", "", "A map has at most {limit} parts.", limit=MOST_PARTS))
    if problems:
        raise Refused(problems)
    times = {part: ms for part, ms in by_part(strip, strip.spells(), now_ms) if part is not None}
    whose = machine_of(strip)
    return {"format": FORMAT, "machine": kind, "parts": [_part(strip, part, whose, times) for part in parts]}


def parts_for(strip: Strip) -> list[Thing]:
    """The parts of the kind of machine: with a name, taken off at some time, no accessory and nothing that is new."""
    return [
        part
        for part in strip.of_type("part")
        if part.values.get("name") and "off" in part.values and part.values.get("came_in") in (None, "fitted")
    ]


def machine_of(strip: Strip) -> str:
    """The id by which a map knows the machine: its own, or the strip-down's where no machine was named."""
    own = strip.thing(strip.id)
    return str((own.values.get("machine") if own is not None else None) or strip.id)


def _part(strip: Strip, part: Thing, machine: str, times: dict[str, int]) -> dict[str, Any]:
    values = part.values
    found = {name: values[name] for name in ("name", "place", "side", "pieces") if values.get(name) is not None}
    seen: dict[str, Any] = {"machine": machine}
    each = piece_of(strip, part)
    if each is not None:
        seen["grams_a_piece"] = each.grams
    if part.id in times:
        seen["minutes"] = about_minutes(times[part.id])
    groups = [
        {name: group.values[name] for name in OF_FORESEEN_FASTENERS if group.values.get(name) is not None}
        for group in strip.groups_of(part.id)
    ]
    fasteners = [group for group in groups if group.get("count") is not None]
    return dict(found, fasteners=fasteners[:MOST_FASTENERS], seen_on=[seen])


def piece_of(strip: Strip, part: Thing) -> Any:
    """What one piece weighed as it came off, without fasteners, as an amount; None where nobody weighed it so."""
    mass = strip.masses(part.id).get("taken_off")
    if mass is None or mass.basis != "weighed" or mass.with_fasteners or mass.grams <= 0.0:
        return None
    return mass.times(1.0 / (part.values.get("pieces") or 1))
