"""Acts about scales: a scale's card, and a check of it against a known mass."""

from typing import Any

from .acts_part import existing
from .acts_tools import check_not_ahead
from .maker import Maker, given
from .strip import Strip
from .values import CHECKS


def add_scale(strip: Strip, form: dict[str, Any], make: Maker) -> dict[str, Any]:
    """A scale: its step and zero in `unit`, capacity in `capacity_unit`, gain error in percent, day of calibration.

    `gain_percent` (0 to 20) is the most by which it may show too much or too little,
    as a part of what lies on it; `zero` the most by which it may be off when empty.
    """
    unit = form.get("unit") or "g"
    if given(form, "name") is None:
        make.refuse("missing", "name", "Give the scale a name.")
    step = make.figure(form, "step", "", "mass", unit)
    if step is None:
        make.refuse("missing", "step", "Give the step of the scale.")
    capacity = make.figure(form, "capacity", "", "mass", form.get("capacity_unit") or "kg")
    if step is not None and capacity is not None and step >= capacity:
        make.refuse("step_too_wide", "step", "The step is as large as the most it can weigh.")
    calibrated_on = given(form, "calibrated_on")
    if calibrated_on is not None and CHECKS["date"](calibrated_on, 0) is None:
        check_not_ahead(make, calibrated_on)
    scale = make.new_id()
    make.put(
        scale,
        "scale",
        {
            "name": given(form, "name"),
            "step_grams": step,
            "capacity_grams": capacity,
            "gain_percent": make.figure(form, "gain_percent", ""),
            "zero_grams": make.figure(form, "zero", "", "mass", unit),
            "calibrated_on": calibrated_on,
            "certificate": given(form, "certificate"),
            "note": given(form, "note"),
        },
        "",
    )
    return make.done(scale=scale)


def check_scale(strip: Strip, form: dict[str, Any], make: Maker) -> dict[str, Any]:
    """A look at something of known mass: `known`, `known_plus_minus`, `figure` and `step`, all in `unit`."""
    scale = existing(strip, make, form.get("scale_id"), "scale", "scale_id")
    unit = form.get("unit") or "g"
    known, figure = make.figure(form, "known", "", "mass", unit), make.figure(form, "figure", "", "mass", unit)
    for name, value, text in (("known", known, "Say what it weighs."), ("figure", figure, "Give the figure.")):
        if value is None:
            make.refuse("missing", name, text)
    plus_minus = make.figure(form, "known_plus_minus", "", "mass", unit)
    if form.get("against") == "better_scale" and plus_minus is None:
        make.refuse("missing", "known_plus_minus", "Say how well that scale weighs: its step, or more.")
    if known is not None and plus_minus is not None and plus_minus >= known:
        make.refuse("out_of_range", "known_plus_minus", "That is as much as the thing weighs.")
    step = make.figure(form, "step", "", "mass", unit)
    if step is None and scale is not None:
        step = scale.values.get("step_grams")
    if step is None:
        step = make.resolution(form, "figure", "", "mass", unit)
    make.entry(
        "scale_check",
        "",
        scale=form.get("scale_id"),
        against=form.get("against"),
        known_grams=known,
        known_plus_minus_grams=plus_minus,
        grams=figure,
        step_grams=step,
        note=given(form, "note"),
    )
    return make.done()


GEAR_ACTS = {"add_scale": add_scale, "check_scale": check_scale}
