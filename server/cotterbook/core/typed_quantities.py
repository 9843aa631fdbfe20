"""Quantities as people type them, unit and all: "8 lbf ft", "1,9 kg", "3 1/2 oz", "1 lb 4 oz".

The grammar is here, for the phone and the PC; what a unit is worth the phone takes
from `unit_factors`, which is made from the PC's library of units. A figure is one as
`figures.read_figure` reads it, or a fraction of the kind on rules and scales, alone or
after a whole number; a quantity is one figure with its unit, or whole ones of falling
units and a last one ("1 lb 4 oz"). A unit may be written with spaces, points, hyphens
or raised points inside it and in capitals.

The step of a quantity is what one of its last digit is worth: of "1,9 kg" 100 g, of
"1 lb 4 oz" an ounce, of "3 1/2 oz" half an ounce, as of a scale that is marked in halves.
"""

from typing import Any

from .figures import plain_digits, read_figure, rounded, shown_plain
from .unit_factors import FACTORS
from .unit_names import EXAMPLES, code_of, known_code, refused
from .words import Refused

LONGEST = 60
MOST_PARTS = 3
# What rules, scales and spanners are divided in.
DENOMINATORS = (2, 3, 4, 8, 16, 32, 64)
FRACTIONS = {
    "½": "1/2", "¼": "1/4", "¾": "3/4", "⅓": "1/3", "⅔": "2/3", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8",
}  # fmt: skip
DASHES = "\u2010\u2011\u2012\u2013\u2014"
# Decimals enough to see that a figure was read as meant.
DECIMALS_READ_BACK = {"torque": 2, "length": 1, "volume": 3, "distance": 1, "pressure": 0}
# What a figure is kept in.
KEPT_IN = {"mass": "g", "torque": "N.m", "length": "mm", "volume": "l", "distance": "km", "pressure": "kPa", "": ""}


class Typed:
    """A quantity as typed: `value` and `step` in g, N.m, mm, l, km or kPa; `unit` its unit's code, or None."""

    __slots__ = ("value", "step", "unit")

    def __init__(self, value: float, step: float, unit: Any):
        self.value, self.step, self.unit = value, step, unit


def read(text: Any, dimension: str, unit: Any = None, signed: bool = False) -> Typed:
    """The quantity in g ("mass"), N.m ("torque"), mm ("length"), l ("volume"), km ("distance") or kPa ("pressure").

    Dimension "" is a figure alone.

    A unit in the text counts before `unit`, the code of the field's. Raises Refused,
    with no field, for what is not one quantity of the dimension; below 0 only where it
    is `signed`, such as a place ahead of the front axle.
    """
    factors = FACTORS.get(dimension, {"": 1.0})
    if unit and unit not in factors:
        raise refused("unknown_unit", "The unit {unit} is not known here.", unit=str(unit)[:20])
    plain = _plain(str(text)) if signed else ""
    below = plain[:1] == "-"
    typed = plain[1:] if below else text
    if below and plain[1:].strip()[:1] in ("", "+", "-"):
        raise refused("not_a_number", "“{typed}” is no number.", typed=str(text).strip()[:40])
    parts = checked(typed, dimension, lambda name: factors[known_code(name, dimension)], factors.get(unit or ""))
    value = sum([figure * factor for figure, _, factor, _ in parts])
    _, step, factor, name = parts[-1]
    return Typed(-value if below else value, step * factor, known_code(name, dimension) if name else None)


def dimension_of(unit: str) -> str:
    """What a unit's code measures; "mass" for one that is not known, which `read` then refuses."""
    for dimension in FACTORS:
        if unit in FACTORS[dimension]:
            return dimension
    return "mass"


def shown_typed(typed: Typed, dimension: str) -> dict[str, Any]:
    """A quantity as read back while it is typed: a mass in g or kg by its size, others in what they will be kept in."""
    if dimension == "mass":
        return shown_plain(typed.value)
    text = rounded(typed.value, DECIMALS_READ_BACK[dimension])
    text = text.rstrip("0").rstrip(".") if "." in text else text
    return {"value": text, "plus_minus": None, "unit": KEPT_IN[dimension]}


def read_for(field: str, text: Any, dimension: str, unit: Any, signed: bool = False) -> Typed:
    """As `read`, with what is wrong refused by the name of the field."""
    try:
        return read(text, dimension, unit, signed)
    except Refused as refused:
        wrong = [dict(each, field=field) for each in refused.problems]
    # Outside of the except: MicroPython cannot chain exceptions, and warns of it in the page's console.
    raise Refused(wrong)


def own_unit(text: Any, dimension: str) -> Any:
    """The code of the (last) unit that stands in a typed quantity, or None where it has none or cannot be read."""
    parts = split(_plain(text)) if isinstance(text, str) and len(text) <= LONGEST else None
    return code_of(parts[-1][2], dimension) if parts and parts[-1][2] else None


def written(text: Any, dimension: str, unit: str) -> str:
    """What was typed with its unit: as it is when it has its own, else with the field's behind it."""
    return str(text) if own_unit(str(text), dimension) is not None else str(text) + " " + unit


