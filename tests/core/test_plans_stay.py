"""What a person planned stays to do until a person closes it, whatever becomes of the rule that first asked for it."""

import pytest
from several_phones import another, begun, meet, part_with

CARRIED = "What it carried or braced needs something else that bears it. The manual says what belongs there."


def planned():
    """A bracket of the frame that stays off: somebody plans that Bob looks at what bears its load."""
    ann = begun()
    part = ann.act("take_off", name="Toolbox bracket", place="frame", outcome="stays_off")["part"]
    ann.act("plan_caution", rule="load_bearing", part=part, for_whom="Bob")
    assert ann.items() == []
    return ann, part


def renamed(ann, part):
    ann.act("change", thing=part, type="part", values={"name": "Toolbox lid", "place": "tail"})


def put_back(ann, part):
    ann.act("change", thing=part, type="part", values={"outcome": "goes_back", "off": False})


@pytest.mark.parametrize("changed", [renamed, put_back])
def test_a_plan_whose_caution_follows_no_more_is_to_do_until_a_person_closes_it(changed):
    ann, part = planned()
    changed(ann, part)
    open_items = ann.view("open_items")
    assert open_items["nothing"] is None
    (line,) = [item for group in open_items["groups"] for each in group["parts"] for item in each["items"]]
    assert (line["for_whom"], line["closed"]) == ("Bob", False)
    assert line["text"] == f"Toolbox bracket: {CARRIED}"
    for items in (ann.view("part", part=part)["items"], ann.view("off")["items"]):
        assert [item["item"] for item in items] == [line["item"]]
    assert ann.view("strip")["counts"]["items_open"] == 1
    ann.act("close_item", item=line["item"], how="Nothing hangs on it")
    assert ann.items() == []
    assert ann.view("strip")["counts"]["items_open"] == 0


def test_a_caution_that_fires_again_is_closed_by_that_and_open_for_what_another_phone_did():
    ann, part = planned()
    bob = another(ann, "Bob")
    bob.act("change", thing=part, type="part", values={"outcome": "cut_down", "outcome_done": True})
    ann.clock += 600_000
    renamed(ann, part)
    item = ann.view("off")["items"][0]["item"]
    ann.act("close_item", item=item, how="Nothing hangs on it")
    ann.act("change", thing=part, type="part", values={"name": "Toolbox bracket", "place": "frame"})

    def is_open(phone):
        return [each["open"] for each in phone.view("open_items")["cautions"] if each["rule"] == "load_bearing"]

    assert is_open(ann) == [False]
    meet(ann, bob)
    assert is_open(ann) == is_open(bob) == [True]


def test_what_a_newer_program_wrote_with_a_rule_of_its_own_is_to_do():
    ann, part = planned()
    ann.write("set", thing=ann.device, type="item", values={
        "what": "check", "text": "Look at the brake line", "part": part, "rule": "of_a_newer_program"})  # fmt: skip
    assert ann.items() == ["Toolbox bracket: Look at the brake line"]
    ann.act("close_item", item=ann.device, how="Looked")
    assert ann.items() == []


def test_two_plans_of_one_caution_that_was_closed_do_not_come_back():
    ann, part = planned()
    bob = another(ann, "Bob")
    bob.act("close_caution", rule="load_bearing", part=part, how="A new bracket bears it")
    bob.write("set", thing=bob.device, type="item", values={
        "what": "check", "text": "Look", "part": part, "rule": "load_bearing", "before": "riding"})  # fmt: skip
    assert [each["open"] for each in bob.view("open_items")["cautions"]] == [False]
    bob.act("close_caution", rule="load_bearing", part=part, how="Looked once more")
    put_back(bob, part)
    meet(ann, bob)
    assert ann.items() == bob.items() == []


def test_what_the_program_wrote_of_a_lost_one_goes_when_it_is_found_and_a_plan_for_it_does_not():
    ann = begun()
    _, group = part_with(ann, "Cover")
    ann.act("spell", act="begins", people=["Ann"])
    ann.move(group, "machine", "lost")
    written = ann.act("spell", act="ends", missing="Under the bench?")["entries"]
    ann.move(group, "lost", "machine")
    assert (ann.stops(), ann.items()) == ([], [])
    ann.act("change", thing=written[-1]["thing"], type="item", values={"for_whom": "Bob"})
    assert len(ann.items()) == 1


def test_a_strike_of_the_part_asks_for_what_was_planned_and_leaves_it_to_do():
    ann, part = planned()
    first = next(each["id"] for each in ann.log.values() if each.get("thing") == part)
    assert ann.asked("strike", entry=first, why="A double")[0]["code"] == "something_open"
    ann.act("strike", entry=first, why="A double", all_the_same="Bob knows")
    assert ann.items() == [f"Toolbox bracket: Toolbox bracket: {CARRIED}"]
