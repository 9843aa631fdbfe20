"""Masses with what they are uncertain by, kept apart by cause so that what is shared adds straight.

An amount is a figure in grams and its causes of uncertainty: for each cause a
signed standard uncertainty. Two amounts that share a cause (both were weighed on
one scale, whose gain is off by the same part at each reading) add their figures
of that cause with their signs; different causes are independent and come
together in quadrature (GUM 5.2.2 with correlation 1 or 0). The same reading on
both sides of a difference therefore cancels.
"""

import math
from typing import Any


class Amount:
    """Grams, with `causes`: {cause: (signed standard uncertainty in grams, degrees of freedom or None)}."""

    __slots__ = ("grams", "causes")

    def __init__(self, grams: float, causes: Any = None):
        self.grams: float = grams
        self.causes: dict[str, tuple[float, Any]] = causes or {}

    @property
    def standard(self) -> float:
        """The combined standard uncertainty in grams."""
        return math.sqrt(sum([self.causes[cause][0] ** 2 for cause in self.causes]))

    def times(self, factor: float) -> "Amount":
        """The amount `factor` times."""
        return Amount(
            self.grams * factor,
            {cause: (self.causes[cause][0] * factor, self.causes[cause][1]) for cause in self.causes},
        )


def together(amounts: list[Amount]) -> Amount:
    """The sum of amounts."""
    grams = 0.0
    causes: dict[str, tuple[float, Any]] = {}
    for amount in amounts:
        grams += amount.grams
        for cause in amount.causes:
            here, freedom = amount.causes[cause]
            there = causes.get(cause)
            causes[cause] = (here, freedom) if there is None else (there[0] + here, freedom)
    return Amount(grams, causes)
