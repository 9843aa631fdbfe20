"""Nothing is called done with a fastener out, untorqued, unmarked or, where a life hangs on it, unchecked.

Held against fasteners that are each a thing of its own here, where the ledger only counts: whatever an entry leaves
open (which of four came out, which were tightened) is taken in the way that is kindest to the word "done". What is not
done by that is not done at all.
"""

from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from cotterbook.core.strip import Strip
from cotterbook.core.views_back import back_view
from vectors.cases import FIRST_AT, identifier

STRIP = identifier("@strip")
PART, GROUP, BAG = identifier("@part"), identifier("@group"), identifier("@bag")
COUNT = 3
RIGHT, WRONG = 22.0, 60.0
PEOPLE = ("Ann", " ANN ", "Bo", "Cid")
SPECIFICATION = {"torque_low_newton_metres": 20.0, "torque_high_newton_metres": 24.0, "torque_page": "7-2"}


class Fastener:
    """One fastener: how far it has got, and who had a hand in it."""

    def __init__(self, touched=True):
        self.touched, self.tight, self.right, self.marked, self.seen = touched, False, False, False, False
        self.hands = set()
        # Whether it was on when the part came off, and no entry speaks of it since.
        self.held = False

    def loosened(self):
        """It turned: nothing that was done to it holds."""
        self.touched, self.tight, self.right, self.marked, self.seen = True, False, False, False, False
        self.hands = set()

    def rank(self):
        """How far it is from done; what stayed as it came is done."""
        return (not self.touched, self.tight and self.right, self.marked, self.seen)


class Bench:
    """The fasteners of one group that are on the machine, one by one."""

    def __init__(self, tightened, specified):
        self.tightened, self.specified = tightened, specified
        self.on = [Fastener(touched=False) for _ in range(COUNT)]
        self.owed, self.waived = 0, False

    def work(self, entry):
        getattr(self, "_" + entry["kind"])(entry)
        self.on.sort(key=Fastener.rank)

    def part_goes(self, is_off):
        """The part comes off, or goes on: then what held it before cannot be on any more."""
        if is_off:
            for each in self.on:
                each.held = True
        else:
            self.on = [each for each in self.on if not each.held]

    def _move(self, entry):
        if entry["from"] == "machine":
            # The kindest: those that held the part came out, then what is furthest from done.
            self.on.sort(key=lambda each: (not each.held, each.rank()))
            self.owed += max(0, entry["count"] - len(self.on))
            del self.on[: entry["count"]]
        if entry["to"] == "machine":
            came = max(0, entry["count"] - self.owed)
            self.owed = max(0, self.owed - entry["count"])
            fresh = [Fastener() for _ in range(came)]
            for each in fresh if not self.tightened else ():
                each.hands.add(entry["who"].strip().lower())
            self.on += fresh

    def _tighten(self, entry):
        right = entry["newton_metres"] == RIGHT or not self.specified
        for each in self.on[: entry["count"]]:
            if each.touched or right:
                each.loosened()
            # One that stayed as it came may still be the one meant, and is no longer as it came.
            each.touched, each.tight, each.right = True, True, right
            each.hands.add(entry["who"].strip().lower())

    def _witness(self, entry):
        if not self.tightened:
            # A line across a clip tells of no torque.
            return
        tight = sorted((each for each in self.on if each.tight), key=lambda each: (each.marked, each.seen, -each.right))
        for each in tight[: entry["count"]]:
            each.marked, each.seen = True, False
            each.hands.add(entry["who"].strip().lower())

    def _second_check(self, entry):
        if entry["found"] == "not_right":
            self.waived = False
            held = [each for each in self.on if (each.tight if self.tightened else each.touched)]
            for each in held[: entry["count"]]:
                if self.tightened:
                    each.loosened()
                each.seen = False
            return
        ready = [each for each in self.on if each.touched and not each.seen and (each.marked or not self.tightened)]
        ready = [each for each in ready if entry["who"].strip().lower() not in each.hands]
        for each in ready[: entry["count"]]:
            each.seen = True

    def _waive(self, _entry):
        self.waived = True

    def lacks(self, life):
        """What is open even by the kindest reading."""
        touched = [each for each in self.on if each.touched]
        found = set()
        if self.owed or len(self.on) != COUNT:
            found.add("count")
        if self.tightened and not all(each.tight and each.right for each in touched):
            found.add("torque")
        if self.tightened and not all(each.marked for each in touched):
            found.add("mark")
        if life and not self.waived and not all(each.seen for each in touched):
            found.add("second_check")
        return found


