"""Time of work by part: checked by hand, and laws that hold for any log."""

from hypothesis import given, settings
from hypothesis import strategies as st

from cotterbook.core.spell_time import LONGEST_GAP_MS, MINUTE_MS, about_minutes, by_part
from cotterbook.core.spells import began_ms, ended_ms, lasted_ms
from cotterbook.core.strip import Strip
from vectors.cases import FIRST_AT, identifier

STRIP, SPELL = identifier("@strip"), identifier("@spell")
PARTS = [identifier(f"@part {n}") for n in range(3)]
GROUP = identifier("@group")


def entry(minute, number, by="@phone", **own):
    at = FIRST_AT + int(minute * MINUTE_MS)
    own = {"strip": STRIP, "at": at, "by": identifier(by), "who": "Ann"} | own
    return {"id": identifier(f"@entry {number}", at)} | own


def part(minute, number, which, by="@phone", **values):
    values = {"name": "Part", "off": True} | values
    return entry(minute, number, by, kind="set", thing=PARTS[which], type="part", values=values)


def work(minute, act, **more):
    return entry(minute, act, kind="work", spell=SPELL, act=act, **more)


def times(entries, now=1000):
    strip = Strip(STRIP)
    strip.add(entries)
    return by_part(strip, strip.spells(), FIRST_AT + now * MINUTE_MS)


def test_the_time_since_the_entry_before_belongs_to_what_the_next_one_speaks_of():
    # By hand: 10 min to part 0, 5 to part 1, 19 to part 0 by its group; then 25 that nobody knows, and 3 to part 2.
    group = {"kind": "set", "thing": GROUP, "type": "group", "values": {"part": PARTS[0], "count": 2}}
    log = [
        work(0, "begins"), part(10, 1, 0), part(15, 2, 1), entry(34, 3, **group), part(59, 4, 1), part(62, 5, 2),
        work(70, "ends"), part(75, 6, 1),
    ]  # fmt: skip
    found = times(log)
    # The way to the entry that ends the spell, 8 min, is no part's.
    assert found == [
        (PARTS[0], 29 * MINUTE_MS),
        (None, 8 * MINUTE_MS),
        (PARTS[1], 5 * MINUTE_MS),
        (PARTS[2], 3 * MINUTE_MS),
    ]


def test_what_one_phone_wrote_while_two_spells_ran_counts_once():
    other = {"kind": "work", "spell": identifier("@spell begun apart")}
    log = [
        work(0, "begins"), entry(4, 7, "@other", act="begins", **other), part(10, 1, 0), part(20, 2, 1),
        work(21, "ends"), entry(30, 8, "@other", act="ends", **other),
    ]  # fmt: skip
    found = dict(times(log))
    assert (found[PARTS[0]], found[PARTS[1]]) == (10 * MINUTE_MS, 10 * MINUTE_MS)


def test_two_phones_count_apart():
    log = [work(0, "begins"), part(10, 1, 0), part(12, 2, 1, "@other"), part(20, 3, 0), work(21, "ends")]
    assert dict(times(log)) == {PARTS[0]: 20 * MINUTE_MS, PARTS[1]: 12 * MINUTE_MS, None: MINUTE_MS}


def test_what_was_said_of_the_end_afterwards_bounds_the_time():
    log = [work(0, "begins"), part(10, 1, 0), part(15, 2, 1), work(2000, "ends", ended_at_ms=FIRST_AT + 12 * MINUTE_MS)]
    assert times(log, 3000) == [(PARTS[0], 10 * MINUTE_MS)]


def test_steps_of_five_minutes():
    assert [about_minutes(int(each * MINUTE_MS)) for each in (0, 4.9, 5, 7.4, 7.5, 62.4, 62.6)] == [
        0,
        0,
        5,
        5,
        10,
        60,
        65,
    ]


@given(
    st.lists(st.tuples(st.integers(0, 300), st.integers(0, 2), st.sampled_from(["@phone", "@other"])), max_size=25),
    st.integers(1, 300),
    st.randoms(),
)
@settings(max_examples=200, deadline=None)
def test_no_phone_worked_longer_than_the_spell_and_the_order_of_entries_says_nothing(drawn, end, random):
    entries = [work(0, "begins"), work(end, "ends")]
    entries += [part(minute, n, which, by) for n, (minute, which, by) in enumerate(drawn)]
    shuffled = list(entries)
    random.shuffle(shuffled)
    found = times(entries)
    assert found == times(shuffled)
    assert sum(ms for _, ms in found) <= 2 * end * MINUTE_MS
    gaps = len([minute for minute, _, _ in drawn if 0 < minute <= end]) + 1
    assert all(0 < ms <= gaps * LONGEST_GAP_MS for _, ms in found)
    strip = Strip(STRIP)
    strip.add(shuffled)
    spell = strip.last_spell()
    assert lasted_ms(spell, None) == ended_ms(spell) - began_ms(spell) == end * MINUTE_MS
