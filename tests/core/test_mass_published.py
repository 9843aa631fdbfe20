"""What a mass is uncertain by, against published figures and tables; each check names its source.

The step of a scale (GUM F.2.2.1), a range read by eye (EURACHEM QUAM) and the balance reading of the University of
Tartu are in `test_published_values.py`.
"""

import pytest
from scipy import stats

from cotterbook.core.amounts import COVERAGE, Amount, coverage_factor, together
from cotterbook.core.fluids import DENSITIES, fluid_amount
from cotterbook.core.made_of import made_of
from cotterbook.core.readings import looks_together, one_look
from cotterbook.core.scales import KNOWN_FRACTION, check_result, class_iii_limit
from cotterbook.core.strip import Strip
from cotterbook.core.words import Refused

ROOT_3 = 3.0**0.5


def seen(number, grams, step=1.0, **more):
    """A look at a scale."""
    return {"id": f"look {number}", "basis": "weighed", "grams": grams, "step_grams": step, "pieces": 1} | more


# Degrees of freedom


def test_effective_degrees_of_freedom_of_the_guides_own_example():
    """GUM G.4.1, from memory: 0.25, 0.57 and 0.82 % with 9, 4 and 14 degrees give 1.03 % and 19.0 of them."""
    found = Amount(100.0, {"a": (0.25, 9), "b": (0.57, 4), "c": (0.82, 14)})
    assert round(found.standard, 2) == 1.03
    assert round(found.freedom, 1) == 19.0


def test_effective_degrees_of_freedom_of_the_end_gauge():
    """GUM H.1, from memory: 25, 9.7, 2.9 and 16.6 nm with 18, 25.6, 50 and 2 degrees give 32 nm and 16 of them."""
    found = Amount(0.0, {"standard": (25.0, 18), "d": (9.7, 25.6), "alpha": (2.9, 50), "theta": (16.6, 2)})
    assert round(found.standard) == 32
    assert int(found.freedom) == 16


def test_what_is_shared_by_a_sum_keeps_its_degrees_and_what_is_known_for_sure_has_no_end_of_them():
    """GUM G.4.1 with one component that dominates: as many degrees as that one has; none without any."""
    assert Amount(1.0, {"scatter": (3.0, 4), "step": (0.0, None)}).freedom == pytest.approx(4.0)
    assert Amount(1.0, {"step": (3.0, None)}).freedom is None
    assert Amount(1.0, {"step": (3.0, None)}).factor == 2.0


@pytest.mark.parametrize(("freedom", "factor"), COVERAGE)
def test_the_coverage_factors_are_quantiles_of_students_t(freedom, factor):
    """GUM table G.2: t for 95.45 %, printed to two decimals and 100 degrees to three; the quantiles are scipy's."""
    exact = stats.t.ppf((1.0 + 0.9545) / 2.0, freedom)
    assert factor == pytest.approx(exact, abs=0.0051 if freedom < 100 else 0.00051)


def test_between_two_rows_the_lower_one_counts_and_k_is_never_below_two():
    """GUM G.4.1: degrees that are no whole number are cut to the next lower one."""
    assert coverage_factor(16.7) == coverage_factor(16) == 2.17
    assert coverage_factor(0.3) == coverage_factor(1)
    for freedom in (1, 2.5, 7, 99, 100, 299, 301, 1e9, None):
        assert coverage_factor(freedom) >= min(2.0, stats.norm.ppf(0.97725))


# Repeated readings


def test_repeated_readings_scatter_as_the_guide_says():
    """GUM 4.2.3: the mean's standard uncertainty is s / sqrt(n), n - 1 degrees; the error of the mean is scipy's."""
    grams = [412.0, 415.0, 411.0, 414.0]
    found = looks_together([seen(n, each) for n, each in enumerate(grams)])
    error, steps = stats.sem(grams), 1.0 / (2.0 * ROOT_3)
    assert found.grams == pytest.approx(413.0)
    assert found.standard == pytest.approx((error**2 + steps**2) ** 0.5)
    # The step does not scatter, so what few readings there are weighs by its share alone.
    assert found.freedom == pytest.approx(3.0 * found.standard**4 / error**4)
    assert found.expanded > 2.0 * found.standard


# Scales


@pytest.mark.parametrize(
    ("steps", "first_verification"), [(0, 0.5), (500, 0.5), (501, 1.0), (2000, 1.0), (2001, 1.5), (10_000, 1.5)]
)
@pytest.mark.parametrize("step", [0.1, 5.0, 20.0])
def test_class_iii_in_service(steps, first_verification, step):
    """OIML R 76-1, table 6: half a step to 500 of them, one to 2000, one and a half to 10000; twice that in service."""
    assert class_iii_limit(steps * step, step) == pytest.approx(2.0 * first_verification * step)


def test_class_iii_ends_at_ten_thousand_steps():
    """OIML R 76-1, table 3: class III has 10000 steps at most."""
    assert class_iii_limit(50_005.0, 5.0) is None
    with pytest.raises(Refused):
        class_iii_limit(float("nan"), 5.0)