some = st.sampled_from([COUNT, COUNT, COUNT, 1, 2, 4])
who = st.sampled_from(PEOPLE)
places = st.sampled_from([("machine", "bag"), ("bag", "machine"), ("bag", "machine"), ("machine", "lost"),
                          ("stock", "machine"), ("bag", "scrapped")])
worked = st.one_of(
    st.builds(
        lambda many, ends, by: {"kind": "move", "count": many, "from": ends[0], "to": ends[1], "who": by}
        | ({"from_bag": BAG} if ends[0] == "bag" else {}) | ({"to_bag": BAG} if ends[1] == "bag" else {}),
        some, places, who),
    st.builds(lambda many, value, by: {"kind": "tighten", "count": many, "newton_metres": value, "who": by},
              some, st.sampled_from([RIGHT, RIGHT, RIGHT, WRONG]), who),
    st.builds(lambda at, by: {"kind": "tighten", "count": len(at), "positions": at, "pattern": "row",
                              "newton_metres": RIGHT, "who": by},
              st.lists(st.integers(1, COUNT), min_size=1, max_size=COUNT, unique=True), who),
    st.builds(lambda many, by: {"kind": "witness", "count": many, "who": by}, some, who),
    st.builds(lambda many, found, by: {"kind": "second_check", "count": many, "looked_at": "torque, mark",
                                       "found": found, "who": by},
              some, st.sampled_from(["right", "right", "right", "not_right"]), who),
    st.sampled_from([{"kind": "waive", "what": "second_check", "why": "A cover.", "who": "Ann"}]),
    st.builds(lambda is_off: {"kind": "set", "thing": PART, "type": "part", "values": {"off": is_off}, "who": "Ann"},
              st.booleans()),
    st.builds(lambda n: {"kind": "strike", "entry": n, "why": "slip", "who": "Ann"}, st.integers(0, 40)),
)  # fmt: skip
# A way that leads to done, cut in anywhere by what people wrote besides.
OFF = {"kind": "set", "thing": PART, "type": "part", "values": {"off": True}, "who": "Ann"}
FINISH = (
    OFF,
    {"kind": "move", "count": COUNT, "from": "machine", "to": "bag", "to_bag": BAG, "who": "Ann"},
    {"kind": "move", "count": COUNT, "from": "bag", "from_bag": BAG, "to": "machine", "who": "Ann"},
    OFF | {"values": {"off": False}},
    {"kind": "tighten", "count": COUNT, "newton_metres": RIGHT, "who": "Ann"},
    {"kind": "witness", "count": COUNT, "who": "Ann"},
    {"kind": "second_check", "count": COUNT, "looked_at": "torque, mark", "found": "right", "who": "Bo"},
)


def head(place, head_of, specified):
    values = {"part": PART, "count": COUNT, "head": head_of} | (SPECIFICATION if specified else {})
    return [
        {"kind": "set", "thing": PART, "type": "part", "values": {"name": "Guard", "place": place}},
        {"kind": "set", "thing": GROUP, "type": "group", "values": values},
    ]


