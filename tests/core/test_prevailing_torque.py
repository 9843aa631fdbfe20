"""The prevailing torque of a locking nut: how well it is known, and which one counts when it changes afterwards."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from test_tightening import GROUP, TOOL, Bench
from uncertainties import ufloat

from cotterbook.core import torque
from cotterbook.core.words import spoken

ROOT_3 = math.sqrt(3.0)


def test_by_hand_its_own_uncertainty_goes_beside_the_wrenchs():
    """By hand, GUM 4.3.7 and 5.1.2, k = 2: 27 N.m at 4 % are 27 x 0.04 x 2/sqrt 3 = 1.247, 5 N.m at 6 % 0.346, the
    difference 22 +- sqrt(1.247^2 + 0.346^2) = 1.294. The nut's torque is added: AC 43.13-1B 7-40d (seen)."""
    bench = Bench({"torque_low_newton_metres": 22})
    answer = bench.setting(torque="22", prevailing="5")["result"]
    shown = [(answer[name]["value"], answer[name]["plus_minus"]) for name in ("applied", "prevailing", "clamping")]
    assert shown == [("27.0", "1.2"), ("5.00", "0.35"), ("22.0", "1.3")]
    entry = bench.tighten(torque="22", prevailing="5")
    assert entry["expanded_newton_metres"] == pytest.approx(1.247, abs=0.001)
    assert entry["prevailing_expanded_newton_metres"] == pytest.approx(0.346, abs=0.001)
    last = bench.last()
    assert (last["clamping"]["value"], last["clamping"]["plus_minus"]) == ("22.0", "1.3")


def test_it_can_turn_accepted_into_doubtful():
    """20.02 to 24.0 around 22: 27.7 - 5 = 22.7 +- 1.28 reaches 23.98 by the wrench alone, 24.03 with the nut."""
    spec = {"torque_low_newton_metres": 20.02, "torque_high_newton_metres": 24.0}
    sure = Bench(spec).setting(torque="22.7")["result"]
    assert sure["judged"] == "accepted"
    in_doubt = Bench(spec).setting(torque="22.7", prevailing="5")["result"]
    assert in_doubt["judged"] == "doubtful" and in_doubt["side"] == "high"


@given(
    applied=st.floats(1.0, 400.0), part=st.floats(0.0, 0.9), deviation=st.floats(0.5, 15.0),
    step=st.sampled_from([None, 0.1, 0.5, 2.0]),
)  # fmt: skip
def test_the_difference_as_a_reference_library_propagates_it(applied, part, deviation, step):
    """The package `uncertainties`: two readings of one wrench, each with its own deviation and step."""
    bench = Bench({}, {"deviation_percent": deviation, "step_newton_metres": step, "tool_type": "dial"})
    prevailing = float(f"{applied * part:.3f}")
    entry = bench.tighten(setting=f"{applied:.6f}", prevailing=str(prevailing), with_tool=TOOL)

    def read(value):
        return value * ufloat(1.0, deviation / 100 / ROOT_3) + (ufloat(0.0, step / 2 / ROOT_3) if step else 0.0)

    expected = read(float(f"{applied:.6f}")) - (read(prevailing) if prevailing else 0.0)
    left, spread = torque.clamping(torque.held(entry, None))
    assert left == pytest.approx(expected.nominal_value, abs=1e-9)
    assert spread == pytest.approx(2 * expected.std_dev, rel=1e-6)


def test_each_says_on_what_it_rests():
    of_group = Bench({"torque_low_newton_metres": 22, "prevailing_newton_metres": 3})
    assert "written down for these" in spoken(of_group.setting(torque="22")["result"]["basis_of_prevailing"])
    assert "±6 %" in spoken(of_group.setting(torque="22")["result"]["basis_of_prevailing"])
    own = of_group.setting(torque="22", prevailing="2")["result"]["basis_of_prevailing"]
    assert "read with this wrench" in spoken(own)
    assert Bench({"torque_low_newton_metres": 22}).setting(torque="22")["result"]["basis_of_prevailing"] is None


def test_one_written_down_later_counts_and_that_is_said():
    """25 N.m were applied. As nothing else was known, all of it tightened: above 22 with 10 % on either side. The nut
    takes 3 of them."""
    bench = Bench({"torque_low_newton_metres": 22})
    bench.tighten(torque="25")
    assert bench.last()["judged"] == "doubtful" and bench.last()["later"] is None
    bench.put(GROUP, "group", {"prevailing_newton_metres": 3})
    last = bench.last()
    assert (last["judged"], last["prevailing"]["value"], last["clamping"]["value"]) == ("accepted", "3.00", "22.0")
    assert spoken(last["later"]).startswith("The prevailing torque, 3 N.m, was written down after this tightening")


def test_one_put_right_later_counts_as_it_stands_now_and_what_is_open_follows():
    bench = Bench({"torque_low_newton_metres": 22, "prevailing_newton_metres": 3})
    bench.tighten(torque="22")
    assert bench.last()["judged"] == "accepted" and bench.last()["later"] is None
    assert bench.needs() == ["mark"]
    bench.put(GROUP, "group", {"prevailing_newton_metres": 8})
    assert bench.last()["judged"] == "refused" and bench.last()["later"] is not None
    assert bench.needs() == ["torque", "mark"]
    bench.put(GROUP, "group", {"prevailing_newton_metres": None})
    assert bench.last()["judged"] == "doubtful"
    assert "taken back" in spoken(bench.last()["later"]) and bench.last()["prevailing"] is None


@pytest.mark.parametrize(("own", "judged"), [("3", "accepted"), ("0", "doubtful")])
def test_its_own_stands_whatever_is_written_down_for_the_group_later(own, judged):
    """25 N.m: less 3 are 22, less nothing 25, within 1.2 of the upper end at 24.2."""
    bench = Bench({"torque_low_newton_metres": 22, "prevailing_newton_metres": 3})
    entry = bench.tighten(setting="25", prevailing=own)
    assert entry["prevailing_newton_metres"] == float(own)
    assert bench.last()["judged"] == judged
    bench.put(GROUP, "group", {"prevailing_newton_metres": 12})
    assert bench.last()["judged"] == judged and bench.last()["later"] is None


@given(own=st.none() | st.floats(0.0, 30.0), of_group=st.none() | st.floats(0.01, 30.0), applied=st.floats(0.5, 60.0))
def test_which_one_counts(own, of_group, applied):
    entry = {"newton_metres": applied} | ({} if own is None else {"prevailing_newton_metres": own})
    kept = torque.held(entry, of_group)
    assert kept["prevailing_newton_metres"] == (own if own is not None else of_group or 0.0)
    left, spread = torque.clamping(kept)
    assert 0.0 <= left <= applied and spread >= torque.expanded_of(entry)
