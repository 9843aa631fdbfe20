"""Figures as people type and read them: decimal marks, units, rounding by uncertainty."""

import math
from typing import Any

from .unit_factors import FACTORS

# The units that forms offer; what one is worth comes from the table that is made from the PC's library of units.
POUND = "lb"
GRAMS_IN = {unit: FACTORS["mass"][unit] for unit in ("g", "kg", "lb", "oz")}
NEWTON_METRES_IN = {unit: FACTORS["torque"][unit] for unit in ("N.m", "kgf.m", "lbf.ft", "lbf.in")}
# Decimals that a mass is shown to at the finest: about a tenth of a gram.
FINEST = {"g": 1, "kg": 4, "oz": 2, "lb": 4}
# First digits of the decimal systems of writing that our readers type in beside 0 to 9.
FIRST_DIGITS = (0x0660, 0x06F0, 0x0966)


def read_figure(text: Any) -> Any:
    """A typed figure as (value, decimals), or None when it is no figure.

    A single comma or point is the decimal mark, whichever it is; of both, the
    last one is. Marks that repeat, and spaces, part thousands. "1,25" and "1.25"
    are 1.25; "1.250,5" and "1,250.5" are 1250.5; "1,250,000" is 1250000.
    """
    plain = plain_digits(str(text).strip())
    if " " in plain:
        return _with_spaces(plain)
    sign = 1.0
    if plain[:1] in "+-" and plain:
        sign, plain = (-1.0 if plain[0] == "-" else 1.0), plain[1:]
    last = max(plain.rfind(","), plain.rfind("."))
    if last >= 0 and plain.count(plain[last]) == 1:
        whole, decimals = plain[:last], plain[last + 1 :]
    else:
        whole, decimals = plain, ""
    other = "." if last >= 0 and plain[last] == "," else ","
    digits = _without_thousands(whole, other if decimals or last < 0 else plain[last])
    if digits is None or not _all_digits(digits + decimals) or not digits + decimals or len(digits + decimals) > 15:
        return None
    return (sign * float((digits or "0") + "." + (decimals or "0")), len(decimals))


def plain_digits(text: str) -> str:
    """The text with the digits and marks of other systems of writing as 0 to 9, point, minus and space."""
    out = []
    for character in text:
        code = ord(character)
        for first in FIRST_DIGITS:
            if first <= code <= first + 9:
                character = chr(48 + code - first)
        if character == "\u066b":
            character = "."
        if character == "\u2212":
            character = "-"
        if character in ("\u00a0", "\u202f", "'"):
            character = " "
        out.append(character)
    return "".join(out)


def _with_spaces(plain: str) -> Any:
    """A figure whose thousands are parted by spaces; what spaces part otherwise is no figure."""
    last = max(plain.rfind(","), plain.rfind("."))
    whole, rest = (plain, "") if last < 0 else (plain[:last], plain[last:])
    sign = whole[:1] if whole[:1] in ("+", "-") else ""
    digits = _without_thousands(whole[len(sign) :].strip(), " ")
    return None if digits is None or " " in rest else read_figure(sign + digits + rest)


def _all_digits(text: str) -> bool:
    return all(c in "0123456789" for c in text)


def _without_thousands(whole: str, mark: str) -> Any:
    """The whole part without its thousands marks; None when they part no thousands."""
    groups = whole.split(mark)
    if len(groups) > 1 and (not 1 <= len(groups[0]) <= 3 or any(len(group) != 3 for group in groups[1:])):
        return None
    return "".join(groups)


def shown_amount(amount: Any) -> Any:
    """An `amounts.Amount` as shown, with the coverage factor that its degrees of freedom ask for; None of None."""
    return None if amount is None else shown_grams(amount.grams, amount.standard, amount.factor)


def shown_in_pounds_too(amount: Any) -> Any:
    """As `shown_amount`, with "in_pounds": the same in pounds or ounces, for whoever reads these; None of None.

    For sums and whole machines; each part of a long list would wait for it.
    """
    if amount is None:
        return None
    return dict(
        shown_amount(amount), in_pounds=shown_grams(amount.grams, amount.standard, amount.factor, POUND)
    )  # fmt: skip


