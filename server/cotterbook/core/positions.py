"""Which fasteners of a group had which step, where their places in the pattern were written down.

A tightening of one fastener after another says which place it was. So one that is tightened twice is not taken for
two, and what was done to a place before is over once that place is tightened anew.
"""

from typing import Any


class Positions:
    """`had[step]` are the places known to have had a step since they were last loose, or since it began anew."""

    def __init__(self) -> None:
        self.had: dict[int, set[int]] = {}
        self._pattern: Any = None
        # Tightenings to the last step whose work may still be on some: the entry, its places while they are known, and
        # the places known to be tightened since.
        self._holding: list[tuple[dict[str, Any], set[int], set[int]]] = []
        self._unsure: list[dict[str, Any]] = []

    @property
    def applied(self) -> list[dict[str, Any]]:
        """The tightenings to the last step that may still hold some, in order."""
        return [entry for entry, _, _ in self._holding if entry not in self._unsure]

    @property
    def in_doubt(self) -> list[dict[str, Any]]:
        """Those that hold none by the record, since their phone did not know what others did; they may all the same."""
        return [entry for entry, _, _ in self._holding if entry in self._unsure]

    def none_hold(self, unknown: Any = ()) -> None:
        """What was tightened holds none any more; of these entries nobody knows whether they came after that."""
        self._holding = [each for each in self._holding if each[0] in unknown]
        self._unsure = [each[0] for each in self._holding]

    def doubt(self, entry: dict[str, Any], on: int) -> None:
        """A tightening to the last step that holds none by the record, and may all the same."""
        self.apply(entry, [], on)
        self._unsure = self._unsure + [entry]

    def apply(self, entry: dict[str, Any], places: list[int], on: int) -> None:
        """A tightening to the last step, with `on` fasteners on the machine; those that it made over are left out.

        One is over when all its places were tightened again since; one without places, when every fastener was.
        """
        kept = []
        for each, own, later in self._holding:
            later = later | set(places)
            if not (own <= later if own else len(later) >= on):
                kept.append((each, own, later))
        self._holding = kept + [(entry, set(places), set())]

    def forget(self) -> None:
        """Some came out or were slackened, and which nobody wrote down."""
        self.had = {}
        self._holding = [(entry, set(), set()) for entry, _, _ in self._holding]

    def begin_anew(self, step: int) -> None:
        """The order is gone through once more, from this step on."""
        self.had = {each: self.had[each] for each in self.had if each < step}

    def of(self, entry: dict[str, Any]) -> list[int]:
        """The places of a tightening; none where it says none. Those of another pattern are counted otherwise."""
        places = list(entry.get("positions") or ())
        if places and entry.get("pattern") != self._pattern:
            self._pattern = entry.get("pattern")
            self.forget()
        return places

    def with_step(self, step: int) -> set[int]:
        """The places known to have had a step."""
        return self.had.get(step, set())

    def known_loose(self, last: int) -> set[int]:
        """The places known to have had a step before the last one, and not that."""
        found: set[int] = set()
        for step in self.had:
            if step != last:
                found = found | self.had[step]
        return found - self.with_step(last)

    def slackened(self, count: int, places: list[int], loose: int, last: int) -> int:
        """How many of those that get a step before the last one were tight, or as they came; `loose` are not."""
        if not places:
            return max(0, count - loose)
        tight, known_loose = len(self.with_step(last) & set(places)), self.known_loose(last)
        others = count - tight - len(known_loose & set(places))
        return tight + max(0, others - max(0, loose - len(known_loose)))

    def take(self, step: int, places: list[int], last: int) -> None:
        """These places got a step; what is at one before the last is not tight."""
        self.had[step] = self.with_step(step) | set(places)
        if step != last:
            self.had[last] = self.with_step(last) - set(places)
