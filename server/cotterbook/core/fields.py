"""The fields of a thing, folded: last writer wins, and what two wrote blindly is disputed."""

import json
from typing import Any


class Field:
    """One field of one thing.

    `heads` are the live `set` entries whose value nobody has since replaced with
    open eyes, in order; the last of them gives `value`. More than one head with
    different values is a dispute: both are kept and shown until somebody settles it.
    """

    __slots__ = ("value", "heads", "disputed", "writers")

    def __init__(self, value: Any, heads: list[dict[str, Any]], disputed: bool, writers: list[dict[str, Any]]):
        self.value, self.heads, self.disputed, self.writers = value, heads, disputed, writers


def fold_fields(sets: list[dict[str, Any]], struck: Any) -> dict[str, Field]:
    """Fields by name from a thing's `set` entries in order; `struck(id)` tells which are struck."""
    writers: dict[str, list[dict[str, Any]]] = {}
    for entry in sets:
        for name in entry["values"]:
            writers.setdefault(name, []).append(entry)
    found = {}
    for name in writers:
        field = _fold_field(name, writers[name], struck)
        if field is not None:
            found[name] = field
    return found


def _fold_field(name: str, writers: list[dict[str, Any]], struck: Any) -> Any:
    if len(writers) == 1:
        # Most fields are written once, and a long log has very many of them.
        return None if struck(writers[0]["id"]) else Field(writers[0]["values"][name], writers, False, writers)
    live = [entry for entry in writers if not struck(entry["id"])]
    if not live:
        return None
    replaced = _replaced(name, writers, live)
    # Every writer replaced means a ring of "saw", which no honest phone writes: the last one stands.
    heads = [entry for entry in live if entry["id"] not in replaced] or live[-1:]
    disputed = len(heads) > 1 and len(set([json.dumps(entry["values"][name]) for entry in heads])) > 1
    return Field(heads[-1]["values"][name], heads, disputed, live)


def _replaced(name: str, writers: list[dict[str, Any]], live: list[dict[str, Any]]) -> set[str]:
    """Ids that a live writer saw, itself or through writers since struck."""
    by_id = {entry["id"]: entry for entry in writers}
    replaced: set[str] = set()
    waiting = [seen for entry in live for seen in (entry.get("saw") or {}).get(name, ())]
    while waiting:
        seen = waiting.pop()
        if seen not in replaced:
            replaced.add(seen)
            waiting.extend((by_id.get(seen, {}).get("saw") or {}).get(name, ()))
    return replaced


def value_before(field: Any, name: str, key: Any) -> Any:
    """What the field `name` held just before an entry with this (at, id); None before its first writer."""
    value = None
    for entry in field.writers if field is not None else ():
        if (entry["at"], entry["id"]) < key:
            value = entry["values"][name]
    return value
