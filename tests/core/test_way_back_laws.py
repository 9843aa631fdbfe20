"""The order of the way back holds under any waits and moves from any phones.

What may come before what is checked against graphlib of Python's standard library, an independent sorter.
"""

import graphlib

from hypothesis import given, settings
from hypothesis import strategies as st

from cotterbook.core.acts_way_back import move_in_order
from cotterbook.core.maker import Maker
from cotterbook.core.strip import Strip
from cotterbook.core.views_back import back_view
from cotterbook.core.way_back import Waits
from vectors.cases import FIRST_AT, identifier

STRIP = identifier("@strip")
PARTS = [identifier(f"@part {n}") for n in range(7)]
one = st.sampled_from(PARTS)
off = st.builds(lambda part, is_off: ("part", part, {"off": is_off}), one, st.sampled_from([True, True, True, False]))
moved = st.builds(lambda part, after: ("part", part, {"back_after": after}), one, st.sampled_from([*PARTS, STRIP]))
outcome = st.builds(lambda part: ("part", part, {"outcome": "stays_off"}), one)
waits = st.builds(
    lambda part, first, why, dropped: (
        "wait",
        identifier(f"@{part} for {first}"),
        {"part": part, "first": first, "why": why, "dropped": dropped},
    ),
    one,
    one,
    st.sampled_from(["behind", "hangs_on"]),
    st.sampled_from([False, False, False, True]),
)


@st.composite
def logs(draw):
    """Seven parts that came off, then whatever people on phones apart wrote of them."""
    said = [("part", part, {"name": part[-2:], "off": True}) for part in PARTS]
    said += draw(st.lists(off | moved | moved | waits | waits | waits | outcome, max_size=25))
    ticks = [draw(st.integers(0, 9)) for _ in said]
    return [
        {
            "id": identifier(f"@entry {n}", FIRST_AT + n),
            "strip": STRIP,
            "at": FIRST_AT + (n if n < len(PARTS) else 10 + tick),
            "by": identifier("@phone"),
            "who": "Ann",
            "kind": "set",
            "thing": thing,
            "type": kind,
            "values": values,
        }
        for n, ((kind, thing, values), tick) in enumerate(zip(said, ticks, strict=True))
    ]


def folded(log):
    strip = Strip(STRIP)
    strip.add(log)
    return strip


@settings(max_examples=300)
@given(log=logs())
def test_every_open_part_is_in_the_list_once_and_none_before_what_it_waits_for(log):
    strip = folded(log)
    view = back_view(strip, {})
    order = [part["part"] for part in view["parts"]]
    wanted = {
        part.id
        for part in strip.of_type("part")
        if part.values.get("off") and part.values.get("outcome") != "stays_off"
    }
    assert sorted(order) == sorted(wanted)
    known = Waits(strip)
    graph = {part: {first for first in known.firsts(part) if first in wanted} for part in order}
    try:
        tuple(graphlib.TopologicalSorter(graph).static_order())
    except graphlib.CycleError:
        assert any(notice["text"].startswith("These wait for one another") for notice in view["notices"])
        return
    assert all(order.index(first) < order.index(part) for part in order for first in graph[part])


@settings(max_examples=100)
@given(log=logs(), data=st.data())
def test_the_order_is_the_same_however_the_entries_came(log, data):
    assert back_view(folded(log), {}) == back_view(folded(data.draw(st.permutations(log))), {})


@settings(max_examples=100)
@given(log=logs())
def test_what_blocks_a_part_is_what_it_waits_for_and_is_in_the_list_before_it(log):
    strip = folded(log)
    known = Waits(strip)
    for place, part in enumerate(view := back_view(strip, {})["parts"]):
        firsts = [blocker["first"] for blocker in part["blockers"]]
        assert set(firsts) <= set(known.firsts(part["part"]))
        if not known.reaches(part["part"], part["part"]):
            assert set(firsts) - {other["part"] for other in view[:place]} <= {
                first for first in firsts if known.reaches(first, first)
            }


def test_a_part_moved_earlier_again_and_again_comes_to_the_front_and_back():
    strip = folded(
        [
            {
                "id": identifier(f"@entry {n}", FIRST_AT + n),
                "strip": STRIP,
                "at": FIRST_AT + n,
                "by": identifier("@phone"),
                "who": "Ann",
                "kind": "set",
                "thing": part,
                "type": "part",
                "values": {"name": str(n), "off": True},
            }
            for n, part in enumerate(PARTS)
        ]
    )
    def move(part, way, number):
        stamp = {"now": FIRST_AT + 1000, "device": identifier("@phone"), "who": "Bo"}
        make = Maker(STRIP, strip.last_at, stamp, lambda: identifier(f"@move {number}", FIRST_AT + 1000 + number))
        strip.add(move_in_order(strip, {"part": part, "way": way}, make)["entries"])
        return [each["name"] for each in back_view(strip, {})["parts"]]

    for number, place in enumerate(range(5, -1, -1)):
        order = move(PARTS[0], "earlier", number)
        assert order.index("0") == place
        assert [name for name in order if name != "0"] == ["6", "5", "4", "3", "2", "1"]
    for number, place in enumerate(range(1, 7)):
        assert move(PARTS[0], "later", 10 + number).index("0") == place
    assert move(PARTS[3], "earlier", 20) == ["6", "5", "3", "4", "2", "1", "0"]
