"""Which torques a wrench proves: from where to where a tightening with it would be accepted.

What a wrench may be off grows with the torque, and by a step at 10 N.m, so the ends are
solved for and not taken from the torque that is being asked about.
"""

import math
from typing import Any

from . import conformity
from .figures import digits_after_point
from .shown_torque import MOST_DECIMALS
from .torque_tool import (
    READ_BY_EYE,
    SMALL_NEWTON_METRES,
    TESTED_FROM,
    TORQUE_NEWTON_METRES,
    applied_by,
    deviation_of,
    expanded,
    lever_factor,
    on_its_step,
)

# Halvings of an interval: beyond them its ends are one number.
HALVINGS = 60
JUST_ABOVE = 1.0 + 1e-12
BLUR = 1e-9


class Proving:
    """A specification's limits, a wrench with its adapter, the prevailing torque and how well it is known, in N.m."""

    __slots__ = ("low", "high", "tool", "arm", "factor", "prevailing", "within")

    def __init__(self, limits: dict[str, Any], tool: dict[str, Any], arm: Any, prevailing: float, within: float):
        # `arm`: lever, adapter and degrees, as `torque_tool.lever_factor` takes them.
        self.low, self.high, self.tool, self.arm = limits["low"], limits["high"], tool, arm
        self.factor = lever_factor(arm[0], arm[1], arm[2])
        self.prevailing, self.within = prevailing, within

    def spread(self, applied: float) -> float:
        """The expanded uncertainty of what tightens, where the fastener gets `applied` N.m."""
        own = expanded(applied / self.factor, self.tool, self.arm[0], self.arm[1], self.arm[2])
        return math.sqrt(own * own + self.within * self.within)

    def proves(self, applied: float) -> bool:
        """Whether `applied` N.m at the fastener would be accepted, prevailing torque included."""
        left = max(0.0, applied - self.prevailing)
        return conformity.verdict(left, self.spread(applied), self.low, self.high)[0] == conformity.ACCEPTED

    def proves_asked(self, applied: float) -> bool:
        """The same of what a wrench gives that is set for it on its nearest step."""
        stands = on_its_step(applied / self.factor, self.tool)
        return self.proves(applied) and self.proves(applied_by(stands, self.arm[0], self.arm[1], self.arm[2]))

    def reaches_low(self, applied: float) -> bool:
        """Whether it is sure to reach the lower limit."""
        return bool(applied - self.prevailing - self.spread(applied) >= self.low - BLUR * self.high)

    def stays_below_high(self, applied: float) -> bool:
        """Whether it is sure to stay below the upper limit."""
        return bool(applied - self.prevailing + self.spread(applied) <= self.high + BLUR * self.high)


def accepted_range(proving: Proving) -> Any:
    """(low, high) in N.m at the fastener, each of which is accepted and all between them; None where nothing is."""
    found = _joined([_within(proving, least, most) for least, most in _pieces(proving)])
    if found is None:
        return None
    found = _on_steps(proving, found)
    if found is None:
        return None
    middle = proving.spread((found[0] + found[1]) / 2.0)
    for decimals in (max(0, min(MOST_DECIMALS, digits_after_point(middle))), MOST_DECIMALS):
        ends = _inwards(proving, found, decimals)
        if ends is not None:
            return ends
    return None


def _pieces(proving: Proving) -> list[tuple[float, float]]:
    """The torques at the fastener that the wrench is good for, parted where its permissible deviation changes."""
    tool, factor = proving.tool, proving.factor
    least, most = tool.get("low_newton_metres") or 0.0, tool.get("high_newton_metres")
    if most is not None and tool.get("deviation_percent") is None:
        least = max(least, TESTED_FROM * most)
    top = min(TORQUE_NEWTON_METRES[1], TORQUE_NEWTON_METRES[1] / factor)
    most = top if most is None else min(top, most)
    above = SMALL_NEWTON_METRES * JUST_ABOVE
    if not least < above < most or deviation_of(tool, SMALL_NEWTON_METRES)[0] == deviation_of(tool, above)[0]:
        return [(least * factor, most * factor)]
    return [(least * factor, SMALL_NEWTON_METRES * factor), (above * factor, most * factor)]


def _within(proving: Proving, least: float, most: float) -> Any:
    """The part of a piece in which everything is accepted: both conditions change once in it, at most."""
    if least > most or not proving.reaches_low(most) or not proving.stays_below_high(least):
        return None
    low = least if proving.reaches_low(least) else _edge(proving.reaches_low, most, least)
    high = most if proving.stays_below_high(most) else _edge(proving.stays_below_high, least, most)
    return (low, high) if low <= high else None


def _edge(holds: Any, inside: float, outside: float) -> float:
    """The last place, from one where a condition holds towards one where it does not, where it still does."""
    for _ in range(HALVINGS):
        middle = (inside + outside) / 2.0
        if holds(middle):
            inside = middle
        else:
            outside = middle
    return inside


def _joined(found: list[Any]) -> Any:
    """Two pieces that touch as one; of two that do not, the wider."""
    there = [each for each in found if each is not None]
    if len(there) == 2 and there[1][0] <= there[0][1] * (1.0 + 10.0 * (JUST_ABOVE - 1.0)):
        return (there[0][0], there[1][1])
    widest = None
    for each in there:
        if widest is None or each[1] - each[0] > widest[1] - widest[0]:
            widest = each
    return widest


def _on_steps(proving: Proving, found: tuple[float, float]) -> Any:
    """The first and the last of a range that the wrench has a mark for."""
    step = proving.tool.get("step_newton_metres")
    if not step or proving.tool.get("tool_type") in READ_BY_EYE:
        return found
    mark = step * proving.factor
    first, last = max(1, math.ceil(found[0] / mark - 1e-9)), math.floor(found[1] / mark + 1e-9)
    return (first * mark, last * mark) if first <= last else None


def _inwards(proving: Proving, found: tuple[float, float], decimals: int) -> Any:
    """Both ends with so many decimals, rounded into the range and accepted as they stand; None where none is left."""
    scale = 10.0**decimals
    low, high = math.ceil(found[0] * scale - BLUR), math.floor(found[1] * scale + BLUR)
    # What binary figures blur may leave an end a hair outside.
    if low <= high and not proving.proves_asked(low / scale):
        low += 1
    if low <= high and not proving.proves_asked(high / scale):
        high -= 1
    if low > high or not proving.proves_asked(low / scale) or not proving.proves_asked(high / scale):
        return None
    return (low / scale, high / scale)
