"""The tally check: planted slips are found again, nothing is found that does not fit, and what that tells is said."""

import itertools
import json
import random
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from machine_shop import Shop

from cotterbook.core import tally
from cotterbook.core.figures import GRAMS_IN, read_figure
from cotterbook.core.tally_search import MOST_LISTED
from cotterbook.core.words import Refused, spoken

# The heaviest total that anybody may give (views_tally), so that no slip beyond it is ever asked about.
MOST_GRAMS = 2_000_000.0


def counted(key: str, grams: float, pieces: int = 1, **more: Any) -> dict[str, Any]:
    """A line that is in the sum, of one figure in grams."""
    figures = [{"text": f"{abs(grams) / pieces:g}", "unit": "g", "times": (1 if grams > 0 else -1) * pieces}]
    return {"key": key, "grams": grams, "pieces": pieces, "counted": True, "figures": figures} | more


@st.composite
def lines(draw: Any, least: int = 1, most: int = 12) -> list[dict[str, Any]]:
    """Lines of a sum as a shop has them: of one piece or a pair, taken off or put on, some not counted."""
    found = []
    for number in range(draw(st.integers(least, most))):
        pieces = draw(st.sampled_from([1, 1, 1, 2, 4]))
        grams = draw(st.integers(5, 9000)) * pieces * draw(st.sampled_from([-1, -1, 1]))
        if draw(st.integers(0, 4)) == 0:
            plus_minus = float(draw(st.integers(0, 9)))
            found.append({"key": f"{number}", "grams": float(grams), "plus_minus": plus_minus, "counted": False})
        else:
            found.append(counted(f"{number}", float(grams), pieces))
    return found


def said(found: dict[str, Any]) -> list[set[tuple[str, str, Any]]]:
    return [{(slip.line["key"], slip.kind, str(slip.detail)) for slip in each["slips"]} for each in found["sets"]]


def planted(slips: list[tally.Slip]) -> set[tuple[str, str, Any]]:
    return {(slip.line["key"], slip.kind, str(slip.detail)) for slip in slips}


def within_reach(given_lines: list[dict[str, Any]]) -> list[tally.Slip]:
    return [slip for slip in tally.slips_of(given_lines) if abs(slip.shift) <= MOST_GRAMS]


@given(lines(), st.data())
@settings(max_examples=200, deadline=None)
def test_one_planted_slip_is_found_again(given_lines: list[dict[str, Any]], data: Any) -> None:
    slips = within_reach(given_lines)
    slip = data.draw(st.sampled_from(slips))
    found = tally.explain(slip.shift, 0.0, given_lines, limit=1000)
    assert found["size"] == 1
    assert planted([slip]) in said(found)


@given(lines(least=2), st.data())
@settings(max_examples=150, deadline=None)
def test_two_planted_slips_are_found_again_or_fewer_would_do(given_lines: list[dict[str, Any]], data: Any) -> None:
    slips = within_reach(given_lines)
    two = data.draw(st.tuples(st.sampled_from(slips), st.sampled_from(slips)))
    if two[0].line["key"] == two[1].line["key"]:
        return
    found = tally.explain(two[0].shift + two[1].shift, 0.0, given_lines, limit=MOST_LISTED)
    assert found["size"] is not None and found["size"] <= 2
    if found["size"] == 2 and found["complete"]:
        assert planted(list(two)) in said(found)


@given(lines(most=5), st.integers(-12000, 12000), st.integers(0, 40), st.integers(1, 3))
@settings(max_examples=150, deadline=None)
def test_the_search_finds_what_trying_everything_finds(
    given_lines: list[dict[str, Any]], difference: int, half_width: int, most: int
) -> None:
    """Against itertools.combinations: the same sets, no fewer and no more, of the least size that fits."""
    found = tally.explain(float(difference), float(half_width), given_lines, most=most, limit=MOST_LISTED)
    slips = tally.slips_of(given_lines)
    for size in range(most + 1):
        fitting = [
            planted(list(each))
            for each in itertools.combinations(slips, size)
            if len({slip.line["key"] for slip in each}) == size
            and abs(difference - sum(slip.shift for slip in each))
            <= half_width + sum(slip.own for slip in each) + tally.CLOSE
        ]
        if fitting:
            assert found["size"] == size
            if found["complete"]:
                assert sorted(map(sorted, said(found))) == sorted(map(sorted, fitting))
            return
    assert found["size"] is None and found["sets"] == []


@given(lines(), st.integers(-9000, 9000), st.integers(0, 200), st.integers(0, 200), st.randoms())
@settings(max_examples=100, deadline=None)
def test_a_wider_tolerance_never_needs_more_slips_and_order_means_nothing(
    given_lines: list[dict[str, Any]], difference: int, half_width: int, more: int, shuffle: random.Random
) -> None:
    narrow = tally.explain(float(difference), float(half_width), given_lines, most=2)
    wide = tally.explain(float(difference), float(half_width + more), given_lines, most=2)
    if narrow["size"] is not None:
        assert wide["size"] is not None and wide["size"] <= narrow["size"]
    shuffled = list(given_lines)
    shuffle.shuffle(shuffled)
    again = tally.explain(float(difference), float(half_width), shuffled, most=2)
    assert (again["size"], again["count"]) == (narrow["size"], narrow["count"])


