"""Whether two figures agree: the normalised error En (ISO 13528, from memory)."""

from typing import Any

from .amounts import Amount
from .quantities import minus
from .words import Refused, problem


class Agreement:
    """Of two figures: `difference` found less expected, `number` (En), and whether they `agree`: En at most 1."""

    __slots__ = ("difference", "number", "agree")

    def __init__(self, difference: Amount, number: float):
        self.difference, self.number = difference, number
        self.agree = number <= 1.0


def agreement(found: Amount, expected: Amount) -> Agreement:
    """En = |found - expected| / U, with U the expanded uncertainty of the difference.

    Of independent figures U is sqrt(Ua^2 + Ub^2), as the standard writes it; what
    both share, such as the gain of one scale, is in both and cancels. Refused where
    neither has any uncertainty.
    """
    difference = minus(found, expected)
    expanded: Any = difference.expanded
    if expanded <= 0.0:
        text = "Without an uncertainty of either figure there is nothing to judge by."
        raise Refused([problem("no_uncertainty", "expected", text)])
    return Agreement(difference, abs(difference.grams) / expanded)


def shown_number(number: float) -> str:
    """En as shown: one decimal, two where one would say 1.0 of what is above 1."""
    text = "{:.1f}".format(min(number, 999.0))
    return text if (number <= 1.0) == (float(text) <= 1.0) else "{:.2f}".format(max(number, 1.01))
