"""The guard-band rule: worked decisions of JCGM 106, the risk that it leaves, and its laws."""

import math
from statistics import NormalDist

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cotterbook.core.conformity import ACCEPTED, DOUBTFUL, REFUSED, is_too_coarse, limits, verdict
from cotterbook.core.words import Refused

NORMAL = NormalDist()
WIDE = 1e6
figures = st.floats(0.0, 2_000.0, allow_nan=False)
spreads = st.floats(0.0, 200.0, allow_nan=False)


def ends(one, other):
    return min(one, other), max(one, other)


# (what, value, standard uncertainty, low, high, conformance probability as printed, verdict with U = 2 u)
WORKED = [
    # JCGM 106:2012, 7.4 (from memory): a diode's breakdown voltage of 5.47 V, u = 0.05 V, at least 5.40 V: 92 %.
    ("diode", 5.47, 0.05, 5.40, WIDE, 0.92, DOUBTFUL),
    # JCGM 106:2012, 7.4 (from memory): a container's burst pressure of 509.7 kPa, u = 8.6 kPa, at least 490 kPa: 99 %.
    ("container", 509.7, 8.6, 490, WIDE, 0.99, ACCEPTED),
    # JCGM 106:2012, 8.3.3 (from memory): 107 km/h by radar, u = 2 %, limit 100: at least 99.9 % sure that it is over.
    ("speed", 107, 2.14, 0, 100, 0.001, REFUSED),
]


@pytest.mark.parametrize(("value", "standard", "low", "high", "probability", "expected"), [row[1:] for row in WORKED])
def test_the_worked_decisions_of_jcgm_106(value, standard, low, high, probability, expected):
    within = NORMAL.cdf((high - value) / standard) - NORMAL.cdf((low - value) / standard)
    assert within == pytest.approx(probability, abs=0.006)
    assert verdict(value, 2 * standard, low, high)[0] == expected


@pytest.mark.parametrize(
    ("value", "expected"),
    [
        (18.9, (REFUSED, "low")), (19.0, (DOUBTFUL, "low")), (20.9, (DOUBTFUL, "low")), (21.0, (ACCEPTED, None)),
        (22.5, (ACCEPTED, None)), (24.0, (ACCEPTED, None)), (24.1, (DOUBTFUL, "high")), (26.0, (DOUBTFUL, "high")),
        (26.1, (REFUSED, "high")),
    ],
)  # fmt: skip
def test_the_zones_of_iso_14253_1(value, expected):
    """Conformance, uncertainty and non-conformance zones of ISO 14253-1, with U = 1 and a specification of 20 to 25."""
    assert verdict(value, 1.0, 20.0, 25.0) == expected


@given(value=figures, standard=st.floats(0.01, 100.0), limit=figures)
def test_what_is_accepted_conforms_with_at_least_977_parts_in_1000(value, standard, limit):
    """A guard band of 2 u at one limit leaves a risk of 1 - Phi(2) = 2.3 % (ILAC-G8:09/2019: below 2.5 % for w = U)."""
    found, _ = verdict(value, 2.0 * standard, limit, WIDE)
    conforms = NORMAL.cdf((value - limit) / standard)
    sure = NORMAL.cdf(2.0)
    assert (found == ACCEPTED) == (conforms >= sure) or math.isclose(conforms, sure, rel_tol=1e-6)
    assert (found == REFUSED) == (conforms < 1.0 - sure) or math.isclose(conforms, 1.0 - sure, rel_tol=1e-4)


@given(value=figures, spread=spreads, one=figures, other=figures)
def test_accepted_lies_inside_with_all_of_its_uncertainty_and_refused_outside(value, spread, one, other):
    low, high = ends(one, other)
    found, side = verdict(value, spread, low, high)
    blur = 2e-9 * high
    if found == ACCEPTED:
        assert low - blur <= value - spread and value + spread <= high + blur and side is None
    elif found == REFUSED:
        assert value + spread < low if side == "low" else value - spread > high
    else:
        crosses_low, crosses_high = value - spread < low <= value + spread, value - spread <= high < value + spread
        assert crosses_low or crosses_high or math.isclose(abs(value - low), spread, rel_tol=1e-6, abs_tol=1e-6)


@given(value=figures, spread=spreads, more=spreads, one=figures, other=figures)
def test_a_worse_wrench_never_proves_more(value, spread, more, one, other):
    """More uncertainty never turns refused or doubtful into accepted, nor accepted or doubtful into refused."""
    low, high = ends(one, other)
    before, after = verdict(value, spread, low, high)[0], verdict(value, spread + more, low, high)[0]
    assert after in (before, DOUBTFUL)


@given(value=figures, spread=spreads, one=figures, other=figures, wider=spreads)
def test_a_wider_specification_never_turns_accepted_into_less(value, spread, one, other, wider):
    low, high = ends(one, other)
    if verdict(value, spread, low, high)[0] == ACCEPTED:
        assert verdict(value, spread, max(0.0, low - wider), high + wider)[0] == ACCEPTED


@given(offset=st.floats(-50, 50), spread=st.floats(0, 20), half=st.floats(0, 30))
def test_the_guard_band_is_the_same_on_both_sides(offset, spread, half):
    low, high = 100 - half, 100 + half
    below, above = verdict(100 - offset, spread, low, high), verdict(100 + offset, spread, low, high)
    close = [abs(abs(offset) - edge) < 1e-6 for edge in (half - spread, half + spread)]
    mirrored = {"low": "high", "high": "low", None: None}
    assert any(close) or below == (above[0], mirrored[above[1]])


@given(value=figures, spread=spreads, one=figures, other=figures)
def test_where_the_wrench_is_too_coarse_nothing_is_accepted(value, spread, one, other):
    low, high = ends(one, other)
    if is_too_coarse(spread, low, high):
        assert verdict(value, spread, low, high)[0] != ACCEPTED
    elif high > 0.0:
        middle = (low + high) / 2.0
        assert verdict(middle, min(spread, (high - low) / 2.0), low, high)[0] == ACCEPTED


@given(low=st.floats(0.001, 1e5), tolerance=st.none() | st.floats(0.0, 1e5))
def test_limits_hold_the_value_and_are_finite(low, tolerance):
    try:
        found = limits(low, low, tolerance)
    except Refused as refused:
        assert tolerance >= low and refused.problems[0]["code"] == "tolerance_too_wide"
        return
    assert 0.0 < found["low"] <= low <= found["high"] and math.isfinite(found["high"])
    assert found["assumed"] == (tolerance is None)
    assert found["high"] - low == pytest.approx(low - found["low"], abs=1e-6)


@pytest.mark.parametrize("bad", [float("nan"), float("inf"), -1.0, 1e7, None, "20", True])
def test_what_is_no_figure_is_refused_and_never_judged(bad):
    for at in range(4):
        arguments = [20.0, 1.0, 18.0, 22.0]
        arguments[at] = bad
        with pytest.raises(Refused) as caught:
            verdict(*arguments)
        assert caught.value.problems[0]["code"] in ("not_a_number", "out_of_range")
