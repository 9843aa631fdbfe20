"""What the screen of balance shows: where the parts sit, the centre of mass and the wheel loads before and now."""

from typing import Any

from .amounts import Amount, together
from .balance import Body, wheel_loads
from .changes import Change
from .entries import wall_clock_ms
from .figures import shown_amount
from .places import TAPPED
from .published import published_mass
from .quantities import minus, quotient
from .shown_balance import shown_length, shown_percent
from .standing import (
    Standing,
    carried_changes,
    centre_of,
    machine_of,
    standing_of,
    usable_weighings,
    weighings_of,
    with_fuel,
)
from .strip import Strip
from .values import LEAST
from .views_group import fields_view
from .views_places import drawing_of, parts_of
from .weigh_in import STATES
from .words import Refused, problem, say

# A height or a place that is open by more than this tells nothing, in millimetres (common practice, no source).
TOO_OPEN = 1_000.0


def balance_view(strip: Strip, arguments: dict[str, Any]) -> dict[str, Any]:
    """The balance before and now. `baseline`: the entry of a weighing, "standard", or none for the newest weighing.

    `state` of STATES says with which fuel. Figures are None where `missing`, or `lacks` of a part, says what is not
    known; {"where": "machine", "weigh_in" or "parts"} is where to put it right.
    """
    out, (before, now), ends = balance_ends(strip, arguments)
    machine, state = machine_of(strip), arguments.get("state") or "as_it_stands"
    shown = [_shown(each) for each in ends]
    missing = out.missing + _warnings(out, ends, [before, now])
    return {
        "baseline": None if out.kind is None else "standard" if out.kind == "standard" else out.weighing.entry["id"],
        "baselines": _baselines(strip, machine),
        "state": state,
        "before": shown[0],
        "now": shown[1],
        "masses": _masses(out, machine),
        "difference": _difference(ends),
        "height": _height(out, ends),
        "missing": _once(missing),
        "drawing": drawing_of(machine),
        "parts": parts_of(strip, machine, out),
        "carried": {name or "not_said": shown_amount(each) for name, each in _carried(strip)},
        "machine": None if machine is None else {"id": machine.id, "fields": fields_view(machine)},
        "tapped": int(TAPPED),
    }


def balance_ends(strip: Strip, arguments: dict[str, Any]) -> tuple[Standing, Any, list[Any]]:
    """What is known, the two bodies, and their figures as amounts by name; arguments as of `balance_view`.

    Raises Refused "not_a_choice".
    """
    state = arguments.get("state") or "as_it_stands"
    if state not in STATES:
        raise Refused([problem("not_a_choice", "state", "That is not one of the states.")])
    out = standing_of(strip, arguments.get("baseline"))
    before, now = out.before, out.now
    if state != "as_it_stands":
        before, now = _fuelled(out, machine_of(strip), state)
    return (out, (before, now), [_end(out, before), _end(out, now)])


def _fuelled(out: Standing, machine: Any, state: str) -> tuple[Any, Any]:
    """Both bodies with the fuel of a state; what is missing for that is noted."""
    found = [None if body is None else with_fuel(out, machine, state, body) for body in (out.before, out.now)]
    if out.before is not None and found[0] is None:
        values = machine.values if machine is not None else {}
        if out.fuel is None:
            where = "weigh_in" if out.kind == "weigh_in" else "machine"
            out.lacks(where, "The fuel that was in it: without it there is no other state.")
        if values.get("tank_along_millimetres") is None:
            out.lacks("machine", "Where the tank sits, for the fuel.")
        if state == "running_order" and values.get("tank_litres") is None:
            out.lacks("machine", "The size of the tank, for running order.")
    return found[0], found[1]


def _end(out: Standing, body: Any) -> Any:
    """The figures of a body as amounts, or None; a place or height that is too open is None."""
    found = centre_of(body)
    if found is None or out.wheelbase is None:
        return None
    along, up = found
    front, rear = wheel_loads(body, out.wheelbase)
    if along.expanded > TOO_OPEN:
        along = None
    if up is not None and up.expanded > TOO_OPEN:
        up = None
    share = quotient(rear, body.mass).times(100.0)
    return {
        "mass": body.mass,
        "along": along,
        "up": up,
        "front": front,
        "rear": rear,
        "rear_percent": None if share.expanded > 100.0 else share,
    }


