"""The wrench: what to set for a wanted torque, what it applies, and how well that is known.

An adapter moves the point that turns away from the wrench's own square. In line
it lengthens or shortens the lever by its length E, across it does neither, and at
an angle it counts with E cos a (TM 9-254). Permissible deviation of a torque
tool: 4 % (ISO 6789-1), 6 % up to 10 N.m (a maker's extract of ISO 6789, seen), and 6 %
for bending bars and for screwdrivers (from memory), unless the tool's own certificate says otherwise.
"""

import math
from typing import Any

from .amounts import ROOT_3
from .days import day_of, read_day, whole_months
from .shown_torque import settable
from .words import Refused, problem, require, say

LEVER_MILLIMETRES = (10, 3_000)
ADAPTER_MILLIMETRES = (0, 1_000)
TORQUE_NEWTON_METRES = (0, 2_000)
# By how much an adapter may change the lever: beyond, its length rules the result and no setting can be relied on.
LEAST_FACTOR, MOST_FACTOR = 0.2, 5.0
DEVIATION, DEVIATION_SMALL, SMALL_NEWTON_METRES = 0.04, 0.06, 10.0
COARSE_TYPES = ("bar", "screwdriver")
# Read between the marks by eye; the others stand on a step.
READ_BY_EYE = ("bar", "dial")
# Until 2017 ISO 6789 tested a tool from a fifth of its top upwards (a maker's extract of it, seen); since then from its
# lowest mark. Which edition a wrench was made to is seldom known, so the older one is taken.
TESTED_FROM = 0.2
# A length read with a tape along a wrench, an angle by eye: common practice, no source.
LENGTH_WITHIN_MILLIMETRES, ANGLE_WITHIN_DEGREES = 2.0, 5.0
MONTHS_OF_A_CALIBRATION, CYCLES_OF_A_CALIBRATION = 12, 5_000
NO_TOOL: dict[str, Any] = {}


def _cosine(degrees: float) -> float:
    return 0.0 if degrees == 90 else math.cos(math.radians(degrees))


def lever_factor(lever: Any, adapter: Any, degrees: float = 0.0) -> float:
    """What the fastener gets of what the wrench is set to: 1 without an adapter.

    `lever` in mm from the middle of the grip to the wrench's square, 10 to 3000;
    `adapter` in mm from that square to the fastener, up to 1000; `degrees` 0 when it
    points away from the grip, 90 across, 180 back towards it. Refused when outside,
    and when less than a fifth or more than five times of the lever is left.
    """
    if not adapter:
        return 1.0
    if lever is None:
        text = "Give the wrench’s length, from the middle of the grip to its square."
        raise Refused([problem("missing", "lever", text)])
    require("lever", lever, LEVER_MILLIMETRES[0], LEVER_MILLIMETRES[1])
    require("adapter", adapter, ADAPTER_MILLIMETRES[0], ADAPTER_MILLIMETRES[1])
    require("adapter_degrees", degrees, 0, 180)
    factor = (lever + adapter * _cosine(degrees)) / lever
    if not LEAST_FACTOR <= factor <= MOST_FACTOR:
        text = "With this adapter too little or too much of the wrench’s lever is left. Measure both lengths again."
        raise Refused([problem("impossible_lever", "adapter", text)])
    return float(factor)


def setting_for(wanted: float, lever: Any = None, adapter: Any = None, degrees: float = 0.0) -> float:
    """What to set, in N.m, for a wanted torque at the fastener, 0 to 2000 N.m; lengths as in `lever_factor`."""
    return require("torque", wanted, *TORQUE_NEWTON_METRES) / lever_factor(lever, adapter, degrees)


def applied_by(setting: float, lever: Any = None, adapter: Any = None, degrees: float = 0.0) -> float:
    """What the fastener gets, in N.m, from a setting of 0 to 2000 N.m; lengths as in `lever_factor`."""
    return require("setting", setting, *TORQUE_NEWTON_METRES) * lever_factor(lever, adapter, degrees)


def on_its_step(setting: float, tool: dict[str, Any]) -> float:
    """The nearest setting the tool can stand on; a pointer or a dial is read between its marks."""
    step = tool.get("step_newton_metres")
    if not step or tool.get("tool_type") in READ_BY_EYE:
        return setting
    return float(max(1, math.floor(setting / step + 0.5)) * step)


