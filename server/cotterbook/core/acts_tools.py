"""Acts about torque tools: a wrench's card."""

from typing import Any

from .days import day_of, read_day
from .maker import Maker, given
from .strip import Strip
from .values import CHECKS


def add_tool(strip: Strip, form: dict[str, Any], make: Maker) -> dict[str, Any]:
    """A torque tool: its range and step in `torque_unit`, deviation in percent, lever in mm, day of calibration."""
    unit = form.get("torque_unit") or "N.m"
    if given(form, "name") is None:
        make.refuse("missing", "name", "Give the wrench a name.")
    low = make.figure(form, "low", "", "torque", unit)
    high = make.figure(form, "high", "", "torque", unit)
    step = make.figure(form, "step", "", "torque", unit)
    _check_range(make, low, high, step, ("low", "step"))
    calibrated_on = given(form, "calibrated_on")
    if calibrated_on is not None and CHECKS["date"](calibrated_on, 0) is None:
        check_not_ahead(make, calibrated_on)
    tool = make.new_id()
    make.put(
        tool,
        "tool",
        {
            "name": given(form, "name"),
            "tool_type": given(form, "tool_type"),
            "low_newton_metres": low,
            "high_newton_metres": high,
            "step_newton_metres": step,
            "deviation_percent": make.figure(form, "deviation", ""),
            "lever_millimetres": make.figure(form, "lever", "", "length"),
            "calibrated_on": calibrated_on,
            "certificate": given(form, "certificate"),
            "note": given(form, "note"),
        },
        "",
    )
    return make.done(tool=tool)


def check_card(make: Maker, old: dict[str, Any], values: dict[str, Any]) -> None:
    """Refuses corrections of a card, of a wrench or a scale, that do not go with the rest of it."""
    card = dict(old, **values)
    low, high, step = [card.get(name + "_newton_metres") for name in ("low", "high", "step")]
    changed = sorted([name for name in values if name.endswith("_newton_metres")])
    if changed:
        _check_range(make, low, high, step, (changed[0], changed[0]))
    date = values.get("calibrated_on")
    if date is not None and CHECKS["date"](date, 0) is None:
        check_not_ahead(make, date)


def _check_range(make: Maker, low: Any, high: Any, step: Any, fields: tuple[str, str]) -> None:
    if low is not None and high is not None and low >= high:
        make.refuse("range_reversed", fields[0], "The lowest mark lies above the top.")
    if step is not None and high is not None and step >= high:
        make.refuse("step_too_wide", fields[1], "The step is as large as the top.")


def check_not_ahead(make: Maker, date: str) -> None:
    """Refuses a day of calibration that is yet to come, a day's grace left to places ahead of UTC."""
    if read_day(date) > day_of(make.now + 86_400_000):
        make.refuse("not_a_date", "calibrated_on", "That day is yet to come.")


TOOL_ACTS = {"add_tool": add_tool}
