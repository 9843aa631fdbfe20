"""Which incoming entries are new, which are held already and which are refused, whatever store holds them."""

from collections.abc import Callable, Sequence
from typing import Any, NamedTuple

from ..core.words import problem
from .contract import Entry, canonical


class Held(NamedTuple):
    """An entry that the store has, with its number."""

    number: int
    entry: Entry


class Sorted(NamedTuple):
    """The numbers of entries held already, the problems of refused ones, and the new ones in their order, by id."""

    accepted: dict[str, int]
    refused: list[dict[str, Any]]
    new: dict[str, Entry]


def sort_out(entries: Sequence[Entry], held: Callable[[str], Held | None], room: int, limit: int) -> Sorted:
    """Tell entries held already, entries to refuse and new ones apart.

    `held` gives what the store has under an id, in whichever strip-down; `room` is how many new entries this one takes
    until it has its `limit`.
    """
    sorted_out = Sorted({}, [], {})
    for entry in entries:
        entry_id = entry["id"]
        found = held(entry_id)
        first = found.entry if found else sorted_out.new.get(entry_id)
        if first is not None and canonical(first) != canonical(entry):
            sorted_out.refused.append({"id": entry_id, **problem(
                "id_used_twice", "id", "This entry's identifier belongs to another entry on the PC.")})
        elif found:
            sorted_out.accepted[entry_id] = found.number
        elif first is None and len(sorted_out.new) >= room:
            sorted_out.refused.append({"id": entry_id, **problem(
                "strip_full", "", "The strip-down holds {limit} entries and takes no more. Begin a new one.",
                limit=limit)})
        else:
            sorted_out.new[entry_id] = entry
    return sorted_out
