"""The same preload with other friction: a torque for dry threads turned into one for oiled ones, or back.

How slippery either is, is known only as a range, so the answer is a band. It is worked
out for the most slippery thread there may be: then the top gives no more preload than
the old torque could give at most, and the bottom what it gave at least.
"""

from typing import Any

from .bolt import preload_of, torque_for
from .friction import CONDITIONS, Friction, friction_of
from .guidance import floor_to, shown_torque, step_of
from .heads import bearing_diameters
from .maker import given
from .refusals import certain_values, finish_of, reasons
from .strip import Strip
from .threads import read_thread
from .typed_quantities import read_for
from .unit_factors import FACTORS
from .words import Refused, problem, require, say

# What must be known for it; how strong the bolt is and how far it is screwed in do not come into it.
NEEDED = ("place", "part", "outside_engine", "thread", "thread_confirmed", "head", "finish")
# Two answers to these would be two answers to how much it rubs.
UNDISPUTED = ("into", "grade", "key")
WARNINGS = (
    "The condition in the machine’s manual rules: tighten as it says, with its torque.",
    "A lubricated thread tightened to a dry torque can break the bolt or strip its hole.",
)


def converted(torque: float, thread: Any, bearing: Any, before: Friction, after: Friction) -> tuple[float, float]:
    """(low, high) torque in N.m with friction `after` for one of 0 to 2,000 N.m with friction `before`."""
    require("torque", torque, 0, 2_000)
    least = preload_of(torque, thread, bearing, before.high)
    most = preload_of(torque, thread, bearing, before.low)
    low, high = [torque_for(preload, thread, bearing, after.low) for preload in (least, most)]
    return (low, high)


def against(part: dict[str, Any], group: dict[str, Any], disputed: Any = ()) -> list[dict[str, Any]]:
    """Why no torque of this group is converted: those reasons against guidance that count here too."""
    return [each for each in reasons(part, group, disputed) if _counts(each)]


def _floored(low: float, high: float, unit: str) -> dict[str, Any]:
    """A band in N.m as shown in a unit, each end on the step below it; refused where that is nothing."""
    ends = [end / FACTORS["torque"][unit] for end in (low, high)]
    down = [floor_to(end, step_of(ends[1])) for end in ends]
    if down[0] <= 0.0:
        raise Refused([problem("out_of_range", "figure", "That is too little to be worked out here.")])
    shown = [dict(shown_torque(end), unit=unit) for end in down]
    return {"low": shown[0], "high": shown[1]}


def warnings() -> list[dict[str, Any]]:
    """What to be told before a torque is converted, and after."""
    return [say(text) for text in WARNINGS]


def _counts(why: dict[str, Any]) -> bool:
    two_answers = why["code"] == "disputed" and why["field"] in UNDISPUTED
    return why["field"] in NEEDED or why["code"] == "weak_material" or two_answers


def convert_torque(strip: Strip, form: dict[str, Any]) -> dict[str, Any]:
    """A typed torque of a group from one condition to another: {"low", "high", "warnings", "sources"}.

    The form has `group`, `figure`, `unit`, `from` and `to`. Refused with its problems.
    """
    group = strip.thing(form["group"]) if isinstance(form.get("group"), str) else None
    if group is None or group.type != "group":
        raise Refused([problem("no_such_group", "group", "That is not in this strip-down.")])
    torque = _torque(form)
    before, after = form.get("from"), form.get("to")
    wrong = [
        problem("not_a_choice", name, "Choose how the threads are.")
        for name, value in (("from", before), ("to", after))
        if value not in CONDITIONS
    ]
    if not wrong and before == after:
        wrong = [problem("same_condition", "to", "That is the same condition.")]
    part = strip.thing(group.values.get("part") or "")
    found = against(part.values if part is not None else {}, certain_values(group), disputed_of(part, group))
    # A reason in the condition speaks of the group's own; here the two that are asked about count.
    wrong += [dict(each["why"], code=each["code"], field="") for each in found]
    if wrong:
        raise Refused(wrong)
    return _shown(torque, str(form.get("unit") or "N.m"), group.values, str(before), str(after))


def disputed_of(part: Any, group: Any) -> list[str]:
    """The names of fields of group and part for which two answers stand."""
    return [
        name for thing in (part, group) if thing is not None for name in thing.fields if thing.fields[name].disputed
    ]


def _torque(form: dict[str, Any]) -> float:
    torque: float = read_for("figure", given(form, "figure") or "", "torque", form.get("unit") or "N.m").value
    if not 0.0 < torque <= 2_000.0:
        raise Refused([problem("out_of_range", "figure", "This must lie between {low} and {high}.", low=0, high=2000)])
    return torque


def _shown(torque: float, unit: str, values: dict[str, Any], before: str, after: str) -> dict[str, Any]:
    thread, finish, into = read_thread(values["thread"]), finish_of(values), values.get("into")
    ranges, wrong = [], []
    for name, condition in (("from", before), ("to", after)):
        try:
            ranges.append(friction_of(finish, condition, into))
        except Refused as refused:
            wrong = [dict(refused.problems[0], field=name)]
    if wrong:
        raise Refused(wrong)
    low, high = converted(
        torque, thread, bearing_diameters(values["head"], thread, values.get("key")), ranges[0], ranges[1]
    )
    shown = _floored(low, high, "N.m")
    return {
        "low": shown["low"],
        "high": shown["high"],
        "own": None if unit == "N.m" else _floored(low, high, unit),
        "exact": {"low": low, "high": high},
        "warnings": warnings(),
        "sources": [say("Worked out for the same preload by VDI 2230, for the most slippery thread there may be.")]
        + ranges[1].sources[:1],
    }
