"""The range that is said to be accepted with a wrench: its very ends are accepted when they are what is applied."""

import json

import pytest
from hypothesis import given
from hypothesis import strategies as st
from test_tightening import STRIP, TOOL, Bench

from cotterbook.core.accepted_range import Proving, accepted_range
from cotterbook.core.figures import digits_after_point

NO_ARM = (None, None, 0.0)


def ends_of(answer):
    accepted = answer["accepted"]
    return None if accepted is None else (accepted["low"]["value"], accepted["high"]["value"])


def with_three(value):
    """What is typed for a torque: to a thousandth, as the ends are given at their finest."""
    return f"{value:.3f}"


# In whole thousandths, so that an end less the prevailing torque can be typed exactly.
thousandths = st.integers(1_000, 400_000).map(lambda value: value / 1000)
locking = st.none() | st.integers(100, 20_000).map(lambda value: value / 1000)
wrenches = st.fixed_dictionaries(
    {},
    optional={
        "deviation_percent": st.floats(0.1, 20.0),
        "step_newton_metres": st.sampled_from([0.1, 0.25, 0.5, 1.0, 2.0, 2.5]),
        "low_newton_metres": st.floats(0.5, 60.0),
        "high_newton_metres": st.floats(61.0, 500.0),
        "tool_type": st.sampled_from(["click", "dial", "bar", "screwdriver"]),
    },
)
arms = st.just({}) | st.fixed_dictionaries({
    "lever": st.floats(200.0, 600.0).map(lambda each: f"{each:.0f}"),
    "adapter": st.floats(10.0, 150.0).map(lambda each: f"{each:.0f}"),
    "adapter_degrees": st.floats(0.0, 180.0).map(lambda each: f"{each:.0f}"),
})  # fmt: skip


@given(low=thousandths, width=st.floats(0.0, 60.0), of_group=locking, own=locking, tool=wrenches, arm=arms)
def test_both_ends_come_out_accepted_where_they_are_applied(low, width, of_group, own, tool, arm):
    group = {"torque_low_newton_metres": low, "torque_high_newton_metres": low + width}
    bench = Bench(group | ({} if of_group is None else {"prevailing_newton_metres": of_group}), tool)
    form = {"with_tool": TOOL} | arm | ({} if own is None else {"prevailing": str(own)})
    answer = bench.setting(torque=with_three(low + width / 2), **form)
    if "problems" in answer or answer["result"]["accepted"] is None:
        return
    prevailing = own if own is not None else of_group or 0.0
    low_end, high_end = (float(end) for end in ends_of(answer["result"]))
    assert low_end <= high_end
    for end in (low_end, (low_end + high_end) / 2, high_end):
        if end - prevailing > 0:
            asked = bench.setting(torque=with_three(end - prevailing), **form)["result"]
            assert asked["judged"] == "accepted", (end, asked)
            # Whoever asks for an end gets the same range again.
            assert ends_of(asked) == ends_of(answer["result"])
    if not arm:
        assert bench.setting(setting=with_three(high_end), **form)["result"]["judged"] == "accepted"
        assert bench.setting(setting=with_three(low_end), **form)["result"]["judged"] == "accepted"


@given(low=thousandths, width=st.floats(0.0, 60.0), of_group=locking)
def test_no_wider_range_would_be_right(low, width, of_group):
    """Without a step or range of the wrench a hair outside is not accepted: nothing is given away but the rounding."""
    spec = {"low": low * 0.9, "high": low * 1.1 + width}
    proving = Proving(spec, {"deviation_percent": 4.0}, NO_ARM, of_group or 0.0, 0.1 if of_group else 0.0)
    found = accepted_range(proving)
    if found is None:
        assert not any(proving.proves(spec["low"] + (of_group or 0.0) + part * (spec["high"] - spec["low"]))
                       for part in (0.3, 0.5, 0.7))  # fmt: skip
        return
    # As finely as its uncertainty is shown, to the digit that is uncertain; the middle moves a little by rounding.
    middle = proving.spread(sum(found) / 2)
    grid = max(10.0 ** -max(0, min(3, digits_after_point(middle * part))) for part in (0.95, 1.05))
    if found[0] > 2 * grid:
        assert not proving.proves(found[0] - 1.001 * grid)
    assert not proving.proves(found[1] + 1.001 * grid)


