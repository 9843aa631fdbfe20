"""Quantities typed with their unit: against pint and scipy.constants, against published factors, and as round trips."""

import subprocess
import sys
from fractions import Fraction

import pint
import pytest
import scipy.constants
from hypothesis import example, given
from hypothesis import strategies as st

from cotterbook import units
from cotterbook.core import unit_names
from cotterbook.core.typed_quantities import last_unit, read, written, written_each
from cotterbook.core.unit_factors import FACTORS
from cotterbook.core.words import Refused

# A registry of its own, in floats and with none of our names: the judge of what the program reads.
JUDGE = pint.UnitRegistry(cache_folder=None)
OFFERED = [(dimension, code) for dimension in FACTORS for code in FACTORS[dimension]]


def test_the_phones_table_is_the_one_that_pint_makes():
    assert units.TABLE.read_text(encoding="utf-8") == units.table()


@pytest.mark.parametrize(
    ("dimension", "code", "exact"),
    [
        # Exact by definition: international yard and pound agreement of 1959, as in NIST SP 811, appendix B.
        ("mass", "lb", "453.59237"),
        ("mass", "oz", "28.349523125"),
        ("mass", "st", "6350.29318"),
        ("length", "in", "25.4"),
        ("length", "ft", "304.8"),
        # The mile of 5280 international feet, in km (NIST SP 811, B.8: 1.609 344 km exactly).
        ("distance", "mi", "1.609344"),
        # From the pound, the foot and the standard acceleration of gravity, 9.80665 m/s2 (3rd CGPM, 1901).
        ("torque", "lbf.ft", "1.3558179483314004"),
        ("torque", "lbf.in", "0.1129848290276167"),
        ("torque", "kgf.m", "9.80665"),
        # US gallon of 231 cubic inches; imperial gallon of 4.54609 l (Weights and Measures Act 1985, from memory).
        ("volume", "US gal", "3.785411784"),
        ("volume", "imp gal", "4.54609"),
        # NIST SP 811, appendix B.8: psi from the pound-force and the inch, 6.894 757 E+03 Pa; the bar is exact.
        ("pressure", "bar", "100"),
        ("pressure", "psi", "6.894757293168361"),
        ("pressure", "kgf/cm2", "98.0665"),
    ],
)
def test_factors_are_the_published_ones(dimension, code, exact):
    assert FACTORS[dimension][code] == pytest.approx(float(Fraction(exact)), rel=1e-15)


@pytest.mark.parametrize(
    ("dimension", "code", "in_si", "constant"),
    [
        ("mass", "lb", 1e-3, scipy.constants.lb),
        ("mass", "oz", 1e-3, scipy.constants.oz),
        ("mass", "st", 1e-3, scipy.constants.stone),
        ("length", "in", 1e-3, scipy.constants.inch),
        ("length", "ft", 1e-3, scipy.constants.foot),
        ("distance", "mi", 1e3, scipy.constants.mile),
        ("volume", "US gal", 1e-3, scipy.constants.gallon_US),
        ("volume", "imp gal", 1e-3, scipy.constants.gallon_imp),
        ("volume", "US fl oz", 1e-3, scipy.constants.fluid_ounce_US),
        ("volume", "imp fl oz", 1e-3, scipy.constants.fluid_ounce_imp),
        ("pressure", "bar", 1e3, scipy.constants.bar),
        ("pressure", "psi", 1e3, scipy.constants.psi),
        ("pressure", "kgf/cm2", 1e3, scipy.constants.kgf / 1e-4),
        ("torque", "kgf.m", 1.0, scipy.constants.kgf),
        ("torque", "lbf.ft", 1.0, scipy.constants.lbf * scipy.constants.foot),
        ("torque", "lbf.in", 1.0, scipy.constants.lbf * scipy.constants.inch),
    ],
)
def test_factors_agree_with_scipy(dimension, code, in_si, constant):
    assert FACTORS[dimension][code] * in_si == pytest.approx(constant, rel=1e-12)


