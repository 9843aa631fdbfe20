"""The height of the centre of mass from a lift test: a weighing of the front with the rear wheel on high."""

from typing import Any

from .balance import above_ground, height_above_axles
from .changes import part_changes
from .quantities import minus, product, quotient, within
from .strip import Strip
from .weigh_in import WeighIn, level_loads
from .words import Refused, say

# What the rear axle was raised by is measured to this half width in millimetres (common practice, no source).
RAISED_MEASURED = 5.0
# Where nobody measured them, the rear axle stands as high as the front one within so many millimetres (common
# practice, no source).
AXLES_UNLIKE = 20.0
LEAST_RAISED = 50.0


class Lift:
    """A lift test worked out: `above_axles` and `up` above the ground, amounts in millimetres or None.

    `level` is the weighing on level ground that it goes with, `missing` sentences about what is not known.
    """

    __slots__ = ("test", "level", "above_axles", "up", "missing")

    def __init__(self, test: WeighIn):
        self.test = test
        self.level: Any = None
        self.above_axles: Any = None
        self.up: Any = None
        self.missing: list[dict[str, Any]] = []


def lift_of(strip: Strip, test: WeighIn, weighings: list[WeighIn], measures: dict[str, Any]) -> Lift:
    """The height that a lift test shows, with the nearest weighing of both wheels between which nothing changed."""
    found = Lift(test)
    if test.rider is not None:
        found.missing.append(say("The lift test was made with a rider: of the machine alone it says nothing."))
        return found
    found.level = _level_one(strip, test, weighings)
    if found.level is None:
        found.missing.append(
            say("The lift test needs a weighing of both wheels on level ground, no rider, same fuel, same parts on.")
        )
    if measures["wheelbase"] is None:
        found.missing.append(say("The lift test needs the wheelbase."))
    if not found.missing:
        _work_out(found, measures)
    return found


def _level_one(strip: Strip, test: WeighIn, weighings: list[WeighIn]) -> Any:
    for each in reversed(weighings):
        fits = each.has_level_loads and each.rider is None
        if fits and each.entry.get("fuel_litres") == test.entry.get("fuel_litres"):
            first, last = min(each.key, test.key), max(each.key, test.key)
            if not part_changes(strip, first, last):
                return each
    return None


def _work_out(found: Lift, measures: dict[str, Any]) -> None:
    test, level, base = found.test, found.level, measures["wheelbase"]
    front_axle, rear_axle = measures["front_axle"], measures["rear_axle"]
    known = front_axle is not None and rear_axle is not None
    larger = minus(rear_axle, front_axle) if known else within(0.0, AXLES_UNLIKE, "axles_unlike")
    lifted = within(test.entry["rear_raised_millimetres"], RAISED_MEASURED, "raised:" + test.entry["id"])
    try:
        front, rear = level_loads(level, base, None)
    except Refused:
        found.missing.append(say("In the weighing on level ground one wheel stood too much higher for the wheelbase."))
        return
    try:
        found.above_axles = height_above_axles(level.total, front, test.front, lifted, base, larger)
    except Refused:
        text = "The rear was raised too little, or too much for its wheelbase: from {low} to {high} mm tell the height."
        found.missing.append(say(text, low=int(LEAST_RAISED), high=int(0.8 * base.grams)))
        return
    if not known:
        found.missing.append(say("For the height above the ground, the heights of both axles are missing."))
        return
    along = quotient(product(rear, base), level.total)
    up = above_ground(found.above_axles, along, front_axle, rear_axle, base)
    if up.grams > 0.0 and abs(found.above_axles.grams) < base.grams:
        found.up = up
    else:
        found.missing.append(say("The lift test gives a height that no motorcycle has: weigh and measure again."))
