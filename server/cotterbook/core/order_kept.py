"""Whether fasteners were tightened in the order that is laid out for them: noted in words, never refused."""

from typing import Any

from .fasteners import Ledger
from .patterns import order
from .words import Refused, say

MOST_NOTES = 3


class Rounds:
    """Goes through the order of a group with its entries, one after another, and says what was out of it.

    A round is judged that began with all fasteners alike: what one alone gets, that came out and went in again, has
    no order. Each tightening carries the order it was made in, so another one chosen later blames nobody.
    """

    def __init__(self) -> None:
        self.pattern: Any = None
        # By step: the places that had it in this round, and whether the round is judged.
        self._rounds: dict[int, tuple[list[int], bool]] = {}

    def take(self, entry: dict[str, Any], before: Ledger) -> list[dict[str, Any]]:
        """Sentences on what an entry did out of turn; `before` is the ledger as the entry found it."""
        if entry["kind"] == "move" or entry["kind"] == "second_check" and entry["found"] == "not_right":
            self._rounds = {}
        if entry["kind"] != "tighten":
            return []
        step, places = entry.get("step") or before.steps + 1, entry.get("positions")
        turns = order_of(entry, before.count)
        if not places or not turns:
            self._rounds.pop(step, None)
            return []
        if entry["pattern"] != self.pattern:
            self.pattern, self._rounds = entry["pattern"], {}
        return self._in_turn(step, places, turns, before)

    def _in_turn(self, step: int, places: list[int], turns: list[int], before: Ledger) -> list[dict[str, Any]]:
        had, is_judged = self._rounds.get(step, ([], False))
        if not had or len(had) == len(turns):
            had, is_judged = [], before.count in (before.loose, before.tight, before.untouched)
            # With an earlier step begun anew, what was done of the later ones is over.
            self._rounds = {each: self._rounds[each] for each in self._rounds if each < step}
        found = []
        for place in [each for each in places if each in turns]:
            left = [each for each in turns if each not in had]
            if left and place != left[0]:
                text = "Out of the laid-out order: number {done} was tightened when number {turn} was next."
                found.append(say(text, done=turns.index(place) + 1, turn=turns.index(left[0]) + 1))
            if place not in had:
                had = had + [place]
        self._rounds[step] = (had, is_judged)
        return found[:MOST_NOTES] if is_judged else []

    def had(self, step: int) -> list[int]:
        """The places that had a step in the round that runs, or in the last one."""
        return self._rounds.get(step, ([], False))[0]

    @property
    def begun(self) -> bool:
        """Whether any place was named since the last of them came out."""
        return any([self._rounds[step][0] for step in self._rounds])


def order_of(entry: dict[str, Any], count: int) -> list[int]:
    """The places in the order that an entry was made in; none where it says none, or none that fits."""
    try:
        return order(entry["pattern"], count) if entry.get("pattern") else []
    except Refused:
        return []


def numbers_of(entry: dict[str, Any], count: int) -> list[int]:
    """The numbers, as they are drawn, of the places that a tightening names; none where the order no longer fits."""
    turns = order_of(entry, count)
    return [turns.index(place) + 1 for place in entry.get("positions") or () if place in turns]
