"""What somebody found not right is open until it is put right or found right by somebody who knew of the finding."""

from several_phones import Phone, another, begun, meet, part_with

from cotterbook.core.words import spoken

CLIPS = {"thread": None, "head": "clip", "size": "8 mm"}


def back_on(name: str, **group: str | None) -> tuple[Phone, str, str]:
    """A part whose four fasteners are in again."""
    ann = begun()
    part, group_id = part_with(ann, name, **group)
    ann.act("part_off", part=part)
    ann.move(group_id, "bag", "machine", 4)
    ann.act("part_on", part=part)
    return ann, part, group_id


def work(phone: Phone, group: str) -> None:
    phone.act("tighten", group=group, count=4, torque="5")
    phone.act("mark", group=group, count=4)


def look(phone: Phone, group: str, count: int, found: str) -> None:
    phone.act("second_check", group=group, count=count, looked_at="All in, and seated", found=found)


def needs(phone: Phone, part: str) -> list[str]:
    return list(phone.view("part", part=part)["groups"][0]["needs"])


def test_the_others_found_right_leave_the_one_that_is_not() -> None:
    ann, part, clips = back_on("Side panel", **CLIPS)
    bob = another(ann, "Bob")
    look(bob, clips, 1, "not_right")
    look(bob, clips, 3, "right")
    assert needs(bob, part) == ["not_right"]
    look(bob, clips, 1, "right")
    assert needs(bob, part) == []


def test_out_and_in_again_it_is_another_matter() -> None:
    ann, part, clips = back_on("Side panel", **CLIPS)
    bob = another(ann, "Bob")
    look(bob, clips, 1, "not_right")
    look(bob, clips, 3, "right")
    bob.move(clips, "machine", "bag")
    bob.move(clips, "bag", "machine")
    assert needs(bob, part) == []


def test_who_looked_without_knowing_of_the_finding_does_not_end_it() -> None:
    ann, part, clips = back_on("Side panel", **CLIPS)
    bob, cid = another(ann, "Bob"), another(ann, "Cid")
    look(cid, clips, 2, "not_right")
    bob.clock += 60_000
    look(bob, clips, 4, "right")
    meet(ann, bob, cid)
    assert needs(ann, part) == needs(bob, part) == ["not_right"]
    (note,) = [spoken(note) for line in bob.view("record", group=clips)["lines"] for note in line["notes"]]
    assert note == "Not known then: the work of Cid. So this look does not count."
    look(bob, clips, 4, "right")
    assert needs(bob, part) == []


def test_the_owner_does_not_do_without_a_look_over_a_finding_that_was_not_known() -> None:
    ann, part, bolts = back_on("Brake caliper", thread="M8")
    work(ann, bolts)
    bob = another(ann, "Bob")
    look(bob, bolts, 1, "not_right")
    ann.clock += 60_000
    ann.act("waive", group=bolts, why="Nobody else is here")
    meet(ann, bob)
    work(ann, bolts)
    assert needs(ann, part) == ["second_check"]
    assert ann.view("part", part=part)["groups"][0]["second_check"]["waived"] is None
    notes = [spoken(note) for line in ann.view("record", group=bolts)["lines"] for note in line["notes"]]
    assert "Not known then: Bob had found 1 not right. So this decision does not count." in notes
    ann.act("waive", group=bolts, why="Bob's look at the other three will do")
    assert needs(ann, part) == []
