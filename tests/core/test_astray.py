"""A fastener that is lost stays lost until it is found, whatever the count of the places comes to."""

from several_phones import another, begun, meet, part_with

from cotterbook.core.words import spoken


def found_twice():
    """One is lost; Ann and Bob, apart, both write down that they found it."""
    ann = begun()
    part, group = part_with(ann, "Cover")
    ann.move(group, "machine", "lost")
    bob = another(ann, "Bob")
    ann.move(group, "lost", "bag")
    second = bob.move(group, "lost", "bag")
    meet(ann, bob)
    return ann, part, group, second


def differences(phone):
    return [(each["code"], each["n"]) for each in phone.view("count")["differences"] if each["code"] != "no_bag"]


def notice(phone, part):
    return spoken(phone.view("part", part=part)["groups"][0]["notice"])


def stops(phone):
    return [stop["sentence"]["values"]["n"] for stop in phone.view("open_items")["stops"]]


def test_two_who_found_the_same_one_do_not_cancel_the_next_loss():
    ann, part, group, _ = found_twice()
    assert (differences(ann), stops(ann)) == ([("overdrawn", 1), ("short", 1)], [])
    ann.move(group, "bag", "lost")
    # By the places: 3 on the machine, 1 in a bag, none lost. In truth: 3 and 1 lost.
    assert (differences(ann), stops(ann)) == ([("lost", 1), ("overdrawn", 1), ("short", 1)], [1])
    (said,) = [each["text"] for each in ann.view("count")["differences"] if each["code"] == "overdrawn"]
    assert spoken(said) == (
        "1 more M5 of Cover were once taken out than were there (lost), though the count is even again. "
        "Count them again, and strike the move that was not so."
    )
    assert {"lost", "overdrawn"} <= {each["code"] for each in ann.view("spells")["asked"]}
    assert notice(ann, part) == (
        "Bob and Ann both wrote down that 1 of these moved. If it was once, strike the one of Bob in the record."
    )


def test_a_group_whose_count_is_even_again_says_so_where_an_older_program_named_nothing_that_it_knew():
    ann = begun()
    part, group = part_with(ann, "Cover")
    ann.move(group, "machine", "lost")
    for _ in range(2):
        ann.write("move", group=group, count=1, **{"from": "lost", "to": "bag"})
    ann.move(group, "bag", "lost")
    assert notice(ann, part) == (
        "More M5 were once moved than were there. Count them again, and strike the move that was not so."
    )


def test_it_stands_until_the_move_that_was_not_so_is_struck():
    ann, _, group, second = found_twice()
    ann.move(group, "bag", "lost")
    ann.act("strike", entry=second, why="Ann had found it already")
    assert (differences(ann), stops(ann)) == ([("lost", 1), ("short", 1)], [1])
    ann.move(group, "lost", "bag")
    assert (differences(ann), stops(ann)) == ([("short", 1)], [])


def test_all_on_the_machine_leave_no_difference_but_a_stop_is_ended_by_a_find_or_an_answer_alone():
    ann, _, group, _ = found_twice()
    ann.move(group, "bag", "lost")
    ann.move(group, "bag", "machine")
    assert (differences(ann), stops(ann)) == ([("lost", 1)], [1])
    ann.act("rule_out", group=group, how="All four are in: it was found twice")
    assert stops(ann) == []


def test_as_many_finds_after_the_losses_end_the_stop():
    ann = begun()
    _, group = part_with(ann, "Cover")
    ann.move(group, "machine", "lost", 3)
    ann.move(group, "lost", "bag")
    assert stops(ann) == [2]
    ann.move(group, "lost", "machine", 2)
    assert stops(ann) == []
