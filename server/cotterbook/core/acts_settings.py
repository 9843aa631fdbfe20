"""Acts about settings: writing one down with how it was found, noting a new figure, and what was forgotten before."""

from typing import Any

from .acts_part import existing, saw_of
from .limits import READ_IN
from .maker import FORM_NAMES, Maker, given, whole
from .settings import unit_of
from .settings_rules import AS_FOUND, wrong_with
from .strip import Strip
from .thing import Thing
from .values import CHECKS

DESCRIBED = (
    "adjusted", "name", "place", "side", "part", "measured_in", "counted", "inwards_is", "read_how", "how_to_undo",
    "note",
)  # fmt: skip
# What a field is typed in that has units of its own.
TYPED = {"millimetres": ("length", "mm"), "kilopascals": ("pressure", "kPa")}
WHOLE = ("clicks", "steps", "revolutions_per_minute")
SIGNED = ("millimetres", "degrees", "percent")
# What may stand behind a figure whose field has one unit only, the longest first.
OWN_WORDS = {
    "clicks": ("clicks", "click"),
    "turns": ("turns", "turn"),
    "steps": ("steps", "step"),
    "revolutions_per_minute": ("rpm", "r/min", "/min"),
    "degrees": ("degrees", "degree", "°"),
    "percent": ("%",),
}


def add_setting(strip: Strip, form: dict[str, Any], make: Maker) -> dict[str, Any]:
    """Something adjusted: what, how it is read, how it was found (or that nobody knows), and how it stands.

    `as_found` and `value` as typed, in `unit` where the figure has none of its own; `value` may be left out of what
    was only looked at.
    """
    values = {name: given(form, name) for name in DESCRIBED}
    for name, text in (("adjusted", "Say what is adjusted."), ("measured_in", "Say what it is measured in.")):
        if values[name] is None:
            make.refuse("missing", name, text)
    if values["adjusted"] == "other" and values["name"] is None:
        make.refuse("missing", "name", "Give it a name.")
    if values["part"] is not None:
        existing(strip, make, values["part"], "part", "part")
    unit, setting = str(values["measured_in"]), make.new_id()
    found, now = typed(make, form, "as_found", unit), typed(make, form, "value", unit)
    nobody_knows = form.get("as_found_unknown") is True and found is None
    if found is None and not nobody_knows:
        make.refuse("missing", "as_found", "Say how it was found, or that nobody knows.")
    if given(form, "as_found") is None and given(form, "value") is None:
        make.refuse("missing", "value", "Say how it stands now.")
    _refuse_wrong(make, dict(values, **{AS_FOUND + unit: found, unit: now}))
    first = dict(values, **{AS_FOUND + unit: found, "as_found_unknown": nobody_knows or None})
    make.put(setting, "setting", first, "")
    # The figure is an entry of its own, so that how it was found is no part of what is struck with it.
    if now is not None:
        make.put(setting, "setting", {unit: now, "why": given(form, "why")}, "")
    return make.done(setting=setting)


def adjust(strip: Strip, form: dict[str, Any], make: Maker) -> dict[str, Any]:
    """A new figure for a setting, `value` as typed in `unit`, and `why`; `saw`: the entries its author had in sight."""
    setting = existing(strip, make, form.get("thing"), "setting", "thing")
    if setting is not None:
        unit = unit_of(setting)
        value = typed(make, form, "value", unit)
        if value is None:
            make.refuse("missing", "value", "Say how it stands now.")
        # A reason that nobody gave is not the one of the figure before.
        _put(make, setting, form, {unit: value}, {"why": given(form, "why")})
    return make.done()


def found_as(strip: Strip, form: dict[str, Any], make: Maker) -> dict[str, Any]:
    """How a setting was found, where that was forgotten: `as_found` as typed in `unit`, or `as_found_unknown`."""
    setting = existing(strip, make, form.get("thing"), "setting", "thing")
    if setting is not None:
        unit = unit_of(setting)
        found = typed(make, form, "as_found", unit)
        nobody_knows = form.get("as_found_unknown") is True
        if found is None and not nobody_knows:
            make.refuse("missing", "as_found", "Say how it was found, or that nobody knows.")
        own = {"as_found_unknown": True} if found is None else {AS_FOUND + unit: found}
        _put(make, setting, form, own, {})
    return make.done()


def typed(make: Maker, form: dict[str, Any], name: str, unit: str) -> Any:
    """What was typed for a setting, in the unit of its field; None where nothing was, or it was refused."""
    text = given(form, name)
    if text is None or unit not in OWN_WORDS and unit not in TYPED:
        return _fits(make, name, unit, text)
    measure, usual = TYPED.get(unit, ("", ""))
    plain = dict(form, **{name: _without(text, OWN_WORDS.get(unit, ()))})
    if unit in WHOLE:
        return _fits(make, name, unit, whole(plain, name))
    return make.figure(plain, name, "", measure, (form.get("unit") or usual) if measure else "", unit in SIGNED)


def _fits(make: Maker, name: str, unit: str, value: Any) -> Any:
    """The value, unless it is no whole number or too long a text, which is refused at its field at once."""
    for field, kind, bounds in READ_IN:
        wrong = CHECKS[kind](value, bounds) if field == unit and value is not None else None
        if wrong and wrong[0] != "out_of_range":
            make.refuse(wrong[0], name, wrong[1], **wrong[2])
            return None
    return value


def _without(text: Any, words: tuple[str, ...]) -> Any:
    """A figure without its own unit behind it."""
    for word in words:
        if isinstance(text, str) and text.lower().endswith(word):
            return text[: len(text) - len(word)].strip()
    return text


def check_setting(make: Maker, old: dict[str, Any], values: dict[str, Any]) -> None:
    """Refuses corrections of a setting that do not go with the rest of it."""
    _refuse_wrong(make, dict(old, **values))


def _refuse_wrong(make: Maker, values: dict[str, Any]) -> None:
    for each in wrong_with(values):
        make.refuse(each["code"], FORM_NAMES.get(each["field"], each["field"]), each["text"], **each["values"])


def _put(make: Maker, setting: Thing, form: dict[str, Any], values: dict[str, Any], more: dict[str, Any]) -> None:
    check_setting(make, setting.values, {name: values[name] for name in values if values[name] is not None})
    seen = form.get("saw") or {}
    saw = {name: seen[name] if name in seen else saw_of(setting, name) for name in values}
    make.put(setting.id, "setting", dict(values, **more), "", {name: saw[name] for name in saw if saw[name]} or None)


SETTING_ACTS = {"add_setting": add_setting, "adjust": adjust, "found_as": found_as}
