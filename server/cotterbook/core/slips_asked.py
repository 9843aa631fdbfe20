"""What questions about a figure that is being typed are made of; `slips` says how a question looks."""

from typing import Any

from .figures import GRAMS_IN, read_figure
from .typed_quantities import own_unit
from .unit_names import code_of
from .words import say

# Outside its ordinary range by this factor a figure is asked about (common practice, no source).
FAR = 2.0
# The units one is taken for: on the scale's label, or by its button.
TAKEN_FOR = {"g": ("kg", "oz"), "kg": ("g", "lb"), "lb": ("kg", "oz"), "oz": ("g", "lb")}
ORDINARY = say("Ordinary weights: common practice, no source.")


def ask(code: str, sentence: dict[str, Any], offers: Any = (), source: Any = None, field: str = "figure") -> Any:
    """A question."""
    return {"code": code, "field": field, "sentence": sentence, "offers": list(offers), "source": source}


def is_near(grams: float, low: float, high: float) -> bool:
    """Whether grams lie within an ordinary range, or so near it that nobody need be asked."""
    return bool(low / FAR <= grams <= high * FAR)


def figure_apart(text: Any, dimension: str, units: Any) -> Any:
    """(figure, unit's code) of one figure that was typed with one of `units` behind it; None where it was not."""
    own = own_unit(text, dimension) if isinstance(text, str) else None
    for end in range(len(text) if own in units else 0, 0, -1):
        if read_figure(text[:end]) is not None and code_of(text[end:], dimension) == own:
            return text[:end].strip(), own
    return None


def parted(row: dict[str, Any]) -> dict[str, Any]:
    """The row with a unit that was typed behind its one figure as the row's own unit."""
    apart = figure_apart(row.get("figure"), "mass", GRAMS_IN)
    return row if apart is None else dict(row, figure=apart[0], unit=apart[1])
