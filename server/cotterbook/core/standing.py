"""How the machine balances before and now: a known machine, and what was changed of it since.

The known machine is a weighing of both wheels without a rider, or the published
standard mass with its share on the rear wheel. `before` is the machine as it came
in, or the standard one; `now` is as the log has it.
"""

from typing import Any

from .amounts import Amount, together
from .balance import WHEELBASE, Body, body_at, centre, joined
from .changes import Change, part_changes, standard_changes, together_as_body
from .lift import lift_of
from .places import machine_measures
from .published import PERCENT_PUBLISHED, published, published_fuel, published_mass, published_up
from .quantities import minus, product
from .strip import Strip
from .thing import Thing
from .values import LEAST
from .weigh_in import WeighIn, full_enough, level_loads
from .words import Refused, say


class Standing:
    """What is known of the balance: bodies `before` and `now` (None: not known), and what is missing of either.

    `missing` holds sentences with where to put it right ("machine", "weigh_in", "parts"); `changes_before` and
    `changes_now` what lies between the known machine and either, a part at a time; `height` says from where it is.
    """

    def __init__(self) -> None:
        self.kind: Any = None
        self.weighing: Any = None
        self.before: Any = None
        self.now: Any = None
        self.wheelbase: Any = None
        self.height: Any = None
        self.fuel: Any = None
        self.missing: list[dict[str, Any]] = []
        self.changes_before: list[Change] = []
        self.changes_now: list[Change] = []
        self.changes_up: list[Change] = []

    def lacks(self, where: str, text: str, **values: Any) -> None:
        """Notes what is missing."""
        self.missing.append({"where": where, "sentence": say(text, **values)})


def machine_of(strip: Strip) -> Any:
    """The machine that is taken apart, or None."""
    own = strip.thing(strip.id)
    machine = own.values.get("machine") if own is not None else None
    return strip.thing(machine) if machine else None


def weighings_of(strip: Strip) -> list[WeighIn]:
    """All weighings of the whole machine, in order."""
    return [WeighIn(entry, strip.scale) for entry in strip.weigh_ins()]


def usable_weighings(weighings: list[WeighIn]) -> list[WeighIn]:
    """Those that balance can begin from: both wheels on level ground, without a rider."""
    return [each for each in weighings if each.has_level_loads and each.rider is None]


def measured_wheelbase(measures: dict[str, Any]) -> Any:
    """The wheelbase of `places.machine_measures`, None where it was not said or no motorcycle has it."""
    said = measures["wheelbase"]
    return said if said is not None and WHEELBASE[0] <= said.grams <= WHEELBASE[1] else None


def standing_of(strip: Strip, chosen: Any = None) -> Standing:
    """The balance before and now. `chosen`: the entry of a weighing, "standard", or None for the newest usable."""
    out, machine = Standing(), machine_of(strip)
    measures = machine_measures(machine)
    out.wheelbase = measures["wheelbase"] = measured_wheelbase(measures)
    if out.wheelbase is None:
        out.lacks("machine", "The wheelbase, from {low} to {high} mm.", low=int(WHEELBASE[0]), high=int(WHEELBASE[1]))
    weighings = weighings_of(strip)
    usable = usable_weighings(weighings)
    wanted = [each for each in usable if each.entry["id"] == chosen] or usable[-1:]
    if wanted and chosen != "standard":
        out.kind, out.weighing, out.fuel = "weigh_in", wanted[0], wanted[0].fuel
        _from_weighing(strip, out, measures, weighings, machine)
    else:
        _from_standard(strip, out, machine, bool(weighings) and not usable)
    return out


def _from_weighing(
    strip: Strip, out: Standing, measures: dict[str, Any], weighings: list[WeighIn], machine: Any
) -> None:
    out.changes_before = part_changes(strip, None, out.weighing.key)
    out.changes_now = part_changes(strip, out.weighing.key)
    if out.wheelbase is None:
        return
    try:
        rear = level_loads(out.weighing, out.wheelbase, published_up(machine))[1]
    except Refused:
        out.lacks("weigh_in", "One wheel stood too much higher than the other for its wheelbase: weigh it level.")
        return
    weighed = Body(out.weighing.total, product(rear, out.wheelbase))
    was, since = together_as_body(out.changes_before), together_as_body(out.changes_now)
    out.before = None if was is None else weighed.less(was)
    out.now = None if since is None else joined([weighed, since])
    _put_height(strip, out, measures, weighings, machine)


