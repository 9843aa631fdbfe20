"""Two phones work on the same fasteners apart: never more is told tight than can be, and both tell the same."""

import json
import random

from hypothesis import given, settings
from hypothesis import strategies as st

from cotterbook.core import phone
from cotterbook.core.apart import last_known, unseen_of
from cotterbook.core.words import spoken
from vectors.cases import FIRST_AT, identifier

STRIP, PART, GROUP, BAG = (identifier(f"@{name}") for name in ("strip", "part", "group", "bag"))

CALIPER = {"name": "Caliper", "place": "front_brake", "came_in": "new", "outcome_done": True}


class Phone:
    """A phone of one person with its own clock, and what it has of the log."""

    numbers = 0

    def __init__(self, who, clock=FIRST_AT, log=(), wrong_by=0):
        self.who, self.clock, self.wrong_by, self.log = who, clock, wrong_by, {}
        self.device = identifier("@phone of " + who)
        self.call = phone.start(self._new_id)
        self.load(log)

    def _new_id(self):
        Phone.numbers += 1
        return identifier(f"entry {Phone.numbers}", self.clock + self.wrong_by)

    def load(self, entries):
        new = [entry for entry in entries if entry["id"] not in self.log]
        self.log.update({entry["id"]: entry for entry in new})
        self.call("load", json.dumps({"strip": STRIP, "entries": new}))

    def act(self, name, **form):
        self.clock += 1000
        form = {"strip": STRIP, "group": GROUP} | form
        stamp = {"now": self.clock + self.wrong_by, "device": self.device, "who": self.who}
        answer = json.loads(self.call("act", json.dumps({"act": name, "form": form} | stamp)))
        if "result" in answer:
            self.load(answer["result"]["entries"])
        return answer

    def view(self, name):
        answer = json.loads(self.call("view", json.dumps({"strip": STRIP, "view": name, "part": PART, "group": GROUP})))
        return answer["result"]

    @property
    def group(self):
        return self.view("part")["groups"][0]

    @property
    def notice(self):
        return None if self.group["notice"] is None else spoken(self.group["notice"])

    def notes(self):
        return [spoken(note) for line in reversed(self.view("record")["lines"]) for note in line["notes"]]

    def counts(self):
        return [self.group[name] for name in ("on", "loose", "tight", "marked")] + [
            self.group["second_check"]["checked"]
        ]

    def tighten(self, count=4):
        assert "result" in self.act("tighten", count=count, torque="22")

    def tighten_and_mark(self, count=4):
        self.tighten(count)
        assert "result" in self.act("mark", count=count)

    def look(self, count=4, found="right"):
        return self.act("second_check", count=count, looked_at="torque, mark", found=found)

    def take_out(self, count=4):
        return self.act("move", count=count, **{"from": "machine"}, to="bag", to_bag_label="1")

    def put_in(self, count=4):
        return self.act("move", count=count, **{"from": "bag"}, from_bag=BAG, to="machine")


def sent(*phones):
    """All have all now."""
    for one in phones:
        for other in phones:
            one.load(list(other.log.values()))


def two_phones(ann_wrong_by=0, bob_wrong_by=0, **group):
    """Four are in the brake's caliper and loose, as both phones know."""
    stamp = {"strip": STRIP, "by": identifier("@phone of Ann"), "who": "Ann", "kind": "set"}
    begun = [
        {"thing": STRIP, "type": "strip", "values": {"name": "Bench"}},
        {"thing": PART, "type": "part", "values": CALIPER},
        {"thing": BAG, "type": "bag", "values": {"label": "1"}},
        {"thing": GROUP, "type": "group", "values": {"part": PART, "count": 4, "thread": "M8"} | group},
        {"kind": "move", "group": GROUP, "count": 4, "from": "stock", "to": "machine"},
    ]
    begun = [stamp | {"id": identifier(f"@begun {n}"), "at": FIRST_AT - 9 + n} | each for n, each in enumerate(begun)]
    return Phone("Ann", log=begun, wrong_by=ann_wrong_by), Phone("Bob", log=begun, wrong_by=bob_wrong_by)


def test_two_of_four_tightened_apart_may_be_the_same_two():
    ann, bob = two_phones()
    ann.tighten_and_mark(2)
    bob.tighten_and_mark(2)
    sent(ann, bob)
    assert ann.counts() == bob.counts() == [4, 2, 2, 2, 0]
    assert ann.group["needs"] == ["torque", "mark", "second_check"]
    text = "{} tightened these apart, perhaps the same ones. Tighten all once more, or those left out."
    assert ann.notice == bob.notice
    assert ann.notice in [text.format("Bob and Ann"), text.format("Ann and Bob")]
    (note,) = [note for note in ann.notes() if "They are taken to be the same" in note]
    assert note.startswith("Not known then: ")
    ann.tighten_and_mark(4)
    sent(ann, bob)
    assert (bob.counts(), bob.notice) == ([4, 0, 4, 4, 0], None)


