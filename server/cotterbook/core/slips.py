"""Slips caught as a reading is typed: questions with an answer to tap, never a block.

A question is {"code", "field": the form's field it stands under, "sentence",
"offers": [{"words", "values": what to set in the row}], "source": sentence or
None}. That the figure is right is always an answer too; the screen gives it, and
names the codes so answered in the row's `right`, parted by commas.
"""

from typing import Any

from .acts_part import reading
from .figures import GRAMS_IN, read_figure, rounded, shown_grams
from .forms import check_shape
from .limits import CLOCK_LOW_MS, GRAMS_OF_A_PART
from .maker import Maker, given
from .ordinary_masses import ordinary_mass
from .part_names import in_english
from .readings import one_look
from .slips_asked import ORDINARY, TAKEN_FOR, ask, is_near, parted
from .slips_beside import Look, beside
from .slips_torque import torque_questions
from .slips_weigh_in import weigh_in_questions
from .strip import Strip
from .words import Refused, problem, say

# Below so many steps a digital scale tells little: half a step is 5 % (common practice, no source).
FEW_STEPS = 10
FORM = ("part", "name", "place", "side", "pieces", "readings", "groups", "index")
WEIGHING = ("front", "rear", "rider", "rear_raised", "unit", "right")


def questions(strip: Strip, form: dict[str, Any]) -> list[dict[str, Any]]:
    """What to ask about one reading of a form while it is typed.

    `form`: part (id, or none while it is being taken off), name, place, side, pieces, readings (rows as
    typed) and index (which of them). A row that is no reading yet raises no question: saving says why.
    """
    rows = form.get("readings") or []
    index = form.get("index") or 0
    look = look_at(strip, form, index)
    if look is None:
        return []
    typed = [look_at(strip, form, at) for at in range(len(rows)) if at != index]
    others = _known(strip, form) + [each for each in typed if each is not None]
    answered = str(look.row.get("right") or "").split(",")
    asked = [each for each in _of_figure(look, _ordinary(strip, form)) if each["code"] not in answered]
    # A figure in a wrong unit is beyond the scale too, and beside every other: one slip, one question.
    if not any(each["offers"] for each in asked):
        asked += _of_scale(strip, look) + beside(strip, form, look, others)
    return [_as_typed(each, look, rows[index]) for each in asked if each["code"] not in answered]


def look_at(strip: Strip, form: dict[str, Any], at: int) -> Any:
    """The row of `readings` as saving it now would make it, or None where there is none or it can't be saved."""
    rows = form.get("readings") or []
    if not 0 <= at < len(rows):
        return None
    row = rows[at]
    make = Maker(strip.id, 0, {"now": CLOCK_LOW_MS, "device": strip.id, "who": "-"}, lambda: strip.id)
    reading(strip, make, given(form, "part") or strip.id, row, "")
    if make.problems or not make.entries:
        return None
    # What rows don't share, they must not seem to share.
    entry = dict(make.entries[-1], id="row " + str(at))
    return Look(entry, one_look(entry, strip.scale), parted(row))


def _as_typed(question: dict[str, Any], look: Look, row: dict[str, Any]) -> dict[str, Any]:
    """The question with offers that set figure and unit apart, where they were typed as one."""
    if look.row is row:
        return question
    apart = {"figure": look.row["figure"], "unit": look.row["unit"]}
    offers = [dict(offer, values=dict(apart, **offer["values"])) for offer in question["offers"]]
    return dict(question, offers=offers)


def _known(strip: Strip, form: dict[str, Any]) -> list[Look]:
    """What is in the log of the same part."""
    part = strip.thing(given(form, "part") or "")
    entries = part.of_kind("weigh") if part is not None else []
    return [Look(entry, one_look(entry, strip.scale)) for entry in entries]


def _ordinary(strip: Strip, form: dict[str, Any]) -> Any:
    part = strip.thing(given(form, "part") or "")
    values = part.values if part is not None else form
    return ordinary_mass(in_english(values.get("name")), values.get("place"))


def _typed(look: Look, unit: Any = None) -> dict[str, Any]:
    """The figure as typed, in its own unit or with another one put to it."""
    value, decimals = read_figure(look.row["figure"])
    return {"value": rounded(value, decimals), "plus_minus": None, "unit": unit or look.row.get("unit") or "g"}


def _of_figure(look: Look, ordinary: Any) -> list[dict[str, Any]]:
    read = read_figure(look.row.get("figure"))
    # An offcut may be as small as it likes, and what is not typed plainly has its unit in its words.
    if read is None or look.grams <= 0.0 or look.entry["weighed_as"] == "offcut":
        return []
    thousands = _thousands(look, ordinary)
    if thousands:
        return thousands
    if ordinary is None or is_near(look.each, ordinary["low"], ordinary["high"]):
        return []
    unit = look.row.get("unit") or "g"
    others = [
        other
        for other in TAKEN_FOR.get(unit, ())
        if ordinary["low"] <= look.each * GRAMS_IN[other] / GRAMS_IN[unit] <= ordinary["high"]
    ]
    offers = [
        {"words": say("Make it {figure}", figure=_typed(look, other)), "values": _unit_set(look.row, other)}
        for other in others
    ]
    text = "{figure}? Parts like this weigh {low} to {high} each."
    if ordinary["place"] is not None:
        text = "{figure}? What sits there weighs {low} to {high}."
    low, high = shown_grams(ordinary["low"], 0.0), shown_grams(ordinary["high"], 0.0)
    sentence = say(text, figure=_typed(look), low=low, high=high)
    return [ask("unit" if offers else "far", sentence, offers, ORDINARY)]


