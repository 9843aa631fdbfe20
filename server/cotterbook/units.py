"""Units by pint, the one source: quantities typed as text, and the phone's table of factors made from it.

`python -m cotterbook.units` writes `core/unit_factors.py` anew.
"""

from decimal import Decimal
from fractions import Fraction
from functools import cache
from pathlib import Path
from typing import Any

import pint

from .core import typed_quantities, unit_names
from .core.words import Refused, problem

TABLE = Path(__file__).parent / "core" / "unit_factors.py"
# What a figure is kept in.
BASE = {
    "mass": "gram",
    "torque": "newton * metre",
    "length": "millimetre",
    "volume": "litre",
    "distance": "kilometre",
    "pressure": "kilopascal",
}
# A unit's code: pint's name for it, and what people write, without spaces and points and in small letters.
MASS = {
    "g": ("gram", "g gram grams gramme grammes"),
    "kg": ("kilogram", "kg kgs kilo kilos kilogram kilograms kilogramme kilogrammes"),
    "mg": ("milligram", "mg milligram milligrams"),
    "t": ("metric_ton", "t tonne tonnes"),
    "lb": ("pound", "lb lbs pound pounds"),
    "oz": ("ounce", "oz ozs ounce ounces"),
    "st": ("stone", "st stone stones"),
}
LENGTH = {
    "mm": ("millimetre", "mm millimetre millimetres millimeter millimeters"),
    "cm": ("centimetre", "cm centimetre centimetres centimeter centimeters"),
    "m": ("metre", "m metre metres meter meters"),
    "in": ("inch", 'in ins inch inches " ″ ”'),
    "ft": ("foot", "ft foot feet ′"),
}
VOLUME = {
    "l": ("litre", "l ltr litre litres liter liters"),
    "dl": ("decilitre", "dl decilitre decilitres deciliter deciliters"),
    "cl": ("centilitre", "cl centilitre centilitres centiliter centiliters"),
    "ml": ("millilitre", "ml millilitre millilitres milliliter milliliters cc ccm cm3 cm^3"),
    "US gal": ("gallon", "usgal usgallon usgallons"),
    "US qt": ("quart", "usqt usquart usquarts"),
    "US pt": ("pint", "uspt uspint uspints"),
    "US fl oz": ("fluid_ounce", "usfloz"),
    "imp gal": (
        "imperial_gallon",
        "impgal impgallon impgallons imperialgallon imperialgallons ukgal ukgallon ukgallons",
    ),
    "imp qt": ("imperial_quart", "impqt impquart impquarts imperialquart imperialquarts ukqt"),
    "imp pt": ("imperial_pint", "imppt imppint imppints imperialpint imperialpints ukpt"),
    "imp fl oz": ("imperial_fluid_ounce", "impfloz ukfloz"),
}
# How far the machine ran, as its odometer counts.
DISTANCE = {
    "km": ("kilometre", "km kms kilometre kilometres kilometer kilometers"),
    "mi": ("mile", "mi mile miles"),
}
# A weight on an area is how old gauges and manuals say it.
PRESSURE = {
    "kPa": ("kilopascal", "kpa kilopascal kilopascals"),
    "bar": ("bar", "bar bars"),
    "psi": ("psi", "psi psig lbf/in2 lbf/in^2 lb/in2 lb/in^2 lbs/in2 lbs/in^2"),
    "MPa": ("megapascal", "mpa megapascal megapascals"),
    "kgf/cm2": ("technical_atmosphere", "kgf/cm2 kgf/cm^2 kg/cm2 kg/cm^2 kp/cm2 kp/cm^2"),
}
# A torque is a force on an arm. As a force, a unit of mass stands for its weight at the standard acceleration.
FORCE = {
    "N": ("newton", "n newton newtons"),
    "daN": ("decanewton", "dan"),
    "kgf": ("force_kilogram", "kgf kg kp kilopond kiloponds kilo kilos kilogramforce"),
    "lbf": ("force_pound", "lbf lb lbs lbsf pound pounds poundforce poundsforce"),
    "ozf": ("force_ounce", "ozf oz ounce ounces"),
}
ARM = {"m": LENGTH["m"], "cm": LENGTH["cm"], "ft": LENGTH["ft"], "in": LENGTH["in"]}
TORQUES = ("N.m", "N.cm", "daN.m", "kgf.m", "kgf.cm", "lbf.ft", "lbf.in", "ozf.in")
# One word for several units: which one has to be said.
AMBIGUOUS = {
    "gal gallon gallons": ("US gal", "imp gal"),
    "qt quart quarts": ("US qt", "imp qt"),
    "pt pint pints": ("US pt", "imp pt"),
    "floz fluidounce fluidounces": ("US fl oz", "imp fl oz"),
    "ton tons": ("t", "a short or long ton"),
    "gr": ("g", "grain"),
}
LONGEST_NAME = 30
# What a quantity is said in, and which reason tells most where it is none.
SAID_IN = {
    "mass": ("g", "kg", "lb", "oz"),
    "torque": ("N.m", "kgf.m", "lbf.ft", "lbf.in"),
    "length": ("mm", "in"),
    "volume": ("l", "US gal", "imp gal"),
    "distance": ("km", "mi"),
    "pressure": ("kPa", "bar", "psi"),
}
NEAREST = ("ambiguous_unit", "not_a_quantity", "out_of_range", "not_a_number", "unknown_unit", "wrong_dimension")


