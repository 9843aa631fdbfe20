"""Scales: what a check against a known mass tells, and what class III asks of an approved scale."""

import math
from typing import Any

from .amounts import ROOT_3
from .words import require

# Steps up to which class III allows half a step, one, and one and a half at first verification (OIML R 76-1,
# table 6); in service it allows twice that.
CLASS_III = ((500.0, 0.5), (2_000.0, 1.0), (10_000.0, 1.5))
IN_SERVICE = 2.0
# How well the known mass is known where nobody says, as a part of it, half widths. A reference weight of class M3
# (OIML R 111, 0.05 %, from memory); of the rest common practice, no source: a litre by the mark of a kitchen jug, a
# coin that is worn and dirty, anything else.
KNOWN_FRACTION = {"reference_weight": 0.0005, "water": 0.05, "coin": 0.02, "other_thing": 0.05}


def class_iii_limit(grams: float, step_grams: float) -> Any:
    """The most an approved class III scale in service may be off at a load, in grams; None above 10,000 steps.

    `grams` 0 to 2,000,000, `step_grams` above 0 to 10,000. A shop's own scale need not keep to it.
    """
    require("capacity", grams, 0.0, 2_000_000.0)
    require("step", step_grams, 1e-6, 10_000.0)
    for most, steps in CLASS_III:
        if grams <= most * step_grams * (1.0 + 1e-9):
            return IN_SERVICE * steps * step_grams
    return None


def check_result(check: dict[str, Any], card: dict[str, Any]) -> dict[str, Any]:
    """What one look at a known mass tells of a scale.

    {"deviation", "expanded" (of the deviation, k = 2), "stated" (the most the card says
    the scale may be off there), "en", "verdict", "gain_percent" (what to state to be
    sure), all masses in grams}. En compares the reading, with the card's gain and zero
    in its uncertainty, with the known mass (ISO 13528, from memory). Verdicts:
    "covered" what the scale is off by, with its uncertainty, is within the card's gain
    and zero; "agrees" they differ by no more than the look's own uncertainty explains;
    "off" they differ by more.
    """
    known, half = check["known_grams"], check.get("known_plus_minus_grams")
    if half is None:
        half = KNOWN_FRACTION.get(check["against"], 0.0) * known
    step = max(check["step_grams"], card.get("step_grams") or 0.0) / 2.0
    gain, zero = (card.get("gain_percent") or 0.0) / 100.0 * known, card.get("zero_grams") or 0.0
    deviation = check["grams"] - known
    expanded = 2.0 / ROOT_3 * math.sqrt(half**2 + step**2)
    claimed = 2.0 / ROOT_3 * math.sqrt(half**2 + step**2 + gain**2 + zero**2)
    stated, size = gain + zero, abs(deviation)
    verdict = "covered" if size + expanded <= stated else "agrees" if size <= stated + expanded else "off"
    return {
        "deviation": deviation,
        "expanded": expanded,
        "stated": stated,
        "en": size / claimed,
        "verdict": verdict,
        "gain_percent": _rounded_up(100.0 * max(0.0, size + expanded - zero) / known),
    }


def _rounded_up(percent: float) -> float:
    """A percentage rounded up to one digit after the point, two below 0.1 %."""
    digits = 10.0 if percent >= 0.1 else 100.0
    return math.ceil(percent * digits - 1e-9) / digits