@pytest.mark.parametrize(
    ("text", "dimension", "value", "step"),
    [
        ("8 lbf ft", "torque", 8 * 1.3558179483314004, 1.3558179483314004),
        ("8 ft-lb", "torque", 8 * 1.3558179483314004, 1.3558179483314004),
        ("8 FT·LBS", "torque", 8 * 1.3558179483314004, 1.3558179483314004),
        ("96 in lb", "torque", 96 * 0.1129848290276167, 0.1129848290276167),
        ("2,5 kg m", "torque", 2.5 * 9.80665, 0.980665),
        ("12 Nm", "torque", 12.0, 1.0),
        ("12 N·m", "torque", 12.0, 1.0),
        ("1,9 kg", "mass", 1900.0, 100.0),
        ("1.9kg", "mass", 1900.0, 100.0),
        ("3 1/2 oz", "mass", 3.5 * 28.349523125, 0.5 * 28.349523125),
        ("3½ oz", "mass", 3.5 * 28.349523125, 0.5 * 28.349523125),
        ("1 lb 4 oz", "mass", 20 * 28.349523125, 28.349523125),
        ("11 st 6 lb", "mass", 160 * 453.59237, 453.59237),
        ("१२ kg", "mass", 12_000.0, 1_000.0),
        ('7/16"', "length", 25.4 * 7 / 16, 25.4 / 16),
        ("25 mm", "length", 25.0, 1.0),
        ("750 cm3", "volume", 0.75, 0.001),
        ("750 cc", "volume", 0.75, 0.001),
        ("1 US gal", "volume", 3.785411784, 3.785411784),
        ("2,5 bar", "pressure", 250.0, 10.0),
        ("250 kPa", "pressure", 250.0, 1.0),
        ("36 PSI", "pressure", 36 * 6.894757293168361, 6.894757293168361),
        ("36 lbf/in2", "pressure", 36 * 6.894757293168361, 6.894757293168361),
        ("2.5 kg/cm²", "pressure", 245.16625, 9.80665),
        ("2.5 kgf/cm2", "pressure", 245.16625, 9.80665),
    ],
)
def test_what_people_write_is_read_alike_on_phone_and_pc(text, dimension, value, step):
    typed = read(text, dimension)
    assert (typed.value, typed.step) == (pytest.approx(value, rel=1e-12), pytest.approx(step, rel=1e-12))
    assert units.read_quantity(text, dimension).magnitude == pytest.approx(value, rel=1e-12)


def test_a_unit_typed_counts_before_the_fields_own():
    assert read("1,9", "mass", "kg").value == 1900.0
    assert read("1,9 kg", "mass", "g").value == 1900.0
    assert read("20", "torque", "lbf.in").value == pytest.approx(20 * 0.1129848290276167)


def test_pint_is_asked_for_units_that_the_phone_has_not():
    # 7000 grains to the pound (avoirdupois).
    assert units.read_quantity("7000 grain", "mass").magnitude == pytest.approx(453.59237, rel=1e-12)
    assert units.read_quantity("2 furlong", "length").magnitude == pytest.approx(402_336, rel=1e-5)


@pytest.mark.parametrize(
    ("text", "dimension", "code"),
    [
        ("", "mass", "not_a_number"),
        ("kg", "mass", "not_a_number"),
        ("1,9", "mass", "unknown_unit"),
        ("1,9 kgs of it", "mass", "unknown_unit"),
        ("7-10 g", "mass", "not_a_number"),
        ("-5 g", "mass", "out_of_range"),
        ("1 lb 20 oz", "mass", "not_a_quantity"),
        ("1.5 lb 4 oz", "mass", "not_a_quantity"),
        ("4 oz 1 lb", "mass", "not_a_quantity"),
        ("1e400 g", "mass", "unknown_unit"),
        ("NaN g", "mass", "not_a_number"),
        ("12 N", "torque", "unknown_unit"),
        ("12 mN", "torque", "unknown_unit"),
        ("5 J", "torque", "unknown_unit"),
        ("5 lb", "torque", "wrong_dimension"),
        ("25 mm", "mass", "wrong_dimension"),
        ("2 gal", "volume", "ambiguous_unit"),
        ("3 ton", "mass", "ambiguous_unit"),
        ("36 lb", "pressure", "wrong_dimension"),
        ("2.5 bar", "length", "wrong_dimension"),
        ("2.5 parsnips", "pressure", "unknown_unit"),
        ("-2 bar", "pressure", "out_of_range"),
        ("1/0 in", "length", "not_a_number"),
        ("5/7 in", "length", "not_a_number"),
        ("1" * 61 + " g", "mass", "not_a_number"),
        ("__import__('os') g", "mass", "not_a_number"),
        ("5 **9**9", "mass", "not_a_number"),
    ],
)
def test_what_is_no_one_quantity_is_refused_with_its_reason(text, dimension, code):
    for reader in (read, units.read_quantity):
        with pytest.raises(Refused) as refused:
            reader(text, dimension)
        assert refused.value.problems[0]["code"] == code, reader


@given(st.text(max_size=70), st.sampled_from(["mass", "torque", "length", "volume", "distance", "pressure", ""]))
@example("²", "mass")
@example("½½ g", "mass")
@example("1 lb 2", "mass")
@example("\ud800 g", "mass")
def test_any_text_is_read_or_refused(text, dimension):
    try:
        typed = read(text, dimension)
    except Refused as refused:
        assert all(each["text"] for each in refused.problems)
        return
    assert 0.0 <= typed.value < 1e19 and 0.0 < typed.step < 1e19


@given(st.sampled_from(OFFERED), st.integers(0, 10**6), st.integers(0, 3))
def test_a_figure_goes_through_its_unit_and_back(unit, digits, decimals):
    dimension, code = unit
    text = f"{digits / 10**decimals:.{decimals}f}"
    typed = read(f"{text} {code}", dimension)
    assert typed.unit == code
    back = typed.value / FACTORS[dimension][code]
    assert f"{back:.{decimals}f}" == text
    assert typed.step == pytest.approx(10.0**-decimals * FACTORS[dimension][code])


