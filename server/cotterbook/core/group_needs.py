"""What a group of fasteners still wants before it is done."""

from typing import Any

from . import torque
from .fasteners import Ledger
from .hangs_on import life_hangs_on


def group_needs(ledger: Ledger, part: dict[str, Any], group: dict[str, Any]) -> list[str]:
    """Of "count", "torque", "mark" and "second_check", by the ledger and the values of part and group."""
    needs = ledger.needs(life_hangs_on(part, group))
    wrong = torque.worst(ledger.applied, torque.specification(group))
    if wrong is not None and torque.is_wrong(wrong, group) and "torque" not in needs:
        needs.insert(1 if "count" in needs else 0, "torque")
    return needs
