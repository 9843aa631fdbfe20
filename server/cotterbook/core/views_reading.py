"""What a reading tells while it is typed: what it would count as, and the questions it raises."""

from typing import Any

from .figures import shown_amount
from .fluids import DENSITIES
from .slips import look_at, questions, typed_form
from .strip import Strip
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
