"""Rows of long lists, of which only those are worked out anew that an entry has touched.

What a strip-down holds of a part (the thing, its line, its groups and their ledgers, its bag) is never changed: an
entry that touches it leads to a new object. So a row that is made of the very objects it was made of last time is the
row of last time. Nobody has to say what went stale, and nobody can forget to.
"""

import json
from typing import Any


class Rows(list):  # type: ignore[type-arg]  # subscripted types are not had there at run time
    """Rows as a list, and the JSON text of each."""

    def __init__(self) -> None:
        super().__init__()
        self.texts: list[str] = []


class KeptRows:
    """The rows of one strip-down's lists, by the list's name and the thing that each is of."""

    def __init__(self) -> None:
        self._kept: dict[str, dict[str, Any]] = {}

    def rows(self, name: str, things: list[Any], made_of: Any, work: Any) -> Rows:
        """A row of each thing, in their order: `work(thing)`, or what that gave while `made_of(thing)` was the same.

        `made_of` gives a list of every object that the row is read from. Rows are shared: nobody may change one.
        """
        kept, found = self._kept.setdefault(name, {}), Rows()
        for thing in things:
            now = made_of(thing)
            row = kept.get(thing.id)
            if row is None or not _the_same(row[0], now):
                new = work(thing)
                row = kept[thing.id] = (now, new, json.dumps(new))
            found.append(row[1])
            found.texts.append(row[2])
        return found


def _the_same(before: list[Any], now: list[Any]) -> bool:
    if len(before) != len(now):
        return False
    for old, new in zip(before, now):
        if old is not new:
            return False
    return True
