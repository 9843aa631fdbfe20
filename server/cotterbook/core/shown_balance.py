"""Masses, lengths, shares and volumes as the screens of balance and weighing show them, rounded by their uncertainty.

A whole machine, or the difference of two, is known to hundreds of grams: there an uncertainty of three digits, as
`figures.shown_grams` gives a part below a kilogram, would promise too much.
"""

from typing import Any

from .figures import digits_after_point, plain_number, rounded


def shown_mass(amount: Any) -> Any:
    """An amount in grams as shown, in g below 1 kg and in kg from there on; None of None."""
    if amount is None:
        return None
    if max(abs(amount.grams), amount.expanded) >= 1000.0:
        return _shown(amount.times(0.001), "kg", 3)
    return _shown(amount, "g", 1)


def shown_length(amount: Any) -> Any:
    """An amount in millimetres as shown, to 1 mm at the finest; None of None."""
    return _shown(amount, "mm", 0)


def shown_percent(amount: Any) -> Any:
    """An amount in percent as shown, to 0.1 % at the finest; None of None."""
    return _shown(amount, "%", 1)


def shown_litres(litres: float, half_width: float) -> dict[str, Any]:
    """Litres as somebody said them, give or take."""
    return {"value": plain_number(litres), "plus_minus": plain_number(half_width) if half_width else None, "unit": "l"}


def _shown(amount: Any, unit: str, most: int) -> Any:
    """With its expanded uncertainty, of two significant digits at most (GUM 7.2.6)."""
    if amount is None:
        return None
    expanded = amount.expanded
    if expanded <= 0.0:
        return {"value": plain_number(amount.grams), "plus_minus": None, "unit": unit}
    decimals = min(most, digits_after_point(expanded))
    if decimals >= 0:
        value, spread = rounded(amount.grams, decimals), rounded(max(expanded, 10.0**-decimals), decimals)
    else:
        value, spread = _whole(amount.grams, -decimals), _whole(expanded, -decimals)
    return {"value": value, "plus_minus": spread, "unit": unit}


def _whole(value: float, zeros: int) -> str:
    """Rounded to tens, hundreds or more."""
    text = rounded(value / 10.0**zeros, 0)
    return text if text == "0" else text + "0" * zeros
