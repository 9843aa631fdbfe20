"""Whatever several people wrote apart: what is called done has every fastener in, tight, marked, and looked at.

Nothing here reckons as the program does. There is one real bench (`real_bench`), with hands on it in the order of real
time; each person writes down truthfully what those hands did, on a phone that may know nothing of the others and whose
clock may be hours out. Phones meet at drawn moments. The part may be the one that came off, one swapped for it, or one
that is new to the machine. What never happened is written down too, as a slip, and struck later by anybody.

These are left out, since nothing that is written could tell them. Which fasteners came out, or were tightened,
of a group where others stayed as they came: here those on which somebody had a hand come out first, and such work is
known to all. Whoever finds on the bench what his phone denies
- the part on where it says off, or more fasteners in than it says - does not take the part off or put it on before
he has met the others: it lets him write down nothing of what he would take out. And whoever swaps a part straight
away, without writing that the first came off, writes down that its fasteners came out where somebody had had them out
before: else nobody can know whether they were put in for the old part or for the new one. And nobody takes a part off
that is another one than he knows of. Nor does anybody tighten once more what he knows to be tight before he has met
those who had a hand on it since: it reads like one who finds it tight. Where two wrote apart whether the part is on, it
is not done; where more fasteners left a place than were there, a notice says so.
"""

import random
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st
from real_bench import COUNT, Bench
from several_phones import Phone, meet

from cotterbook.core.fasteners import Ledger
from cotterbook.core.going_on import is_disputed
from cotterbook.core.strip import Strip
from cotterbook.core.views_back import back_view
from cotterbook.core.way_back import needs_of
from vectors.cases import FIRST_AT, identifier

HOUR = 3_600_000
NAMES = ("Ann", "Bo", "ANN ")
RIGHT, WRONG = "22", "60"
HANDLED = ("move", "tighten", "witness", "second_check", "waive", "strike")


class Hand(Phone):
    """A phone whose entries are named alike at every run."""

    def __init__(self, who: str, number: int) -> None:
        super().__init__(who)
        self.number, self.written = number, 0

    def _new_id(self) -> str:
        self.written += 1
        return identifier(f"{self.number} wrote {self.written}", self.clock)

    @property
    def folded(self) -> Strip:
        """What this phone made of its log, straight: its screens take longer to work out."""
        strip: Strip = self._door.__self__.strip(self.strip)
        return strip


