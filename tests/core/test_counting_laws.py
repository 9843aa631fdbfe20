"""Laws of the count that hold for any log."""

from itertools import count

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from random_logs import BAG, GROUPS, STRIP, logs, own_fields

from cotterbook.core.acts import ACTS
from cotterbook.core.counting import FIGURES, WHERE, asked, count_lines, differences
from cotterbook.core.entries import check
from cotterbook.core.maker import Maker
from cotterbook.core.stops import open_stops, ruled_out, stops
from cotterbook.core.strip import Strip
from cotterbook.core.views_count import count_view
from cotterbook.core.words import Refused
from vectors.cases import FIRST_AT, identifier

anywhere = st.sampled_from(["machine", "bag", "spares", "scrapped", "lost", "stock"])
moves = st.builds(
    lambda group, many, start, end, bags: (
        {"kind": "move", "group": group, "count": many, "from": start, "to": end}
        | ({"from_bag": BAG} if start == "bag" and bags[0] else {})
        | ({"to_bag": BAG} if end == "bag" and bags[1] else {})
    ),
    st.sampled_from(GROUPS),
    st.integers(1, 6),
    anywhere,
    st.sampled_from(["machine", "bag", "spares", "scrapped", "lost"]),
    st.tuples(st.booleans(), st.booleans()),
)


@given(logs(st.one_of(own_fields, moves)), st.randoms())
@settings(max_examples=200, deadline=None)
def test_fasteners_are_conserved_by_thread_and_length_under_any_entries_in_any_order(entries, random):
    random.shuffle(entries)
    strip = Strip(STRIP)
    strip.add(entries)
    lines = count_lines(strip)
    for line in lines:
        figures = line["figures"]
        assert figures["came"] + figures["new"] == sum(figures[where] for where in WHERE)
        for name in FIGURES:
            assert figures[name] == sum(counted[name] for _, counted in line["groups"])
    # The same once more, straight from the ledgers: on + bags + spares + scrapped + lost + stock = count.
    groups = strip.of_type("group")
    assert sum(len(line["groups"]) for line in lines) == len(groups)
    for group in groups:
        ledger = strip.ledger(group.id)
        assert (
            sum(ledger.at(place) for place in ("machine", "bag", "spares", "scrapped", "lost", "stock")) == ledger.count
        )
        assert 0 <= ledger.back <= max(0, ledger.on)


@given(logs(st.one_of(own_fields, moves)), st.randoms())
@settings(max_examples=100, deadline=None)
def test_the_count_is_the_same_whatever_order_the_entries_come_in(entries, random):
    first, other = Strip(STRIP), Strip(STRIP)
    first.add(entries)
    shuffled = list(entries)
    random.shuffle(shuffled)
    other.add(shuffled)
    assert count_view(first, {}) == count_view(other, {})


def missing_of(strip, group):
    """Of a group, its part in the log, struck or not known here: lost and not found after it, from its moves alone."""
    thing = strip.thing(group)
    if thing is None or thing.type != "group":
        return 0
    lost = 0
    for move in strip.handling(thing)[1]:
        if move["kind"] == "move":
            lost = max(0, lost - (move["count"] if move["from"] == "lost" else 0))
            lost += move["count"] if move["to"] == "lost" else 0
    return lost


@given(logs(st.one_of(own_fields, moves)))
@settings(max_examples=100, deadline=None)
def test_what_is_lost_is_a_difference_and_a_stop_and_nothing_else_is(entries):
    strip = Strip(STRIP)
    strip.add(entries)
    lost = {group for group in GROUPS if missing_of(strip, group) > 0}
    assert {each["group"] for each in stops(strip)} == lost
    assert {each["group"] for each in differences(strip) if each["code"] == "lost"} == lost


@given(logs(st.one_of(own_fields, moves)))
@settings(max_examples=150, deadline=None)
def test_no_spell_ends_in_silence_while_something_is_missing_and_each_is_open_afterwards(entries):
    numbers = count()
    begins = {"kind": "work", "spell": identifier("@evening"), "act": "begins", "at": FIRST_AT + 100}
    begins |= {"id": identifier("@evening begins"), "strip": STRIP, "by": identifier("@phone"), "who": "Ann"}
    strip = Strip(STRIP)
    strip.add([*entries, begins])
    missing = asked(strip, ruled_out(strip))

    def end(**form):
        stamp = {"now": FIRST_AT + 1000, "device": identifier("@phone"), "who": "Ann"}
        make = Maker(STRIP, strip.last_at, stamp, lambda: identifier(f"new {next(numbers)}", FIRST_AT + 1000))
        return ACTS["spell"](strip, {"act": "ends"} | form, make)["entries"]

    if missing:
        with pytest.raises(Refused) as refused:
            end()
        assert [each["code"] for each in refused.value.problems] == ["something_missing"]
    written = end(missing="Seen last on the bench")
    assert [check(entry) for entry in written] == [[] for _ in written]
    strip.add(written)
    assert strip.last_spell()["ends"]["missing"] == "Seen last on the bench"
    stopped = {each["group"] for each in open_stops(strip)}
    items = {item.values.get("group") for item in strip.of_type("item") if not item.values.get("closed")}
    for each in missing:
        assert each["group"] in (stopped if each["code"] == "lost" else items)
    # The same evening once more says nothing twice.
    strip.add([begins | {"id": identifier("@again"), "spell": identifier("@next"), "at": FIRST_AT + 2000}])
    assert [entry["kind"] for entry in end(missing="As before")] == ["work"]