def shown_spread(expanded: float, like: str = "g") -> dict[str, Any]:
    """An uncertainty in grams, above 0, by itself: two significant digits of it (GUM 7.2.6)."""
    unit = mass_unit(expanded, like)
    own = expanded / GRAMS_IN[unit]
    return {"value": _spread(own, FINEST[unit]), "plus_minus": None, "unit": unit}


def plain_number(value: float, most: int = 3) -> str:
    """A number as short as it can be, with at most so many decimals: 25.0 is "25", 12.5 is "12.5"."""
    text = ("{:.%df}" % most).format(value).rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def digits_after_point(expanded: float) -> int:
    """Decimals that an expanded uncertainty above 0 allows: those of its two significant digits (GUM 7.2.6)."""
    # Below this a power of ten is nothing to a computer, and dividing by it no number; no figure is shown as fine.
    expanded = max(expanded, 1e-300)
    exponent = math.floor(math.log10(expanded))
    # 0.0996 is 0.10 to two digits: its rounding goes up to the next power of ten.
    return int(1 - exponent - (1 if expanded / 10.0**exponent >= 9.95 else 0))


def rounded(value: float, decimals: int) -> str:
    """The value with so many decimals, to tens or hundreds where they are below 0, and no minus before a zero."""
    if decimals < 0:
        text = rounded(value / 10.0**-decimals, 0)
        return text if text == "0" else text + "0" * -decimals
    text = ("{:.%df}" % decimals).format(value)
    return text[1:] if text[0] == "-" and float(text) == 0.0 else text


def shown_with(value: float, expanded: float, unit: str, most: int) -> dict[str, Any]:
    """A figure with its expanded uncertainty, of which two significant digits are shown (GUM 7.2.6).

    To `most` decimals at the finest; a figure far smaller than what it is known to
    keeps its own first digit: 5 known within 400 is not 0.
    """
    if expanded <= 0.0:
        return {"value": plain_number(value), "plus_minus": None, "unit": unit}
    decimals = min(most, digits_after_point(expanded))
    if value and float(rounded(value, decimals)) == 0.0:
        decimals = min(most, -math.floor(math.log10(abs(value))))
    spread = _spread(max(expanded, 10.0**-decimals), most)
    return {"value": rounded(value, decimals), "plus_minus": spread, "unit": unit}


def last_place(shown: dict[str, Any]) -> int:
    """The power of ten of the last digit that a figure was rounded to: -1 of "12.3", 0 of "12", 1 of "620 ± 280"."""
    value, spread = shown["value"].lstrip("-"), shown["plus_minus"]
    if "." in value or spread is None:
        return -len((value.split(".") + [""])[1])
    # Above a hundred two digits of the uncertainty end before the point; a small figure keeps its own first digit.
    return int(max(0, min(len(spread.split(".")[0]) - 2, len(value) - 1)))


def _spread(expanded: float, most: int) -> str:
    """An uncertainty above 0 with two digits of it, but `most` decimals and at least one of the last of them."""
    least = max(expanded, 10.0**-most)
    return rounded(least, min(most, digits_after_point(least)))


def mass_unit(grams: float, like: str = "g") -> str:
    """The unit for a mass of this size: "g" or "kg"; "oz" or "lb" where people work in units `like` those."""
    small, large = ("oz", "lb") if like in ("oz", "lb") else ("g", "kg")
    return large if abs(grams) >= GRAMS_IN[large] else small


def shown_grams(grams: float, standard: float, factor: float = 2.0, like: str = "g") -> dict[str, Any]:
    """A mass in the unit for its size (`mass_unit`), rounded by its uncertainty.

    `standard` is the standard uncertainty in grams; what is shown is the expanded
    one, k = `factor`. {"value", "plus_minus", "unit"}, plus_minus None when there is none.
    """
    expanded = factor * standard
    unit = mass_unit(max(abs(grams), expanded), like)
    worth = GRAMS_IN[unit]
    return shown_with(grams / worth, expanded / worth, unit, FINEST[unit])


def shown_plain(grams: float, like: str = "g") -> dict[str, Any]:
    """A mass of which no uncertainty is known, in the unit for its size, as short as it can be."""
    unit = mass_unit(grams, like)
    return {"value": plain_number(grams / GRAMS_IN[unit], FINEST[unit]), "plus_minus": None, "unit": unit}