def test_those_left_out_may_be_tightened_instead():
    ann, bob = two_phones()
    for each in (ann, bob):
        each.tighten_and_mark(2)
    sent(ann, bob)
    bob.tighten_and_mark(2)
    assert (bob.counts(), bob.notice) == ([4, 0, 4, 4, 0], None)


def test_what_each_knew_of_the_other_is_counted_one_beside_the_other():
    ann, bob = two_phones()
    ann.tighten_and_mark(2)
    sent(ann, bob)
    bob.tighten_and_mark(2)
    sent(ann, bob)
    assert (ann.counts(), ann.notice, ann.notes()[-1:]) == ([4, 0, 4, 4, 0], None, [])


def test_different_places_are_different_ones_and_the_same_places_are_the_same():
    for places, tight in (([2, 4], 4), ([1, 3], 2)):
        ann, bob = two_phones(pattern="cross")
        ann.act("tighten", count=2, torque="22", positions=[1, 3])
        bob.act("tighten", count=2, torque="22", positions=places)
        sent(ann, bob)
        assert ann.group["tight"] == bob.group["tight"] == tight
        assert bob.notice is None


def test_all_tightened_by_both_is_all_tight_and_nothing_to_tell():
    ann, bob = two_phones()
    for each in (ann, bob):
        each.tighten_and_mark(4)
    sent(ann, bob)
    assert (ann.counts(), ann.notice) == ([4, 0, 4, 4, 0], None)


def test_a_look_before_work_was_known_does_not_stand_for_it():
    """Ann's clock is half an hour behind, so her later work stands before Bob's look in the log."""
    ann, bob = two_phones(ann_wrong_by=-1_800_000)
    ann.tighten_and_mark()
    sent(ann, bob)
    assert "result" in bob.look()
    ann.take_out()
    ann.act("move", count=4, **{"from": "bag"}, from_bag=ann.group["places"][0]["bag"], to="machine")
    ann.tighten_and_mark()
    sent(ann, bob)
    for each in (ann, bob):
        assert each.counts() == [4, 0, 4, 4, 0]
        assert (
            spoken(each.group["second_check"]["notice"]) == "Bob looked before the work of Ann was known. Look again."
        )
    assert "So this look does not count." in bob.notes()[-1]
    assert "result" in bob.look()
    assert (bob.counts(), bob.group["done"], bob.group["second_check"]["notice"]) == ([4, 0, 4, 4, 4], True, None)


def test_two_looks_apart_may_be_at_the_same_ones():
    ann, bob = two_phones()
    ann.tighten_and_mark()
    cid = Phone("Cid", log=list(ann.log.values()))
    sent(ann, bob)
    bob.look(2)
    cid.look(2)
    sent(ann, bob, cid)
    assert ann.counts() == [4, 0, 4, 4, 2]
    assert "looked at these apart, perhaps the same ones." in ann.notice
    bob.look(2)
    assert (bob.counts(), bob.notice) == ([4, 0, 4, 4, 4], None)


def test_a_clock_ahead_does_not_tighten_what_came_in_later():
    ann, bob = two_phones(bob_wrong_by=3_600_000)
    bob.tighten_and_mark()
    ann.take_out()
    ann.act("move", count=4, **{"from": "bag"}, from_bag=ann.group["places"][0]["bag"], to="machine")
    sent(ann, bob)
    for each in (ann, bob):
        assert each.counts() == [4, 4, 0, 0, 0]
        assert each.notice == (
            "Bob tightened these without knowing that Ann had some out or loose. Tighten them again."
        )
    ann.tighten_and_mark()
    assert (ann.counts(), ann.notice) == ([4, 0, 4, 4, 0], None)


def test_what_another_found_not_right_is_not_tight_by_who_did_not_know():
    ann, bob = two_phones()
    ann.tighten_and_mark()
    sent(ann, bob)
    bob.look(2, "not_right")
    ann.tighten_and_mark()
    sent(ann, bob)
    assert ann.counts()[:3] == [4, 2, 2]


