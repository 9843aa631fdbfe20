"""A group's state is what its record adds up to, and each tightening either counts or says why it does not."""

from hypothesis import given, settings
from hypothesis import strategies as st
from machine_shop import Shop, words
from random_logs import STRIP, logs

from cotterbook.core.group_record import COUNTED, record_of, standing
from cotterbook.core.strip import Strip
from vectors.cases import FIRST_AT, identifier


@given(logs(), st.randoms())
@settings(max_examples=200, deadline=None)
def test_the_state_is_what_the_lines_add_up_to(entries, random):
    random.shuffle(entries)
    strip = Strip(STRIP)
    strip.add(entries)
    for group in strip.of_type("group"):
        ledger, record = strip.ledger(group.id), record_of(strip, group)
        adds_up = dict(record["begins"])
        for line in record["lines"]:
            for name in COUNTED:
                adds_up[name] += line["change"][name]
            assert adds_up == line["after"]
        assert adds_up == standing(ledger)
        counting = [line["entry"] for line in record["lines"] if line["counts"]]
        assert counting == ledger.applied
        for line in record["lines"]:
            assert (line["counts"] is False) == (line["why"] is not None)


def bracket(**group):
    shop = Shop()
    shop.part("Bracket", came_in="new")
    shop.group = identifier("@g")
    shop.put("group", shop.group, part=identifier("@Bracket"), count=4, thread="M8", pattern="cross", **group)
    shop.write("move", group=shop.group, count=4, **{"from": "stock"}, to="machine")
    return shop


def tighten(shop, *places, **more):
    own = {"positions": list(places), "pattern": "cross", "count": len(places)} if places else {"count": 4}
    return shop.write("tighten", **({"group": shop.group, "newton_metres": 22.0} | own | more))


def record(shop):
    return shop.view("record", group=shop.group)


def notes(shop):
    return [words(note) for line in reversed(record(shop)["lines"]) for note in line["notes"]]


def line_of(shop, entry):
    (found,) = [line for line in record(shop)["lines"] if line["entry"] == entry]
    return found


def test_each_tightening_says_with_what_and_how_well_it_is_known():
    shop = bracket(torque_steps_newton_metres=[10.0], torque_low_newton_metres=22.0)
    with_adapter = {"setting_newton_metres": 20.0, "adapter_millimetres": 30.0, "lever_millimetres": 300.0}
    known = {"expanded_newton_metres": 1.3, "angle_degrees": 90.0, "as_read": "15 lbf ft", "step": 2}
    entry = tighten(shop, tool="Long bar", **with_adapter, **known)
    line = line_of(shop, entry)
    assert words(line["text"]) == "4 tightened: 22.0 ± 1.3 N.m"
    assert [words(fact) for fact in line["facts"]] == [
        "Step 2 of 2.", "Wrench: Long bar, set to 20 N.m.", "Adapter 30 mm at 0°, lever 300 mm.", "Turned by 90°.",
        "As it was typed: 15 lbf ft.",
    ]  # fmt: skip
    assert (line["who"], line["counts"], line["why"], line["struck"]) == ("Ann", True, None, None)


def test_what_came_off_again_says_so_with_who_and_when():
    shop = bracket()
    entry = tighten(shop)
    shop.write("witness", group=shop.group, count=4)
    shop.write("move", group=shop.group, count=4, **{"from": "machine"}, to="bag", who="Bo")
    line = line_of(shop, entry)
    assert (line["counts"], words(line["why"]), line["ended"]["who"]) == (
        False, "It counts no more: they came off again.", "Bo",
    )  # fmt: skip
    newest = record(shop)["lines"][0]
    assert words(newest["text"]) == "4 came out, to: bag"
    assert [words(each) for each in newest["effects"]] == ["Tight no more: 4.", "The mark counts no more on 4."]
    assert [words(each) for each in record(shop)["why"]] == ["4 of 4 are not on the machine."]


