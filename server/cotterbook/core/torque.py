"""A group's torque: what the manual says, what was applied, and how the two agree."""

from typing import Any

from .figures import NEWTON_METRES_IN, plain_number
from .words import say


def specification(values: dict[str, Any]) -> Any:
    """The torque that somebody took from the machine's manual, in N.m, or None.

    One figure stands for both ends of the range. It is only ever what a person
    entered with its page: guidance is worked out elsewhere and never called this.
    """
    low, high = values.get("torque_low_newton_metres"), values.get("torque_high_newton_metres")
    if low is None and high is None:
        return None
    return {
        "low": low if low is not None else high,
        "high": high if high is not None else low,
        "angle_degrees": values.get("torque_angle_degrees"),
        "condition": values.get("torque_condition"),
        "page": values.get("torque_page"),
        "as_written": values.get("torque_as_written"),
    }


# A click wrench may be 4 % off (ISO 6789-1), so a figure that near a single
# specified value cannot be told from it.
WRENCH_DEVIATION = 0.04


def judged(newton_metres: float, spec: Any) -> str:
    """How a value applied stands to the specification: within, below, above, or no_specification.

    A range is taken as written. A single value is met within the wrench's own
    permissible deviation, since no wrench can do better.
    """
    if spec is None:
        return "no_specification"
    slack = WRENCH_DEVIATION if spec["low"] == spec["high"] else 1e-9
    if newton_metres < spec["low"] * (1.0 - slack):
        return "below"
    return "above" if newton_metres > spec["high"] * (1.0 + slack) else "within"


def newton_metres(value: float, unit: str) -> float:
    """A torque in N.m from its unit; KeyError for a unit that is not known."""
    return value * NEWTON_METRES_IN[unit]


def record(last: dict[str, Any], spec: Any, at_ms: int) -> Any:
    """The last tightening as the screens show it, or None."""
    if not last:
        return None
    return {
        "newton_metres": last["newton_metres"],
        "angle_degrees": last.get("angle_degrees"),
        "tool": last.get("tool"),
        "who": last["who"],
        "at_ms": at_ms,
        "judged": judged(last["newton_metres"], spec),
    }


def notice(verdict: str, applied: float, spec: Any) -> Any:
    """A sentence when the value applied does not agree with the specification, else None."""
    if verdict in ("within", "no_specification"):
        return None
    text = "Tightened to {value} N.m, below the specification of {low} to {high} N.m. Tighten it again."
    if verdict == "above":
        text = "Tightened to {value} N.m, above the specification of {low} to {high} N.m. See what the manual says."
    return say(text, value=plain_number(applied), low=plain_number(spec["low"]), high=plain_number(spec["high"]))
