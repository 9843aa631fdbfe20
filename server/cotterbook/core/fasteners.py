"""Where every fastener of a group is, and how it is held: the group's ledger."""

from typing import Any

from .apart import Unseen, noted
from .came_off_with import PART_BACK, PART_OFF, PART_SWAPPED
from .figures import plain_number
from .held import Held


def title(values: dict[str, Any]) -> str:
    """What the shop calls the fasteners: "M8×25", the size of a pin or a washer, or the key they take, or nothing."""
    size, length = values.get("thread") or values.get("size"), values.get("length_millimetres")
    if size and length:
        return str(size) + "×" + plain_number(length)
    return str(size or values.get("key") or "")


def begins_in(part: dict[str, Any]) -> str:
    """Where the fasteners of a part with these values are before anything is moved."""
    return "stock" if part.get("came_in") in ("new", "missing") else "machine"


class Ledger(Held):
    """A group's fasteners by place, and of those on the machine how many are tight and marked.

    Begun with `count` fasteners at `begins` ("machine", or "stock" for a part that
    is new to the machine). Moves are believed even where more leave a place than it
    holds, as can happen when two phones count apart: the place then goes below
    zero, and `overdrawn` says so, since a ledger that hides it could not be mended.
    How those on the machine are held says `Held`; `steps` and `head` are for it. `unseen` are, by the id of an entry,
    those that its phone did not know; `moved_twice` is what wants a move struck.
    """

    def __init__(self, count: int, begins: str, steps: int = 0, head: Any = None):
        super().__init__(count if begins == "machine" else 0, steps, head)
        self.count, self.begins = count, begins
        self.places: dict[tuple[str, str], int] = {(begins, ""): count}
        # The fewest that were ever on the machine: what is on above that was put in.
        self._fewest = self.untouched
        # How many of those that held the part when it came off are still on the machine; what its phone did not know.
        self._held, self._held_unseen = 0, Unseen({}, (), steps)
        self.unseen: dict[str, list[dict[str, Any]]] = {}
        self.moved_twice: Any = None

    def take(self, entry: dict[str, Any]) -> None:
        """Works one entry into the ledger: a move, tighten, witness, second_check or waive, or one of `came_off_with`.

        Entries come in order.
        """
        others, self.note = self.unseen.get(entry.get("id") or "", ()), None
        unseen = Unseen(entry, others, self.steps)
        if entry["kind"] == "move":
            self._move(entry, unseen)
        elif entry["kind"] == PART_OFF:
            self._held, self._held_unseen = self.on, unseen
        elif entry["kind"] == PART_SWAPPED:
            # What was out since may have been put in for the new part already.
            self._held, self._held_unseen = self.untouched, unseen
        elif entry["kind"] == PART_BACK:
            self._came_off_with_the_part()
        else:
            self.work(entry, unseen)
        if not others:
            self.finish()

    def _move(self, entry: dict[str, Any], unseen: Unseen) -> None:
        count = entry["count"]
        source, target = (entry["from"], entry.get("from_bag") or ""), (entry["to"], entry.get("to_bag") or "")
        self.places[source] = self.places.get(source, 0) - count
        self.places[target] = self.places.get(target, 0) + count
        if self.places[source] < 0 and source[0] != "stock" and unseen.same_source():
            self.note = self.moved_twice = noted("moved", entry, unseen.same_source())
        self._fewest = max(0, min(self._fewest, self.on))
        if entry["from"] == "machine":
            self._held = max(0, self._held - count)
            self.came_out(count, unseen)
        if entry["to"] == "machine":
            self.went_in(count, entry["who"])

    def _came_off_with_the_part(self) -> None:
        """What held the part when it came off, and is in no entry since, is out and in no bag."""
        count = min(self._held, max(0, self.on))
        if count:
            untouched = min(self.untouched, count)
            self.untouched -= untouched
            self._fewest = max(0, min(self._fewest, self.on - untouched))
            self.places[("machine", "")] = self.on - untouched
            self.places[("bag", "")] = self.places.get(("bag", ""), 0) + untouched
            if count > untouched:
                rest = {"kind": "move", "from": "machine", "to": "bag", "count": count - untouched}
                self._move(rest, self._held_unseen)
        self.loose += self.untouched
        self._held = self.untouched = 0

    @property
    def on(self) -> int:
        """How many are on the machine."""
        return self.places.get(("machine", ""), 0)

    @property
    def out(self) -> int:
        """How many the group still lacks on the machine."""
        return min(self.count, max(0, self.count - self.on))

    @property
    def back(self) -> int:
        """How many of those on the machine were put in, again or new, and did not just stay there."""
        return max(0, self.on - self._fewest)

    def at(self, where: str) -> int:
        """How many are at a place, in all its bags together."""
        return sum([self.places[place] for place in self.places if place[0] == where])

    def overdrawn(self) -> list[tuple[str, str]]:
        """Places that more fasteners left than were there; new stock has no end."""
        return sorted(place for place, count in self.places.items() if count < 0 and place[0] != "stock")

    def elsewhere(self) -> list[tuple[str, str, int]]:
        """(place, bag, count) wherever some are, the machine and untouched stock left out, in fixed order."""
        return sorted(
            (place[0], place[1], count)
            for place, count in self.places.items()
            if count != 0 and place[0] not in ("machine", "stock")
        )

    def in_stock(self) -> list[tuple[str, str, int]]:
        """The fasteners of a new part that are not on yet, as `elsewhere` gives the others."""
        count = self.places.get(("stock", ""), 0)
        return [("stock", "", count)] if count > 0 else []

    def needs(self, twice: bool) -> list[str]:
        """What the group still wants before it is done: of "count", "torque", "mark", "not_right" and "second_check".

        The last only where another person has to look, `twice`, and not of fasteners that stayed as they came.
        """
        found = []
        if self.on != self.count:
            found.append("count")
        if self.is_tightened:
            if self.loose:
                found.append("torque")
            if self.loose or self.marked < self.tight:
                found.append("mark")
        if self.not_right:
            found.append("not_right")
        if twice and self.check.waived is None and self.check.checked < self.loose + self.tight:
            found.append("second_check")
        return found
