"""The things of each type in the order of their first entries, without sorting them anew at each look."""

from typing import Any


class OfTypes:
    """Ids by type, in order; a thing is filed again whenever it was folded anew."""

    def __init__(self) -> None:
        self._keys: dict[str, Any] = {}
        self._in_order: dict[str, list[Any]] = {}

    def file(self, thing: Any) -> None:
        """Puts a thing where its type and its first entry say."""
        key = (thing.first["at"], thing.first["id"], thing.id)
        old = self._keys.get(thing.id)
        if old == (thing.type, key):
            return
        if old is not None:
            rest = self._in_order[old[0]]
            del rest[_place(rest, old[1])]
        keys = self._in_order.setdefault(thing.type, [])
        if not keys or keys[-1] < key:
            keys.append(key)
        else:
            keys.insert(_place(keys, key), key)
        self._keys[thing.id] = (thing.type, key)

    def of(self, thing_type: str) -> list[str]:
        """The ids of all things of a type, in order."""
        return [key[2] for key in self._in_order.get(thing_type, ())]


def _place(keys: list[Any], key: Any) -> int:
    """Where a key is, or belongs, in a list in order."""
    low, high = 0, len(keys)
    while low < high:
        middle = (low + high) // 2
        if keys[middle] < key:
            low = middle + 1
        else:
            high = middle
    return low
