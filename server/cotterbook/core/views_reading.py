"""What a reading tells: while it is typed, what it would count as and the questions it raises; later, if it counts."""

from typing import Any

from .entries import wall_clock_ms
from .figures import GRAMS_IN, plain_number, shown_amount
from .fluids import DENSITIES
from .readings import one_look
from .slips import look_at, questions, typed_form
from .strip import Strip
from .typed_quantities import last_unit
from .words import say


def typed_reading_view(strip: Strip, arguments: dict[str, Any]) -> dict[str, Any]:
    """One row of `readings` (`index` says which), as in `slips.questions`.

    {"questions", "shown": what the row would be saved as with its uncertainty, None while it is no reading yet,
    "density": for a drained fluid the range its density lies in, as a sentence, else None}.
    """
    form = typed_form(arguments)
    look = look_at(strip, form, form.get("index") or 0)
    density = None
    if look is not None and look.entry.get("fluid") is not None:
        low, high, source = DENSITIES[look.entry["fluid"]]
        text = "A litre weighs {low} to {high} g ({source})."
        density = say(text, low=int(low), high=int(high), source=source)
    shown = None if look is None else shown_amount(look.amount)
    return {"questions": questions(strip, form), "shown": shown, "density": density}


def reading_view(strip: Strip, reading: dict[str, Any], used: Any) -> dict[str, Any]:
    """One reading, and whether the part's mass rests on it: `used` are those that do; None of a struck part."""
    counted = used is not None and reading["id"] in used
    reason = None if counted else say("Not used: there is a better or newer figure.")
    if used is None:
        reason = say("Not used: the part was struck as a mistake.")
    if counted and reading.get("with_fasteners"):
        reason = say("Weighed with its fasteners.")
    view = {
        "entry": reading["id"],
        "shown": shown_amount(one_look(reading, strip.scale)),
        "used": counted,
        "reason": reason,
        "who": reading["who"],
        "at_ms": wall_clock_ms(reading["id"]),
        "again": reading.get("again"),
        "held": reading.get("tare_grams") is not None,
        "unit": _typed_unit(reading),
        "step": _typed_step(reading),
    }
    for name in (
        "weighed_as",
        "basis",
        "pieces",
        "with_fasteners",
        "as_read",
        "scale",
        "on_scale",
        "fluid",
        "source",
        "maturity",
    ):
        view[name] = reading.get(name)
    return view


def _typed_unit(reading: dict[str, Any]) -> str:
    unit = last_unit(reading.get("as_read"), "mass")
    return str(unit) if unit in GRAMS_IN else "g"


def _typed_step(reading: dict[str, Any]) -> str:
    step = reading.get("step_grams")
    return "" if step is None else plain_number(step / GRAMS_IN[_typed_unit(reading)])
