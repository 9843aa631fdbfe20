"""Slips in the figures of a whole machine on scales, as they are typed: far from what any motorcycle weighs."""

from typing import Any

from .figures import GRAMS_IN, read_figure, rounded, shown_grams, shown_plain
from .slips_asked import ORDINARY, TAKEN_FOR, ask, is_near, parted
from .typed_quantities import read
from .words import Refused, say

# Grams, lowest and highest, from a light off-road machine to a heavy tourer, and of a rider with clothes and helmet:
# common practice, no source. Wide on purpose: good for asking about a figure, and for nothing else.
ORDINARY_LOADS = {
    "front": (30_000.0, 220_000.0),
    "rear": (30_000.0, 280_000.0),
    "rider": (40_000.0, 150_000.0),
    "whole": (60_000.0, 480_000.0),
}
SENTENCES = {
    "front": "{figure} under the front wheel? Motorcycles have {low} to {high} there.",
    "rear": "{figure} under the rear wheel? Motorcycles have {low} to {high} there.",
    "rider": "{figure} for the rider? With clothes and helmet people weigh {low} to {high}.",
    "whole": "{figure} in all? Motorcycles weigh {low} to {high}.",
}


def weigh_in_questions(form: dict[str, Any]) -> list[dict[str, Any]]:
    """What to ask about `front`, `rear` and `rider` of a weighing, in `unit`; shaped as those of `slips.questions`.

    `right` has the codes that were answered with yes: "far_front" and so on. Of a lift test (`rear_raised`) the front
    is asked about alone.
    """
    unit = form.get("unit") or "kg"
    rows = {name: {"figure": form.get(name), "unit": unit} for name in ("front", "rear", "rider")}
    grams = {name: _grams(rows[name]) for name in rows}
    # What sits on the machine is on its wheels.
    on_it = grams["rider"] or 0.0
    asked = []
    for name in ("front", "rear", "rider"):
        low, high = ORDINARY_LOADS[name]
        high += 0.0 if name == "rider" else on_it
        if grams[name] is not None and not is_near(grams[name], low, high):
            asked.append(_question(name, name, rows[name], grams[name]))
    lift = str(form.get("rear_raised") or "").strip()
    # One slip, one question: an end that is odd makes the whole odd too.
    if not asked and not lift and grams["front"] is not None and grams["rear"] is not None:
        whole = grams["front"] + grams["rear"] - on_it
        if whole > 0.0 and not is_near(whole, *ORDINARY_LOADS["whole"]):
            asked.append(_question("whole", "rear", {}, whole))
    answered = str(form.get("right") or "").split(",")
    return [each for each in asked if each["code"] not in answered]


def _grams(row: dict[str, Any]) -> Any:
    """The figure in grams, or None where it is none above 0: saving says why."""
    if not str(row["figure"] if row["figure"] is not None else "").strip():
        return None
    try:
        found = read(row["figure"], "mass", row["unit"]).value
    except Refused:
        return None
    return found if found > 0.0 else None


def _question(name: str, field: str, row: dict[str, Any], grams: float) -> Any:
    low, high = ORDINARY_LOADS[name]
    shown, offers = shown_plain(grams), []
    if row:
        plain = parted(row)
        figure, unit = read_figure(plain["figure"]), plain["unit"]
        if figure is not None:
            shown = _in(figure, unit)
            for other in TAKEN_FOR.get(unit, ()):
                if low <= grams * GRAMS_IN[other] / GRAMS_IN[unit] <= high:
                    words = say("Make it {figure}", figure=_in(figure, other))
                    # With its own unit: the others of the form may be right as they are.
                    offers.append({"words": words, "values": {name: str(plain["figure"]).strip() + " " + other}})
    sentence = say(SENTENCES[name], figure=shown, low=shown_grams(low, 0.0), high=shown_grams(high, 0.0))
    return ask("far_" + name, sentence, offers, ORDINARY, field)


def _in(figure: Any, unit: str) -> dict[str, Any]:
    return {"value": rounded(figure[0], figure[1]), "plus_minus": None, "unit": unit}
