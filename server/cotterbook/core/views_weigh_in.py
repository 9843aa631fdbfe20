"""What the screen of the whole machine on scales shows: each weighing, and predicted against weighed."""

from typing import Any

from .agreement import shown_number
from .entries import wall_clock_ms
from .figures import shown_amount, shown_in_pounds_too, shown_spread
from .forgotten import forgotten, litres_of_petrol
from .lift import lift_of
from .places import machine_measures
from .prediction import Prediction, predictions
from .published import published_up
from .quantities import within
from .shown_balance import shown_length, shown_litres, shown_percent
from .standing import machine_of, measured_wheelbase, weighings_of
from .strip import Strip
from .views_group import fields_view
from .weigh_in import (
    FUEL_BY_EYE,
    LEVEL_MEASURED,
    LEVEL_NOT_SAID,
    STATES,
    WeighIn,
    level_loads,
    rear_share,
    total_in,
)
from .words import Refused, say

UNKNOWN = {
    "fuel": say("Not known: the fuel that was in it was not said."),
    "tank": say("Not known: the size of the tank was not said."),
}


def weigh_in_view(strip: Strip, arguments: dict[str, Any]) -> dict[str, Any]:
    """{"weighings": newest first, "scales", "machine": its id and fields, "fuel_by_eye": litres}.

    The newest weighing is held against what the log predicts, and the one whose entry is `compared`; of the others
    `predictions` is None: with many parts and weighings a phone would work on them for seconds.
    """
    machine, weighings = machine_of(strip), weighings_of(strip)
    measures = machine_measures(machine)
    measures["wheelbase"] = measured_wheelbase(measures)
    shown = [_weighing(strip, each, weighings, measures, machine) for each in weighings]
    compared = [each for each in weighings if each.total is not None][-1:]
    compared += [each for each in weighings if each.entry["id"] == arguments.get("compared")]
    for each, view in zip(weighings, shown):
        if each in compared:
            view["predictions"] = [_prediction(strip, each, found) for found in predictions(strip, each, weighings)]
    shown.reverse()
    scales = [
        {"scale": scale.id, "name": scale.values.get("name") or "", "step_grams": scale.values.get("step_grams")}
        for scale in strip.of_type("scale")
        if not scale.values.get("put_away")
    ]
    return {
        "weighings": shown,
        "scales": scales,
        "machine": None if machine is None else {"id": machine.id, "fields": fields_view(machine)},
        "fuel_by_eye": FUEL_BY_EYE,
    }


def weighing_in_short(weighing: WeighIn) -> dict[str, Any]:
    """A weighing in a line: its total without the rider, None of a lift test, with who and when."""
    entry = weighing.entry
    return {
        "entry": entry["id"],
        "total": shown_in_pounds_too(weighing.total),
        "raised": weighing.raised,
        "at_ms": wall_clock_ms(entry["id"]),
        "who": entry["who"],
    }


def _weighing(
    strip: Strip, weighing: WeighIn, weighings: list[WeighIn], measures: dict[str, Any], machine: Any
) -> dict[str, Any]:
    entry = weighing.entry
    view = weighing_in_short(weighing)
    view.update(
        front=shown_amount(weighing.front),
        rear=shown_amount(weighing.rear),
        rider=shown_amount(weighing.rider),
        fuel=_fuel(entry),
        note=entry.get("note"),
        scales=_scales(strip, entry),
        level=_level(weighing, measures, machine) if weighing.has_level_loads else None,
        states=[] if weighing.total is None else _states(weighing, machine),
        lift=_lift(strip, weighing, weighings, measures) if weighing.raised else None,
        predictions=None if weighing.total is not None else [],
    )
    return view


def _fuel(entry: dict[str, Any]) -> Any:
    litres, spread = entry.get("fuel_litres"), entry.get("plus_minus_litres")
    return None if litres is None else shown_litres(litres, FUEL_BY_EYE if spread is None else spread)


def _scales(strip: Strip, entry: dict[str, Any]) -> list[str]:
    """The names of the scales that have a card, each once."""
    names: list[str] = []
    for end in ("front_scale", "rear_scale"):
        card = strip.scale(entry[end]) if entry.get(end) else None
        name = "" if card is None else card.get("name") or ""
        if name and name not in names:
            names.append(name)
    return names