def _put_height(strip: Strip, out: Standing, measures: dict[str, Any], weighings: list[WeighIn], machine: Any) -> None:
    """The height, from the newest lift test, else from the published figure; carried over to both bodies."""
    tests = [each for each in weighings if each.raised]
    lift = lift_of(strip, tests[-1], weighings, measures) if tests else None
    if lift is not None and lift.up is not None:
        out.height = "lift"
        known, fuel_then = lift.up, lift.level.fuel
        to_weighing = _between(strip, lift.level.key, out.weighing.key)
    else:
        for sentence in lift.missing if lift is not None else ():
            out.missing.append({"where": "weigh_in", "sentence": sentence})
        known = published_up(machine)
        if known is None:
            if lift is None:
                out.lacks("weigh_in", "For the height: a lift test, or the published height of the centre of mass.")
            return
        out.height, fuel_then = "standard", published_fuel(machine)
        to_weighing = standard_to(strip, out.weighing.key)
    out.changes_up = to_weighing
    shift, fuel = together_as_body(to_weighing), _fuel_shift(out, fuel_then, out.fuel, measures)
    if shift is None or shift.up is None or fuel is None:
        return
    mass_then = minus(minus(out.weighing.total, shift.mass), fuel.mass)
    up = together([product(mass_then, known), shift.up, fuel.up])
    was, since = together_as_body(out.changes_before), together_as_body(out.changes_now)
    if out.before is not None and was.up is not None:
        out.before.up = minus(up, was.up)
    if out.now is not None and since.up is not None:
        out.now.up = together([up, since.up])


def _between(strip: Strip, then: Any, weighed: Any) -> list[Change]:
    """What changed from one weighing to another, whichever came first."""
    if then <= weighed:
        return part_changes(strip, then, weighed)
    return [_reversed(change) for change in part_changes(strip, weighed, then)]


def standard_to(strip: Strip, moment: Any) -> list[Change]:
    """What set the machine apart from the standard one just before the entry with this (at, id)."""
    return standard_changes(strip) + [_reversed(change) for change in part_changes(strip, moment)]


def _reversed(change: Change) -> Change:
    nothing = Amount(0.0)
    bodies = [Body(nothing, nothing, nothing).less(body) for body in change.bodies]
    amount = None if change.amount is None else change.amount.times(-1.0)
    return Change(change.part, amount, bodies, change.missing)


def _fuel_shift(out: Standing, then: Any, weighed: Any, measures: dict[str, Any]) -> Any:
    """The fuel that came or went between two states, as a body in the tank; None when something of it is not known."""
    if then is None or weighed is None:
        # Nobody said of either: taken as the same tank full as it was, which a lift test asks for.
        if out.height == "lift":
            return Body(Amount(0.0), Amount(0.0), Amount(0.0))
        out.lacks(
            "weigh_in", "For the height: the fuel when it was weighed, and the state the standard figures are of."
        )
        return None
    change = minus(weighed, then)
    if change.grams == 0.0:
        return Body(Amount(0.0), Amount(0.0), Amount(0.0))
    if measures["tank_along"] is None or measures["tank_up"] is None:
        out.lacks("machine", "For the height: where the tank sits, since the fuel differs.")
        return None
    return body_at(change, measures["tank_along"], measures["tank_up"])


def _from_standard(strip: Strip, out: Standing, machine: Any, weighed: bool) -> None:
    out.kind = "standard"
    mass, percent = published_mass(machine), published(machine, "standard_rear_percent", PERCENT_PUBLISHED)
    out.fuel = published_fuel(machine)
    if weighed:
        out.lacks("weigh_in", "A weighing of both wheels on level ground, without a rider: none so far will do.")
    if mass is None or percent is None:
        out.kind = None
        text = "A weighing of both wheels, or the standard mass with its share on the rear wheel."
        out.lacks("weigh_in" if mass is not None else "machine", text)
        return
    out.changes_now = standard_changes(strip)
    if out.wheelbase is None:
        return
    up = published_up(machine)
    rear = product(mass, percent.times(0.01))
    out.before = Body(mass, product(rear, out.wheelbase), None if up is None else product(mass, up))
    if up is None:
        out.lacks("machine", "For the height: a lift test, or the published height of the centre of mass.")
    else:
        out.height = "standard"
    since = together_as_body(out.changes_now)
    out.now = None if since is None else joined([out.before, since])


def with_fuel(out: Standing, machine: Any, state: str, body: Body) -> Any:
    """The body with the fuel of "running_order" or "dry" in place of its own, or None when some of it is not known."""
    measures = machine_measures(machine)
    tank = machine.values.get("tank_litres") if machine is not None else None
    if out.fuel is None or measures["tank_along"] is None or state == "running_order" and tank is None:
        return None
    wanted = Amount(0.0) if tank is None or state == "dry" else full_enough(tank)
    change = minus(wanted, out.fuel)
    return joined([body, body_at(change, measures["tank_along"], measures["tank_up"])])


def centre_of(body: Any) -> Any:
    """The centre of mass of a body that is known, (along, up or None); else None."""
    return None if body is None or body.mass.grams < LEAST else centre(body)


def carried_changes(strip: Strip, parts: list[Thing]) -> dict[str, Any]:
    """The change since it came in of what is sprung, unsprung and turning, as amounts; "" where nobody said.

    What turns with a wheel is unsprung as well, and counts in both.
    """
    found: dict[str, list[Amount]] = {"sprung": [], "unsprung": [], "rotating": [], "": []}
    for part in parts:
        amount, carried = strip.line(part.id).change, part.values.get("carried") or ""
        if amount is None or amount.grams == 0.0 and not amount.causes:
            continue
        found[carried].append(amount)
        if carried == "rotating":
            found["unsprung"].append(amount)
    return {name: together(found[name]) for name in found}