def test_a_range_by_hand():
    """By hand: 4 % as a rectangle, k = 2, is 4.62 % (GUM 4.3.7). From 22.5 / (1 - 0.0462) = 23.59 to
    27.5 / (1 + 0.0462) = 26.29 N.m: the ends, not the middle, carry their own uncertainty."""
    answer = Bench({"torque_low_newton_metres": 25}).setting(torque="25")["result"]
    assert ends_of(answer) == ("23.6", "26.2")
    found = accepted_range(Proving({"low": 22.5, "high": 27.5}, {"deviation_percent": 4.0}, NO_ARM, 0.0, 0.0))
    assert found == pytest.approx((23.6, 26.2))
    assert Bench({"torque_low_newton_metres": 25}).setting(torque="27")["result"]["accepted"] == answer["accepted"]


def test_at_ten_newton_metres_the_permissible_deviation_changes_and_a_range_does_not_reach_over_it():
    """6 % up to 10 N.m (a maker's extract of ISO 6789, seen), 4 % above (ISO 6789-1, seen).

    Of 9.6 to 10.6 only what lies above 10 is sure: 9.6 / (1 - 0.0462) = 10.065 to 10.6 / 1.0462 =
    10.132, rounded inwards; at 10 and below 9.6 / (1 - 0.0693) = 10.3 is wanted.
    """
    found = accepted_range(Proving({"low": 9.6, "high": 10.6}, {}, NO_ARM, 0.0, 0.0))
    assert found == (10.07, 10.13)
    # 8 to 12: from 8 / (1 - 0.0693) = 8.6 to 12 / 1.0462 = 11.47, and what lies between is accepted too.
    low, high = accepted_range(Proving({"low": 8.0, "high": 12.0}, {}, NO_ARM, 0.0, 0.0))
    assert (low, high) == pytest.approx((8.6, 11.47), abs=0.005)
    wide = Proving({"low": 8.0, "high": 12.0}, {}, NO_ARM, 0.0, 0.0)
    assert all(wide.proves(low + (high - low) * part / 50) for part in range(51))


@pytest.mark.parametrize(
    ("tool", "expected"),
    [
        # Marks every 2 N.m, half of it a rectangle too (GUM 4.3.7): at 24 that is 1.60 in all, at 26 1.67, so 24 may be
        # 22.4 and 26 may be 27.7.
        ({"step_newton_metres": 2.0, "tool_type": "click"}, None),
        ({"step_newton_metres": 1.0, "tool_type": "click"}, ("24", "26")),
        # The wrench ends at 25.5, or begins at 24.5: beyond, nothing is proven.
        ({"high_newton_metres": 25.5}, ("23.6", "25.5")),
        ({"low_newton_metres": 24.5}, ("24.5", "26.2")),
        ({"high_newton_metres": 24.0, "low_newton_metres": 23.9}, ("23.9", "24")),
        ({"high_newton_metres": 20.0}, None),
        # Overdue, it proves nothing at all.
        ({"calibrated_on": "2024-01-01"}, None),
        ({"deviation_percent": 12.0}, None),
    ],
)
def test_the_range_ends_where_the_wrench_does(tool, expected):
    answer = Bench({"torque_low_newton_metres": 25}, tool).setting(torque="25", with_tool=TOOL)["result"]
    assert ends_of(answer) == expected


def test_nothing_here_is_written():
    bench = Bench({"torque_low_newton_metres": 25})
    before = json.dumps(bench.ask("view", strip=STRIP, view="back"))
    bench.setting(torque="25")
    assert json.dumps(bench.ask("view", strip=STRIP, view="back")) == before