class Story:
    """One bench, three people with a phone each, and what of their entries never happened."""

    def __init__(self, place: str, head: str, begins: str, clocks: list[int], chance: random.Random) -> None:
        self.life, self.tightened, self.chance = place == "front_brake", head == "hex", chance
        self.phones = [Hand(who, number) for number, who in enumerate(NAMES)]
        self.clocks, self.now = clocks, FIRST_AT
        self.untrue: list[str] = []
        self.true: list[str] = []
        first = self.phones[0]
        first.act("begin_strip", machine_name="Hack", name="Bench")
        self.part = first.act("take_off", name="Guard", off=False, place=place)["part"]
        if begins != "fitted":
            values = {"came_in": begins} | ({"outcome": "added"} if begins == "missing" else {})
            first.act("change", thing=self.part, type="part", values=values)
        row: dict[str, Any] = (
            {"count": COUNT, "thread": "M8", "head": head} if head == "hex" else {"count": COUNT, "head": head}
        )
        first.act("add", part=self.part, groups=[row])
        self.group = first.view("part", part=self.part)["groups"][0]["group"]
        if head == "hex":
            torque = {"torque_low_newton_metres": "20", "torque_high_newton_metres": "24", "torque_page": "7-2"}
            first.act("change", thing=self.group, type="group", values=torque)
        meet(*self.phones)
        # Whether it is another part than the one that came.
        self.is_new = begins != "fitted"
        self.bench = Bench(len(NAMES), "in" if begins == "fitted" else "stock", chance)

    def who(self, person: int) -> str:
        return NAMES[person].strip().lower()

    def told(self, person: int) -> Ledger:
        """What the person's phone says of the group."""
        return self.phones[person].folded.ledger(self.group)

    def says_on(self, person: int) -> bool:
        values = self.phones[person].folded.thing(self.part).values
        if self.outcome(person) in ("swapped", "added"):
            return bool(values.get("outcome_done"))
        return not values.get("off")

    def outcome(self, person: int) -> Any:
        values = self.phones[person].folded.thing(self.part).values
        return values.get("outcome") or ("added" if values.get("came_in") == "new" else None)

    def bags(self, person: int, count: int) -> list[str]:
        """Where so many are by the person's phone; "" is in no bag yet."""
        places = self.told(person).places
        return sorted(bag for place, bag in places if place == "bag" and places[place, bag] >= count)

    def writes(self, person: int, act: str, *, without_moves: bool = False, **form: Any) -> bool:
        """Whether the phone takes it; its entries are then among the true ones."""
        phone = self.phones[person]
        self.now += 60_000
        phone.clock = self.now + self.clocks[person]
        answer = phone._acted(act, {"group": self.group} | form if act != "change" else form)
        if "result" not in answer:
            return False
        entries = [each for each in answer["result"]["entries"] if not (without_moves and each["kind"] == "move")]
        phone.take(entries)
        self.true += [each["id"] for each in entries if each["kind"] in HANDLED or each.get("type") == "part"]
        return True

    def meets(self, people: list[int]) -> None:
        meet(*[self.phones[each] for each in people])
        self.bench.told(people)

    def does(self, deed: str, person: int, count: int) -> None:
        """A deed of one person; where only some are as they came, with the others at hand."""
        there = self.bench.at("in")
        together = count < len(there) and not all(self.bench.all[n].touched for n in there)
        if together:
            self.meets([0, 1, 2])
        getattr(self, deed)(person, count)
        if together:
            self.meets([0, 1, 2])

    # What hands do. Each gives back nothing; what the phone does not take is not done.

    def out(self, person: int, count: int) -> None:
        there = self.bench.at("in")
        if len(there) >= count and self.writes(
            person, "move", count=count, to_bag_label="1", to="bag", **{"from": "machine"}
        ):
            self.bench.out(person, self.bench.any_of(count))

    def put_in(self, person: int, count: int) -> None:
        for place in ("out", "stock"):
            there = self.bench.at(place)
            if not self.bench.is_on or len(there) < count:
                continue
            if place == "stock":
                sources = [{"from": "stock"}]
            else:
                sources = [{"from": "bag", "from_bag": bag} for bag in self.bags(person, count)]
            if sources and self.writes(person, "move", count=count, to="machine", **sources[0]):
                self.bench.put_in(person, self.chance.sample(there, count), self.who(person), self.tightened)
                return

    def tighten(self, person: int, count: int, torque: str = RIGHT) -> None:
        there = self.bench.at("in")
        those = self.bench.choose(person, there, count, 0)
        if not self.tightened or len(there) < count or any(self.bench.is_behind(person, n) for n in those):
            return
        if self.writes(person, "tighten", count=count, torque=torque):
            self.bench.tighten(person, those, self.who(person), torque == RIGHT)

    def tighten_wrong(self, person: int, count: int) -> None:
        self.tighten(person, count, WRONG)

    def mark(self, person: int, count: int) -> None:
        there = [n for n in self.bench.at("in") if self.bench.all[n].tight]
        if len(there) >= count and self.writes(person, "mark", count=count):
            self.bench.mark(person, self.bench.choose(person, there, count, 1), self.who(person))

    def look(self, person: int, count: int) -> None:
        ready = [n for n in self.bench.at("in") if self.bench.all[n].touched]
        if self.tightened:
            ready = [n for n in ready if self.bench.all[n].right and self.bench.all[n].marked]
        form = {"count": count, "looked_at": "torque, mark", "found": "right"}
        if len(ready) >= count and self.writes(person, "second_check", **form):
            self.bench.look(person, self.bench.choose(person, ready, count, 2), self.who(person))

    def not_right(self, person: int, count: int) -> None:
        there = self.bench.at("in")
        form = {"count": count, "looked_at": "torque, mark", "found": "not_right"}
        if len(there) >= count and self.writes(person, "second_check", **form):
            self.bench.not_right(person, self.bench.any_of(count))

    def waive(self, person: int, _count: int) -> None:
        if self.writes(person, "waive", why="A cover."):
            self.bench.waived = True

    def part_off(self, person: int, count: int) -> None:
        """The part comes off, with its fasteners written down or not: a group that came late, an older program."""
        if not (self.bench.is_on and self.says_on(person)) or len(self.bench.at("in")) > self.told(person).on:
            return
        if self.is_new is not (self.outcome(person) in ("swapped", "added")):
            return
        if count == COUNT:
            done = self.writes(person, "part_off", part=self.part)
        else:
            new = self.outcome(person) in ("swapped", "added")
            values = {"outcome_done": False} if new else {"off": True}
            form = {"thing": self.part, "type": "part", "values": values}
            done = self.writes(person, "change", without_moves=True, **form)
        if done:
            self.bench.part_off(person)

    def part_on(self, person: int, _count: int) -> None:
        if self.says_on(person):
            return
        if self.bench.is_on and self.outcome(person) == "swapped":
            self._swap(person)
        elif not self.bench.is_on and self.writes(person, "part_on", part=self.part):
            self.bench.is_on, self.is_new = True, self.outcome(person) in ("swapped", "added")

    def _swap(self, person: int) -> None:
        """The new one goes on in the place of one that nobody wrote down as off."""
        there = self.bench.at("in")
        if len(there) > self.told(person).on:
            return
        if any(self.bench.all[n].touched for n in there):
            assert self.writes(person, "part_off", part=self.part)
        if self.writes(person, "part_on", part=self.part):
            self.bench.part_off(person)
            self.bench.is_on = self.is_new = True

    def decide(self, person: int, count: int) -> None:
        if self.outcome(person) != "added":
            values = {"outcome": ("swapped", "goes_back")[count % 2]}
            self.writes(person, "change", thing=self.part, type="part", values=values)

    def finish(self, person: int, _count: int) -> None:
        """The way through, as far as this person sees it."""
        self.part_on(person, COUNT)
        if self.bench.at("out") + self.bench.at("stock"):
            self.put_in(person, COUNT - len(self.bench.at("in")))
        for deed in (self.tighten, self.mark):
            deed(person, COUNT)

    def slip(self, person: int, count: int) -> None:
        """Something is written down that nobody did, or struck that was so."""
        before = list(self.true)
        phone, form = self.phones[person], {"count": count}
        bags = self.bags(person, count)
        struck = [each for each in self.true if each in phone.log]
        slips: list[tuple[str, dict[str, Any]]] = [
            ("move", form | {"from": "machine", "to": "bag", "to_bag_label": "1"}),
            ("move", form | {"from": "bag", "from_bag": bags[0] if bags else "", "to": "machine"}),
            ("tighten", form | {"torque": RIGHT}),
            ("mark", form),
            ("second_check", form | {"looked_at": "torque, mark", "found": "right"}),
            ("second_check", form | {"looked_at": "torque, mark", "found": "not_right"}),
            ("part_off" if self.says_on(person) else "part_on", {"part": self.part}),
            ("strike", {"entry": self.chance.choice(struck) if struck else None, "why": "Slip."}),
            ("strike", {"entry": self.chance.choice(struck) if struck else None, "why": "Slip."}),
        ]
        act, form = self.chance.choice(slips)
        if self.writes(person, act, **form):
            self.untrue += [each for each in self.true if each not in before]
            self.true = before

    def strike(self, person: int, _count: int) -> None:
        """Somebody sees that an entry is not true."""
        here = [each for each in self.untrue if each in self.phones[person].log]
        if here:
            entry = self.chance.choice(here)
            self.writes(person, "strike", entry=entry, why="Nobody did.", all_the_same="So.")
            self.untrue.remove(entry)

    # What the program says of it.

    def is_held(self) -> bool:
        """Whether the law was put to the test: every phone has everything and says that all is done."""
        done = False
        for phone in self.phones:
            strip = phone.folded
            done = not needs_of(strip, strip.thing(self.part))
            if phone is self.phones[0]:
                assert done or not back_view(strip, {})["done"]
            if done:
                assert self.bench.is_on
            if is_disputed(strip.thing(self.part)):
                assert not done
            elif strip.ledger(self.group).overdrawn():
                assert phone.view("part", part=self.part)["groups"][0]["notice"] is not None
            elif not strip.needs(self.group):
                assert self.bench.lacks(self.life, self.tightened) == set()
        return done

    def as_told(self, person: int) -> None:
        """Does by hand no more than the phone says is wanted, in its order."""
        self.part_on(person, COUNT)
        if self.told(person).out:
            self.put_in(person, self.told(person).out)
        if self.told(person).loose:
            self.tighten(person, self.told(person).loose)
        held = self.told(person)
        if held.tight > held.marked:
            self.mark(person, held.tight - held.marked)

    def is_looked_at(self, person: int) -> None:
        held = self.told(person)
        if held.checkable > held.check.checked:
            self.look(person, held.checkable - held.check.checked)


