"""What the screen of scales and wrenches shows: a card each, and what every check of a scale told."""

import math
from typing import Any

from .agreement import shown_number
from .entries import wall_clock_ms
from .figures import plain_number, shown_grams
from .limits import CLOCK_LOW_MS, GAIN_PERCENT
from .scales import check_result, class_iii_limit
from .strip import Strip
from .thing import Thing
from .torque_tool import calibration
from .views_group import fields_view
from .views_tools import tools_view
from .words import Refused, problem, say

# Of a small figure on a card: as it was typed, whatever a mass is known to.
DECIMALS_STATED = 9
NO_CALIBRATION = {
    "water": say(
        "A litre of water is no calibration: the mark on the jug, the warmth of the water and the drops that stay "
        "behind are off by more than a fair scale is. It finds a gross fault, no more."
    ),
    "coin": say(
        "A coin is no calibration: it wears, it is dirty, and it is far too light to show by what part a scale is off."
    ),
    "other_thing": say(
        "This is no calibration: a label or a leaflet says what such things weigh, not what this one does."
    ),
    "better_scale": say("This is a comparison, as good as the other scale is. A calibration comes with a certificate."),
    "reference_weight": say(
        "This is a check at one load. A calibration covers the range, and comes with a certificate."
    ),
}
# A gain error shows best near the top; below this part of the capacity a check says little (common practice, no
# source).
LIGHT = 0.2


def gear_view(strip: Strip, arguments: dict[str, Any]) -> dict[str, Any]:
    """{"scales": cards, the last used first, "tools": cards, "against": what each known mass is good for}.

    `now_ms` tells how long ago a calibration was.
    """
    now_ms = arguments.get("now_ms")
    if now_ms is not None and (
        isinstance(now_ms, bool) or not isinstance(now_ms, (int, float)) or now_ms < CLOCK_LOW_MS
    ):
        raise Refused([problem("clock", "now_ms", "This phone's clock is set wrong.")])
    return {"scales": scales_view(strip, now_ms), "tools": tools_view(strip, arguments), "against": NO_CALIBRATION}


def scales_view(strip: Strip, now_ms: Any = None) -> list[dict[str, Any]]:
    """A card for each scale, the last used first, those put away last."""
    used: dict[str, list[dict[str, Any]]] = {}
    for part in strip.of_type("part"):
        for reading in part.of_kind("weigh"):
            if "on_scale" in reading:
                used.setdefault(reading["on_scale"], []).append(reading)
    for weighing in strip.weigh_ins():
        for scale in sorted(set([weighing[end] for end in ("front_scale", "rear_scale") if weighing.get(end)])):
            used.setdefault(scale, []).append(weighing)
    cards = [_card(strip, scale, used.get(scale.id, []), now_ms) for scale in strip.of_type("scale")]
    return sorted(cards, key=lambda card: (card["put_away"], -card["last_used_at"], card["name"]))


def _shown(grams: Any) -> Any:
    """A mass as a card states it: one that is finer than we show masses is not nothing."""
    if grams is None:
        return None
    shown = shown_grams(grams, 0.0)
    if grams < 0.1:
        shown["value"] = plain_number(float("{:.4g}".format(grams)), DECIMALS_STATED)
    return shown


def _card(strip: Strip, scale: Thing, uses: list[dict[str, Any]], now_ms: Any) -> dict[str, Any]:
    values = scale.values
    checks = [_check_view(check, values) for check in scale.of_kind("scale_check")]
    checks.reverse()
    # No standard says it of scales: the year that is asked of wrenches.
    state = calibration(values.get("calibrated_on"), None if now_ms is None else int(now_ms))
    return {
        "scale": scale.id,
        "name": values.get("name") or "",
        "step": _shown(values.get("step_grams")),
        "step_grams": values.get("step_grams"),
        "capacity": _shown(values.get("capacity_grams")),
        "gain_percent": values.get("gain_percent"),
        "zero": _shown(values.get("zero_grams")),
        "calibrated_on": values.get("calibrated_on"),
        "months": state["months"],
        "overdue": state["overdue"],
        "certificate": values.get("certificate"),
        "put_away": bool(values.get("put_away")),
        "readings": len(uses),
        "last_used_at": max([entry["at"] for entry in uses]) if uses else 0,
        "checks": checks,
        "notices": _notices(values, checks, state),
        "hint": _hint(values),
        "fields": fields_view(scale),
    }