def two_hundred_lines() -> list[dict[str, Any]]:
    """A long evening: 200 lines from 12.5 g to 40 kg, a third of them pairs."""
    shop = random.Random(640)
    found = []
    for number in range(200):
        pieces = shop.choice([1, 1, 2])
        grams = round(10 ** shop.uniform(1.1, 4.6) * 2) / 2 * pieces
        found.append(counted(f"line {number}", -grams, pieces))
    return found


@pytest.mark.parametrize("kind", ["left_out", "counted_twice", "one_side", "unit", "digits", "sign"])
def test_of_200_lines_each_kind_of_slip_is_found_to_the_gram(kind: str) -> None:
    given_lines = two_hundred_lines()
    slips = [slip for slip in within_reach(given_lines) if slip.kind == kind]
    for slip in random.Random(7).sample(slips, 12):
        found = tally.explain(slip.shift, 0.25, given_lines, limit=1000)
        assert found["size"] == 1
        assert planted([slip]) in said(found)


def test_of_200_lines_two_slips_at_once_are_found_among_all_that_fit() -> None:
    given_lines = two_hundred_lines()
    slips = {(slip.line["key"], slip.kind): slip for slip in tally.slips_of(given_lines)}
    # Chosen so that no single slip explains the two.
    two = [slips["line 3", "left_out"], slips["line 17", "left_out"]]
    difference = two[0].shift + two[1].shift
    found = tally.explain(difference, 0.0, given_lines, limit=MOST_LISTED)
    assert found["size"] == 2 and found["complete"]
    assert planted(two) in said(found)
    assert all(abs(each["left_grams"]) < tally.CLOSE for each in found["sets"])


def test_with_too_many_ways_it_counts_them_and_lists_none() -> None:
    alike = [counted(f"{number}", -100.0) for number in range(200)]
    found = tally.explain(-300.0, 0.0, alike)
    # Any three of 200 counted twice: 200 x 199 x 198 / 6.
    assert found["size"] == 3
    assert (found["count"], found["complete"], found["sets"]) == (1_313_400, False, [])


def test_with_too_many_single_slips_it_says_so_of_single_slips() -> None:
    """By hand: 400 pairs of 50 g each, 320 g less, to 600 g: each left out, counted half or added instead, 1200."""
    shop = Shop()
    for number in range(400):
        shop.part(f"Part {number}", 100.0, pieces=2, off=True, outcome="stays_off", outcome_done=True)
    answer = shop.view("tally", which="came_in", total="39.68", unit="kg", rounded_to="600 g")["answer"]
    assert (answer["size"], answer["count"], answer["sets"]) == (1, 1200, [])
    text = "1200 single slips would explain it: it tells nothing. Give the total more finely."
    assert spoken(answer["verdict"][0]) == text


@pytest.mark.parametrize(
    ("typed", "swapped"),
    # Worked by hand: neighbours only, no nought to the front, marks stay where they are.
    [
        ("451", ["541", "415"]),
        ("100", []),
        ("1,27", ["2,17", "1,72"]),
        ("2.05", ["2.50"]),
        ("77", []),
        ("0.84", ["0.48"]),
    ],
)
def test_digits_swapped(typed: str, swapped: list[str]) -> None:
    assert tally.digits_swapped(typed) == swapped


@given(st.integers(10, 9_999_999))
def test_swapping_digits_shifts_by_a_multiple_of_nine(figure: int) -> None:
    """The bookkeepers' rule: a transposition error is divisible by 9 (common practice, no source)."""
    for swapped in tally.digits_swapped(str(figure)):
        assert (int(swapped) - figure) % 9 == 0


def test_a_unit_slip_is_as_large_as_the_units_are_apart() -> None:
    """1.9 kg read as 1.9 g; the pound is 453.59237 g exactly (NIST SP 811, appendix B.8)."""
    line = {"key": "tank", "grams": -1900.0, "pieces": 1, "counted": True}
    line["figures"] = [{"text": "1.9", "unit": "kg", "times": -1.0}]
    shifts = {slip.detail["taken_for"]: slip.shift for slip in tally.slips_of([line]) if slip.kind == "unit"}
    assert shifts == pytest.approx({"g": 1900.0 - 1.9, "lb": 1900.0 - 1.9 * 453.59237})
    read = read_figure("1.9")
    assert read is not None and read[0] * GRAMS_IN["kg"] == 1900.0


@pytest.mark.parametrize(
    ("arguments", "field"),
    [
        ((float("nan"), 0.0, []), "difference"),
        ((float("inf"), 0.0, []), "difference"),
        ((5e6, 0.0, []), "difference"),
        ((0.0, -1.0, []), "half_width"),
        ((10.0, 0.0, [counted(str(number), -1.0) for number in range(501)]), "lines"),
        ((10.0, 0.0, [counted("heavy", -3e6)]), "grams"),
    ],
)
def test_what_is_out_of_range_is_refused_with_its_reason(arguments: Any, field: str) -> None:
    with pytest.raises(Refused) as refused:
        tally.explain(*arguments)
    assert [each["field"] for each in refused.value.problems] == [field]
    json.dumps(refused.value.problems)