DEEDS = ("out", "put_in", "tighten", "tighten", "mark", "look", "look", "not_right", "part_off", "part_off", "part_on",
         "decide", "finish", "finish", "finish", "tighten_wrong", "waive", "slip", "slip", "strike", "meet", "meet",
         "meet")  # fmt: skip
# Before the story: nothing, or one had all out and in again, tight and marked, and all know it.
BEFORE: list[list[Any]] = [[], [("out", 0, COUNT), ("finish", 0, COUNT), ("meet", 0, COUNT)]]
steps = st.tuples(st.sampled_from(DEEDS), st.integers(0, 2), st.sampled_from([COUNT, COUNT, 1, 2]))


def told(place: str, head: str, begins: str, clocks: list[int], deeds: Any, seed: int) -> list[bool]:
    """Tells a story; whether all was called done each time that everybody had met."""
    story = Story(place, head, begins, clocks, random.Random(seed))
    found = []
    for deed, person, count in deeds:
        if deed == "meet":
            story.meets([0, 1, 2] if count == COUNT else [each for each in (0, 1, 2) if each != person])
            if count == COUNT and not story.untrue:
                found.append(story.is_held())
        else:
            story.does(deed, person, count)
    while story.untrue:
        story.meets([0, 1, 2])
        story.strike(0, 1)
    story.meets([0, 1, 2])
    found.append(story.is_held())
    last = seed % 2
    for person in (last, last, 1 - last):
        story.as_told(person)
        story.meets([0, 1, 2])
        story.is_looked_at(1 - person)
        story.meets([0, 1, 2])
        found.append(story.is_held())
    return found


@given(
    st.sampled_from(["front_brake", "electrics"]),
    st.sampled_from(["hex", "hex", "hex", "clip"]),
    st.sampled_from(["fitted", "fitted", "new", "missing"]),
    st.lists(st.sampled_from([-5 * HOUR, 0, 3 * HOUR, 40 * HOUR]), min_size=3, max_size=3),
    st.sampled_from(BEFORE),
    st.lists(steps, min_size=2, max_size=14),
    st.integers(0, 2**32),
)
@settings(max_examples=400, derandomize=True)
def test_what_several_wrote_apart_is_not_called_done_unless_it_is(place, head, begins, clocks, before, deeds, seed):
    told(place, head, begins, clocks, before + deeds, seed)
