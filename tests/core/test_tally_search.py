"""The search of the tally check: counted and listed as trying every set does, in pieces as in one; long lists too."""

import itertools
import json
import math
import random
from typing import Any

import numpy
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from cotterbook.core import tally
from cotterbook.core.tally_search import CLOSE, MOST_LISTED, Search


def slips_from(rows: list[tuple[int, int, int]]) -> list[tally.Slip]:
    """Slips of (line, shift, own uncertainty), in the order the search wants."""
    found = [tally.Slip({"key": f"line {line}"}, "left_out", float(shift), float(own)) for line, shift, own in rows]
    for order, slip in enumerate(found):
        slip.order = order
    return sorted(found, key=lambda slip: (slip.shift, slip.order))


def by_trying(slips: list[tally.Slip], size: int, difference: float, half_width: float) -> list[list[int]]:
    """Every set that fits, with itertools.combinations: the orders of its slips."""
    return sorted(
        sorted(slip.order for slip in each)
        for each in itertools.combinations(slips, size)
        if len({slip.line["key"] for slip in each}) == size
        and abs(difference - sum(slip.shift for slip in each)) <= half_width + sum(slip.own for slip in each) + CLOSE
    )


def by_searching(search: Search, size: int, steps: int = 10**9) -> tuple[int, Any]:
    if size < 3:
        count, sets = search.few(size)
        return count, sets and [[slip.order for slip in each] for each in sets]
    state = search.begin_threes()
    while state["at"] is not None:
        # A piece of the search passes through the page as JSON.
        state = json.loads(json.dumps(search.more_threes(state, steps)))
        assert 0.0 <= search.part_done(state) <= 1.0
    return state["count"], state["found"]


# Few lines with many slips and few grams between them: slips of one line, and sets that fit, abound.
rows = st.lists(
    st.tuples(st.integers(0, 5), st.integers(-30, 30), st.sampled_from([0, 0, 0, 2, 7])), min_size=1, max_size=16
)


@given(rows, st.integers(-40, 40), st.integers(0, 9), st.integers(1, 3), st.sampled_from([1, 50, 10**9]))
@settings(max_examples=400, deadline=None)
def test_it_counts_and_lists_what_trying_every_set_finds(
    rows: list[tuple[int, int, int]], difference: int, half_width: int, size: int, steps: int
) -> None:
    slips = slips_from(rows)
    expected = by_trying(slips, size, difference, half_width)
    count, found = by_searching(Search(slips, float(difference), float(half_width)), size, steps)
    assert count == len(expected)
    assert sorted(map(sorted, found)) == expected


def test_it_counts_the_triples_that_numpy_counts_among_all_of_60_lines() -> None:
    """All m * m * m sums laid out by NumPy, those with two slips of one line left out."""
    shop = random.Random(640)
    slips = slips_from([(number % 60, shop.randint(-4000, 4000), 0) for number in range(300)])
    shifts = numpy.array([slip.shift for slip in slips])
    lines = numpy.array([int(slip.line["key"].split()[1]) for slip in slips])
    apart = lines[:, None] != lines[None, :]
    for difference, half_width in ((0.0, 0.0), (1234.0, 3.0), (-9_000.0, 12.0)):
        expected = 0
        for first in range(len(slips)):
            sums = shifts[first] + shifts[:, None] + shifts[None, :]
            fits = (numpy.abs(difference - sums) <= half_width + CLOSE) & apart & apart[first][:, None] & apart[first]
            expected += int(numpy.triu(fits[first + 1 :, first + 1 :], 1).sum())
        count, found = by_searching(Search(slips, difference, half_width), 3)
        assert count == expected > 0
        assert found is None if count > MOST_LISTED else len(found) == count


def test_lines_that_are_all_alike_are_counted_as_combinations_are() -> None:
    """Any 2 or 3 of 200: n (n - 1) / 2 and n (n - 1) (n - 2) / 6."""
    search = Search(slips_from([(number, -100, 0) for number in range(200)]), -200.0, 0.0)
    assert search.few(2) == (math.comb(200, 2), None)
    search = Search(search.plain, -300.0, 0.0)
    assert by_searching(search, 3) == (math.comb(200, 3), None)
    wide = Search(slips_from([(number, -100, 1) for number in range(60)]), -300.0, 0.0)
    assert by_searching(wide, 3) == (math.comb(60, 3), None)


def finely_weighed(many: int, seed: int) -> list[dict[str, Any]]:
    """Lines from 12 g to 40 kg to a hundredth of a gram, so that few sets fit by chance; a third are pairs."""
    shop = random.Random(seed)
    found = []
    for number in range(many):
        pieces, grams = shop.choice([1, 1, 2]), round(10 ** shop.uniform(1.1, 4.6), 2)
        figures = [{"text": f"{grams:.2f}", "unit": "g", "times": -pieces}]
        line = {"key": f"line {number}", "grams": -grams * pieces, "pieces": pieces, "counted": True}
        found.append(line | {"figures": figures})
    return found


@pytest.mark.parametrize("size", [1, 2, 3])
def test_of_200_lines_planted_slips_are_among_all_that_fit(size: int) -> None:
    lines = finely_weighed(200, size)
    slips = tally.slips_of(lines)
    # From 20 to 150 kg: there chance finds few enough to be listed.
    large = [slip for slip in slips if 20_000 <= abs(slip.shift) <= 150_000]
    shop = random.Random(size)
    listed = 0
    while listed < 2:
        planted = shop.sample(large, size)
        if len({slip.line["key"] for slip in planted}) < size:
            continue
        difference = sum(slip.shift for slip in planted)
        count, found = by_searching(Search(slips, difference, 0.004), size)
        assert count > 0
        if count > MOST_LISTED:
            assert found is None
            continue
        listed += 1
        assert count == len(found)
        assert sorted(slip.order for slip in planted) in [sorted(each) for each in found]
        answer = tally.explain(difference, 0.004, lines, limit=MOST_LISTED)
        # Fewer may do by chance; what is named always fits.
        assert answer["size"] <= size and answer["count"] == len(answer["sets"])
        assert all(abs(each["left_grams"]) <= 0.004 + CLOSE for each in answer["sets"])


def test_a_search_goes_on_where_it_was_and_begins_anew_when_something_was_logged() -> None:
    lines = finely_weighed(40, 5)
    difference = sum(-line["grams"] for line in lines[:3]) + 0.001
    whole = tally.explain(difference, 0.004, lines)
    assert whole["size"] == 3
    piece = tally.explain(difference, 0.004, lines, steps=500)
    assert (piece["size"], piece["searched"]) == (None, 2)
    # One line more: what was counted so far no longer holds.
    more = [*lines, finely_weighed(41, 5)[-1]]
    begun = dict(piece["so_far"], count=10**6)
    assert (
        tally.explain(difference, 0.004, more, so_far=begun)["count"] == tally.explain(difference, 0.004, more)["count"]
    )
    pieces = 0
    while piece["size"] is None:
        pieces += 1
        assert 0.0 <= piece["part_done"] < 1.0
        piece = tally.explain(difference, 0.004, lines, steps=500, so_far=json.loads(json.dumps(piece["so_far"])))
    assert pieces > 3
    told = [(answer["size"], answer["count"], len(answer["sets"])) for answer in (piece, whole)]
    assert told[0] == told[1]
