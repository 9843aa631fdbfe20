"""Laws of what is new each time, whatever is moved, and in whatever order it comes."""

from hypothesis import given, settings
from hypothesis import strategies as st

from cotterbook.core.fasteners import Ledger
from cotterbook.core.replaced import NewOnes

places = st.sampled_from(["machine", "bag", "spares", "scrapped", "lost", "stock"])
moves = st.builds(
    lambda count, start, end, why: (
        {"count": count, "from": start, "to": end} | ({"used_again_why": "x"} if why else {})
    ),
    st.integers(1, 5),
    places,
    st.sampled_from(["machine", "bag", "spares", "scrapped", "lost"]),
    st.booleans(),
)


@given(st.integers(1, 8), st.lists(moves, max_size=30))
@settings(max_examples=500, deadline=None)
def test_no_more_is_new_than_came_from_stock_and_nothing_goes_in_uncounted(many, log):
    ledger, ones, bought, went_in = Ledger(many, "machine"), NewOnes(log), 0, 0
    for move in log:
        ledger.take({"kind": "move", "who": "Ann"} | move)
        bought += move["count"] if move["from"] == "stock" else 0
        went_in += move["count"] if move["to"] == "machine" else 0
    assert all(count >= 0 for count in ones.in_place.values())
    assert ones.new + sum(ones.in_place.values()) <= bought
    assert min(ones.new, ones.reasoned, ones.used) >= 0
    assert ones.new + ones.reasoned + ones.used <= went_in
    assert ones.used == 0 or ones.used_by is not None
    assert ones.reasoned == 0 or ones.last_reason is not None


@given(st.integers(1, 8), st.integers(0, 8))
def test_all_out_and_new_ones_in_leaves_nothing_to_ask(many, spare):
    out = {"count": many, "from": "machine", "to": "scrapped"}
    bought = {"count": many + spare, "from": "stock", "to": "spares"}
    fitted = {"count": many, "from": "spares", "to": "machine"}
    ones = NewOnes([out, bought, fitted])
    assert (ones.new, ones.used, ones.at_hand()) == (many, 0, spare)


@given(st.integers(1, 8), st.data())
def test_what_goes_back_as_it_came_out_was_used_before(many, data):
    some = data.draw(st.integers(1, many))
    ones = NewOnes([{"count": many, "from": "machine", "to": "bag"}, {"count": some, "from": "bag", "to": "machine"}])
    assert (ones.new, ones.used, ones.at_hand()) == (0, some, 0)
