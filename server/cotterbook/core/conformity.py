"""Whether a figure meets a specification when its uncertainty is counted: the guard-band rule.

ISO 14253-1: what is measured is accepted only where it lies inside the
specification by its expanded uncertainty, and refused only where it lies outside
by as much; between the two nothing is proven. JCGM 106 calls the strip that is
given up a guard band, here as wide as the expanded uncertainty (8.3, from memory),
which leaves a risk of at most 2.3 % to be wrong (ILAC-G8:09/2019: below 2.5 %). The
edition of 2017 is content with 5 % where nobody agrees on less; the stricter rule of
the editions before it is kept here.
"""

from typing import Any

from .words import Refused, problem, require, say

ACCEPTED, DOUBTFUL, REFUSED, NO_SPECIFICATION = "accepted", "doubtful", "refused", "no_specification"
# Taken on either side of a single value that comes without a tolerance: common practice, no source.
ASSUMED_TOLERANCE = 0.10
MOST = 1e6
RULE = say(
    "Accepted only inside the specification by all of its own uncertainty: guard band of ISO 14253-1 and JCGM 106."
)
# What adding and taking away may blur; a figure on the very limit is on it.
BLUR = 1e-9


def limits(low: float, high: float, tolerance: Any = None) -> dict[str, Any]:
    """The specification's limits in its own unit: {"low", "high", "assumed"}.

    A range is taken as it is given, a single value with its tolerance, or where it
    has none with 10 % of it on either side, and `assumed` says so. `low` and `high`
    are above 0 and at most 1,000,000, the tolerance too; Refused says what is not.
    """
    require("low", low, 0, MOST)
    require("high", high, low, MOST)
    if low < high:
        return {"low": low, "high": high, "assumed": False}
    if tolerance is not None:
        require("tolerance", tolerance, 0, MOST)
        if tolerance >= low:
            text = "The tolerance is as large as the value itself."
            raise Refused([problem("tolerance_too_wide", "tolerance", text)])
    half = tolerance if tolerance is not None else ASSUMED_TOLERANCE * low
    return {"low": low - half, "high": low + half, "assumed": tolerance is None}


def is_too_coarse(expanded: float, low: float, high: float) -> bool:
    """Whether no figure with this expanded uncertainty could be accepted between the limits."""
    return high - low < 2.0 * expanded - BLUR * high


def verdict(value: float, expanded: float, low: float, high: float) -> tuple[str, Any]:
    """("accepted" | "doubtful" | "refused", side "low" | "high" | None) of a figure against limits.

    All four in one unit, from 0 to 1,000,000; `expanded` is the expanded
    uncertainty of the figure (k = 2). Refused (the error) says what is outside.
    """
    require("value", value, 0, MOST)
    require("expanded", expanded, 0, MOST)
    require("low", low, 0, MOST)
    require("high", high, low, MOST)
    blur = BLUR * high
    if value < low - expanded - blur:
        return (REFUSED, "low")
    if value > high + expanded + blur:
        return (REFUSED, "high")
    short, over = value < low + expanded - blur, value > high - expanded + blur
    if not short and not over:
        return (ACCEPTED, None)
    return (DOUBTFUL, None if short and over else "low" if short else "high")
