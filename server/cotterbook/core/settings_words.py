"""A setting in plain words: what was done to it, and what takes it back to how it was found or stood on a day."""

from typing import Any

from .fields import value_before
from .settings import Standing, alike, unit_of
from .settings_rules import AS_FOUND, SHOWN, also_shown, rounded_value, setting_shown
from .thing import Thing, key_of
from .words import say

# Of what is counted by turning: which way is in; the texts by whether it then gets harder, softer or nobody said.
TURNED = ("clicks", "turns")
IN = {
    None: "Turn it {amount} in: from {now} to {then}.",
    "harder": "Turn it {amount} in, that is harder: from {now} to {then}.",
    "softer": "Turn it {amount} in, that is softer: from {now} to {then}.",
}
OUT = {
    None: "Turn it {amount} out: from {now} to {then}.",
    "harder": "Turn it {amount} out, that is softer: from {now} to {then}.",
    "softer": "Turn it {amount} out, that is harder: from {now} to {then}.",
}
# How a larger figure came about is known where it is measured, not where marks are counted.
MEASURED = ("millimetres", "kilopascals", "revolutions_per_minute", "degrees", "percent")


def way_back(values: dict[str, Any], now: Standing, target: Any, target_disputed: bool) -> dict[str, Any]:
    """What takes a setting from how it stands to a target.

    {"state": "same" | "differs" | "unknown" | "disputed", "says": the sentence, "also": the difference of a pressure as
    gauges show it}. `values` are the setting's fields.
    """
    if now.disputed or target_disputed:
        return _stays("disputed", "Two people wrote different figures. Settle that first.")
    if target is None and now.nobody_knows:
        return _stays("unknown", "Nobody knows how it was found. The machine’s manual says how it belongs.")
    if target is None:
        return _stays("unknown", "How it was found is not written down. The machine’s manual says how it belongs.")
    if now.now is None:
        return _stays("unknown", "How it stands now is not written down: measure it first.")
    if alike(now.unit, now.now, target):
        return _stays("same", "Nothing to do: it stands like that.")
    if now.unit not in SHOWN:
        return {"state": "differs", "says": say("From “{now}” to “{then}”.", now=now.now, then=target), "also": []}
    return _turned(values, now.unit, now.now, target)


def _stays(state: str, text: str) -> dict[str, Any]:
    return {"state": state, "says": say(text), "also": []}


def _turned(values: dict[str, Any], unit: str, now: float, target: float) -> dict[str, Any]:
    more = rounded_value(unit, target) - rounded_value(unit, now)
    gaps = {"now": setting_shown(unit, now), "then": setting_shown(unit, target)}
    amount = setting_shown(unit, abs(more))
    counted = values.get("counted")
    if unit in TURNED and counted is not None:
        texts = OUT if (more > 0) == (counted == "out_from_in") else IN
        says = say(texts[values.get("inwards_is")], amount=amount, **gaps)
    elif unit in MEASURED and more > 0:
        says = say("{amount} more: from {now} to {then}.", amount=amount, **gaps)
    elif unit in MEASURED:
        says = say("{amount} less: from {now} to {then}.", amount=amount, **gaps)
    else:
        says = say("From {now} to {then}.", **gaps)
    return {"state": "differs", "says": says, "also": also_shown(unit, abs(target - now))}


def told_fields(setting: Thing) -> tuple[str, ...]:
    """The fields of a setting that `told` tells of."""
    return (unit_of(setting), AS_FOUND + unit_of(setting))


def told(setting: Thing, entry: dict[str, Any]) -> dict[str, Any]:
    """What a `set` entry of a setting did, in a sentence: from what to what, or how it was found."""
    unit, values = unit_of(setting), entry["values"]
    after, found = setting_shown(unit, values.get(unit)), setting_shown(unit, values.get(AS_FOUND + unit))
    if after is not None:
        before = value_before(setting.fields.get(unit), unit, key_of(entry))
        if before is None and AS_FOUND + unit in setting.fields:
            before = setting.fields[AS_FOUND + unit].value
        if before is None:
            return say("Set to {after}", after=after)
        return say("From {before} to {after}", before=setting_shown(unit, before), after=after)
    return say("Wrote down") if found is None else say("As found: {found}", found=found)
