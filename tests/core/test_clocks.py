"""Clocks of several phones: an entry follows what was seen, and one that is set wrong does not set everybody's."""

import pytest
from several_phones import another, begun, meet, part_with

from cotterbook.core.acts import ACTS
from cotterbook.core.limits import CLOCK_HIGH_MS
from cotterbook.core.maker import AHEAD_MS, Maker
from cotterbook.core.strip import Strip
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


class Log:
    """One strip-down's log, and what devices write on it with the clocks that they have."""

    def __init__(self):
        self.strip, self._count = Strip(STRIP), 100

    def act(self, act_name, now, **form):
        def new_id():
            self._count += 1
            # As a UUIDv7 has it (RFC 9562, 5.7), the device's clock stands in the first 48 bits.
            clock = f"{now:012x}"
            return clock[:8] + "-" + clock[8:] + identifier(self._count)[13:]

        make = Maker(STRIP, self.strip.last_at, {"now": now, "device": DEVICE, "who": "Ann"}, new_id)
        ACTS[act_name](self.strip, form, make)
        assert make.problems == []
        self.strip.add(make.entries)
        return make.entries


FAR = NOW + 400 * AHEAD_MS


def test_what_a_clock_far_ahead_wrote_is_struck_and_its_strike_too():
    log = Log()
    [first, *_] = log.act("take_off", FAR, name="Fairing")
    [strike] = log.act("strike", NOW, entry=first["id"], why="slip")
    assert log.strip.is_struck(first["id"])
    log.act("strike", NOW + 1, entry=strike["id"], why="it was none")
    assert not log.strip.is_struck(first["id"])
    # Nobody's own clock was set by it.
    assert log.act("take_off", NOW + 2, name="Seat")[0]["at"] == NOW + 2


def test_a_spell_that_a_clock_far_ahead_began_is_ended_and_the_next_one_runs():
    log = Log()
    log.act("spell", FAR, act="begins", people=["Ann"])
    log.act("spell", NOW, act="ends")
    assert log.strip.last_spell()["ends"] is not None
    [begins] = log.act("spell", NOW + 1, act="begins", people=["Bo"])
    assert log.strip.last_spell()["begins"] == begins
    log.act("spell", NOW + 2, act="ends")
    assert [spell["ends"] is None for spell in log.strip.spells()] == [False, False]


def test_bolts_that_a_clock_days_ahead_put_in_are_tightened_marked_and_looked_at_all_the_same():
    ann = begun()
    part, group = part_with(ann, "Brake caliper")
    bob = another(ann, "Bob")
    ann.clock += 3 * AHEAD_MS
    ann.act("part_off", part=part)
    ann.move(group, "bag", "machine", 4)
    ann.act("part_on", part=part)
    meet(ann, bob)
    bob.act("tighten", group=group, count=4, torque="5")
    bob.act("mark", group=group, count=4)
    cid = another(bob, "Cid")
    cid.clock -= 3 * AHEAD_MS
    cid.act("second_check", group=group, count=4, looked_at="torque", found="right")
    meet(ann, bob, cid)
    for phone in (ann, bob, cid):
        assert [each["name"] for each in phone.view("back")["done"]] == ["Brake caliper"]
    bob.act("part_off", part=part)
    assert [each["needs"] for each in bob.view("back")["parts"]] == [["on", "count"]]
    bob.move(group, "bag", "machine", 4)
    bob.act("part_on", part=part)
    assert [each["needs"] for each in bob.view("back")["parts"]] == [["torque", "mark", "second_check"]]


def test_a_clock_at_the_end_of_all_time_leaves_a_group_that_can_be_handled():
    ann = begun()
    part, group = part_with(ann, "Cover")
    bob = another(ann, "Bob")
    bob.clock = CLOCK_HIGH_MS - 5_000
    bob.move(group, "machine", "bag")
    meet(ann, bob)
    ann.move(group, "bag", "machine")
    assert ann.log
