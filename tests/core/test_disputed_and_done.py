"""What two people wrote apart and nobody settled is not done: how many there are, whether a life hangs on it."""

from several_phones import Phone, another, begun, meet, part_with

from cotterbook.core.words import spoken


def back_and_worked(phone: Phone, part: str, group: str) -> None:
    phone.act("part_off", part=part)
    phone.move(group, "bag", "machine", 4)
    phone.act("part_on", part=part)
    phone.act("tighten", group=group, count=4, torque="5")
    phone.act("mark", group=group, count=4)


def said_apart(field: str, of: str, anns: str, bobs: str) -> tuple[Phone, str, str]:
    """A cover whose four bolts are in, tight and marked, and a field that Ann and Bob wrote apart."""
    ann = begun()
    part, group = part_with(ann, "Cover")
    back_and_worked(ann, part, group)
    bob = another(ann, "Bob")
    bob.clock += 60_000
    thing = group if of == "group" else part
    ann.act("change", thing=thing, type=of, values={field: anns})
    bob.act("change", thing=thing, type=of, values={field: bobs})
    meet(ann, bob)
    return ann, part, group


def test_with_two_counts_nobody_knows_that_all_are_in() -> None:
    ann, part, group = said_apart("count", "group", "5", "4")
    (view,) = ann.view("part", part=part)["groups"]
    assert (view["needs"], view["done"]) == (["count"], False)
    assert spoken(view["notice"]) == "Two counts of M5: 4, 5. Settle which is right."
    why = [spoken(each) for each in ann.view("record", group=group)["why"]]
    assert why[-1] == "Two people wrote apart how many there are: 4, 5. Settle which is right."
    assert ann.view("open_items")["nothing"] is None
    ann.act("change", thing=group, type="group", values={"count": "4"})
    assert [each["name"] for each in ann.view("back")["done"]] == ["Cover"]


def test_the_same_count_from_both_is_no_dispute() -> None:
    ann, _, _ = said_apart("count", "group", "4", "4")
    assert [each["name"] for each in ann.view("back")["done"]] == ["Cover"]


def test_where_either_says_a_place_that_a_life_hangs_on_another_person_looks() -> None:
    for anns, bobs, wanted in (("front_brake", "electrics", True), ("electrics", "front_brake", True),
                               ("side", "electrics", False)):  # fmt: skip
        ann, part, _ = said_apart("place", "part", anns, bobs)
        (view,) = ann.view("part", part=part)["groups"]
        assert (view["needs"] == ["second_check"]) is view["second_check"]["wanted"] is wanted
        ann.act("change", thing=part, type="part", values={"place": "electrics"})
        assert [each["name"] for each in ann.view("back")["done"]] == ["Cover"]


def test_so_does_a_name_or_a_seat() -> None:
    for field, of in (("name", "part"), ("sits", "group")):
        ann, part, _ = said_apart(field, of, "Brake caliper", "Trim")
        assert ann.view("part", part=part)["groups"][0]["needs"] == ["second_check"]