def written_each(texts: list[Any], dimension: str, unit: str) -> list[str]:
    """Several figures of one field as typed: each with its unit where one has its own, else with one at the end."""
    if any(own_unit(str(text), dimension) is not None for text in texts):
        return [written(text, dimension, unit) for text in texts]
    return [str(text) for text in texts[:-1]] + [written(texts[-1], dimension, unit)]


def last_unit(text: Any, dimension: str) -> Any:
    """The code of the unit that a text as written ends with ("20 – 25 lbf ft"), or None."""
    words = _plain(text).rstrip(" )").split(" ") if isinstance(text, str) else []
    for first in range(len(words)):
        last = " ".join(words[first:])
        code = code_of(last, dimension) or own_unit(last, dimension)
        if code is not None:
            return code
    return None


def checked(text: Any, dimension: str, worth: Any, own: Any = None) -> list[tuple[float, float, Any, str]]:
    """The parts of one quantity as (figure, step, what one of its unit is worth, the unit as written).

    `worth` gives what a unit is worth by its name, or raises Refused; `own` is what a
    figure without a unit is worth, None when it must have one. Raises Refused.
    """
    typed = str(text).strip()
    parts = split(_plain(typed)) if len(typed) <= LONGEST else None
    if parts is None or any(not part[2] for part in parts[1:]):
        raise refused("not_a_number", _is_range(typed), typed=typed[:40])
    if any(part[0] < 0 for part in parts):
        raise refused("out_of_range", "A figure below 0 cannot be right here.")
    if parts[0][2] == "":
        if len(parts) > 1:
            raise refused("not_a_number", "“{typed}” is no number.", typed=typed[:40])
        if own is None:
            raise refused("unknown_unit", "Give the unit too, such as {example}.", example=EXAMPLES[dimension])
        return [(parts[0][0], parts[0][1], own, "")]
    found = [(figure, step, worth(name), name) for figure, step, name in parts]
    if not _falls(found, dimension):
        text = "“{typed}” cannot be read as one quantity, such as {example}."
        raise refused("not_a_quantity", text, typed=typed[:40], example=EXAMPLES.get(dimension, "12"))
    return found


def _falls(parts: list[tuple[float, float, Any, str]], dimension: str) -> bool:
    """Whether each part is less than one of the unit before it, and all but the last are whole."""
    if len(parts) > 1 and (dimension == "torque" or len(parts) > MOST_PARTS):
        return False
    for before, after in zip(parts, parts[1:]):
        if before[1] != 1.0 or after[2] >= before[2] or after[0] * after[2] >= before[2]:
            return False
    return True


def _is_range(typed: str) -> str:
    dash = _plain(typed).find("-", 1)
    if dash > 0 and _plain(typed)[:dash].strip()[-1:].isdigit():
        return "“{typed}” is a range. Type its two ends apart."
    return "“{typed}” is no number."


def _plain(text: str) -> str:
    """Digits, dashes and fractions as on a plain keyboard."""
    out = []
    for character in plain_digits(text.strip()):
        if character in DASHES:
            character = "-"
        out.append(" " + FRACTIONS[character] if character in FRACTIONS else character)
    return "".join(out).replace("\u2044", "/").strip()


def split(plain: str) -> Any:
    """The figures and units of a text as [(figure, step, unit as written)], or None when it is not made of them."""
    found, at = [], 0
    while at < len(plain):
        end = at
        while end < len(plain) and plain[end] in "0123456789.,/+- ":
            end += 1
        number = _number(plain[at:end].strip().rstrip("- "))
        at = end
        while end < len(plain) and not (plain[end] in "0123456789" and not _is_power(plain, end)):
            end += 1
        unit = plain[at:end].strip()
        # A mark that belongs to the next figure: ".5" must not become "5".
        if number is None or end < len(plain) and plain[end - 1] in ".,+-/":
            return None
        found.append((number[0], number[1], unit.rstrip(", ")))
        at = end
    return found or None


def _is_power(plain: str, at: int) -> bool:
    """Whether the digit there belongs to its unit, as in "cm3" and "lbf/in2"."""
    before, after = plain[:at].lower(), plain[at + 1 : at + 2]
    cube = plain[at] == "3" and before[-2:] == "cm"
    square = plain[at] == "2" and before[-3:] in ("/cm", "/in")
    return (cube or square or plain[at] in "23" and before[-1:] == "^") and after in ("", " ", ",", ".")


def _number(text: str) -> Any:
    """(value, step) of a figure or a fraction, or None."""
    if "/" not in text:
        read_as = read_figure(text)
        return None if read_as is None else (read_as[0], 10.0 ** -read_as[1])
    # "3-1/2" is how fractions are written behind a whole number too.
    whole, _, fraction = (text[:1] + text[1:].replace("-", " ")).rpartition(" ")
    top, _, bottom = fraction.partition("/")
    if not _short(top) or not _short(bottom) or int(bottom) not in DENOMINATORS or not 0 < int(top) < int(bottom):
        return None
    before = (0.0, 0) if not whole.strip() else read_figure(whole)
    if before is None or before[1] or before[0] < 0:
        return None
    return (before[0] + int(top) / int(bottom), 1.0 / int(bottom))


def _short(text: str) -> bool:
    return 1 <= len(text) <= 2 and all(c in "0123456789" for c in text)
