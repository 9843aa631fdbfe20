"""What may be adjusted and in what: the rules that join several fields of a setting, and figures as shown."""

from typing import Any

from .figures import rounded
from .limits import READ_IN
from .unit_factors import FACTORS
from .words import problem

AS_FOUND = "as_found_"
FIGURES = tuple(row[0] for row in READ_IN if row[1] != "text")

# fmt: off
# What each is usually read in, the likeliest first (common practice, no source).
READS = {
    "preload": ("turns", "millimetres", "clicks", "steps", "in_words"),
    "compression_damping": ("clicks", "turns", "steps", "in_words"),
    "rebound_damping": ("clicks", "turns", "steps", "in_words"),
    "lever": ("millimetres", "steps", "turns", "clicks", "degrees", "in_words"),
    "handlebar": ("millimetres", "degrees", "steps", "in_words"),
    "chain_slack": ("millimetres", "in_words"),
    "lamp_aim": ("percent", "degrees", "millimetres", "turns", "clicks", "in_words"),
    "tyre_pressure": ("kilopascals",),
    "idle": ("revolutions_per_minute",),
    "other": tuple(row[0] for row in READ_IN),
}
# What cannot be right on a motorcycle, well beyond what any has (common practice, no source): lowest and highest.
BOUNDS = {
    ("preload", "millimetres"): (0, 300),
    ("chain_slack", "millimetres"): (0, 150),
    ("lever", "millimetres"): (-200, 300),
    ("tyre_pressure", "kilopascals"): (0, 700),
    ("idle", "revolutions_per_minute"): (300, 5_000),
    ("lamp_aim", "percent"): (-20, 20),
    ("lamp_aim", "degrees"): (-20, 20),
}
# The code of the unit as shown, of one and of several, and decimals at the finest.
SHOWN = {
    "clicks": ("one_click", "clicks", 0),
    "turns": ("one_turn", "turns", 3),
    "steps": ("one_step", "steps", 0),
    "millimetres": ("mm", "mm", 1),
    "kilopascals": ("kPa", "kPa", 0),
    "revolutions_per_minute": ("rpm", "rpm", 0),
    "degrees": ("one_degree", "degrees", 1),
    "percent": ("%", "%", 2),
}
# A pressure is said as gauges show it too: unit, decimals.
GAUGES = (("bar", 2), ("psi", 1))
# fmt: on


def wrong_with(values: dict[str, Any]) -> list[dict[str, Any]]:
    """What is wrong with the fields of a setting taken together, as far as they are there; each right by itself."""
    adjusted, unit = values.get("adjusted"), values.get("measured_in")
    if adjusted not in READS or unit not in READS["other"]:
        return []
    if unit not in READS[adjusted]:
        text = "That is not read in {unit}. Choose one of: {units}."
        units = [{"label": each} for each in READS[adjusted]]
        return [problem("wrong_unit", "measured_in", text, unit={"label": unit}, units=units)]
    if (adjusted, unit) not in BOUNDS:
        return []
    low, high = BOUNDS[(adjusted, unit)]
    found = []
    for field in (unit, AS_FOUND + unit):
        value = values.get(field)
        if isinstance(value, (int, float)) and not low <= value <= high:
            text = "That cannot be right here: it must lie between {low} and {high}."
            ends = {"low": setting_shown(unit, low), "high": setting_shown(unit, high)}
            found.append(problem("out_of_range", field, text, **ends))
    return found


def rounded_value(unit: str, value: float) -> float:
    """A figure as fine as it is shown: what differs by less is no difference."""
    return float(rounded(value, SHOWN[unit][2]))


def setting_shown(unit: str, value: Any) -> Any:
    """How a setting stands, as shown: {"value", "plus_minus", "unit"}, or the words themselves; None of None."""
    if value is None or unit not in SHOWN:
        return value
    one, several, decimals = SHOWN[unit]
    text = rounded(value, decimals)
    text = text.rstrip("0").rstrip(".") if "." in text else text
    return {"value": text, "plus_minus": None, "unit": one if text in ("1", "-1") else several}


def also_shown(unit: str, value: Any) -> list[dict[str, Any]]:
    """The same pressure as gauges show it; nothing of what has one unit only."""
    if value is None or unit != "kilopascals":
        return []
    return [
        {"value": rounded(value / FACTORS["pressure"][gauge], decimals), "plus_minus": None, "unit": gauge}
        for gauge, decimals in GAUGES
    ]
