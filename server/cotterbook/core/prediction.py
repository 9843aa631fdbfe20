"""What the whole machine should weigh by the log, against what the scales said."""

from typing import Any

from .agreement import agreement
from .amounts import together
from .changes import Change, part_changes
from .published import published_fuel, published_mass
from .quantities import minus
from .standing import machine_of, standard_to
from .strip import Strip
from .weigh_in import WeighIn
from .words import say


class Prediction:
    """A total predicted for a weighing, from `source`: "weigh_in" (an earlier one, `base`) or "standard".

    `changes` lie between the two, a part at a time, `fuel` is what the tank holds more; `expected` is the predicted
    total and `agreement` how it compares, None where `missing` says what is not known: {"where", "sentence", "part"}.
    """

    __slots__ = ("source", "base", "changes", "fuel", "expected", "agreement", "missing")

    def __init__(self, source: str, base: Any, changes: list[Change]):
        self.source, self.base, self.changes = source, base, changes
        self.fuel: Any = None
        self.expected: Any = None
        self.agreement: Any = None
        self.missing: list[dict[str, Any]] = []

    def lacks(self, where: str, text: str, part: Any = None, **values: Any) -> None:
        """Notes what is missing."""
        self.missing.append({"where": where, "part": part, "sentence": say(text, **values)})


def predictions(strip: Strip, weighing: WeighIn, weighings: list[WeighIn]) -> list[Prediction]:
    """From the weighing before it, where there is one, and from the standard machine."""
    if weighing.total is None:
        return []
    found = []
    earlier = [each for each in weighings if each.total is not None and each.key < weighing.key]
    if earlier:
        before = earlier[-1]
        found.append(Prediction("weigh_in", before, part_changes(strip, before.key, weighing.key)))
        _work_out(found[-1], weighing, before.total, before.fuel)
    machine = machine_of(strip)
    by_standard = Prediction("standard", None, standard_to(strip, weighing.key))
    _work_out(by_standard, weighing, published_mass(machine), published_fuel(machine))
    return found + [by_standard]


def _work_out(found: Prediction, weighing: WeighIn, base: Any, fuel_then: Any) -> None:
    if base is None:
        found.lacks("machine", "The standard mass of the machine.")
    if weighing.fuel is None:
        found.lacks("weigh_in", "The fuel that was in it at this weighing.")
    if fuel_then is None and found.source == "weigh_in":
        found.lacks("weigh_in", "The fuel that was in it at the weighing before.")
    elif fuel_then is None:
        found.lacks(
            "machine", "The state that the standard mass is of: dry, or in running order with the size of its tank."
        )
    named: dict[str, bool] = {}
    for change in found.changes:
        if change.amount is None and change.part.id not in named:
            named[change.part.id] = True
            name = change.part.values.get("name") or ""
            found.lacks("part", "The mass of: {name}", change.part.id, name=name)
    if found.missing:
        return
    found.fuel = minus(weighing.fuel, fuel_then)
    found.expected = together([base, found.fuel] + [change.amount for change in found.changes])
    found.agreement = agreement(weighing.total, found.expected)
