"""Lengths, shares and volumes as the screens of balance and weighing show them, rounded by their uncertainty."""

from typing import Any

from .figures import plain_number, shown_with


def shown_length(amount: Any) -> Any:
    """An amount in millimetres as shown, to 1 mm at the finest; None of None."""
    return _shown(amount, "mm", 0)


def shown_percent(amount: Any) -> Any:
    """An amount in percent as shown, to 0.1 % at the finest; None of None."""
    return _shown(amount, "%", 1)


def shown_litres(litres: float, half_width: float) -> dict[str, Any]:
    """Litres as somebody said them, give or take."""
    spread = plain_number(half_width)
    return {"value": plain_number(litres), "plus_minus": None if spread == "0" else spread, "unit": "l"}


def _shown(amount: Any, unit: str, most: int) -> Any:
    return None if amount is None else shown_with(amount.grams, amount.expanded, unit, most)