def test_why_a_tightening_is_over():
    shop = bracket(torque_steps_newton_metres=[10.0])
    first, second = tighten(shop, step=2), tighten(shop, step=2)
    tighten(shop, step=1)
    third = tighten(shop, step=2)
    shop.write("witness", group=shop.group, count=4)
    shop.write("second_check", group=shop.group, count=4, looked_at="torque", found="not_right", who="Bo")
    assert [words(line_of(shop, each)["why"]) for each in (first, second, third)] == [
        "It counts no more: they were tightened again.",
        "It counts no more: they were tightened again, step 1.",
        "It counts no more: they were found not right.",
    ]


def test_a_torque_on_a_part_that_is_off_is_kept_and_holds_nothing():
    shop = bracket()
    shop.write("move", group=shop.group, count=4, **{"from": "machine"}, to="bag")
    line = line_of(shop, tighten(shop, by=identifier("@other phone")))
    assert line["counts"] is False
    assert words(line["why"]).startswith("None was on the machine then, so it holds nothing.")


def test_a_struck_tightening_stays_readable_with_its_reason():
    shop = bracket()
    entry = tighten(shop)
    shop.write("strike", entry=entry, why="Wrong group")
    line = line_of(shop, entry)
    assert (line["struck"]["why"], line["counts"], line["after"]) == ("Wrong group", False, None)
    assert words(line["text"]) == "4 tightened: 22.0 ± 1.0 N.m"


def test_two_phones_at_once_are_told_and_the_later_one_counts():
    shop = bracket()
    first = tighten(shop)
    second = tighten(shop, by=identifier("@other phone"), who="Bo")
    assert [words(note) for note in line_of(shop, second)["notes"]] == [
        "Ann had tightened these on another phone less than an hour before. The later one counts. "
        "If it was one and the same, strike one of them."
    ]
    assert (line_of(shop, first)["counts"], line_of(shop, second)["counts"]) == (False, True)
    assert [words(note) for note in shop.view("torque", group=shop.group)["record_notes"]] == notes(shop)


def test_two_phones_on_different_fasteners_are_no_matter():
    shop = bracket()
    tighten(shop, 1, 3)
    tighten(shop, 2, 4, by=identifier("@other phone"), who="Bo")
    assert notes(shop) == []


def test_out_of_order_is_noted_by_the_numbers_that_are_drawn_and_never_refused():
    """Four, drawn clockwise, are tightened 1, 3, 2, 4 (MIL-HDBK-60, 5.7: an opposite pair, then the other)."""
    shop = bracket()
    for place in (1, 3, 2, 4):
        tighten(shop, place)
    assert notes(shop) == []
    # Once more, the second time round the circle: the places 1, 2, 3, 4 carry the numbers 1, 3, 2, 4.
    for place in (1, 2, 3, 4):
        tighten(shop, place)
    assert notes(shop) == ["Out of the laid-out order: number 3 was tightened when number 2 was next."]
    assert record(shop)["state"]["tight"] == 4


def test_what_one_alone_gets_that_came_out_has_no_order():
    shop = bracket()
    tighten(shop, 1, 3, 2, 4)
    for ends in (("machine", "bag"), ("bag", "machine")):
        shop.write("move", group=shop.group, count=1, **{"from": ends[0]}, to=ends[1])
    tighten(shop, 4)
    assert notes(shop) == []


def test_an_order_that_was_chosen_later_blames_nobody():
    """A row of four is tightened from the middle: 3, 2, 4, 1 (common practice, no source)."""
    shop = bracket()
    tighten(shop, 3, 2, 4, 1, pattern="row")
    assert notes(shop) == []
    assert [words(fact) for fact in record(shop)["lines"][0]["facts"]][0] == "In the order: number 1, 2, 3, 4."


def test_the_record_begins_with_nothing_and_is_in_the_log_alone():
    shop = bracket()
    assert shop.view("record", group=identifier("@nothing")) is None
    assert [words(each) for each in record(shop)["why"]] == ["4 are in and not tightened since."]
    assert FIRST_AT <= record(shop)["lines"][0]["at_ms"]