def test_a_check_is_judged_by_en():
    """ISO 13528, from memory: En = |a - b| / sqrt(Ua^2 + Ub^2), by hand.

    1000 g within 1 g on a scale of 2 g steps that shows 1004 and states a gain of 0.5 %: half widths 1, 1 and 5,
    U = 2 / sqrt 3 x sqrt 27 = 6, En = 4 / 6. Without the gain U = 2 / sqrt 3 x sqrt 2, En = 2.45.
    """
    check = {
        "known_grams": 1000.0,
        "known_plus_minus_grams": 1.0,
        "grams": 1004.0,
        "step_grams": 2.0,
        "against": "coin",
    }
    stated = check_result(check, {"step_grams": 2.0, "gain_percent": 0.5})
    assert stated["en"] == pytest.approx(4.0 / 6.0)
    assert stated["verdict"] == "agrees"
    assert check_result(check, {"step_grams": 2.0})["en"] == pytest.approx(4.0 / (2.0 / ROOT_3 * 2.0**0.5))
    assert check_result(check, {"step_grams": 2.0})["verdict"] == "off"
    assert check_result(check | {"known_plus_minus_grams": 0.1}, {"step_grams": 0.1, "gain_percent": 1})["verdict"] == (
        "covered"
    )


def test_what_a_litre_of_water_weighs_finds_nothing_but_gross_faults():
    """A kitchen jug is good to 5 % (common practice, no source): 960 g shown for a litre is no fault that it finds."""
    litre = {"known_grams": 998.0, "grams": 960.0, "step_grams": 1.0, "against": "water"}
    assert KNOWN_FRACTION["water"] >= 0.05
    assert check_result(litre, {"step_grams": 1.0})["verdict"] == "agrees"
    assert check_result(litre | {"grams": 860.0}, {"step_grams": 1.0})["verdict"] == "off"


@pytest.mark.parametrize(
    ("grams", "most"), [(100.0, 0.05), (1_000.0, 0.5), (2_000.0, 1.0), (5_000.0, 2.5), (20_000.0, 10.0)]
)
def test_a_reference_weight_of_which_nothing_is_said_is_one_of_class_m3(grams, most):
    """OIML R 111-1, table 1, from memory: class M3 may be off by 50 mg at 100 g, 0.5 g at 1 kg and 10 g at 20 kg.

    Half widths of that and of half a step, U = 2 / sqrt 3 x their root of squares (GUM 4.3.7), by hand.
    """
    check = {"known_grams": grams, "grams": grams, "step_grams": 1.0, "against": "reference_weight"}
    assert check_result(check, {})["expanded"] == pytest.approx(2.0 / ROOT_3 * (most**2 + 0.5**2) ** 0.5)


def test_what_a_coin_finds_is_as_coarse_as_a_worn_coin():
    """A worn, dirty coin is good to 2 % (common practice, no source): 7.6 g for 7.5 g tells nothing, 8.5 g does."""
    coin = {"known_grams": 7.5, "grams": 7.6, "step_grams": 0.1, "against": "coin"}
    assert check_result(coin, {})["expanded"] == pytest.approx(2.0 / ROOT_3 * (0.15**2 + 0.05**2) ** 0.5)
    assert [check_result(coin | {"grams": grams}, {})["verdict"] for grams in (7.6, 8.5)] == ["agrees", "off"]


# Estimates and fluids


@pytest.mark.parametrize(("maturity", "growth"), [("known", 0.05), ("similar", 0.10), ("guess", 0.20)])
def test_estimates_grow_by_their_maturity(maturity, growth):
    """ECSS heritage categories: 5 % off the shelf, 10 % modified, 20 % new, taken as the half width of a rectangle."""
    estimate = {"id": "look", "basis": "estimated", "maturity": maturity, "grams": 1500.0, "pieces": 1}
    assert one_look(estimate).standard == pytest.approx(growth * 1500.0 / ROOT_3)


def test_petrol_by_its_litres():
    """EN 228: 720 to 775 kg/m3 at 15 C. Twelve litres within half a litre: 8.97 kg, by hand.

    Half widths: 12 x 27.5 = 330 g of density, 0.5 x 747.5 = 373.75 g of litres.
    """
    assert DENSITIES["petrol"][:2] == (720.0, 775.0)
    found = fluid_amount("petrol", 12.0, 0.5, "look")
    assert found.grams == pytest.approx(12.0 * 747.5)
    assert found.standard == pytest.approx((330.0**2 + 373.75**2) ** 0.5 / ROOT_3)


def test_water_weighs_what_tables_say():
    """CIPM 2001, from memory: 998.2 g a litre at 20 C, 999.97 at 4 C, 995.65 at 30 C: all within our range."""
    low, high, _ = DENSITIES["water"]
    assert all(low <= table <= high for table in (998.2, 999.97, 995.65))


def test_density_is_one_cause_for_all_of_a_fluid():
    """Two lots of one fluid share its density: 3 + 4 litres are as uncertain by it as 7 (GUM 5.2.2, correlation 1)."""
    apart = together([fluid_amount("engine_oil", 3.0, 0.0, "a"), fluid_amount("engine_oil", 4.0, 0.0, "b")])
    assert apart.standard == pytest.approx(fluid_amount("engine_oil", 7.0, 0.0, "c").standard)


def test_of_many_causes_the_smaller_ones_are_told_together():
    """Four causes by name and all else, which together make up all of the variance."""
    kinds = ("step", "range", "given", "document", "scatter", "pieces", "litres")
    amount = Amount(1000.0, {f"{kind}:x": (float(size), None) for size, kind in enumerate(kinds, 1)})
    told = made_of(Strip("strip"), amount)
    assert [each["what"]["text"] for each in told][0] == "Litres as read"
    assert told[4]["what"]["text"] == "All else"
    # 1, 4 and 9 of 1 + 4 + 9 + 16 + 25 + 36 + 49 = 140.
    assert [each["percent"] for each in told] == [35, 26, 18, 11, 10]
