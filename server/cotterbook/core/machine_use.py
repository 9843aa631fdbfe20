"""How far the machine ran and how often it was hot and cold again: readings of its odometer, counts of heat cycles."""

from typing import Any

from .entries import wall_clock_ms
from .strip import Strip
from .thing import key_of
from .typed_quantities import last_unit
from .unit_factors import FACTORS
from .words import say

NOT_READ = {
    "kilometres": "Unknown: no odometer reading since.",
    "heat_cycles": "Unknown: no count of heat cycles since.",
}
# What nobody can know any more: how far it ran between the tightening and the first reading.
NO_START = {
    "kilometres": "Unknown: no odometer reading from before the tightening. Retorque now: it counts from then.",
    "heat_cycles": "Unknown: no count of heat cycles from before the tightening. Retorque now: it counts from then.",
}
DISAGREE = {
    "kilometres": "Unknown: the odometer readings don’t agree. Strike the one that is wrong.",
    "heat_cycles": "Unknown: the counts of heat cycles don’t agree. Strike the one that is wrong.",
}
CHANGED = "The odometer was changed since then, and what it ran in between is not counted."
STARTED_LATER = "Counted from the first reading after the tightening, made within two days."
# A reading within so long after a tightening, a weekend of work, is taken for where it began (common practice, no
# source).
SOON_MS = 48 * 3_600_000
# Two readings that lie further apart than this are asked about (common practice, no source).
FAR_KILOMETRES = 20_000.0


def machine_of(strip: Strip) -> Any:
    """The id of the strip-down's machine, or None."""
    own = strip.thing(strip.id)
    return own.values.get("machine") if own is not None else None


def uses_of_machine(strip: Strip) -> list[dict[str, Any]]:
    """The readings of the strip-down's machine that count, in order."""
    machine = strip.thing(machine_of(strip) or "")
    return [] if machine is None else machine.of_kind("machine_use")


def last_of(uses: list[dict[str, Any]], name: str) -> Any:
    """The last reading that has a figure of this name, "kilometres" or "heat_cycles"; None without one."""
    found = [use for use in uses if use.get(name) is not None]
    return found[-1] if found else None


def falls(uses: list[dict[str, Any]], name: str) -> list[dict[str, Any]]:
    """The readings that lie below the one before them, though nobody said that it counts anew there."""
    found, before = [], None
    for use in uses:
        if use.get(name) is None:
            continue
        if before is not None and use[name] < before[name] and not use.get("counts_anew"):
            found.append(use)
        before = use
    return found


def ran_since(uses: list[dict[str, Any]], name: str, key: Any) -> tuple[Any, Any, Any]:
    """(how many kilometres or heat cycles since the entry with this (at, id), why it is unknown, what is to be noted).

    Counted from the last reading before it, which can only make it more than it was, or else from one soon after it;
    with neither nobody knows where it began. Where the odometer was changed in between, what it ran up to the first
    reading of the new one is left out.
    """
    read = [use for use in uses if use.get(name) is not None]
    before = [use for use in read if key_of(use) < key]
    after = [use for use in read if key_of(use) > key]
    if not after:
        return (None, say(NOT_READ[name]), None)
    run, note = 0.0, None
    if not before:
        if not 0 <= wall_clock_ms(after[0]["id"]) - wall_clock_ms(key[1]) <= SOON_MS:
            return (None, say(NO_START[name]), None)
        note = say(STARTED_LATER)
    counted = before[-1:] + after
    for earlier, later in zip(counted, counted[1:]):
        if later[name] >= earlier[name]:
            run += later[name] - earlier[name]
        elif later.get("counts_anew"):
            note = say(CHANGED)
        else:
            return (None, say(DISAGREE[name]), None)
    return (run, None, note)


def unit_of_odometer(uses: list[dict[str, Any]]) -> str:
    """The unit in which the odometer was read last, "km" or "mi"; km where nobody has."""
    last = last_of(uses, "kilometres")
    unit = None if last is None else last_unit(last.get("as_read"), "distance")
    return str(unit) if unit in FACTORS["distance"] else "km"


def shown_distance(kilometres: float, unit: str) -> dict[str, Any]:
    """A distance in whole km or miles, as an odometer counts."""
    return {"value": "{:.0f}".format(kilometres / FACTORS["distance"][unit]), "plus_minus": None, "unit": unit}


def use_view(use: dict[str, Any], wrong: list[dict[str, Any]]) -> dict[str, Any]:
    """A reading as shown; `wrong` are those that lie below the one before them."""
    unit = last_unit(use.get("as_read"), "distance") or "km"
    distance = None if use.get("kilometres") is None else shown_distance(use["kilometres"], str(unit))
    return {
        "entry": use["id"],
        "who": use["who"],
        "at_ms": wall_clock_ms(use["id"]),
        "distance": distance,
        "heat_cycles": use.get("heat_cycles"),
        "counts_anew": bool(use.get("counts_anew")),
        "is_lower": use["id"] in [each["id"] for each in wrong],
    }