def _level(weighing: WeighIn, measures: dict[str, Any], machine: Any) -> dict[str, Any]:
    """The wheel loads on level ground, and how level it stood."""
    higher = weighing.entry.get("front_higher_millimetres")
    if higher is None:
        says = say("How level it stood was not said: taken as level within {most} mm.", most=int(LEVEL_NOT_SAID))
    else:
        stood = shown_length(within(abs(higher), LEVEL_MEASURED, "level"))
        text = "The front stood higher by {higher}: turned into loads on level ground."
        if higher < 0:
            text = "The rear stood higher by {higher}: turned into loads on level ground."
        says = say(text, higher=stood)
        if higher == 0:
            says = say("It stood level, within {most} mm.", most=int(LEVEL_MEASURED))
    try:
        front, rear = level_loads(weighing, measures["wheelbase"], published_up(machine))
    except Refused:
        text = "One wheel stood too much higher than the other for its wheelbase: it says nothing of the wheel loads."
        return {"front": None, "rear": None, "rear_percent": None, "says": say(text), "rider": False}
    return {
        "front": shown_amount(front),
        "rear": shown_amount(rear),
        "rear_percent": shown_percent(rear_share(front, rear)),
        "says": says,
        "rider": weighing.rider is not None,
    }


def _states(weighing: WeighIn, machine: Any) -> list[dict[str, Any]]:
    tank = machine.values.get("tank_litres") if machine is not None else None
    found = []
    for state in STATES:
        total = total_in(weighing, state, tank)
        why = None if total is not None else UNKNOWN["fuel" if weighing.fuel is None else "tank"]
        found.append({"state": state, "total": shown_in_pounds_too(total), "why": why})
    return found


def _lift(strip: Strip, weighing: WeighIn, weighings: list[WeighIn], measures: dict[str, Any]) -> dict[str, Any]:
    found = lift_of(strip, weighing, weighings, measures)
    raised = within(weighing.entry["rear_raised_millimetres"], 0.0, "")
    return {
        "raised": shown_length(raised),
        "above_axles": shown_length(found.above_axles),
        "up": shown_length(found.up),
        "missing": found.missing,
    }


def _prediction(strip: Strip, weighing: WeighIn, found: Prediction) -> dict[str, Any]:
    view: dict[str, Any] = {
        "source": found.source,
        "at_ms": None if found.base is None else wall_clock_ms(found.base.entry["id"]),
        "missing": found.missing,
        "expected": shown_amount(found.expected),
        "changes": len(found.changes),
        "agreement": None,
    }
    if found.agreement is None:
        return view
    judged, beside = found.agreement, forgotten(strip, weighing, found)
    view["agreement"] = {
        "difference": shown_amount(judged.difference),
        "number": shown_number(judged.number),
        "agrees": judged.agree,
        "says": _says(judged),
        "told": _told(judged, beside["explained"]),
        "things": [_thing(each) for each in beside["things"]],
    }
    return view


def _says(judged: Any) -> dict[str, Any]:
    if judged.agree:
        return say("They agree: the difference lies within its uncertainty.")
    if judged.difference.grams > 0.0:
        return say("They do not agree: it weighs more than the log says.")
    return say("They do not agree: it weighs less than the log says.")


def _told(judged: Any, explained: int) -> list[dict[str, Any]]:
    """What follows from it."""
    if judged.agree:
        least = shown_spread(judged.difference.expanded)
        return [say("A thing forgotten that weighs less than {least} would not show.", least=least)]
    if explained == 1:
        told = [say("One thing forgotten explains it, and no other one does.")]
    elif explained:
        told = [say("{n} things would each explain it, so it tells little. The likeliest come first.", n=explained)]
    else:
        told = [say("No one thing forgotten explains it.")]
    text = "The difference is that of {litres} l of petrol."
    return told + [say(text, litres=litres_of_petrol(judged.difference.grams))]


def _thing(thing: dict[str, Any]) -> dict[str, Any]:
    return {
        "part": thing["part"],
        "name": thing["name"],
        "side": thing["side"],
        "what": thing["what"],
        "left": shown_amount(thing["left"]),
        "number": shown_number(thing["number"]),
        "agrees": thing["agrees"],
    }