def test_both_wrote_down_that_it_came_off():
    ann, bob = two_phones()
    for each in (ann, bob):
        each.take_out()
    sent(ann, bob)
    bag = ann.group["places"][0]["bag"]
    text = "{} both wrote down that 4 of these moved. If it was once, strike the one of {} in the record."
    texts = [text.format("Bob and Ann", "Bob"), text.format("Ann and Bob", "Ann")]
    assert ann.notice == bob.notice
    assert ann.notice in texts
    ann.act("move", count=4, **{"from": "bag"}, from_bag=bag, to="machine")
    assert ann.group["on"] == 0
    assert ann.notice in texts
    refused = ann.act("tighten", count=4, torque="22")["problems"][0]
    assert (refused["code"], spoken(refused)) == ("moved_twice", ann.notice)
    (line,) = [line for line in ann.view("record")["lines"] if "not so many" in " ".join(map(spoken, line["notes"]))]
    ann.act("strike", entry=line["entry"], why="It was once.")
    assert (ann.counts(), ann.notice) == ([4, 4, 0, 0, 0], None)


def test_what_was_struck_was_known_too():
    ann, bob = two_phones()
    ann.tighten(2)
    sent(ann, bob)
    bob.act("mark", count=1)
    marked = bob.view("record")["lines"][0]["entry"]
    sent(ann, bob)
    ann.tighten_and_mark(2)
    ann.act("strike", entry=marked, why="Not mine.")
    sent(ann, bob)
    assert (bob.counts(), bob.notice) == ([4, 0, 4, 2, 0], None)


def test_older_entries_know_all_before_them():
    def entry(n, by, **more):
        return {"kind": "tighten", "id": f"{n}", "at": n, "by": by, "count": 1} | more

    older = [entry(1, "a"), entry(2, "b"), entry(3, "a")]
    assert unseen_of(older, older) == {}
    assert last_known(older) == ["3"]
    apart = [*older, entry(4, "b", seen_last=["1"]), entry(5, "c", seen_last=["3", "4"])]
    assert {name: [each["id"] for each in found] for name, found in unseen_of(apart, apart).items()} == {"4": ["3"]}
    # 3 is behind neither: by b's phone 4 knew of 2 as its own, and 5 knew of both ends.
    assert last_known(apart[:4]) == ["3", "4"]
    assert last_known(apart) == ["5"]
    nothing_known = [*older, entry(4, "c", seen_last=[])]
    assert [each["id"] for each in unseen_of(nothing_known, nothing_known)["4"]] == ["1", "2", "3"]


done_apart = st.lists(
    st.tuples(st.sampled_from(["out", "in", "tighten", "tighten", "mark"]), st.integers(1, 4)), max_size=5
)


class Bolts:
    """What hands do to real bolts; each takes what is so as far as he knows, and what can be."""

    def __init__(self, many):
        self.state = ["loose"] * many

    def do(self, what, count, known, chance):
        """Whether it could be done to so many; `known` is what the person knows of each, and is kept."""
        wanted = {"out": ("loose", "tight"), "in": ("out",), "tighten": ("loose",), "mark": ("tight",)}[what]
        there = [n for n, state in enumerate(known) if state in wanted and (what == "in") == (self.state[n] == "out")]
        if len(there) < count:
            return False
        for n in chance.sample(there, count) if what != "mark" else ():
            self.state[n] = known[n] = {"out": "out", "in": "loose", "tighten": "tight"}[what]
        return True


@given(done_apart, done_apart, st.integers(0, 2**32), st.integers(-5_000, 5_000), st.lists(st.booleans(), max_size=10))
@settings(max_examples=150, deadline=None)
def test_never_more_is_told_tight_than_is(anns, bobs, seed, wrong_by, turns):
    """Hands on real bolts, in any order of the two, whatever the clocks say of it."""
    chance, bolts = random.Random(seed), Bolts(4)
    phones = two_phones(bob_wrong_by=wrong_by)
    todo, known = [list(anns), list(bobs)], [["loose"] * 4, ["loose"] * 4]
    while todo[0] or todo[1]:
        who = int(turns.pop()) if turns and all(todo) else int(not todo[0])
        what, count = todo[who].pop(0)
        if not bolts.do(what, count, known[who], chance):
            continue
        one = phones[who]
        one.clock = max(each.clock for each in phones)
        if what == "out":
            one.act("move", count=count, **{"from": "machine"}, to="bag", to_bag_label="1")
        elif what == "in":
            bag = one.group["places"][0]["bag"]
            assert "result" in one.act("move", count=count, **{"from": "bag"}, from_bag=bag, to="machine")
        elif what == "tighten":
            one.tighten(count)
        else:
            one.act("mark", count=count)
    sent(*phones)
    assert phones[0].counts() == phones[1].counts()
    assert phones[0].group["on"] == 4 - bolts.state.count("out")
    assert phones[0].group["tight"] <= bolts.state.count("tight")
    # Whoever knows of both and tightens all of them has all of them tight.
    on = phones[1].group["on"]
    if on:
        phones[1].tighten_and_mark(on)
        assert (phones[1].counts()[1:4], phones[1].notice) == ([0, on, on], None)
