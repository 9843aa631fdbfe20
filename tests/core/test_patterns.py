"""The order of tightening: the published one, and laws that hold for any number of fasteners."""

from itertools import combinations
from math import dist

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cotterbook.core.limits import PATTERNS
from cotterbook.core.patterns import (
    DRAWN_UP_TO,
    FEWEST,
    MOST,
    fitting,
    order,
    pattern_view,
    places,
    stages,
    suggested,
)
from cotterbook.core.words import Refused, spoken

counts = st.integers(FEWEST, MOST)


def fits(pattern, count):
    try:
        return order(pattern, count)
    except Refused:
        return None


@pytest.mark.parametrize("pattern", ["ring", "cross"])
def test_pairs_as_mil_hdbk_60_has_them(pattern):
    """MIL-HDBK-60 5.7, seen: an opposite pair, the opposite pair at 90 degrees, then the pairs between."""
    assert order(pattern, 8) == [1, 5, 3, 7, 2, 6, 4, 8]
    assert order("ring", 4) == [1, 3, 2, 4]
    assert order("ring", 12)[:4] == [1, 7, 4, 10]


def test_orders_of_common_practice():
    """No source: each time on to the far side; from the middle outwards."""
    assert order("star", 5) == [1, 3, 5, 2, 4]
    assert order("pair", 2) == [1, 2]
    assert order("row", 5)[0] == 3 and set(order("row", 5)[-2:]) == {1, 5}
    assert set(order("spiral", 8)[:4]) == {2, 3, 6, 7}


@given(pattern=st.sampled_from(PATTERNS), count=counts)
def test_every_place_comes_once_and_lies_in_the_drawing(pattern, count):
    numbered = fits(pattern, count)
    if numbered is None:
        return
    assert sorted(numbered) == list(range(1, count + 1))
    spots = places(pattern, count)
    assert len(spots) == count == len(set(spots))
    assert all(0.0 <= x <= 1.0 and 0.0 <= y <= 1.0 for x, y in spots)


@given(count=st.integers(2, 250))
def test_the_second_of_each_pair_is_across_from_the_first(count):
    numbered = fits("ring", 2 * count)
    for first, second in zip(numbered[::2], numbered[1::2], strict=True):
        assert (second - first) % (2 * count) == count


@given(count=st.integers(1, 249))
def test_no_star_goes_on_to_a_neighbour(count):
    odd = 2 * count + 1
    numbered = order("star", odd)
    for one, other in zip(numbered, numbered[1:], strict=False):
        assert min((one - other) % odd, (other - one) % odd) == count


@given(count=st.integers(2, 500))
def test_a_row_is_tightened_outwards(count):
    away = [abs(place - (count + 1) / 2) for place in order("row", count)]
    assert away == sorted(away)


@pytest.mark.parametrize(
    ("pattern", "count"),
    [("pair", 3), ("cross", 3), ("cross", 2), ("star", 4), ("ring", 2), ("spiral", 2), ("row", 1), ("row", 501),
     ("heart", 4), (None, 4)],
)  # fmt: skip
def test_a_pattern_that_does_not_fit_is_refused(pattern, count):
    for call in (order, places):
        with pytest.raises(Refused):
            call(pattern, count)


@given(count=st.integers(-5, 600))
def test_what_is_offered_fits(count):
    pattern = suggested(count)
    assert fitting(count) == [each for each in PATTERNS if fits(each, count) is not None]
    assert (pattern is None) == (not FEWEST <= count <= MOST)
    if pattern is not None:
        order(pattern, count)


@given(pattern=st.sampled_from([None, *PATTERNS]), count=counts)
def test_the_drawing_numbers_its_places_in_turn_and_says_how_they_are_counted(pattern, count):
    view = pattern_view(pattern, count)
    if "order" not in view:
        assert pattern is None or spoken(view["trouble"])
        return
    numbers = [spot["number"] for spot in view["places"]]
    assert (numbers == []) == (count > DRAWN_UP_TO)
    assert all(view["order"][number - 1] == place + 1 for place, number in enumerate(numbers))
    assert spoken(view["counted"])


@given(pattern=st.sampled_from(PATTERNS), count=st.integers(FEWEST, DRAWN_UP_TO))
def test_marks_and_numbers_of_a_drawing_lie_apart_and_inside_its_box(pattern, count):
    """By geometry alone, no source: two circles are apart when their middles are further apart than both radii."""
    view = pattern_view(pattern, count)
    if "order" not in view:
        return
    box, spots = view["drawing"], view["places"]
    for one, other in combinations(spots, 2):
        assert dist((one["x"], one["y"]), (other["x"], other["y"])) > 2 * box["radius"]
        # Two digits are about as wide as they are high.
        numbers = [(spot["x"], spot["number_y"]) for spot in (one, other)]
        assert dist(*numbers) > 0.95 * box["height"]
    half = max(box["radius"], box["height"] / 2)
    for spot in spots:
        assert box["left"] <= spot["x"] - half and spot["x"] + half <= box["left"] + box["width"]
        for y in (spot["y"], spot["number_y"]):
            assert box["top"] <= y - half and y + half <= box["top"] + box["tall"]


def test_stages():
    """Army TM 5-3805-298-23-2, seen: above 41 N.m first 70 % in the pattern, then all of it; the manual's own first."""
    assert [each["newton_metres"] for each in stages(41.0, [])] == [41.0]
    assert [each["newton_metres"] for each in stages(100.0, [])] == [pytest.approx(70.0), 100.0]
    assert [each["newton_metres"] for each in stages(100.0, [20.0, 60.0])] == [20.0, 60.0, 100.0]


@given(target=st.floats(0.1, 2000), own=st.lists(st.floats(0.1, 2000), max_size=4))
def test_the_last_stage_is_the_whole_torque(target, own):
    found = stages(target, own)
    assert found[-1]["newton_metres"] == target
    assert all(each["source"]["text"] for each in found)