@given(st.sampled_from(OFFERED), st.integers(1, 10**6))
def test_the_phones_figures_are_the_judges(unit, digits):
    dimension, code = unit
    names = {
        "g": "gram", "kg": "kilogram", "mg": "milligram", "t": "metric_ton", "lb": "pound", "oz": "ounce",
        "st": "stone", "mm": "millimeter", "cm": "centimeter", "m": "meter", "in": "inch", "ft": "foot",
        "l": "liter", "dl": "deciliter", "cl": "centiliter", "ml": "milliliter",
        "US gal": "gallon", "US qt": "quart", "US pt": "pint", "US fl oz": "fluid_ounce",
        "imp gal": "imperial_gallon", "imp qt": "imperial_quart", "imp pt": "imperial_pint",
        "imp fl oz": "imperial_fluid_ounce",
        "kPa": "kilopascal", "bar": "bar", "psi": "psi", "MPa": "megapascal", "kgf/cm2": "kgf/centimeter**2",
        "N.m": "newton*meter", "N.cm": "newton*centimeter", "daN.m": "decanewton*meter", "kgf.m": "kgf*meter",
        "km": "kilometer", "mi": "mile",
        "kgf.cm": "kgf*centimeter", "lbf.ft": "lbf*foot", "lbf.in": "lbf*inch", "ozf.in": "ozf*inch",
    }  # fmt: skip
    base = {
        "mass": "gram", "torque": "newton*meter", "length": "millimeter", "volume": "liter", "distance": "km",
        "pressure": "kilopascal",
    }  # fmt: skip
    expected = JUDGE.Quantity(float(digits), names[code]).to(base[dimension]).magnitude
    assert read(f"{digits} {code}", dimension).value == pytest.approx(expected, rel=1e-9)
    assert units.read_quantity(f"{digits} {code}", dimension).magnitude == pytest.approx(expected, rel=1e-9)


@given(st.sampled_from([code for dimension, code in OFFERED if dimension == "torque"]), st.integers(1, 999))
def test_force_and_arm_may_be_written_in_either_order(code, digits):
    force, arm = code.split(".")
    if force in ("N", "daN"):
        return
    assert read(f"{digits} {arm}-{force}", "torque").value == read(f"{digits} {force} {arm}", "torque").value


def test_a_place_ahead_of_the_axle_may_be_below_zero():
    assert read("-120", "length", "mm", signed=True).value == -120.0
    assert read("\u221212 cm", "length", "mm", signed=True).value == -120.0
    with pytest.raises(Refused):
        read("--120", "length", "mm", signed=True)


def test_what_was_typed_is_kept_with_its_unit():
    assert written("1,9", "mass", "kg") == "1,9 kg"
    assert written("1,9 kg", "mass", "g") == "1,9 kg"
    assert written_each(["20", "25"], "torque", "N.m") == ["20", "25 N.m"]
    assert written_each(["15 lbf ft", "25"], "torque", "N.m") == ["15 lbf ft", "25 N.m"]


@pytest.mark.parametrize(
    ("text", "dimension", "unit"),
    [
        ("20 → 35 ± 2 lbf.ft", "torque", "lbf.ft"),
        ("15 lbf ft – 20 lbf ft", "torque", "lbf.ft"),
        ("25 N.m", "torque", "N.m"),
        ("1,9kg", "mass", "kg"),
        ("1250 (− 30) g", "mass", "g"),
        ("1,9 kg (− 200 g)", "mass", "g"),
        ("25", "torque", None),
        (None, "torque", None),
    ],
)
def test_the_unit_that_a_text_ends_with(text, dimension, unit):
    assert last_unit(text, dimension) == unit


def test_every_reason_names_an_example_that_can_be_read():
    for dimension, text in unit_names.EXAMPLES.items():
        assert read(text, dimension).value > 0


def converted(*arguments):
    command = [sys.executable, "-m", "cotterbook.cli", "convert", *arguments]
    return subprocess.run(command, capture_output=True, text=True, check=False)


def test_the_command_says_a_quantity_in_the_units_that_forms_offer():
    done = converted("8 lbf ft")
    assert done.returncode == 0, done.stderr
    assert done.stdout.splitlines() == ["10.85 N.m", "1.106 kgf.m", "8 lbf.ft", "96 lbf.in"]
    assert converted("1 lb 4 oz").stdout.splitlines() == ["567 g", "0.567 kg", "1.25 lb", "20 oz"]


def test_the_command_refuses_with_a_reason():
    for text, words in (("8", "Give the unit too"), ("2 gal", "US gal or imp gal"), ("8 parsnips", "not known")):
        done = converted(text)
        assert done.returncode == 1 and words in done.stderr and not done.stdout, done


@pytest.mark.parametrize("typed", ["-", "\u2212", " - "])
def test_a_sign_alone_is_named_in_its_refusal(typed):
    with pytest.raises(Refused) as refused:
        read(typed, "mass", "kg", signed=True)
    assert refused.value.problems[0]["values"] == {"typed": typed.strip()}
