"""What a group of fasteners still wants before it is done."""

from typing import Any

from . import torque
from .fasteners import Ledger
from .hangs_on import life_hangs_on


def group_needs(ledger: Ledger, part: dict[str, Any], group: dict[str, Any]) -> list[str]:
    """Of "count", "torque", "mark", "not_right" and "second_check", by the ledger and the values of part and group.

    A tightening outside the specification is none, nor is one without the turn that the manual wants after it.
    """
    needs = ledger.needs(life_hangs_on(part, group))
    wrong = any([torque.is_wrong(entry, group) or torque.is_not_turned(entry, group) for entry in ledger.applied])
    if wrong and "torque" not in needs:
        needs.insert(1 if "count" in needs else 0, "torque")
    return needs
