"""Tightening one fastener after another: which place it was, and what is over once a place is tightened anew."""

from hypothesis import given, settings
from hypothesis import strategies as st

from cotterbook.core.fasteners import Ledger


def ledger_of(count, steps=0, begins="machine"):
    found = Ledger(count, begins, steps)
    if begins == "stock":
        found.take({"kind": "move", "count": count, "from": "stock", "to": "machine", "who": "Ann"})
    return found


def tightened(ledger, *places, step=None, torque=22.0):
    entry = {"kind": "tighten", "count": len(places), "positions": list(places), "pattern": "row", "who": "Ann"}
    ledger.take(entry | {"newton_metres": torque} | ({"step": step} if step else {}))


def all_tightened(ledger, count, torque=22.0, step=None):
    entry = {"kind": "tighten", "count": count, "who": "Ann", "newton_metres": torque}
    ledger.take(entry | ({"step": step} if step else {}))


def torques(ledger):
    return [entry["newton_metres"] for entry in ledger.applied]


def test_one_that_is_tightened_twice_is_not_two():
    ledger = ledger_of(4, begins="stock")
    for place in (1, 2, 2, 1):
        tightened(ledger, place)
    assert (ledger.tight, ledger.loose) == (2, 2)
    tightened(ledger, 3, 4)
    assert (ledger.tight, ledger.loose) == (4, 0)


def test_a_place_tightened_again_is_over_as_it_was_and_only_that():
    ledger = ledger_of(3, begins="stock")
    for place, torque in ((1, 10.0), (2, 11.0), (3, 12.0), (1, 20.0), (3, 22.0)):
        tightened(ledger, place, torque=torque)
    assert torques(ledger) == [11.0, 20.0, 22.0]


def test_all_at_once_is_over_when_every_place_was_tightened_since():
    ledger = ledger_of(3, begins="stock")
    all_tightened(ledger, 3, torque=10.0)
    tightened(ledger, 1)
    tightened(ledger, 2)
    assert torques(ledger) == [10.0, 22.0, 22.0]
    tightened(ledger, 3)
    assert torques(ledger) == [22.0, 22.0, 22.0]


def test_places_before_one_came_out_say_nothing_of_those_after():
    ledger = ledger_of(2, begins="stock")
    all_tightened(ledger, 2, torque=10.0)
    tightened(ledger, 1)
    for ends in (("machine", "bag"), ("bag", "machine")):
        ledger.take({"kind": "move", "count": 1, "from": ends[0], "to": ends[1], "who": "Ann"})
    tightened(ledger, 2)
    # Which one came out is not known: the 10 N.m may hold the one or the other.
    assert torques(ledger) == [10.0, 22.0, 22.0]


def test_untouched_ones_may_be_those_that_were_meant():
    """Two of four were tightened too low, then two: nobody said that it was the same two."""
    ledger = ledger_of(4)
    all_tightened(ledger, 2, torque=5.0)
    all_tightened(ledger, 2, torque=22.0)
    assert torques(ledger) == [5.0, 22.0]
    all_tightened(ledger, 4, torque=22.0)
    assert torques(ledger) == [22.0]


def test_a_torque_on_what_is_off_holds_nothing():
    ledger = ledger_of(2)
    ledger.take({"kind": "move", "count": 2, "from": "machine", "to": "bag", "who": "Ann"})
    all_tightened(ledger, 2)
    assert (ledger.tight, ledger.applied, ledger.check.workers) == (0, [], [])
    ledger.take({"kind": "move", "count": 2, "from": "bag", "to": "machine", "who": "Bo"})
    assert (ledger.tight, ledger.loose) == (0, 2)


def test_steps_one_after_another_loosen_each_place_once():
    ledger = ledger_of(3, steps=1)
    all_tightened(ledger, 3)
    for place, loose in ((1, 1), (2, 2), (2, 2), (3, 3)):
        tightened(ledger, place, step=1)
        assert (ledger.loose, ledger.tight) == (loose, 3 - loose)
    assert ledger.next_step() == 2


@given(st.permutations([1, 2, 3, 4, 5]), st.integers(0, 2))
@settings(max_examples=60, deadline=None)
def test_every_place_once_at_each_step_is_all_of_them_in_any_order(order, steps):
    ledger = ledger_of(5, steps=steps, begins="stock")
    for step in range(1, steps + 2):
        for done, place in enumerate(order):
            tightened(ledger, place, step=step)
            if step <= steps:
                assert ledger.at_step[step] == done + 1
    assert (ledger.tight, ledger.loose, len(ledger.applied)) == (5, 0, 5)


@given(st.lists(st.lists(st.integers(1, 4), min_size=1, max_size=4, unique=True), max_size=12))
@settings(max_examples=200, deadline=None)
def test_as_many_are_tight_as_places_were_named(named):
    ledger = ledger_of(4, begins="stock")
    for places in named:
        tightened(ledger, *places)
    distinct = {place for places in named for place in places}
    assert ledger.tight == len(distinct)
    assert {place for entry in ledger.applied for place in entry["positions"]} == distinct
