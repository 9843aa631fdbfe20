"""Torques as the screens show them, in N.m or in the unit a wrench is marked in."""

import math
from typing import Any

from .figures import plain_number, rounded, shown_with
from .unit_factors import FACTORS

DIGITS = 4
MOST_DECIMALS = 3


def settable(newton_metres: float, unit: str = "N.m", like: Any = None) -> dict[str, Any]:
    """A torque that is wanted, to four digits, as a wrench can be set to it, or to the decimals of `like`."""
    value = newton_metres / FACTORS["torque"][unit]
    size = (newton_metres if like is None else like) / FACTORS["torque"][unit]
    decimals = MOST_DECIMALS
    if size > 0.0:
        decimals = max(0, min(MOST_DECIMALS, DIGITS - 1 - int(math.floor(math.log10(size)))))
    return {"value": plain_number(float(rounded(value, decimals))), "plus_minus": None, "unit": unit}


def rough(newton_metres: float, unit: str = "N.m") -> dict[str, Any]:
    """A torque that is a rule of thumb, to two digits."""
    value = newton_metres / FACTORS["torque"][unit]
    decimals = max(0, 1 - int(math.floor(math.log10(value)))) if value > 0.0 else 0
    size = 10.0 ** max(0, int(math.floor(math.log10(value))) - 1) if value > 0.0 else 1.0
    text = plain_number(float(rounded(value / size, decimals)) * size)
    return {"value": text, "plus_minus": None, "unit": unit}


def known(newton_metres: float, expanded: float) -> dict[str, Any]:
    """A torque that was applied, rounded by its expanded uncertainty in N.m (k = 2; GUM 7.2.6)."""
    if expanded <= 0.0:
        return settable(newton_metres)
    return shown_with(newton_metres, expanded, "N.m", MOST_DECIMALS)


def specification_shown(spec: dict[str, Any], unit: str) -> dict[str, Any]:
    """A specification with its figures as shown, in N.m and in the manual's own unit."""

    def in_both(value: Any) -> Any:
        return None if value is None else {"own": settable(value, unit), "newton_metres": settable(value)}

    low, high, tolerance = spec["low"], spec["high"], in_both(spec["tolerance"])
    if tolerance is not None and unit != "N.m":
        # Worked out, not taken from the manual: no finer than the torque that it goes with.
        shown = settable(spec["tolerance"], "N.m", low)
        tolerance["newton_metres"] = tolerance["newton_metres"] if shown["value"] == "0" else shown
    return dict(
        spec,
        unit=unit,
        shown={
            "low": in_both(low),
            "high": in_both(high if high != low else None),
            "tolerance": tolerance,
            "prevailing": in_both(spec["prevailing"]),
            "steps": [in_both(step) for step in spec["steps"]],
            "accepted": {"low": settable(spec["limits"]["low"], unit), "high": settable(spec["limits"]["high"], unit)},
            # What to aim at: the middle of what is accepted.
            "aim": settable((low + high) / 2.0, unit),
        },
    )
