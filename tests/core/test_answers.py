"""An answer holds for what was seen when it was given, and for nothing that another phone had and brings later."""

import pytest
from several_phones import another, begun, meet, part_with

MINUTES = 60_000
OLDER = "an answer of an older program, which names nothing that it saw"


def lost_twice():
    """Ann and Bob each lose one, apart; ten minutes later Ann rules out hers."""
    ann = begun()
    part, group = part_with(ann, "Cover")
    bob = another(ann, "Bob")
    ann.move(group, "machine", "lost")
    bob.move(group, "machine", "lost")
    ann.clock += 10 * MINUTES
    ann.act("rule_out", group=group, how="Seen in the floor drain")
    return ann, bob, part, group


def test_a_loss_that_nobody_answered_for_is_not_ruled_out_by_a_later_answer():
    ann, bob, _, group = lost_twice()
    assert ann.stops() == []
    meet(ann, bob)
    for phone in (ann, bob):
        assert phone.stops() == [
            "Lost inside the machine? 2 of 4 M5 of Cover lost. Find it, or rule out that it is inside."
        ]
        assert phone.view("count")["stops"][0]["again"] is True
    assert [each["code"] for each in ann.view("spells")["asked"]] == ["lost"]
    bob.act("rule_out", group=group, how="Both swept up")
    meet(ann, bob)
    assert ann.stops() == bob.stops() == []


def test_two_who_answer_apart_each_for_their_own_have_answered_for_both():
    ann, bob, _, group = lost_twice()
    bob.act("rule_out", group=group, how="Seen on the bench")
    meet(ann, bob)
    assert ann.stops() == bob.stops() == []


def test_an_answer_without_what_it_saw_holds_by_its_time():
    ann = begun()
    part, group = part_with(ann, "Cover")
    ann.move(group, "machine", "lost")
    ann.write("set", thing=ann.device, type="item", values={
        "what": "check", "text": OLDER, "rule": "lost_inside", "part": part, "group": group,
        "closed": True, "closed_how": "looked"})  # fmt: skip
    assert ann.stops() == []
    ann.move(group, "machine", "lost")
    assert len(ann.stops()) == 1


def test_more_losses_than_one_list_holds_are_all_answered_for():
    ann = begun()
    _, group = part_with(ann, "Cover", count=50)
    for _ in range(45):
        ann.move(group, "machine", "lost")
    written = ann.act("rule_out", group=group, how="The box fell over")["entries"]
    assert [len(entry["saw"]["answers_for"]) for entry in written] == [20, 20, 5]
    assert ann.stops() == []
    ann.move(group, "machine", "lost")
    written = ann.act("rule_out", group=group, how="One more")["entries"]
    assert [len(entry["saw"]["answers_for"]) for entry in written] == [20, 20, 6]
    assert ann.stops() == []


@pytest.mark.parametrize("planned", [False, True])
def test_a_caution_is_not_closed_for_what_another_phone_did_before_and_brings_later(planned):
    ann = begun()
    part = ann.act("take_off", name="Side panel", place="side", outcome="cut_down", outcome_done=True)["part"]
    if planned:
        ann.act("plan_caution", rule="cut_edge", part=part, for_whom="Bob")
    bob = another(ann, "Bob")
    bob.act("change", thing=part, type="part", values={"outcome_done": False})
    bob.act("change", thing=part, type="part", values={"outcome_done": True})
    ann.clock += 10 * MINUTES
    ann.act("close_caution", rule="cut_edge", part=part, how="Rounded with a file")

    def of_the_edge(phone):
        (found,) = [each for each in phone.view("open_items")["cautions"] if each["rule"] == "cut_edge"]
        return found["open"], found["again"]

    assert of_the_edge(ann) == (False, False)
    meet(ann, bob)
    assert of_the_edge(ann) == of_the_edge(bob) == (True, True)
    bob.act("close_caution", rule="cut_edge", part=part, how="Rounded once more")
    assert of_the_edge(bob) == (False, False)


def each_put_one_in_used():
    """Two phones apart, on each of which a self-locking nut went in again; the group of nuts."""
    ann = begun()
    _, group = part_with(ann, "Chain guard", head="nut", replace_each_time="self_locking_nut")
    ann.move(group, "machine", "bag", 4)
    bob = another(ann, "Bob")
    for phone in (ann, bob):
        phone.write("move", group=group, count=1, **{"from": "bag", "to": "machine"})
    return ann, bob, group


def test_used_again_is_not_excused_for_what_another_phone_put_in():
    ann, bob, group = each_put_one_in_used()
    ann.clock += 10 * MINUTES
    ann.act("excuse", group=group, how="It still drags")
    meet(ann, bob)
    (part,) = bob.view("open_items")["groups"][0]["parts"]
    assert [each["sentence"]["values"]["n"] for each in part["used_again"]] == [2]


def lighter_in_front(phone, name, grams):
    part = phone.act("take_off", name=name, place="front_end", off=True, outcome="stays_off")["part"]
    phone.write("weigh", part=part, weighed_as="taken_off", pieces=1, basis="weighed", grams=grams, step_grams=1.0)
    return part


def sag_in_front(phone):
    return [each["open"] for each in phone.view("open_items")["cautions"] if each["rule"] == "sag_front"]


def test_a_look_at_the_sag_does_not_answer_for_what_another_phone_had_taken_off():
    ann = begun()
    lighter_in_front(ann, "Windscreen", 2_000.0)
    bob = another(ann, "Bob")
    lighter_in_front(bob, "Instruments", 3_000.0)
    ann.clock += 10 * MINUTES
    ann.act("close_caution", rule="sag_front", part=None, how="Set by the manual")
    assert sag_in_front(ann) == [False]
    meet(ann, bob)
    assert sag_in_front(ann) == sag_in_front(bob) == [True]
    bob.act("close_caution", rule="sag_front", part=None, how="Set once more")
    meet(ann, bob)
    assert sag_in_front(ann) == [False]


def test_a_part_that_only_was_written_down_at_that_end_asks_for_no_other_look():
    ann = begun()
    lighter_in_front(ann, "Windscreen", 2_000.0)
    bob = another(ann, "Bob")
    bob.act("take_off", name="Horn", place="front_end", off=False)
    ann.clock += 10 * MINUTES
    ann.act("close_caution", rule="sag_front", part=None, how="Set by the manual")
    meet(ann, bob)
    assert sag_in_front(bob) == [False]


def test_an_item_of_what_was_used_again_answers_for_what_was_seen_too():
    ann, bob, group = each_put_one_in_used()
    ann.write("set", thing=ann.device, type="item", values={
        "what": "check", "text": "Look at it", "rule": "used_again", "group": group, "for_whom": "Bob"})  # fmt: skip
    ann.clock += 10 * MINUTES
    ann.act("close_item", item=ann.device, how="It still drags")
    meet(ann, bob)
    (part,) = bob.view("open_items")["groups"][0]["parts"]
    assert [each["sentence"]["values"]["n"] for each in part["used_again"]] == [2]
