"""The bolt length that a grip asks for: lengths that are made, and long enough to hold."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cotterbook.core.lengths import (
    ENGAGEMENT,
    LONGEST_GRIP,
    NOMINAL,
    NOMINAL_EIGHTHS,
    made_lengths,
    nut_height,
    usual_lengths,
)
from cotterbook.core.threads import THREADS, coarse, thread_named
from cotterbook.core.threads_table import INCH
from cotterbook.core.words import Refused, spoken
from independent_tables import column, table


def made(standard):
    return [float(each) for each in table("nominal_screw_lengths")[standard]["Nominal_Sizes"].split(",")]


def test_lengths_are_those_that_another_table_has():
    """ISO 4762 of bd_warehouse 0.4.0, from 4 to 300 mm, all of them; ISO 4014 has none between that we lack."""
    assert list(NOMINAL) == [each for each in made("iso4762") if 4 <= each <= 300]
    assert {each for each in made("iso4014") if each <= 300} <= set(NOMINAL)


def test_lengths_in_inches_are_those_that_another_table_has():
    """ASME B18.3 of bd_warehouse 0.4.0, which rounds to a hundredth: ours from 3/4 to 12 inches, all of them."""
    theirs = {round(each * 8) for each in made("asme_b18.3") if each <= 12}
    assert {each for each in NOMINAL_EIGHTHS if each >= 6} == theirs
    called = [each for _, each in made_lengths(thread_named("1/4-20 UNC"))]
    assert called[:9] == ["1/4 in", "3/8 in", "1/2 in", "5/8 in", "3/4 in", "7/8 in", "1 in", "1 1/4 in", "1 1/2 in"]


def test_nut_heights():
    """ISO 4032 of bd_warehouse 0.4.0; ASME B18.2.2 and BS 1083 from memory: 7/32 and 0.2 inch for 1/4."""
    for d, high in column("hex_nut_parameters", "iso4032:m").items():
        if coarse(d) is not None:
            assert nut_height(coarse(d)) == float(high)
    assert nut_height(thread_named("1/4-20 UNC")) == pytest.approx(7 / 32 * INCH)
    assert nut_height(thread_named("1/4-20 BSW")) == pytest.approx(0.2 * INCH)
    assert nut_height(coarse(7)) is None and nut_height(thread_named("#10-24 UNC")) is None


def millimetres(found):
    return [each["millimetres"] for each in found["lengths"]]


# By hand: grip + nut of ISO 4032 + two threads; grip + 1 to 1.5 d in steel, 1.5 to 2 d in aluminium (common practice).
BY_HAND = (
    ("M8", 20, "loose_nut", None, "29.3", [30, 35, 40, 45][:3]), ("M6", 12, "steel", None, "18", [20]),
    ("M8", 10, "cast_aluminium", None, "22", [25]), ("M10", 30, None, 15, "45", [45, 50]),
    ("M10×1.25", 10, "cast_aluminium", None, "25", [25, 30]), ("M6", 0, "magnesium", None, "12", [12]),
    ("M20", 250, "loose_nut", None, "273", [280, 300]),
)  # fmt: skip


@pytest.mark.parametrize(("thread", "grip", "into", "engagement", "least", "lengths"), BY_HAND)
def test_lengths_worked_by_hand(thread, grip, into, engagement, least, lengths):
    found = usual_lengths(thread_named(thread), grip, into, engagement)
    assert (found["least"], millimetres(found)) == (least, lengths)
    assert [each["called"] for each in found["lengths"]] == [f"{each} mm" for each in lengths]
    assert spoken(found["why"])


threads = st.sampled_from(THREADS)
intos = st.sampled_from([*ENGAGEMENT, "loose_nut"])


@given(threads, st.floats(0, LONGEST_GRIP), intos, st.one_of(st.none(), st.floats(0.1, 200)))
def test_what_is_offered_is_made_and_long_enough(thread, grip, into, engagement):
    try:
        found = usual_lengths(thread, grip, into, engagement)
    except Refused as refused:
        assert into == "loose_nut" and [each["code"] for each in refused.problems] == ["no_table"]
        return
    lengths, comes_in = millimetres(found), [each for each, _ in made_lengths(thread)]
    assert len(lengths) <= 3 and lengths == sorted(lengths) and set(lengths) <= set(comes_in)
    assert all(length >= float(found["least"]) - 0.006 for length in lengths)
    if lengths:
        shorter = [length for length in comes_in if length < lengths[0]]
        assert not shorter or shorter[-1] < float(found["least"]) + 0.006
    else:
        assert float(found["least"]) > comes_in[-1] - 0.006


@given(threads, st.floats(0, 100), st.floats(0, 100), intos)
def test_a_thicker_grip_asks_for_no_shorter_bolt(thread, grip, more, into):
    if into == "loose_nut" and nut_height(thread) is None:
        return
    shorter, longer = (millimetres(usual_lengths(thread, each, into)) for each in (grip, grip + more))
    assert shorter[0] <= longer[0]


@pytest.mark.parametrize("grip", [-0.1, 250.1, 1e300, float("nan"), float("inf"), None, "12", True, []])
def test_a_grip_that_cannot_be_is_refused(grip):
    with pytest.raises(Refused) as refused:
        usual_lengths(coarse(8), grip, "steel")
    assert refused.value.problems[0]["field"] == "grip"


@pytest.mark.parametrize("engagement", [0.0, -1.0, 200.1, float("nan"), float("inf"), "5", True])
def test_an_engagement_that_cannot_be_is_refused(engagement):
    with pytest.raises(Refused) as refused:
        usual_lengths(coarse(8), 10, None, engagement)
    assert refused.value.problems[0]["field"] == "engagement"


@pytest.mark.parametrize("into", [None, "", "plastic", "other", 5])
def test_without_what_it_screws_into_nothing_is_guessed(into):
    with pytest.raises(Refused) as refused:
        usual_lengths(coarse(8), 10, into)
    assert refused.value.problems[0]["field"] == "into"
