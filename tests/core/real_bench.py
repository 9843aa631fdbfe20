"""One real part with its fasteners, each a thing of its own, and what hands do to them, whoever writes it down."""

from typing import Any

COUNT = 3


class Fastener:
    """One fastener; `known_at` of a person is how far in its `past` that person has seen it."""

    def __init__(self, place: str) -> None:
        self.place, self.touched = place, place != "in"
        self.tight = self.right = self.marked = self.seen = False
        self.hands: set[str] = set()
        self.past: list[tuple[bool, bool, bool, bool]] = []
        self.keep()

    def keep(self) -> None:
        """Its state goes into its past, as others may still know it."""
        came = not self.touched
        self.past.append((came or self.tight and self.right, came or self.marked, came or self.seen, came))

    def loosened(self, place: str = "in") -> None:
        """It turned: nothing that was done to it holds."""
        self.place, self.touched, self.hands = place, True, set()
        self.tight = self.right = self.marked = self.seen = False


class Bench:
    """The part, its fasteners in their holes or beside it, and who knows what of them.

    What is in and what is out everybody sees. Whether one is tight only those know who did it, or were told since.
    Whoever has to choose takes those that want it as far as he knows, and of those the ones that chance gives him.
    """

    def __init__(self, people: int, begins: str, chance: Any) -> None:
        self.chance, self.is_on = chance, begins == "in"
        self.all = [Fastener(begins) for _ in range(COUNT)]
        self.known = [[0] * COUNT for _ in range(people)]
        self.waived = False

    def told(self, people: list[int]) -> None:
        """These people tell each other all they know."""
        for n in range(len(self.all)):
            newest = max(self.known[each][n] for each in people)
            for each in people:
                self.known[each][n] = newest

    def knows(self, person: int, n: int, state: int) -> bool:
        """Whether this person knows that somebody made it so (0 tight, 1 marked), or believes that it still is."""
        past = self.all[n].past[self.known[person][n]]
        return past[state] and not past[3]

    def is_behind(self, person: int, n: int) -> bool:
        """Whether this person believes a fastener tight that others had a hand on since."""
        return self.knows(person, n, 0) and self.known[person][n] < len(self.all[n].past) - 1

    def at(self, place: str) -> list[int]:
        return [n for n, each in enumerate(self.all) if each.place == place]

    def choose(self, person: int, among: list[int], count: int, of_state: int) -> list[int]:
        """So many, first those that lack it (0 tight, 1 marked, 2 seen) as far as this person knows."""
        mixed = self.chance.sample(among, len(among))
        known = self.known[person]
        past = {n: self.all[n].past[known[n]] for n in mixed}
        return sorted(mixed, key=lambda n: (past[n][of_state], all(past[n][:3])))[:count]

    def any_of(self, count: int) -> list[int]:
        """So many of those that are in; where some stayed as they came, those that somebody had a hand on first."""
        mixed = self.chance.sample(self.at("in"), len(self.at("in")))
        return sorted(mixed, key=lambda n: not self.all[n].touched)[:count]

    def _did(self, person: int, those: list[int]) -> None:
        for n in those:
            self.all[n].keep()
            self.known[person][n] = len(self.all[n].past) - 1

    def out(self, person: int, those: list[int]) -> None:
        for n in those:
            self.all[n].loosened("out")
        self._did(person, those)

    def put_in(self, person: int, those: list[int], who: str, tightened: bool) -> None:
        for n in those:
            self.all[n].loosened()
            if not tightened:
                self.all[n].hands.add(who)
        self._did(person, those)

    def tighten(self, person: int, those: list[int], who: str, right: bool) -> None:
        # Who does not know that one is tight: the wrench lets go before it turns, and the line stays across it.
        turned = [n for n in those if not (right and self.all[n].right and not self.knows(person, n, 0))]
        for n in turned:
            self.all[n].loosened()
            self.all[n].tight, self.all[n].right = True, right
            self.all[n].hands.add(who)
        self._did(person, turned)

    def mark(self, person: int, those: list[int], who: str) -> None:
        # Who does not know of a line that is there already sees it, and draws none.
        drawn = [n for n in those if not self.all[n].marked or self.knows(person, n, 1)]
        for n in drawn:
            self.all[n].marked, self.all[n].seen = True, False
            self.all[n].hands.add(who)
        self._did(person, drawn)

    def look(self, person: int, those: list[int], who: str) -> None:
        for n in those:
            self.all[n].seen = self.all[n].seen or who not in self.all[n].hands
        self._did(person, those)

    def not_right(self, person: int, those: list[int]) -> None:
        self.waived = False
        for n in those:
            self.all[n].loosened()
        self._did(person, those)

    def part_off(self, person: int) -> None:
        """What held the part is out, whether or not anybody writes that down."""
        self.is_on = False
        self.out(person, self.at("in"))

    def lacks(self, life: bool, tightened: bool) -> set[str]:
        """What is not so of the fasteners that ought to be in."""
        touched = [self.all[n] for n in self.at("in") if self.all[n].touched]
        found = {"count"} if len(self.at("in")) != COUNT else set()
        if tightened:
            found |= {"torque"} if not all(each.tight and each.right for each in touched) else set()
            found |= {"mark"} if not all(each.marked for each in touched) else set()
        if life and not self.waived and not all(each.seen for each in touched):
            found.add("second_check")
        return found
