"""Centre of mass and wheel loads, from masses and where they sit.

Along is measured behind the front axle (in front of it negative), up above the
ground, both in millimetres; moments are in gram-millimetres. Any other units that
go together will do as well. Each figure is an `Amount` with its causes, so that the
same mass, wheelbase or place counts once however often it comes in.
"""

import math
from typing import Any

from .amounts import Amount, together
from .quantities import combined, minus, product, quotient
from .values import LEAST
from .words import Refused, problem, require

WHEELBASE = (300.0, 3_000.0)
# Both axles stand as high as each other.
AXLES_ALIKE = Amount(0.0)
# The sine of the steepest line of the axles in a lift test.
STEEPEST = 0.9


class Body:
    """Something with a mass and its moments: `along` about the front axle, `up` about the ground (None: not known)."""

    __slots__ = ("mass", "along", "up")

    def __init__(self, mass: Amount, along: Amount, up: Any = None):
        self.mass, self.along, self.up = mass, along, up

    def less(self, other: "Body") -> "Body":
        """This body without the other."""
        up = None if self.up is None or other.up is None else minus(self.up, other.up)
        return Body(minus(self.mass, other.mass), minus(self.along, other.along), up)


def body_at(mass: Amount, along: Amount, up: Any = None) -> Body:
    """A mass at a place; what is taken off has a negative mass."""
    return Body(mass, product(mass, along), None if up is None else product(mass, up))


def joined(bodies: list[Body]) -> Body:
    """Bodies as one; its height is known where all of theirs are."""
    ups = [each.up for each in bodies]
    return Body(
        together([each.mass for each in bodies]),
        together([each.along for each in bodies]),
        None if None in ups else together(ups),
    )


def centre(body: Body) -> tuple[Amount, Any]:
    """The centre of mass: along, and up or None. Refused where no mass is left."""
    if body.mass.grams < LEAST:
        raise Refused([problem("no_mass", "mass", "Nothing is left that could have a centre of mass.")])
    return quotient(body.along, body.mass), None if body.up is None else quotient(body.up, body.mass)


def wheel_loads(body: Body, wheelbase: Amount) -> tuple[Amount, Amount]:
    """What the front and the rear wheel carry on level ground; together they are the mass. Wheelbase 300 to 3000."""
    require("wheelbase_millimetres", wheelbase.grams, WHEELBASE[0], WHEELBASE[1])
    rear = quotient(body.along, wheelbase)
    return minus(body.mass, rear), rear


def load_moved(total: Amount, up: Amount, higher: Amount, wheelbase: Amount) -> Amount:
    """By how much the rear scale shows too much, and the front scale too little, when the front stands `higher`.

    On a slope the centre of mass lies over another point between the wheels:
    total x (up / wheelbase) x tan(slope), with sin(slope) = higher / wheelbase. The
    total is not touched. `higher` is at most half the wheelbase either way; negative
    when the rear stands higher.
    """
    length = require("wheelbase_millimetres", wheelbase.grams, WHEELBASE[0], WHEELBASE[1])
    rise = require("front_higher_millimetres", higher.grams, -length / 2.0, length / 2.0)
    height = require("up_millimetres", up.grams, 0.0, 2_500.0)
    level = length * length - rise * rise
    tangent = rise / math.sqrt(level)
    steeper = 1.0 / level**1.5
    share = combined(
        height * tangent / length,
        [
            (tangent / length, up),
            (height * length * steeper, higher),
            (-height * tangent / length**2 - height * rise * steeper, wheelbase),
        ],
    )
    return product(total, share)


def height_above_axles(
    total: Amount,
    front_level: Amount,
    front_raised: Amount,
    raised: Amount,
    wheelbase: Amount,
    rear_larger: Amount = AXLES_ALIKE,
) -> Amount:
    """Height of the centre of mass above the line of the axles, from raising the rear (ISO 10392:2011, 6.2).

    wheelbase x change of front load / (total x tan angle), where sin(angle) = raised /
    wheelbase. `raised` is what the rear axle was lifted by, from 50 to 0.8 of the
    wheelbase; `rear_larger` by how much the rear axle stands higher than the front one
    on level ground, which tilts the line of the axles from the start and is known no better than the axles were
    measured; Refused where that line would be steeper than 64 degrees.
    """
    base = require("wheelbase_millimetres", wheelbase.grams, WHEELBASE[0], WHEELBASE[1])
    lift = require("rear_raised_millimetres", raised.grams, 50.0, 0.8 * base)
    if total.grams < LEAST:
        raise Refused([problem("no_mass", "total", "Without a total there is no height of the centre of mass.")])
    larger = rear_larger.grams
    length = math.sqrt(base * base + larger * larger)
    begun, ended = larger / length, (lift + larger) / length
    # Nearer to upright the tangent has no end, and nobody would dare to.
    if abs(begun) > STEEPEST or ended > STEEPEST:
        raise Refused([problem("too_steep", "rear_raised_millimetres", "Raised so far, it would stand on its nose.")])
    steeper_begun, steeper_ended = (1.0 - begun**2) ** -1.5, (1.0 - ended**2) ** -1.5
    tangents = combined(
        ended / math.sqrt(1.0 - ended**2) - begun / math.sqrt(1.0 - begun**2),
        [
            (steeper_ended / length, raised),
            ((begun * steeper_begun - ended * steeper_ended) * base / length**2, wheelbase),
            ((steeper_ended * (1.0 - ended * begun) - steeper_begun * (1.0 - begun**2)) / length, rear_larger),
        ],
    )
    axle_to_axle = combined(length, [(base / length, wheelbase), (begun, rear_larger)])
    onto_front = product(axle_to_axle, minus(front_raised, front_level))
    return quotient(onto_front, product(total, tangents))


def above_ground(
    above_axles: Amount, along: Amount, front_axle: Amount, rear_axle: Amount, wheelbase: Amount
) -> Amount:
    """The height above the ground of what lies `above_axles` over the line of the axles, at `along`."""
    rise = quotient(minus(rear_axle, front_axle), wheelbase)
    longer = math.sqrt(1.0 + rise.grams**2)
    upright = combined(longer, [(rise.grams / longer, rise)])
    return together([front_axle, product(along, rise), product(above_axles, upright)])
