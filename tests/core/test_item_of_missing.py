"""An item that a spell's end wrote of missing fasteners tells of those that are missing now."""

from several_phones import begun, part_with

from cotterbook.core.words import spoken


def spell_over_one_in_no_bag():
    ann = begun()
    _, group = part_with(ann, "Cover")
    ann.act("spell", act="begins", people=["Ann"])
    ann.move(group, "machine", "bag")
    ann.act("spell", act="ends", missing="On the bench")
    return ann, group


def told(phone):
    """(the text as written, what is said of now) of each item."""
    return [
        (item["text"], item["now"] and [spoken(each) for each in item["now"]]) for item in phone.view("off")["items"]
    ]


WRITTEN = "1 of 4 M5 of Cover out, in no bag (said when the spell ended: On the bench)"


def test_a_larger_loss_that_comes_later_is_what_the_item_tells_of():
    ann, group = spell_over_one_in_no_bag()
    assert told(ann) == [(WRITTEN, ["1 of 4 M5 of Cover out, in no bag"])]
    ann.move(group, "machine", "bag", 2)
    assert told(ann) == [(WRITTEN, ["3 of 4 M5 of Cover out, in no bag"])]
    # The next spell's end does not write it down a second time, and hands the present count over.
    ann.act("spell", act="begins", people=["Ann"])
    ann.act("spell", act="ends", missing="As before")
    assert len(told(ann)) == 1
    (line,) = ann.view("handover")["before_next"]["lines"]
    assert [spoken(each) for each in line["now"]] == ["3 of 4 M5 of Cover out, in no bag"]
    ann.move(group, "bag", "lost")
    assert told(ann) == [(WRITTEN, ["1 of 4 M5 of Cover lost", "2 of 4 M5 of Cover out, in no bag"])]


def test_with_none_missing_any_more_it_says_so_and_a_person_closes_it():
    ann, group = spell_over_one_in_no_bag()
    ann.move(group, "bag", "machine")
    assert told(ann) == [(WRITTEN, ["these are accounted for now"])]
    ann.act("close_item", item=ann.view("off")["items"][0]["item"], how="It is in")
    assert told(ann) == [(WRITTEN, None)]


def test_an_item_about_no_fasteners_tells_of_none():
    ann, _ = spell_over_one_in_no_bag()
    ann.act("item", what="buy", text="Seal")
    assert ("Seal", None) in told(ann)