def _check_view(check: dict[str, Any], values: dict[str, Any]) -> dict[str, Any]:
    found = check_result(check, values)
    deviation = shown_grams(found["deviation"], found["expanded"] / 2.0)
    plus_minus = check.get("known_plus_minus_grams")
    capacity = values.get("capacity_grams")
    light = capacity is not None and check["known_grams"] < LIGHT * capacity
    return {
        "entry": check["id"],
        "against": check["against"],
        "known": _shown(check["known_grams"]),
        "known_plus_minus": _shown(plus_minus),
        "shown": _shown(check["grams"]),
        "deviation": deviation,
        "en": shown_number(found["en"]),
        "verdict": found["verdict"],
        "says": _says(found, values, deviation),
        "calibration": NO_CALIBRATION[check["against"]],
        "light": say("Light for this scale: what it is off by shows best near the most you weigh.") if light else None,
        "note": check.get("note"),
        "who": check["who"],
        "at_ms": wall_clock_ms(check["id"]),
    }


def _says(found: dict[str, Any], values: dict[str, Any], deviation: dict[str, Any]) -> dict[str, Any]:
    stated = values.get("gain_percent") is not None or values.get("zero_grams") is not None
    if found["verdict"] == "covered":
        most = shown_grams(found["stated"], 0.0)
        text = "Covered by what the card states: off by at most {most} here."
        return say(text, most=dict(most, value=_two_digits(most["value"])))
    if found["verdict"] == "agrees" and not stated:
        # The same figure as stands behind the deviation itself.
        within = dict(deviation, value=deviation["plus_minus"], plus_minus=None)
        return say("Agrees within {most}, which is all that this look can tell.", most=within)
    if found["verdict"] == "agrees":
        return say("Agrees with what the card states, as well as this look can tell.")
    if found["gain_percent"] > GAIN_PERCENT[1]:
        return say("Off by more than any card can state. Weigh nothing on it until it is put right.")
    text = "Off by more than can be explained. Have it calibrated, or state a gain of {percent} % or more on its card."
    return say(text, percent=found["gain_percent"])


def _two_digits(text: str) -> str:
    """The figure rounded up to two digits: what is off by "at most" so much is off by no more."""
    value = float(text)
    if value <= 0.0:
        return text
    step = 10.0 ** (math.floor(math.log10(value)) - 1)
    return plain_number(math.ceil(value / step - 1e-9) * step)


def _notices(values: dict[str, Any], checks: list[dict[str, Any]], state: dict[str, Any]) -> list[dict[str, Any]]:
    found = []
    if values.get("gain_percent") is None:
        text = "No gain error is stated, so none is counted: what this scale weighed may be off by more than is shown."
        found.append(say(text))
    if state["calibrated_on"] is None:
        found.append(say("No day of calibration is written down."))
    elif state["overdue"]:
        found.append(
            say(
                "Calibrated {months} months ago. A year is common practice, unless your shop has its own rule.",
                months=state["months"],
            )
        )
    if checks and checks[0]["verdict"] == "off":
        found.append(say("The last check found it off by more than its card states."))
    return found


def _hint(values: dict[str, Any]) -> Any:
    """What to state where nothing is known, from what class III allows an approved scale of that step."""
    step, capacity = values.get("step_grams"), values.get("capacity_grams")
    if step is None or capacity is None:
        return None
    limit = class_iii_limit(capacity, step)
    if limit is None:
        text = "It shows more than 10,000 steps: no shop scale of class III does, and its last digit promises too much."
        return say(text)
    text = (
        "If nothing is known: an approved scale of class III with this step may be off by {limit} at {capacity} in "
        "service, a gain of {percent} % (OIML R 76-1, table 6). A kitchen or luggage scale is bound by nothing."
    )
    percent = float("{:.2g}".format(100.0 * limit / capacity))
    return say(text, limit=shown_grams(limit, 0.0), capacity=shown_grams(capacity, 0.0), percent=percent)