@cache
def registry() -> pint.UnitRegistry[Any]:
    """Pint's units, reckoned in fractions, so that what is exact by definition stays exact."""
    return pint.UnitRegistry(non_int_type=Fraction, cache_folder=None)


def factor_of(name: str, dimension: str) -> Fraction:
    """What one of pint's unit is in g, N.m, mm, l, km or kPa."""
    return Fraction(registry().Quantity(Fraction(1), name).to(BASE[dimension]).magnitude)


def read_quantity(text: str, dimension: str) -> pint.Quantity[Any]:
    """A quantity typed as text, such as "8 lbf ft", "1,9 kg" or "1 lb 4 oz", in g, N.m, mm, l, km or kPa.

    `dimension` is "mass", "torque", "length", "volume", "distance" or "pressure". What may be written is said
    in `core/typed_quantities`; what a unit is worth comes from pint, and units that
    pint knows beside those of our table are taken too ("3 grain"). Raises Refused for
    no or more than one quantity, a missing, unknown or ambiguous unit, another
    dimension, or a figure below 0.
    """
    parts = typed_quantities.checked(text, dimension, lambda name: _meant(name, dimension))
    total = sum(Fraction(figure) * worth for figure, _, worth, _ in parts)
    return registry().Quantity(float(total), BASE[dimension])


def conversions(text: str) -> list[str]:
    """A quantity typed with its unit, in each unit that people use for what it measures, to four digits.

    Raises Refused with the reason of the dimension that the text comes nearest to.
    """
    reasons = []
    for dimension, codes in SAID_IN.items():
        try:
            value = read_quantity(text, dimension).magnitude
        except Refused as refused:
            reasons.append(refused)
            continue
        factors = {code: float(factor_of(_by_code(dimension)[code], dimension)) for code in codes}
        return [f"{_four_digits(value / factors[code])} {code}" for code in codes]
    raise min(reasons, key=lambda each: NEAREST.index(each.problems[0]["code"]))


def _four_digits(value: float) -> str:
    return f"{Decimal(f'{value:.4g}'):f}"


def _meant(name: str, dimension: str) -> Fraction:
    """What one of a unit is worth, by the name that somebody wrote. Raises Refused."""
    code = unit_names.code_of(name, dimension)
    if code is not None:
        return factor_of(_by_code(dimension)[code], dimension)
    unit_names.refuse_known(name, dimension)
    words = [word for word in name.replace("·", " ").replace("*", " ").replace("-", " ").split() if word]
    unknown = Refused([problem("unknown_unit", "", "The unit {unit} is not known here.", unit=name[:20])])
    # A name with anything but letters would reach pint's arithmetic.
    if not all(word.replace("_", "").isalpha() and len(word) <= LONGEST_NAME for word in words):
        raise unknown
    try:
        found = registry().parse_units(" * ".join(words))
        if found.dimensionality != registry().parse_units(BASE[dimension]).dimensionality:
            raise unknown
        # An energy has the dimension of a torque: only a force on an arm is one.
        if dimension == "torque" and len(words) != 2:
            raise unknown
        return factor_of(str(found), dimension)
    except (pint.PintError, ValueError, AttributeError, TypeError) as error:
        raise unknown from error


def _by_code(dimension: str) -> dict[str, str]:
    if dimension == "torque":
        return {code: _pints_torque(code) for code in TORQUES}
    tables = {"mass": MASS, "length": LENGTH, "volume": VOLUME, "distance": DISTANCE, "pressure": PRESSURE}
    return {code: name for code, (name, _) in tables[dimension].items()}


def _pints_torque(code: str) -> str:
    force, arm = code.split(".")
    return f"{FORCE[force][0]} * {ARM[arm][0]}"


def table() -> str:
    """The text of `core/unit_factors.py`."""
    lines = [
        '"""What a unit is worth in g, N.m, mm, l, km or kPa, and how it is written: made by cotterbook/units.py."""',
        "",
        "FACTORS = {",
    ]
    for dimension in BASE:
        lines.append(f'    "{dimension}": {{')
        lines += [
            f'        "{code}": {float(factor_of(name, dimension))!r},' for code, name in _by_code(dimension).items()
        ]
        lines.append("    },")
    lines += [
        "}",
        "# Without spaces and points, in small letters; of a torque, the words for its force and its arm.",
        "WRITINGS = {",
    ]
    tables = {"mass": MASS, "length": LENGTH, "volume": VOLUME, "distance": DISTANCE, "pressure": PRESSURE}
    tables.update(force=FORCE, arm=ARM)
    for name, units in tables.items():
        lines.append(f'    "{name}": {{')
        lines += [f'        "{code}": {_quoted(words)},' for code, (_, words) in units.items()]
        lines.append("    },")
    lines += ["}", "# One word for several units: which one has to be said.", "AMBIGUOUS = {"]
    lines += [f'    "{words}": ("{first}", "{second}"),' for words, (first, second) in AMBIGUOUS.items()]
    return "\n".join([*lines, "}"]) + "\n"


def _quoted(words: str) -> str:
    return f"'{words}'" if '"' in words else f'"{words}"'


if __name__ == "__main__":
    TABLE.write_text(table(), encoding="utf-8")
