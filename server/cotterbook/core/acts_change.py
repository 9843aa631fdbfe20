"""Correcting what was written: new values for fields, and what follows from them."""

from typing import Any

from .acts_back import come_after, take_fasteners_out
from .acts_part import bag_of, existing, saw_of
from .acts_settings import check_setting
from .acts_tools import check_card
from .acts_torque import FIGURES
from .came_off_with import SAYS
from .maker import Maker, given, whole
from .refusals import CONFIRMED_OF
from .specification_form import check_together, steps
from .strip import Strip
from .things import THINGS
from .typed_quantities import KEPT_IN, written

# What a field that is typed as a figure measures, by the unit that its name carries.
MEASURES = (
    ("grams_each", "mass"),
    ("_grams", "mass"),
    ("_newton_metres", "torque"),
    ("millimetres", "length"),
    ("kilopascals", "pressure"),
    ("_litres", "volume"),
)
FIGURE_TYPES = ("number", "measure")
STEPS = "torque_steps_newton_metres"


def change(strip: Strip, form: dict[str, Any], make: Maker) -> dict[str, Any]:
    """New values for fields of a thing, with the entries whose values the author saw."""
    thing = existing(strip, make, form.get("thing"), form.get("type"), "thing")
    if thing is None:
        return make.done()
    values = _values(strip, make, thing, form)
    if thing.type == "group" and "torque_tolerance_newton_metres" in values:
        names = ("torque_low_newton_metres", "torque_tolerance_newton_metres")
        check_together(make, dict(thing.values, **values), "", names)
    if thing.type in ("tool", "scale"):
        check_card(make, thing.values, values)
    if thing.type == "setting":
        check_setting(make, thing.values, values)
        if values.get("part") is not None:
            existing(strip, make, values["part"], "part", "part")
    if thing.type == "item" and values.get("closed") and not dict(thing.values, **values).get("closed_how"):
        make.refuse("missing", "closed_how", "Say how it was done or looked at.")
    seen = form.get("saw") or {}
    saw = {name: seen[name] if name in seen else saw_of(thing, name) for name in values}
    for name, of in CONFIRMED_OF:
        # What is confirmed is confirmed of what stood on this screen, whatever another phone wrote meanwhile.
        if values.get(name) and of not in values:
            saw[of] = saw_of(thing, of)
    if thing.type == "part" and any([name in values for name in SAYS]):
        # Its fasteners came off with it then, and not before they went in by a clock that is days ahead.
        for each in [thing] + strip.groups_of(thing.id):
            come_after(strip, make, each.id)
    make.entry("set", "", thing=thing.id, type=thing.type, values=values, saw={n: saw[n] for n in saw if saw[n]})
    if thing.type == "part":
        _follow(strip, make, thing, values)
    return make.done()


def _values(strip: Strip, make: Maker, thing: Any, form: dict[str, Any]) -> dict[str, Any]:
    typed, units, values = form.get("values") or {}, form.get("units") or {}, {}
    fields = {field[0]: field for field in THINGS[thing.type]}
    for name in sorted(typed):
        if name == "bag_label":
            values["bag"] = bag_of(strip, make, given(typed, name))
        elif name == STEPS:
            values[name] = steps(make, typed, name, "", units.get(name) or "N.m")
        else:
            values[name] = _value(make, fields.get(name), typed, name, units.get(name))
    if thing.type == "group" and values.get("thread", thing.values.get("thread")) != thing.values.get("thread"):
        # Somebody was sure of the thread that stood there before, not of this one.
        if thing.values.get("thread_confirmed") and "thread_confirmed" not in values:
            values["thread_confirmed"] = False
    if thing.type == "group" and any(name in values for name in FIGURES):
        _specify(thing.values, typed, units, values)
    return values


def _value(make: Maker, field: Any, typed: dict[str, Any], name: str, unit: Any) -> Any:
    """A field's value as typed; fields that the thing has not are left for `check` to refuse."""
    kind = None if field is None else field[1]
    if kind in FIGURE_TYPES:
        signed = kind == "measure" and field[3][0] < 0
        return make.figure(typed, name, "", measure_of(name), unit, signed)
    return whole(typed, name) if kind == "integer" else given(typed, name)


def measure_of(field: str) -> str:
    """What a field measures: "mass", "torque", "length", "volume", "pressure", or "" for a percentage or an angle."""
    for end, measure in MEASURES:
        if field.endswith(end):
            return measure
    return ""


def _specify(old: dict[str, Any], typed: dict[str, Any], units: dict[str, Any], values: dict[str, Any]) -> None:
    """What follows from a new figure of a specification: a single value stays single, and how it was written goes."""
    low, high = FIGURES[0], FIGURES[1]
    if low in values and high not in values and old.get(high) is not None and old.get(high) == old.get(low):
        values[high] = None
    # What was written before belongs to the figures before; only a value that stands alone says itself.
    now = dict(old, **values)
    alone = low in values and all([now.get(name) is None for name in FIGURES[1:]])
    text = given(typed, low) if alone else None
    unit = units.get(low) or KEPT_IN["torque"]
    values["torque_as_written"] = None if text is None else written(text, "torque", unit)


def _follow(strip: Strip, make: Maker, part: Any, values: dict[str, Any]) -> None:
    """Fasteners go where their part goes: out when it is off after all, from its old bag to its new one."""
    if values.get("off") is True and not part.values.get("off"):
        take_fasteners_out(strip, make, part)
    old, new = part.values.get("bag") or "", values.get("bag")
    if new is None or new == old:
        return
    for group in strip.groups_of(part.id):
        count = strip.ledger(group.id).places.get(("bag", old), 0)
        if count > 0:
            ends = {"from": "bag", "from_bag": old or None, "to": "bag", "to_bag": new}
            make.entry("move", "", group=group.id, count=count, **ends)
