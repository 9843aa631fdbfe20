"""What is open of a part or a group does not go away because somebody strikes it, here or on another phone."""

import pytest
from several_phones import Phone, another, begun, meet, part_with

from cotterbook.core.words import spoken


def cover():
    """A clutch cover with one of four lost and a seal to buy."""
    ann = begun()
    part, group = part_with(ann, "Clutch cover")
    ann.move(group, "machine", "lost")
    ann.act("item", part=part, what="buy", text="Seal is torn")
    return ann, part, group


def written(phone, thing):
    """The entry that wrote a thing down."""
    return next(each["id"] for each in phone.log.values() if each.get("thing") == thing)


def test_a_strike_asks_while_something_is_open_and_takes_a_reason():
    ann, part, group = cover()
    (problem,) = ann.asked("strike", entry=written(ann, part), why="A double")
    assert spoken(problem) == (
        "Still open of it: 1 of 4 M5 of Clutch cover lost, Seal is torn. "
        "Close that first, or say why it is struck all the same. It stays open."
    )
    # That of the fasteners alone asks for theirs.
    (problem,) = ann.asked("strike", entry=written(ann, group), why="A double")
    assert problem["values"]["more"] < 0 and len(problem["values"]["open"]) == 1
    ann.act("strike", entry=written(ann, part), why="A double", all_the_same="The other one has it")
    assert ann.stops() == [
        "Lost inside the machine? 1 of 4 M5 of Clutch cover (struck) lost. Find it, or rule out that it is inside."
    ]
    assert ann.items() == ["Clutch cover: Seal is torn"]
    assert ann.view("open_items")["nothing"] is None


def test_it_does_not_ask_when_nothing_is_open_or_the_part_stays():
    ann, part, group = cover()
    ann.act("change", thing=part, type="part", values={"note": "left side"})
    # What it was written down with is struck, and the part is there still.
    ann.act("strike", entry=written(ann, part), why="Wrong name")
    ann, part, group = cover()
    ann.act("rule_out", group=group, how="Swept up")
    item = ann.view("off")["items"][0]["item"]
    ann.act("close_item", item=item, how="Bought")
    ann.act("strike", entry=written(ann, part), why="A double")
    assert spoken(ann.view("open_items")["nothing"]).startswith("Nothing is open in this record.")


def test_to_take_a_strike_back_and_back_again_asks_as_the_first_did():
    ann, part, _ = cover()
    first = written(ann, part)
    strike = ann.act("strike", entry=first, why="A double", all_the_same="Yes")["entries"][0]["id"]
    back = ann.act("strike", entry=strike, why="It was none")["entries"][0]["id"]
    assert ann.asked("strike", entry=back, why="It was one")[0]["code"] == "something_open"


@pytest.mark.parametrize("many", [1, 5])
def test_what_another_phone_wrote_for_a_part_that_is_struck_here_is_open_when_they_meet(many):
    ann = begun()
    part, group = part_with(ann, "Clutch cover")
    bob = another(ann, "Bob")
    ann.act("strike", entry=written(ann, part), why="A double")
    for n in range(many):
        bob.act("item", part=part, what="buy", text=f"Seal {n}")
    bob.move(group, "machine", "lost")
    meet(ann, bob)
    for phone in (ann, bob):
        assert len(phone.stops()) == 1
        assert phone.items() == [f"Clutch cover: Seal {n}" for n in range(many)]
        assert phone.view("strip")["counts"]["items_open"] == many
    ann.act("rule_out", group=group, how="Swept up")
    for item in [each["item"] for each in ann.view("off")["items"]]:
        ann.act("close_item", item=item, how="Bought")
    assert ann.view("open_items")["open"] == 0


def test_what_was_lost_of_a_part_that_is_not_known_here_stops_all_the_same():
    """As where a newer program wrote the part down, with a field that is not known here: its groups are read."""
    ann = begun()
    part, group = part_with(ann, "Cover")
    ann.move(group, "machine", "lost")
    bob = Phone("Bob", ann.clock)
    bob.take([entry for entry in ann.log.values() if entry.get("thing") != part])
    words = "1 of 4 M5 of a part that is not known here lost"
    assert bob.stops() == [f"Lost inside the machine? {words}. Find it, or rule out that it is inside."]
    assert [spoken(each["text"]) for each in bob.view("count")["differences"]] == [words]
    assert [each["code"] for each in bob.view("spells")["asked"]] == ["lost"]
    assert bob.view("open_items")["nothing"] is None
    bob.act("rule_out", group=group, how="Swept up")
    assert bob.stops() == []
    meet(ann, bob)
    assert ann.stops() == []
