"""Clocks of several phones: an entry follows what was seen, and one that is set wrong does not set everybody's."""

import pytest

from cotterbook.core.limits import CLOCK_HIGH_MS
from cotterbook.core.maker import AHEAD_MS, Maker
from examples import DEVICE, STRIP, identifier

NOW = 1_790_000_000_000


def made_at(last_at, now=NOW, count=2):
    numbers = iter(range(1, 10))
    make = Maker(STRIP, last_at, {"now": now, "device": DEVICE, "who": "Ann"}, lambda: identifier(next(numbers)))
    for _ in range(count):
        make.put(STRIP, "strip", {"note": "x"}, "")
    assert make.problems == []
    return [entry["at"] for entry in make.entries]


@pytest.mark.parametrize("ahead", [1, 60_000, AHEAD_MS])
def test_an_entry_comes_after_what_was_seen_though_this_clock_is_behind(ahead):
    assert made_at(NOW + ahead) == [NOW + ahead + 1, NOW + ahead + 2]


@pytest.mark.parametrize("last_at", [NOW + AHEAD_MS + 1, NOW + 73 * 365 * AHEAD_MS, CLOCK_HIGH_MS - 1, CLOCK_HIGH_MS])
def test_a_clock_far_ahead_is_not_followed_and_stops_nobody(last_at):
    assert made_at(last_at) == [NOW, NOW + 1]
