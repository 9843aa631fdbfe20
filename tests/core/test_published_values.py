"""The arithmetic against figures and libraries from outside the project; each check names its source."""

import math

import pint
import pytest

from cotterbook.core import amounts, entries, figures, readings, values

UNITS = pint.UnitRegistry()


@pytest.mark.parametrize(("ours", "theirs"), [("g", "gram"), ("kg", "kilogram"), ("lb", "pound"), ("oz", "ounce")])
def test_units_of_mass_agree_with_pint(ours, theirs):
    assert figures.GRAMS_IN[ours] == pytest.approx(UNITS(theirs).to("gram").magnitude, rel=1e-15)


@pytest.mark.parametrize(
    ("ours", "theirs"),
    [
        ("N.m", "newton * metre"),
        ("kgf.m", "kilogram_force * metre"),
        ("lbf.ft", "pound_force * foot"),
        ("lbf.in", "pound_force * inch"),
    ],
)
def test_units_of_torque_agree_with_pint(ours, theirs):
    assert figures.NEWTON_METRES_IN[ours] == pytest.approx(UNITS(theirs).to("N * m").magnitude, rel=1e-15)


def test_a_digital_step_is_worth_029_of_itself():
    """GUM F.2.2.1: the standard uncertainty of an indication with resolution delta is 0.29 delta."""
    look = readings.one_look({"basis": "weighed", "grams": 100.0, "step_grams": 1.0})
    assert round(look.standard, 2) == 0.29


def test_a_range_of_7_to_10():
    """EURACHEM QUAM, appendix E: half the width over the root of three; 7 to 10 gives 0.87."""
    look = readings.one_look({"basis": "weighed", "low_grams": 7.0, "high_grams": 10.0})
    assert (look.grams, round(look.standard, 2)) == (8.5, 0.87)


def test_a_balance_reading_worked_out_by_the_university_of_tartu():
    """0.3240 g: repeatability 0.00017, drift +-0.0002 and readability +-0.00005, both rectangular; u = 0.000207525."""
    look = readings.one_look({"basis": "weighed", "grams": 0.3240, "step_grams": 0.0001, "plus_minus_grams": 0.0002})
    repeated = amounts.Amount(0.0, {"scatter": (0.00017, None)})
    assert amounts.together([look, repeated]).standard == pytest.approx(0.000207525, abs=5e-10)


def test_the_time_in_an_identifier():
    """RFC 9562, appendix A.6 (from memory): this identifier is of 22 February 2022, 19:22:22 UTC."""
    identifier = "017f22e2-79b0-7cc3-98c4-dc0c0c07398f"
    assert values.is_id(identifier)
    assert entries.wall_clock_ms(identifier) == 1_645_557_742_000


def test_two_digits_of_an_uncertainty():
    """GUM 7.2.6: two significant digits of an uncertainty, but no finer than `most` decimals; worked by hand.

    Its own example, from memory: 10.057 62 ohm known within 27 milliohm is written 10.058 ohm.
    """
    assert figures.shown_with(10.05762, 0.027, "ohm", 6) == {"value": "10.058", "plus_minus": "0.027", "unit": "ohm"}
    assert figures.shown_grams(-12345.6, 12.0) == {"value": "-12.346", "plus_minus": "0.024", "unit": "kg"}
    assert figures.shown_grams(412.0, 0.29) == {"value": "412.0", "plus_minus": "0.6", "unit": "g"}
    # Where one digit would give a sixth of it away: 3.49 is not 3, and 0.0996 is 0.10.
    assert figures.shown_grams(1234.0, 1.745) == {"value": "1.2340", "plus_minus": "0.0035", "unit": "kg"}
    assert figures.shown_with(5.0, 0.0996, "N.m", 3) == {"value": "5.00", "plus_minus": "0.10", "unit": "N.m"}
    assert figures.shown_with(5.0, 9.96, "N.m", 3) == {"value": "5", "plus_minus": "10", "unit": "N.m"}
    # A mass no finer than a tenth of a gram, in kilograms too; what is less counts as that.
    assert figures.shown_grams(1412.0, 0.02) == {"value": "1.4120", "plus_minus": "0.0001", "unit": "kg"}
    # Two digits above a hundred too, and a figure smaller than its uncertainty keeps its first digit.
    assert figures.shown_grams(622.0, 138.0) == {"value": "620", "plus_minus": "280", "unit": "g"}
    assert figures.shown_grams(166.2, 409.7) == {"value": "170", "plus_minus": "820", "unit": "g"}
    assert figures.shown_grams(5.0, 20.0) == {"value": "5", "plus_minus": "40", "unit": "g"}
    assert figures.shown_grams(999.6, 150.0) == {"value": "1000", "plus_minus": "300", "unit": "g"}
    assert figures.shown_grams(0.0, 0.0) == {"value": "0", "plus_minus": None, "unit": "g"}
    assert math.isclose(figures.digits_after_point(0.024), 3)


@pytest.mark.parametrize(
    ("value", "expanded", "place"),
    [(12.34, 0.5, -1), (12.34, 5.0, -1), (12.0, 40.0, 0), (622.0, 280.0, 1), (-622.0, 280.0, 1), (5_210.0, 2_800.0, 2),
     (40.0, 2_800.0, 1), (5.0, 400.0, 0), (25.0, 0.0, 0), (120.0, 99.6, 1)],
)  # fmt: skip
def test_the_last_place_of_a_figure_is_the_one_it_was_rounded_to(value, expanded, place):
    """GUM 7.2.6: a figure ends where its uncertainty's two digits end, tens and hundreds too; by hand."""
    shown = figures.shown_with(value, expanded, "g", 1)
    assert figures.last_place(shown) == place
    assert abs(float(shown["value"]) - value) <= 0.5 * 10.0**place
