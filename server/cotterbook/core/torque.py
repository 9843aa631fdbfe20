"""A group's torque: what the manual says, what was applied, and how the two agree."""

from typing import Any

from .figures import plain_number
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


def is_wrong(entry: dict[str, Any], values: dict[str, Any]) -> bool:
    """Whether a tightening does not agree with the specification in a group's values."""
    return judged(entry["newton_metres"], specification(values)) in ("below", "above")


def worst(applied: list[dict[str, Any]], spec: Any) -> Any:
    """The tightening that tells most of a group: the last that does not agree with the specification, else the last."""
    wrong = [entry for entry in applied if judged(entry["newton_metres"], spec) in ("below", "above")]
    telling = wrong or applied
    return telling[-1] if telling else None


def record(last: Any, spec: Any, at_ms: int) -> Any:
    """A tightening as the screens show it, or None."""
    if last is None:
        return None
    return {
        "newton_metres": last["newton_metres"],
        "angle_degrees": last.get("angle_degrees"),
        "tool": last.get("tool"),
        "who": last["who"],
        "at_ms": at_ms,
        "judged": judged(last["newton_metres"], spec),
    }


def shown(value: float) -> dict[str, Any]:
    """A torque in N.m as it is shown."""
    return {"value": plain_number(value), "plus_minus": None, "unit": "N.m"}


def notice(verdict: str, applied: float, spec: Any) -> Any:
    """A sentence when the value applied does not agree with the specification, else None."""
    if verdict in ("within", "no_specification"):
        return None
    if spec["low"] == spec["high"]:
        text = "Tightened to {value}, below the specification of {low}. Tighten it again."
        if verdict == "above":
            text = "Tightened to {value}, above the specification of {low}. See what the manual says."
    else:
        text = "Tightened to {value}, below the specification of {low} to {high}. Tighten it again."
        if verdict == "above":
            text = "Tightened to {value}, above the specification of {low} to {high}. See what the manual says."
    return say(text, value=shown(applied), low=shown(spec["low"]), high=shown(spec["high"]))
