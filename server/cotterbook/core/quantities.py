"""Sums, products and quotients of amounts, first order in their uncertainty (GUM 5.1.2 and 5.2.2).

An `Amount` names its figure `grams`; here it may as well be millimetres, gram-millimetres
or a share. What matters is that causes that two of them share stay shared.
"""

from typing import Any

from .amounts import ROOT_3, Amount, together


def within(value: float, half_width: float, cause: str) -> Amount:
    """A figure that lies anywhere within `half_width` of `value` (a rectangle, GUM 4.3.7)."""
    return Amount(value, {cause: (half_width / ROOT_3, None)} if half_width else {})


def minus(first: Amount, second: Amount) -> Amount:
    """`first` less `second`."""
    return together([first, second.times(-1.0)])


def combined(value: float, terms: list[tuple[float, Amount]]) -> Amount:
    """A figure worked out from amounts: its value, and how much it moves with each of them."""
    causes: dict[str, tuple[float, Any]] = {}
    for slope, amount in terms:
        for cause in amount.causes:
            standard, freedom = amount.causes[cause]
            causes[cause] = (causes.get(cause, (0.0, None))[0] + slope * standard, freedom)
    return Amount(value, causes)


def product(first: Amount, second: Amount) -> Amount:
    """`first` times `second`."""
    return combined(first.grams * second.grams, [(second.grams, first), (first.grams, second)])


def quotient(first: Amount, second: Amount) -> Amount:
    """`first` over `second`, which is not 0."""
    value = first.grams / second.grams
    return combined(value, [(1.0 / second.grams, first), (-value / second.grams, second)])
