"""The torque card of a group: what the manual says, what to set, in which order; guidance always apart from it."""

from typing import Any

from . import torque
from .conversion import against, disputed_of, warnings
from .cure import cure_of
from .figures import NEWTON_METRES_IN
from .foreseen import from_the_map
from .group_record import record_of
from .guidance import guidance_view
from .machine_use import uses_of_machine
from .maps_alike import specification_words
from .refusals import MANUAL, certain_values, reason, reasons
from .retorque import retorque_of
from .shown_torque import specification_shown
from .strip import Strip
from .torque_cautions import cautions_of
from .typed_quantities import last_unit
from .views_group import fields_view, group_view, pattern_of
from .views_part import last_name
from .views_retorque import form_of_aftercare
from .views_tools import likely_wrench, tools_and_last
from .words import Refused, say

# The fields of a form for the specification, and the group's fields that they stand for.
FIGURES = (
    ("torque", "torque_low_newton_metres"),
    ("torque_high", "torque_high_newton_metres"),
    ("torque_tolerance", "torque_tolerance_newton_metres"),
    ("prevailing", "prevailing_newton_metres"),
)


def torque_view(strip: Strip, arguments: dict[str, Any]) -> Any:
    """Everything about the torque of one group; None when it is not in the log. `now_ms` dates the wrenches."""
    group = strip.thing(arguments["group"]) if isinstance(arguments.get("group"), str) else None
    if group is None or group.type != "group":
        return None
    part = strip.thing(group.values.get("part") or "")
    part_values, disputed = part.values if part is not None else {}, disputed_of(part, group)
    spec, unit = torque.specification(group.values), unit_of(group.values)
    shown = group_view(strip, group)
    certain = certain_values(group)
    guidance, why_not = guidance_or_reasons(part_values, certain, disputed)
    tools = tools_and_last(strip, arguments)
    locking = group.values.get("prevailing_newton_metres") or 0.0
    wanted = None if spec is None else (spec["low"] + spec["high"]) / 2.0 + locking
    lines, now_ms = record_of(strip, group)["lines"], arguments.get("now_ms")
    return {
        "group": group.id,
        "part": None if part is None else part.id,
        "part_name": "" if part is None else last_name(strip, part),
        "place": part_values.get("place"),
        "side": part_values.get("side"),
        "alive": group.alive and (part is None or part.alive),
        "state": shown,
        "called": shown["called"],
        "count": shown["count"],
        "fields": fields_view(group),
        "disputed": sorted(disputed),
        "from_map": _from_map(strip, group),
        "specification": None if spec is None else specification_shown(spec, unit),
        "form": form_of(group.values, unit),
        "pattern": pattern_of(group.values, shown["count"], spec, unit),
        "guidance": guidance,
        "why_no_guidance": why_not,
        "why_no_conversion": against(part_values, certain, disputed),
        "conversion_warnings": warnings(),
        "retorque": retorque_of(strip, group, uses_of_machine(strip), now_ms),
        "cure": cure_of(group, strip.ledger(group.id), now_ms),
        "aftercare": form_of_aftercare(group),
        # What was out of turn, or done on two phones at once, of what still counts.
        "record_notes": [note for line in lines if line["counts"] is not False for note in line["notes"]],
        "cautions": cautions_of(part_values, group.values, spec),
        "tools": [tool for tool in tools["tools"] if not tool["put_away"]],
        "last_tool": likely_wrench(strip, tools["tools"], (tools["last"] or {}).get("with_tool"), wanted),
    }


def _from_map(strip: Strip, group: Any) -> Any:
    """{"words", "page"}: what a map says of the torque, until this machine's own manual has spoken; else None."""
    found = from_the_map(strip, group) if group.alive and torque.specification(group.values) is None else None
    return None if found is None else {"words": specification_words(found), "page": found.get("torque_page")}


def guidance_or_reasons(part: dict[str, Any], group: dict[str, Any], disputed: Any = ()) -> tuple[Any, list[Any]]:
    """(guidance, []) or (None, the reasons why there is none): never both."""
    found = reasons(part, group, disputed)
    if found:
        return (None, found)
    try:
        return (guidance_view(group, part), [])
    except Refused as refused:
        return (None, [_as_reason(each) for each in refused.problems])


def _as_reason(problem: dict[str, Any]) -> dict[str, Any]:
    return reason(problem["code"], problem["field"], say(problem["text"], **problem["values"]), say(MANUAL))


def unit_of(values: dict[str, Any]) -> str:
    """The unit in which the manual's torque was written down; N.m where nothing says another."""
    unit = last_unit(values.get("torque_as_written"), "torque")
    return str(unit) if unit in NEWTON_METRES_IN else "N.m"


def form_of(values: dict[str, Any], unit: str) -> dict[str, Any]:
    """The specification as a form holds it, figures in the manual's own unit."""
    form: dict[str, Any] = {name: typed(values.get(field), unit) for name, field in FIGURES}
    low, high = values.get("torque_low_newton_metres"), values.get("torque_high_newton_metres")
    if low is None and high is not None:
        form["torque"] = form["torque_high"]
    if low is None or high == low:
        form["torque_high"] = ""
    steps = values.get("torque_steps_newton_metres") or []
    form.update(
        torque_unit=unit,
        torque_steps=" ".join([typed(step, unit) for step in steps]),
        torque_angle=typed(values.get("torque_angle_degrees"), "N.m"),
        torque_condition=values.get("torque_condition"),
        torque_page=values.get("torque_page") or "",
        pattern=values.get("pattern"),
    )
    return form


def typed(newton_metres: Any, unit: str) -> str:
    """A figure as somebody would type it, to seven digits; blank for none."""
    if newton_metres is None:
        return ""
    text = "{:.7g}".format(newton_metres / NEWTON_METRES_IN[unit])
    return text if "e" not in text else "{:.9f}".format(newton_metres / NEWTON_METRES_IN[unit])
