"""Making a map of a kind of machine out of one that was taken apart."""

from typing import Any

from .maps import FORMAT, MOST_FASTENERS, MOST_PARTS, OF_PART
from .maps_alike import COMPARED, SPECIFICATION, fasteners_words
from .spell_time import about_minutes, by_part
from .strip import Strip
from .thing import Thing
from .things import OF_FORESEEN_FASTENERS
from .words import Refused, problem, say


def map_of(strip: Strip, machine: Any, now_ms: Any = None) -> dict[str, Any]:
    """The map of a strip-down: its parts in the order that they came off; `machine` is the kind in a person's words.

    Refused with no words for the kind, no part that belongs in a map, or more than a map holds. Of a torque to which
    two answers stand the map says none; of other fields it has the newest.
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
    for part in parts:
        if len(_groups(strip, part)) > MOST_FASTENERS:
            text = "{part}: a map holds at most {limit} kinds of fasteners of a part."
            problems.append(problem("too_many", "", text, part=part.values["name"], limit=MOST_FASTENERS))
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
    fasteners = []
    for group in _groups(strip, part):
        names = [name for name in OF_FORESEEN_FASTENERS if group.values.get(name) is not None]
        if any([name in SPECIFICATION for name in _disputed(group)]):
            # Figures of two answers are no specification.
            names = [name for name in names if name not in SPECIFICATION]
        fasteners.append({name: group.values[name] for name in names})
    return dict(found, fasteners=fasteners, seen_on=[seen])


def _groups(strip: Strip, part: Thing) -> list[Thing]:
    return [group for group in strip.groups_of(part.id) if group.values.get("count") is not None]


def _disputed(thing: Thing) -> list[str]:
    return [name for name in sorted(thing.fields) if thing.fields[name].disputed]


def disputes_of(strip: Strip) -> list[dict[str, Any]]:
    """What two people answered differently of what goes into a map, in sentences."""
    said = []
    for part in parts_for(strip):
        name, own = part.values["name"], [field for field in _disputed(part) if field in OF_PART]
        rows = [("", own)] + [(fasteners_words(group.values), _disputed(group)) for group in _groups(strip, part)]
        for what, fields in rows:
            kept = [field for field in fields if field in OF_PART or field in COMPARED]
            if kept:
                text = "{name}, {what}: two answers stand, and the map has the newest: {fields}."
                text = text if what else "{name}: two answers stand, and the map has the newest: {fields}."
                said.append(say(text, name=name, what=what, fields=[{"field": field} for field in kept]))
            if any([field in SPECIFICATION for field in fields]):
                text = "{name}, {what}: two answers stand to its torque, and the map has none of them."
                said.append(say(text, name=name, what=what))
    return said


def piece_of(strip: Strip, part: Thing) -> Any:
    """What one piece weighed as it came off, without fasteners, as an amount; None where nobody weighed it so."""
    mass = strip.masses(part.id).get("taken_off")
    if mass is None or mass.basis != "weighed" or mass.with_fasteners or mass.grams <= 0.0:
        return None
    return mass.times(1.0 / (part.values.get("pieces") or 1))