@st.composite
def stories(draw):
    """(place, head of the fasteners, whether the manual has a torque, what people wrote in the order of its time)."""
    place, kind = draw(st.sampled_from(["front_brake", "electrics"])), draw(st.sampled_from(["hex", "hex", "clip"]))
    own = draw(st.lists(worked, max_size=draw(st.sampled_from([2, 8]))))
    if draw(st.booleans()):
        at = draw(st.sampled_from([0, 0, len(own) // 2, len(own)]))
        own[at:at] = draw(st.sampled_from([FINISH, FINISH, FINISH[:-1]]))
        # Whose hands they were, and what the wrench said.
        own = [step | {"who": draw(who)} if "who" in step and draw(st.integers(0, 4)) == 0 else step for step in own]
        own = [step | {"newton_metres": draw(st.sampled_from([RIGHT, WRONG]))} if "newton_metres" in step else step
               for step in own]  # fmt: skip
    return (place, kind, draw(st.booleans()), own)


def entries_of(story):
    place, kind, specified, own = story
    written = head(place, kind, specified) + own
    ids = [identifier(f"@entry {n}", FIRST_AT + n) for n in range(len(written))]
    log = []
    for n, each in enumerate(written):
        group = {} if each["kind"] in ("set", "strike") else {"group": GROUP}
        struck = {"entry": ids[2 + each["entry"] % len(own)]} if each["kind"] == "strike" else {}
        mark = {"id": ids[n], "strip": STRIP, "at": FIRST_AT + n, "by": identifier("@phone"), "who": "Ann"}
        log.append(mark | each | group | struck)
    return log


def standing(log):
    """The entries that no later one strikes, unless that strike was struck itself."""
    kept = {}
    for entry in reversed(log):
        if not any(each["kind"] == "strike" and each["entry"] == entry["id"] for each in kept.values()):
            kept[entry["id"]] = entry
    return [entry for entry in log if entry["id"] in kept]


def judged(story, random):
    """(whether the program calls the part done, what it lacks by its fasteners one by one)."""
    log = entries_of(story)
    bench = Bench(story[1] != "clip", story[2])
    off = False
    for entry in standing(log):
        if entry["kind"] == "set" and entry["values"].get("off", off) != off:
            off = not off
            bench.part_goes(off)
        elif entry["kind"] not in ("set", "strike"):
            bench.work(entry)
    shuffled = list(log)
    random.shuffle(shuffled)
    if off:
        bench.part_goes(False)
    strip = Strip(STRIP)
    strip.add(shuffled)
    done = [part["part"] for part in back_view(strip, {})["done"]] == [PART]
    return done, bench.lacks(story[0] == "front_brake") | ({"on"} if off else set())


@given(stories(), st.randoms())
@settings(max_examples=800)
def test_what_is_called_done_lacks_nothing_by_the_kindest_reading(story, random):
    done, lacks = judged(story, random)
    if done:
        assert lacks == set()


def test_the_way_through_ends_as_done_and_without_any_one_step_it_does_not():
    story = ("front_brake", "hex", True, list(FINISH))
    assert judged(story, Random(1)) == (True, set())
    without = {2: "count", 3: "on", 4: "torque", 5: "mark", 6: "second_check"}
    for missing, lacked in without.items():
        own = [step for n, step in enumerate(FINISH) if n != missing]
        done, lacks = judged(("front_brake", "hex", True, own), Random(1))
        assert not done
        assert lacked in lacks


LOOK = FINISH[-1]
NOT_RIGHT = LOOK | {"count": 1, "found": "not_right"}
OUT_AND_IN = ({"kind": "move", "count": 1, "from": "machine", "to": "bag", "to_bag": BAG, "who": "Cid"},
              {"kind": "move", "count": 1, "from": "bag", "from_bag": BAG, "to": "machine", "who": "Cid"})  # fmt: skip
TIGHTEN = {"kind": "tighten", "count": 1, "newton_metres": RIGHT, "who": "Cid"}
WAIVE = {"kind": "waive", "what": "second_check", "why": "A cover.", "who": "Ann"}
WORKED = (TIGHTEN | {"count": COUNT}, FINISH[5])


@pytest.mark.parametrize(
    ("head_of", "after", "lacked"),
    [
        ("hex", (NOT_RIGHT,), "torque"),
        ("hex", (OUT_AND_IN[0],), "count"),
        ("hex", OUT_AND_IN, "torque"),
        ("hex", (TIGHTEN,), "mark"),
        ("hex", (TIGHTEN, FINISH[5]), "second_check"),
        ("hex", (FINISH[5],), "second_check"),
        ("hex", (TIGHTEN | {"count": COUNT, "newton_metres": WRONG},), "torque"),
        ("hex", (OFF,), "on"),
        ("hex", (OFF, OFF | {"values": {"off": False}}), "count"),
        ("hex", (WAIVE, *WORKED, NOT_RIGHT, *WORKED), "second_check"),
        ("clip", (TIGHTEN,), "second_check"),
        ("clip", OUT_AND_IN, "second_check"),
    ],
)
def test_what_comes_after_done_undoes_it(head_of, after, lacked):
    done, lacks = judged(("front_brake", head_of, head_of == "hex", [*FINISH, *after]), Random(1))
    assert not done
    assert lacked in lacks
