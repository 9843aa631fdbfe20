"""One thing of a strip-down, folded from its own entries."""

from typing import Any

from .fields import Field, fold_fields
from .ordering import in_order


def key_of(entry: dict[str, Any]) -> Any:
    """The order of entries: hybrid logical clock, then id."""
    return (entry["at"], entry["id"])


class Thing:
    """One thing's folded state: its type, fields by name, and its live entries by kind, in order."""

    __slots__ = ("id", "type", "alive", "fields", "values", "by_kind", "first")

    def __init__(self, thing: str, entries: list[dict[str, Any]], struck: Any):
        self.id = thing
        sets = [entry for entry in entries if entry["kind"] == "set"]
        live = [entry for entry in entries if not struck(entry["id"])]
        live_sets = [entry for entry in live if entry["kind"] == "set"]
        # Of a thing that was written down by mistake, and struck, the type is still known.
        typed = live_sets or sets
        self.type: str = typed[0]["type"] if typed else ""
        self.alive = bool(live_sets) or not sets
        self.fields: dict[str, Field] = fold_fields([e for e in sets if e["type"] == self.type], struck)
        self.values = {name: self.fields[name].value for name in self.fields}
        self.by_kind: dict[str, list[dict[str, Any]]] = {}
        for entry in live:
            self.by_kind.setdefault(entry["kind"], []).append(entry)
        self.first: Any = (live or entries)[0]

    def of_kind(self, *kinds: str) -> list[dict[str, Any]]:
        """Live entries of these kinds, in order."""
        if len(kinds) == 1:
            return self.by_kind.get(kinds[0], [])
        return in_order([entry for kind in kinds for entry in self.by_kind.get(kind, ())], key_of)