def deviation_of(tool: dict[str, Any], setting: float) -> tuple[float, dict[str, Any]]:
    """(permissible deviation as a fraction of the setting, where it is from)."""
    own = tool.get("deviation_percent")
    if own is not None:
        return (own / 100.0, say("As the wrench’s own card says: ±{percent} %.", percent=own))
    top = tool.get("high_newton_metres") or setting
    if min(top, setting) <= SMALL_NEWTON_METRES:
        return (DEVIATION_SMALL, say("±{percent} % up to 10 N·m (ISO 6789, from a maker’s extract).", percent=6))
    if tool.get("tool_type") in COARSE_TYPES:
        return (DEVIATION_SMALL, say("±{percent} % for bars and screwdrivers (ISO 6789, from memory).", percent=6))
    return (DEVIATION, say("±{percent} % permissible deviation (ISO 6789-1).", percent=4))


def expanded(
    setting: float, tool: dict[str, Any] = NO_TOOL, lever: Any = None, adapter: Any = None, degrees: float = 0.0
) -> float:
    """The expanded uncertainty (k = 2), in N.m, of what the fastener gets from a setting of 0 to 2000 N.m.

    Deviation and step of the tool, the two lengths and the angle, each as a
    rectangle (GUM 4.3.7), independent of each other, in quadrature.
    """
    factor = lever_factor(lever, adapter, degrees)
    require("setting", setting, *TORQUE_NEWTON_METRES)
    halves = [
        setting * deviation_of(tool, setting)[0] * factor,
        (tool.get("step_newton_metres") or 0.0) / 2.0 * factor,
    ]
    if adapter:
        along, across = _cosine(degrees), math.sin(math.radians(degrees))
        halves += [
            setting * along / lever * LENGTH_WITHIN_MILLIMETRES,
            setting * adapter * along / lever**2 * LENGTH_WITHIN_MILLIMETRES,
            setting * adapter * across / lever * math.radians(ANGLE_WITHIN_DEGREES),
        ]
    return 2.0 * math.sqrt(sum([(half / ROOT_3) ** 2 for half in halves]))


def out_of_range(tool: dict[str, Any], setting: float) -> Any:
    """A sentence when a setting in N.m lies below the tool's lowest mark or above its top, else None.

    It is asked about and not refused: the card may be wrong, and what was done was done.
    """
    low, high = tool.get("low_newton_metres"), tool.get("high_newton_metres")
    if high is not None and setting > high * (1.0 + 1e-9):
        text = "This wrench ends at {high}, and {setting} is above that: nothing is proven there. Take a larger one."
        return say(text, high=settable(high), setting=settable(setting))
    if low is not None and setting < low * (1.0 - 1e-9):
        text = "This wrench begins at {low}, and {setting} is below that: nothing is proven there. Take a smaller one."
        return say(text, low=settable(low), setting=settable(setting))
    return None


def is_below_tested(tool: dict[str, Any], setting: float) -> bool:
    """Whether a tool without a deviation of its own is used below the fifth of its top where a test may begin."""
    high = tool.get("high_newton_metres")
    if high is None or tool.get("deviation_percent") is not None:
        return False
    return bool(setting < TESTED_FROM * high * (1.0 - 1e-9))


def calibration(calibrated_on: Any, at_ms: Any, cycles: int = 0) -> dict[str, Any]:
    """{"calibrated_on", "months", "overdue", "worn"} at a moment in ms since 1970.

    Overdue after 12 months or 5000 cycles (ISO 6789-1), unless the shop's own rule says
    otherwise; worn: by its cycles, also where the date is not known. Then `months` is None, and nothing overdue.
    """
    day, worn = read_day(calibrated_on), cycles >= CYCLES_OF_A_CALIBRATION
    if day is None or at_ms is None:
        return {"calibrated_on": calibrated_on, "months": None, "overdue": False, "worn": worn}
    today = day_of(at_ms)
    due = (day[0] + MONTHS_OF_A_CALIBRATION // 12, day[1], day[2])
    months = max(0, whole_months(day, today))
    return {"calibrated_on": calibrated_on, "months": months, "overdue": today > due or worn, "worn": worn}
