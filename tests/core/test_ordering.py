"""Things put in order as Python's own `sorted` does, and with no more comparisons than that is worth."""

from functools import cmp_to_key
from typing import Any

from hypothesis import given
from hypothesis import strategies as st

from cotterbook.core.ordering import in_order

PAIRS = st.lists(st.tuples(st.integers(-3, 3), st.integers()))


@given(PAIRS, st.booleans())
def test_the_order_is_that_of_sorted_and_equal_ones_stay_as_they_came(pairs: list[tuple[int, int]], down: bool) -> None:
    """Against Python's own stable sort."""
    numbered = list(enumerate(pairs))
    assert in_order(numbered, lambda each: each[1][0], reverse=down) == sorted(
        numbered, key=lambda each: each[1][0], reverse=down)


def test_what_is_in_order_already_costs_a_comparison_each() -> None:
    compared = []

    def compare(a: int, b: int) -> int:
        compared.append((a, b))
        return a - b

    asked = []

    def key(number: int) -> Any:
        asked.append(number)
        return cmp_to_key(compare)(number)

    assert in_order(range(1000), key) == list(range(1000))
    assert len(compared) == 999 and len(asked) == 1000
