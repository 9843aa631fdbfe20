"""What a group of fasteners still wants before it is done."""

from typing import Any

from . import torque
from .fasteners import Ledger
from .hangs_on import life_hangs_on_either
from .thing import Thing


def group_needs(ledger: Ledger, part: Any, group: Thing) -> list[str]:
    """Of "count", "torque", "mark", "not_right" and "second_check", by the ledger, the part (or None) and the group.

    A tightening outside the specification is none, nor is one without the turn that the manual wants after it; and
    nobody knows that all are in while two say how many there are.
    """
    needs, values = ledger.needs(life_hangs_on_either(part, group)), group.values
    if two_counts(group) and "count" not in needs:
        needs.insert(0, "count")
    if wants_again(ledger.applied + ledger.in_doubt, values) and "torque" not in needs:
        needs.insert(1 if "count" in needs else 0, "torque")
    return needs


def wants_again(tightenings: list[dict[str, Any]], values: dict[str, Any]) -> bool:
    """Whether one of these is outside the specification, or lacks the turn that the manual wants after it."""
    return any([torque.is_wrong(entry, values) or torque.is_not_turned(entry, values) for entry in tightenings])


def two_counts(group: Thing) -> list[int]:
    """How many there are by each of two people or more who wrote apart, the least first; [] where they agree."""
    field = group.fields.get("count")
    if field is None or not field.disputed:
        return []
    return sorted([entry["values"]["count"] for entry in field.heads if entry["values"]["count"] is not None])
