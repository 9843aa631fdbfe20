"""A specification as people type it: value or range, tolerance, steps before the last, angle, prevailing torque."""

from typing import Any

from .figures import read_figure
from .maker import Maker, given
from .typed_quantities import written_each
from .unit_factors import FACTORS
from .unit_names import code_of, refused
from .words import Refused

MOST_STEPS = 4
# What people put between the steps; a comma or a point alone is a decimal mark.
BETWEEN = (";", "/", "→", "+")


def specified(make: Maker, row: dict[str, Any], prefix: str) -> dict[str, Any]:
    """The torque fields of a group out of a row of a form, figures in N.m; what is wrong is refused by its field."""
    unit = row.get("torque_unit") or "N.m"
    low = make.figure(row, "torque", prefix, "torque", unit)
    high = make.figure(row, "torque_high", prefix, "torque", unit)
    tolerance = make.figure(row, "torque_tolerance", prefix, "torque", unit)
    found = {
        "torque_low_newton_metres": low,
        "torque_high_newton_metres": high,
        "torque_tolerance_newton_metres": tolerance,
        "torque_steps_newton_metres": steps(make, row, "torque_steps", prefix, unit),
        "torque_as_written": as_written(row, unit),
        "torque_angle_degrees": make.figure(row, "torque_angle", prefix),
        "torque_condition": given(row, "torque_condition"),
        "torque_page": given(row, "torque_page"),
        "prevailing_newton_metres": make.figure(row, "prevailing", prefix, "torque", unit),
    }
    if given(row, "torque") is None:
        _needs_a_value(make, row, prefix)
    check_together(make, found, prefix, ("torque", "torque_tolerance"))
    return found


def _needs_a_value(make: Maker, row: dict[str, Any], prefix: str) -> None:
    if given(row, "torque_high") is not None:
        make.refuse("range_reversed", prefix + "torque", "Give the lower torque too.")
    for name in ("torque_tolerance", "torque_steps"):
        if given(row, name) is not None:
            make.refuse("missing", prefix + "torque", "Give the torque that this belongs to.")


def check_together(make: Maker, values: dict[str, Any], prefix: str, names: tuple[str, str]) -> None:
    """Refuses a tolerance that does not go with the value; `names` are the form's for value and tolerance."""
    low, high = values.get("torque_low_newton_metres"), values.get("torque_high_newton_metres")
    tolerance = values.get("torque_tolerance_newton_metres")
    if tolerance is None or low is None:
        return
    if high is not None and high != low:
        make.refuse("range_or_tolerance", prefix + names[1], "Give a range, or one value with its tolerance, not both.")
    elif tolerance >= low:
        make.refuse("tolerance_too_wide", prefix + names[1], "The tolerance is as large as the value itself.")


def steps(make: Maker, row: dict[str, Any], name: str, prefix: str, unit: Any) -> Any:
    """Steps as typed, "20 40,5", in N.m: up to 4, parted by spaces; None where nothing is typed, or it is refused."""
    text = given(row, name)
    if text is None:
        return None
    try:
        return read_steps(text, unit)[0]
    except Refused as wrong:
        for each in wrong.problems:
            make.refuse(each["code"], prefix + name, each["text"], **each["values"])
    return None


def read_steps(text: Any, unit: Any) -> tuple[list[float], Any]:
    """Steps as typed as (N.m of each, the code of a unit typed behind them); Refused, with no field, for others."""
    plain, own = _without_unit(str(text))
    for mark in BETWEEN:
        plain = plain.replace(mark, " ")
    factor = FACTORS["torque"].get(own or unit)
    read = [read_figure(each) for each in plain.split()]
    if factor is None:
        raise refused("unknown_unit", "The unit {unit} is not known here.", unit=str(unit)[:20])
    if not read or len(read) > MOST_STEPS:
        raise refused("not_a_list", "Up to {most} steps before the last, with a space between: 20 40.", most=MOST_STEPS)
    if any(each is None or each[0] <= 0 for each in read):
        raise refused("not_a_number", "Type the steps with a space between: 20 40.")
    return ([each[0] * factor for each in read], own)


def _without_unit(text: str) -> tuple[str, Any]:
    """The figures of a list, and the unit behind the last of them: "15 30 lbf ft" is ("15 30", "lbf.ft")."""
    words = text.split()
    for first in range(1, len(words)):
        code = code_of(" ".join(words[first:]), "torque")
        if code is not None:
            return (" ".join(words[:first]), code)
    return (text, None)


def as_written(row: dict[str, Any], unit: Any) -> Any:
    """The specification in the manual's own figures and unit, or None without a value."""
    value, high = given(row, "torque"), given(row, "torque_high")
    tolerance, before = given(row, "torque_tolerance"), given(row, "torque_steps")
    if value is None:
        return None
    texts = written_each([each for each in (value, high, tolerance) if each is not None], "torque", str(unit))
    text = texts[0]
    if high is not None:
        text += " – " + texts[1]
    if tolerance is not None:
        text += " ± " + texts[-1]
    return (str(before) + " → " if before is not None else "") + text
