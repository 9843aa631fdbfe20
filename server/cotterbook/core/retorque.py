"""When a group is to be tightened anew: after so many days, so far, or so many heat cycles, whichever comes first."""

from typing import Any

from .days import MS_A_DAY
from .entries import wall_clock_ms
from .machine_use import ran_since, shown_distance
from .strip import Strip
from .thing import Thing, key_of
from .unit_factors import FACTORS
from .words import say

INTERVALS = ("retorque_kilometres", "retorque_days", "retorque_heat_cycles")
CLOCK_BEHIND = "Unknown: clocks differ, the tightening says a later time than this phone. Set both."
# A reading is taken to half of what an odometer shows.
HALF = 0.5


def retorque_of(strip: Strip, group: Thing, uses: list[dict[str, Any]], now_ms: Any) -> Any:
    """How a group's retorque stands; None where none is written down.

    {"state": "due", "unknown", "left", "done" or "not_tight", "lines": [{"by", "state", "text", "note"}], "from": who
    says so, "since": {"who", "at_ms"}}. It counts from the oldest tightening that may still hold one of them; one that
    is wanted once is done when all that hold are the retorque. Without `now_ms` days are left out.
    """
    values = group.values
    if not any([values.get(name) for name in INTERVALS]):
        return None
    ledger = strip.ledger(group.id)
    view: dict[str, Any] = {
        "group": group.id,
        "from": values.get("retorque_from"),
        "once": bool(values.get("retorque_once")),
        "wanted": wanted(values),
        "lines": [],
        "since": None,
    }
    if not ledger.applied or ledger.loose:
        return dict(view, state="not_tight")
    start = ledger.applied[0]
    view["since"] = {"who": start["who"], "at_ms": wall_clock_ms(start["id"])}
    if view["once"] and all([entry.get("retorque") for entry in ledger.applied]):
        return dict(view, state="done")
    view["lines"] = _lines(values, uses, start, now_ms)
    states = [line["state"] for line in view["lines"]]
    state = [each for each in ("due", "unknown", "left") if each in states] or ["left"]
    return dict(view, state=state[0])


def wanted(values: dict[str, Any]) -> list[dict[str, Any]]:
    """What is written down of a retorque, a sentence for each interval."""
    found = []
    if values.get("retorque_kilometres"):
        unit = unit_of(values)
        found.append(say("after {distance}", distance=shown_distance(values["retorque_kilometres"], unit)))
    days, cycles = values.get("retorque_days"), values.get("retorque_heat_cycles")
    if days:
        found.append(say("after a day") if days == 1 else say("after {n} days", n=days))
    if cycles:
        found.append(say("after one heat cycle") if cycles == 1 else say("after {n} heat cycles", n=cycles))
    return found


def unit_of(values: dict[str, Any]) -> str:
    """The unit in which the distance of a retorque was written down."""
    unit = values.get("retorque_unit")
    return str(unit) if unit in FACTORS["distance"] else "km"


def _lines(values: dict[str, Any], uses: list[dict[str, Any]], start: dict[str, Any], now_ms: Any) -> list[Any]:
    found = []
    if values.get("retorque_kilometres"):
        run, unknown, note = ran_since(uses, "kilometres", key_of(start))
        found.append(_distance(values["retorque_kilometres"], run, unit_of(values), unknown, note))
    if values.get("retorque_heat_cycles"):
        run, unknown, note = ran_since(uses, "heat_cycles", key_of(start))
        found.append(_cycles(values["retorque_heat_cycles"], run, unknown))
    if values.get("retorque_days") and now_ms is not None:
        found.append(_days(values["retorque_days"], wall_clock_ms(start["id"]), now_ms))
    return found


def _line(by: str, left: Any, text: Any, note: Any = None) -> dict[str, Any]:
    state = "unknown" if left is None else "left" if left > 0 else "due"
    return {"by": by, "state": state, "text": text, "note": note}


def _distance(after: float, run: Any, unit: str, unknown: Any, note: Any) -> dict[str, Any]:
    if run is None:
        return _line("distance", None, unknown)
    left = after - run
    shown = shown_distance(abs(left), unit)
    if abs(left) < HALF * FACTORS["distance"][unit]:
        return _line("distance", 0, say("Due now."), note)
    return _line("distance", left, say("In {left}.", left=shown) if left > 0 else say("{over} over.", over=shown), note)


def _cycles(after: int, run: Any, unknown: Any) -> dict[str, Any]:
    if run is None:
        return _line("heat_cycles", None, unknown)
    left = int(after - run)
    if left > 0:
        text = say("After one more heat cycle.") if left == 1 else say("After {n} more heat cycles.", n=left)
    elif left == 0:
        text = say("Due now: the heat cycles are run.")
    else:
        text = say("One heat cycle over.") if left == -1 else say("{n} heat cycles over.", n=-left)
    return _line("heat_cycles", left, text)


def _days(after: int, at_ms: int, now_ms: int) -> dict[str, Any]:
    """By whole days of the calendar (UTC), as a date is written: the hour does not matter."""
    if now_ms < at_ms:
        return _line("days", None, say(CLOCK_BEHIND))
    left = after - (now_ms // MS_A_DAY - at_ms // MS_A_DAY)
    if left > 0:
        text = say("In one day.") if left == 1 else say("In {n} days.", n=left)
    elif left == 0:
        text = say("Due today.")
    else:
        text = say("One day over.") if left == -1 else say("{n} days over.", n=-left)
    return _line("days", left, text)
