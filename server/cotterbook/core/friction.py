"""How much a thread and head may rub, by finish and condition, and by how much the preload scatters at one torque.

The ranges are the friction classes of VDI 2230 table A5 (seen as makers of fasteners print it):
B 0.08 to 0.16: bare, black, zinc, zinc flake; oil, grease, as delivered
C 0.14 to 0.24: bare as delivered, slightly oiled; zinc or zinc flake without; any with a locking adhesive
D 0.20 to 0.35: zinc without; austenitic steel with oil
E 0.30 and more: austenitic steel, aluminium and magnesium without
"""

from typing import Any

from .words import Refused, problem, say

CONDITIONS = ("dry", "oiled", "locking_compound")
# "Dry" is a bolt as people find it, seldom free of oil: tables of torque that builders use take 0.12, so that is
# the lowest here. A wet locking compound may smear like oil: 0.10, common practice, no source.
AS_FOUND, WET_COMPOUND = 0.12, 0.10
RANGES = {
    "plain": {"dry": (AS_FOUND, 0.24), "oiled": (0.08, 0.16), "locking_compound": (WET_COMPOUND, 0.24)},
    "black": {"dry": (AS_FOUND, 0.24), "oiled": (0.08, 0.16), "locking_compound": (WET_COMPOUND, 0.24)},
    "zinc": {"dry": (AS_FOUND, 0.35), "oiled": (0.08, 0.16), "locking_compound": (WET_COMPOUND, 0.24)},
    # A coating may hold its own lubricant.
    "coated": {"dry": (0.08, 0.24), "oiled": (0.08, 0.16), "locking_compound": (0.08, 0.24)},
    # Tables for stainless bolts take 0.10 with paste.
    "stainless": {"oiled": (0.10, 0.35), "locking_compound": (WET_COMPOUND, 0.35)},
}
DRY_LIGHT_ALLOY = 0.35
LIGHT_ALLOYS = ("cast_aluminium", "wrought_aluminium", "magnesium")
# NASA-STD-5020B table 3, seen: the preload at one torque, on either side.
SCATTER_LUBRICATED, SCATTER_AS_RECEIVED = 0.25, 0.35
SOURCE = "Friction classes of VDI 2230 table A5, as makers of fasteners print them."


class Friction:
    """`low` to `high`, the same in the thread and under the head, `scatter` of the preload, and `sources`."""

    __slots__ = ("low", "high", "scatter", "sources")

    def __init__(self, low: float, high: float, scatter: float, sources: list[dict[str, Any]]):
        self.low, self.high, self.scatter, self.sources = low, high, scatter, sources


def friction_of(finish: Any, condition: Any, into: Any = None) -> Friction:
    """The range for a finish and a condition; what is not said (None) may be any of them.

    Refused: a chromed thread, a dry stainless one, and what is no choice.
    """
    _check(finish, condition)
    finishes = [finish] if finish else ["plain", "black", "zinc", "coated"]
    conditions = [condition] if condition else ["dry", "oiled"]
    found = [RANGES[each][how] for each in finishes for how in conditions if how in RANGES[each]]
    low, high = min([each[0] for each in found]), max([each[1] for each in found])
    sources = [say(SOURCE)]
    if condition != "oiled" and into in LIGHT_ALLOYS:
        high = max(high, DRY_LIGHT_ALLOY)
    if low == AS_FOUND:
        sources.append(say("Dry is taken from 0.12 on, as builders’ tables do: a bolt is seldom free of oil."))
    if condition == "locking_compound":
        sources.append(say("A wet locking compound may smear like oil (common practice, no source)."))
    scatter = SCATTER_LUBRICATED if condition == "oiled" else SCATTER_AS_RECEIVED
    text = "Scatter of the preload at one torque: NASA-STD-5020B table 3, ±{percent} %."
    sources.append(say(text, percent=int(round(100.0 * scatter))))
    return Friction(low, high, scatter, sources)


def _check(finish: Any, condition: Any) -> None:
    if finish == "chrome":
        raise Refused([problem("chrome", "finish", "Chrome rubs in a way no table knows.")])
    if finish is not None and finish not in RANGES:
        raise Refused([problem("not_a_choice", "finish", "This finish is not known here.")])
    if condition is not None and condition not in CONDITIONS:
        raise Refused([problem("not_a_choice", "condition", "This condition is not known here.")])
    if finish == "stainless" and condition in (None, "dry"):
        text = "Stainless threads gall when they are dry."
        raise Refused([problem("dry_stainless", "condition", text)])
