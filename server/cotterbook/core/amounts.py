"""Masses with what they are uncertain by, kept apart by cause so that what is shared adds straight.

An amount is a figure in grams and its causes of uncertainty: for each cause a
signed standard uncertainty. Two amounts that share a cause (both were weighed on
one scale, whose gain is off by the same part at each reading) add their figures
of that cause with their signs; different causes are independent and come
together in quadrature (GUM 5.2.2 with correlation 1 or 0). The same reading on
both sides of a difference therefore cancels.

A cause is named by what it is and whose it is: "step:<reading>", "gain:<scale>".
"""

import math
from typing import Any

# A rectangle of half width a has the standard uncertainty a / sqrt(3) (GUM 4.3.7).
ROOT_3 = math.sqrt(3.0)
# Coverage factors for 95.45 % by degrees of freedom (GUM table G.2; the last row is k = 2).
COVERAGE = (
    (1, 13.97), (2, 4.53), (3, 3.31), (4, 2.87), (5, 2.65), (6, 2.52), (7, 2.43), (8, 2.37), (9, 2.32), (10, 2.28),
    (11, 2.25), (12, 2.23), (13, 2.21), (14, 2.20), (15, 2.18), (16, 2.17), (17, 2.16), (18, 2.15), (19, 2.14),
    (20, 2.13), (25, 2.11), (30, 2.09), (35, 2.07), (40, 2.06), (45, 2.06), (50, 2.05), (100, 2.025),
)  # fmt: skip
# Causes that amounts of different parts may have in common: a scale's gain and zero, a fluid's density.
SHARED = ("gain:", "zero:", "density:")
# From here on k = 2 is right to the digits that are ever shown.
MANY_DEGREES = 300.0


class Amount:
    """Grams, with `causes`: {cause: (signed standard uncertainty in grams, degrees of freedom or None)}.

    None stands for a cause whose size is taken as known (a rectangle): no end of degrees of freedom.
    """

    __slots__ = ("grams", "causes")

    def __init__(self, grams: float, causes: Any = None):
        self.grams: float = grams
        self.causes: dict[str, tuple[float, Any]] = causes or {}

    @property
    def standard(self) -> float:
        """The combined standard uncertainty in grams."""
        causes = self.causes
        return math.sqrt(sum([causes[cause][0] ** 2 for cause in causes]))

    @property
    def freedom(self) -> Any:
        """Effective degrees of freedom (Welch-Satterthwaite, GUM G.4.1), or None for no end of them."""
        causes, fewer = self.causes, 0.0
        for cause in causes:
            standard, freedom = causes[cause]
            if freedom is not None:
                fewer += standard**4 / freedom
        return self.standard**4 / fewer if fewer > 0.0 else None

    @property
    def factor(self) -> float:
        """The coverage factor for 95.45 %: 2, and more where it rests on few readings."""
        return coverage_factor(self.freedom)

    @property
    def expanded(self) -> float:
        """The expanded uncertainty in grams.

        Where two or three looks scatter, a wider step of the scale makes it rest
        less on them and so lowers the factor: the standard uncertainty never
        narrows with a wider step, the expanded one by these rules may.
        """
        return self.factor * self.standard

    def times(self, factor: float) -> "Amount":
        """The amount `factor` times."""
        causes = self.causes
        return Amount(self.grams * factor, {cause: (causes[cause][0] * factor, causes[cause][1]) for cause in causes})


def coverage_factor(freedom: Any) -> float:
    """k for a level of confidence of 95.45 % (GUM G.4.2 and table G.2); `freedom` is None for no end of degrees.

    Degrees of freedom between two rows count as the lower row (GUM G.4.1), fewer than 1 as 1.
    """
    if freedom is None or freedom >= MANY_DEGREES:
        return 2.0
    found = COVERAGE[0][1]
    for least, factor in COVERAGE:
        # What rounding leaves a hair under a whole number is that number.
        if freedom * (1.0 + 1e-9) >= least:
            found = factor
    return found


def together(amounts: list[Amount]) -> Amount:
    """The sum of amounts."""
    grams = 0.0
    causes: dict[str, tuple[float, Any]] = {}
    for amount in amounts:
        grams += amount.grams
        own = amount.causes
        for cause in own:
            here = own[cause]
            there = causes.get(cause)
            causes[cause] = here if there is None else (there[0] + here[0], here[1])
    return Amount(grams, causes)


def merged(amount: Amount, name: str) -> Amount:
    """The same amount with all causes that are its own as one, called `name`; those that others may share stay.

    Neither its standard uncertainty nor its effective degrees of freedom change, alone or
    in a sum: squares add in quadrature, and so do the terms of Welch and Satterthwaite.
    """
    kept: dict[str, tuple[float, Any]] = {}
    variance, fewer = 0.0, 0.0
    for cause in amount.causes:
        standard, freedom = amount.causes[cause]
        if cause.startswith(SHARED):
            kept[cause] = (standard, freedom)
        else:
            variance += standard**2
            fewer += standard**4 / freedom if freedom is not None else 0.0
    if variance > 0.0:
        kept[name] = (math.sqrt(variance), variance**2 / fewer if fewer > 0.0 else None)
    return Amount(amount.grams, kept)


def added_up(amounts: list[Any]) -> Amount:
    """The sum of those amounts that are known; the others are None."""
    return together([amount for amount in amounts if amount is not None])
