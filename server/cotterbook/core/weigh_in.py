"""The whole machine on scales: what a weighing says, and how well.

Masses are amounts in grams. Each end is a look at a scale, so its step counts for
itself, and the gain of one scale under both ends adds straight.
"""

from typing import Any

from .amounts import Amount, together
from .balance import load_moved
from .fluids import fluid_amount
from .quantities import minus, quotient, within
from .readings import one_look

# Where nobody said how well, half widths (common practice, no source): fuel judged by looking into
# the tank, in litres; a person with clothes and helmet, in grams.
FUEL_BY_EYE = 0.5
RIDER_BY_SCALE = 500.0
# Height of the centre of mass of a motorcycle, where it is not known; with a rider on it (common practice, no source).
USUAL_UP, USUAL_UP_WITH_RIDER = (400.0, 700.0), (500.0, 900.0)
# How level, in millimetres from wheel to wheel: measured; not said (common practice, no source).
LEVEL_MEASURED, LEVEL_NOT_SAID = 3.0, 10.0
# Running order means at least 90 % of the fuel (Regulation (EU) 168/2013, Art. 5(1)).
RUNNING_ORDER = 0.9
STATES = ("as_it_stands", "running_order", "dry")
# How level it stood matters also where the wheelbase was not said (common practice, no source).
USUAL_WHEELBASE = within(1_450.0, 150.0, "usual_wheelbase")


class WeighIn:
    """One weighing, read. `front` and `rear` as the scales showed; `total` without the rider; each an amount or None.

    `raised` is true of a lift test, where the rear wheel stood on high: its front says
    something of the height, and of level wheel loads it says nothing.
    """

    __slots__ = ("entry", "key", "front", "rear", "rider", "fuel", "raised", "shown_total", "total")

    def __init__(self, entry: dict[str, Any], scale_of: Any):
        self.entry: dict[str, Any] = entry
        self.key = (entry["at"], entry["id"])
        self.front: Amount = _end(entry, "front", scale_of)
        self.rear: Any = None if entry.get("rear_grams") is None else _end(entry, "rear", scale_of)
        rider = entry.get("rider_grams")
        self.rider: Any = None if rider is None else within(rider, RIDER_BY_SCALE, "rider:" + entry["id"])
        self.fuel: Any = fuel_amount(entry)
        self.raised = entry.get("rear_raised_millimetres") is not None
        self.shown_total: Any = None if self.rear is None else together([self.front, self.rear])
        self.total: Any = self.shown_total
        if self.total is not None and self.rider is not None:
            self.total = minus(self.total, self.rider)

    @property
    def has_level_loads(self) -> bool:
        """Whether it says what each wheel carries on level ground."""
        return self.rear is not None and not self.raised


def _end(entry: dict[str, Any], end: str, scale_of: Any) -> Amount:
    look = {"id": entry["id"] + ":" + end, "basis": "weighed", "step_grams": entry["step_grams"]}
    look["grams"] = entry[end + "_grams"]
    if entry.get(end + "_scale") is not None:
        look["on_scale"] = entry[end + "_scale"]
    return one_look(look, scale_of)


def fuel_amount(entry: dict[str, Any]) -> Any:
    """The fuel in the tank as it was weighed, or None where nobody said. Petrol, whose density is one cause for all."""
    litres, spread = entry.get("fuel_litres"), entry.get("plus_minus_litres")
    if litres is None:
        return None
    return fluid_amount("petrol", litres, FUEL_BY_EYE if spread is None else spread, entry["id"])


def full_enough(tank_litres: float) -> Amount:
    """The fuel of running order: 90 % of the tank, from more than 0 to 100 litres of it."""
    return fluid_amount("petrol", RUNNING_ORDER * tank_litres, 0.0, "tank")


def total_in(weighing: WeighIn, state: str, tank_litres: Any) -> Any:
    """The total in one of STATES, or None where the fuel, the tank or an end of the machine is not known.

    Running order and dry differ from it as it stands by the fuel alone.
    """
    if weighing.total is None or state == "as_it_stands":
        return weighing.total
    if weighing.fuel is None or state == "running_order" and tank_litres is None:
        return None
    dry = minus(weighing.total, weighing.fuel)
    return dry if state == "dry" else together([dry, full_enough(tank_litres)])


def usual_up(with_rider: bool) -> Amount:
    """A height of the centre of mass that hardly any motorcycle lies outside of."""
    low, high = USUAL_UP_WITH_RIDER if with_rider else USUAL_UP
    return within((low + high) / 2.0, (high - low) / 2.0, "usual_up")


def level_loads(weighing: WeighIn, wheelbase: Any, up: Any) -> tuple[Amount, Amount]:
    """The wheel loads on level ground, front and rear, with the rider if there was one.

    `wheelbase` and `up`, the height of the centre of mass, are amounts in millimetres
    or None; without them what any motorcycle has is taken, and its range counts. What
    was not said to be level is taken as level within 10 mm.
    """
    higher = weighing.entry.get("front_higher_millimetres")
    cause = "level:" + weighing.entry["id"]
    rise = within(0.0, LEVEL_NOT_SAID, cause) if higher is None else within(higher, LEVEL_MEASURED, cause)
    up = usual_up(weighing.rider is not None) if up is None or weighing.rider is not None else up
    moved = load_moved(weighing.shown_total, up, rise, USUAL_WHEELBASE if wheelbase is None else wheelbase)
    return together([weighing.front, moved]), minus(weighing.rear, moved)


def rear_share(front: Amount, rear: Amount) -> Amount:
    """The share of the rear wheel, in percent."""
    return quotient(rear, together([front, rear])).times(100.0)