def _unit_set(row: dict[str, Any], unit: str) -> dict[str, Any]:
    # A step of 1 kg is no step of 1 g.
    return {"unit": unit, "step": ""} if given(row, "step") is not None else {"unit": unit}


def _thousands(look: Look, ordinary: Any) -> list[dict[str, Any]]:
    """Whether the one mark before three digits parts thousands instead of decimals."""
    text = str(look.row["figure"]).strip()
    mark = text[-4:-3]
    whole_part = text[:-4]
    digits = whole_part + text[-3:]
    if mark not in (".", ",") or not digits.isdigit() or not 1 <= len(whole_part) <= 3 or whole_part[0] == "0":
        return []
    each = look.each * 1000.0
    if look.grams * 1000.0 > GRAMS_OF_A_PART[1]:
        return []
    if ordinary is not None and not is_near(each, ordinary["low"], ordinary["high"]):
        return []
    thousand = {"value": digits, "plus_minus": None, "unit": _typed(look)["unit"]}
    offer = {"words": say("Make it {figure}", figure=thousand), "values": {"figure": digits}}
    return [ask("thousands", say("“{typed}” is read as {figure}.", typed=text, figure=_typed(look)), [offer])]


def _of_scale(strip: Strip, look: Look) -> list[dict[str, Any]]:
    """Against the capacity and the step of the scale; a step nobody gave says nothing."""
    entry, row = look.entry, look.row
    # With a tare the figure is still what lies on the scale, container and all.
    if entry["basis"] != "weighed" or entry.get("grams") is None or read_figure(row.get("figure")) is None:
        return []
    values = strip.scale(given(row, "on_scale") or "") or {}
    found = []
    load, capacity = entry["grams"], values.get("capacity_grams")
    if capacity is not None and load > capacity:
        text = "{figure} is more than {scale} can weigh: it ends at {capacity}."
        shown = shown_grams(load, 0.0)
        found.append(
            ask(
                "capacity", say(text, figure=shown, scale=values.get("name") or "", capacity=shown_grams(capacity, 0.0))
            )
        )
    step = entry.get("step_grams") if given(row, "step") is not None else values.get("step_grams")
    if step:
        found += _of_step(look, load, step)
    return found


def _of_step(look: Look, load: float, step: float) -> list[dict[str, Any]]:
    figure, shown = _typed(look), shown_grams(step, 0.0)
    if load < step * (1.0 - 1e-9):
        return [
            ask("under_step", say("{figure} is less than one step of the scale, {step}.", figure=figure, step=shown))
        ]
    steps = load / step
    found = []
    if steps < FEW_STEPS:
        text = "{figure} is only {n} steps of the scale, so good to {percent} % at best. Is there a finer one?"
        percent = int(rounded(50.0 / steps, 0))
        found.append(ask("few_steps", say(text, figure=figure, n=float(rounded(steps, 1)), percent=percent)))
    # Sixteen digits of a quotient by 0.1 or by an ounce are not all good.
    if abs(steps - round(steps)) > 1e-6 * max(1.0, steps):
        offers = []
        if given(look.row, "step") is not None:
            last = read_figure(look.row["figure"])[1]
            digit = rounded(10.0**-last, last)
            words = say("The step is {step}", step={"value": digit, "plus_minus": None, "unit": figure["unit"]})
            offers.append({"words": words, "values": {"step": digit}})
        text = "{figure} is no multiple of the scale’s step, {step}."
        found.append(ask("off_step", say(text, figure=figure, step=shown), offers, field="step"))
    return found


def slips_view(strip: Strip, arguments: dict[str, Any]) -> list[dict[str, Any]]:
    """The questions about what is being typed: the row `index` of `readings` or of `groups`, or a weighing."""
    form = typed_form(arguments)
    if "front" in form or "rear" in form:
        return weigh_in_questions(form)
    return torque_questions(form) if "groups" in form else questions(strip, form)


def typed_form(arguments: dict[str, Any]) -> dict[str, Any]:
    """What of a view's arguments is a form that is being typed; Refused where its shape is none."""
    form = {name: arguments[name] for name in FORM + WEIGHING if arguments.get(name) is not None}
    problems = check_shape(form)
    index = form.get("index", 0)
    if problems or isinstance(index, bool) or not isinstance(index, int):
        raise Refused(problems or [problem("bad_form", "index", "This part of the form cannot be read.")])
    return form