SHOWN_BY = {"along": shown_length, "up": shown_length, "rear_percent": shown_percent}


def _shown(end: Any) -> Any:
    """The figures as shown, with where to draw the centre: millimetres and their expanded uncertainties."""
    if end is None:
        return None
    view = {name: SHOWN_BY.get(name, shown_amount)(end[name]) for name in end}
    along, up = end["along"], end["up"]
    view["at"] = {
        "along": None if along is None else round(along.grams),
        "along_within": None if along is None else round(along.expanded),
        "up": None if up is None else round(up.grams),
        "up_within": None if up is None else round(up.expanded),
    }
    return view


def _difference(ends: list[Any]) -> Any:
    """Now less before, each figure with what it does not share with the other; None where one is not known."""
    before, now = ends
    if before is None or now is None:
        return None
    return {
        name: None
        if before[name] is None or now[name] is None
        else SHOWN_BY.get(name, shown_amount)(minus(now[name], before[name]))
        for name in now
    }


def _masses(out: Standing, machine: Any) -> dict[str, Any]:
    """The totals before and now, which need no place of anything; None where a mass is not known."""
    base = out.weighing.total if out.kind == "weigh_in" else published_mass(machine) if out.kind == "standard" else None
    if base is None:
        return {"before": None, "now": None}
    was, since = _amount_of(out.changes_before), _amount_of(out.changes_now)
    return {
        "before": None if was is None else shown_amount(minus(base, was)),
        "now": None if since is None else shown_amount(together([base, since])),
    }


def _amount_of(changes: list[Change]) -> Any:
    amounts = [change.amount for change in changes]
    return None if None in amounts else together(amounts)


def _height(out: Standing, ends: list[Any]) -> Any:
    if all([end is None or end["up"] is None for end in ends]):
        return None
    if out.height == "lift":
        return say("The height is from a lift test.")
    if out.height == "standard":
        return say("The height is from the published figure.")
    return None


def _warnings(out: Standing, ends: list[Any], bodies: list[Body]) -> list[dict[str, Any]]:
    """What is wrong with figures that could be worked out."""
    found = []
    for end, body in zip(ends, bodies):
        if body is not None and body.mass.grams < LEAST:
            found.append(say("By these masses nothing is left that could have a centre of mass. Look at the masses."))
        if end is None:
            continue
        if end["along"] is None:
            found.append(say("The masses leave the centre open by more than {most} mm.", most=int(TOO_OPEN)))
        if min(end["front"].grams, end["rear"].grams) < 0.0:
            found.append(say("By these figures a wheel lifts off the ground. Look at the masses and the places."))
    return [{"where": "parts", "sentence": each} for each in found]


def _once(missing: list[dict[str, Any]]) -> list[dict[str, Any]]:
    found: list[dict[str, Any]] = []
    for each in missing:
        if each not in found:
            found.append(each)
    return found


def _baselines(strip: Strip, machine: Any) -> list[dict[str, Any]]:
    """What may be taken as the known machine, the newest weighing first."""
    found = [
        {
            "baseline": each.entry["id"],
            "total": shown_amount(each.total),
            "at_ms": wall_clock_ms(each.entry["id"]),
        }
        for each in usable_weighings(weighings_of(strip))
    ]
    found.reverse()
    values = machine.values if machine is not None else {}
    if values.get("standard_grams") is not None and values.get("standard_rear_percent") is not None:
        found.append({"baseline": "standard", "total": shown_amount(published_mass(machine)), "at_ms": None})
    return found


def _carried(strip: Strip) -> list[tuple[str, Amount]]:
    found = carried_changes(strip, strip.of_type("part"))
    return [(name, found[name]) for name in ("sprung", "unsprung", "rotating", "")]
