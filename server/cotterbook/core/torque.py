"""A group's torque: what the manual says, what was applied, and how the two agree."""

import math
from typing import Any

from . import conformity
from .figures import plain_number
from .shown_torque import known, settable
from .torque_tool import expanded
from .words import say

# An angle logged further than this from the manual's is not the manual's: common practice, no source.
ANGLE_WITHIN_DEGREES = 5.0


def specification(values: dict[str, Any]) -> Any:
    """The torque that somebody took from the machine's manual, in N.m, or None.

    One figure stands for both ends of the range. `limits` is what is accepted, a
    single value without a tolerance being taken with 10 % on either side, which
    `assumed` says. It is only ever what a person entered with its page: guidance is
    worked out elsewhere and never called this.
    """
    low, high = values.get("torque_low_newton_metres"), values.get("torque_high_newton_metres")
    if low is None and high is None:
        return None
    # Two people may each have written one end, or a tolerance that does not go with the value.
    ends = [float(end) for end in (low, high) if end is not None]
    low, high = min(ends), max(ends)
    tolerance = values.get("torque_tolerance_newton_metres")
    tolerance = tolerance if tolerance is not None and tolerance < low and low == high else None
    limits = conformity.limits(low, high, tolerance)
    assumed = say("No tolerance given: ±10 % is taken (common practice, no source).") if limits["assumed"] else None
    return {
        "low": low,
        "high": high,
        "tolerance": tolerance,
        "steps": values.get("torque_steps_newton_metres") or [],
        "angle_degrees": values.get("torque_angle_degrees"),
        "condition": values.get("torque_condition"),
        "page": values.get("torque_page"),
        "as_written": values.get("torque_as_written"),
        "prevailing": values.get("prevailing_newton_metres"),
        "limits": limits,
        "assumed": assumed,
    }


def of_step(spec: Any, step: Any) -> Any:
    """The specification of one step, counted from 1; of the last one, or without a step, the whole."""
    if spec is None or step is None or step > len(spec["steps"]):
        return spec
    value = spec["steps"][step - 1]
    return dict(spec, low=value, high=value, limits=conformity.limits(value, value), angle_degrees=None)


def expanded_of(entry: dict[str, Any]) -> float:
    """The expanded uncertainty (k = 2), in N.m, of a tightening.

    An entry that carries none was made with a wrench of which nothing is known: it has what any may have.
    """
    own = entry.get("expanded_newton_metres")
    return float(own) if own is not None else expanded(entry["newton_metres"])


def held(entry: dict[str, Any], of_group: Any) -> dict[str, Any]:
    """A tightening with the prevailing torque that counts for it, and that torque's expanded uncertainty (k = 2).

    Its own where it recorded one, 0 for none. Else what holds for the group now, `of_group`
    in N.m or None: a figure that was written or put right later says no less about the nut.
    Its own is known as the wrench reads it, the group's as any torque wrench does.
    """
    own = entry.get("prevailing_newton_metres")
    prevailing, spread = own, entry.get("prevailing_expanded_newton_metres")
    if own is None:
        prevailing, spread = of_group or 0.0, None
    if spread is None:
        spread = expanded(prevailing) if prevailing else 0.0
    return dict(entry, prevailing_newton_metres=prevailing, prevailing_expanded_newton_metres=spread)


def clamping(entry: dict[str, Any]) -> tuple[float, float]:
    """(what of a tightening tightens, its expanded uncertainty), both in N.m: all but the prevailing torque.

    `entry` as of `held`; the two torques were read apart, so their uncertainties go in quadrature (GUM 5.1.2).
    """
    left = max(0.0, entry["newton_metres"] - entry["prevailing_newton_metres"])
    return (left, math.sqrt(expanded_of(entry) ** 2 + entry["prevailing_expanded_newton_metres"] ** 2))


def judged(entry: dict[str, Any], spec: Any, doubts: Any = ()) -> tuple[str, Any, Any]:
    """(judgement, side, reason) of a tightening, as `conformity.verdict` has it; "no_specification" without one.

    What is judged is what was applied less the prevailing torque, see `held`. `doubts` are
    sentences on the wrench: with any, nothing is accepted. The reason is a sentence
    when there is doubt, else None.
    """
    if spec is None:
        return (conformity.NO_SPECIFICATION, None, doubts[0] if doubts else None)
    left, spread = clamping(held(entry, spec["prevailing"]))
    found, side = conformity.verdict(left, spread, spec["limits"]["low"], spec["limits"]["high"])
    if found == conformity.REFUSED:
        return (found, side, None)
    reasons = _doubts(entry, spec, spread, found, side) + list(doubts)
    return (conformity.DOUBTFUL if reasons else found, side, reasons[0] if reasons else None)


def _doubts(entry: dict[str, Any], spec: Any, spread: float, found: str, side: Any) -> list[dict[str, Any]]:
    reasons = []
    low, high = spec["limits"]["low"], spec["limits"]["high"]
    if found == conformity.DOUBTFUL:
        ends = {"low": settable(low), "high": settable(high), "middle": settable((low + high) / 2.0)}
        text = "Too near {low}: with what the wrench may be off it is not sure to reach it."
        if side == "high":
            text = "Too near {high}: with what the wrench may be off it is not sure to stay below."
        if conformity.is_too_coarse(spread, low, high):
            text = "This wrench is too coarse to prove {low} to {high}. Aim at the middle, {middle}."
        reasons.append(say(text, **ends))
    not_turned = _not_turned(entry, spec)
    return reasons if not_turned is None else reasons + [not_turned]


def _not_turned(entry: dict[str, Any], spec: Any) -> Any:
    """What is wrong with the turn after the torque, as a sentence; None where it is right, or none is wanted."""
    wanted, turned = spec["angle_degrees"], entry.get("angle_degrees")
    if wanted is None or turned is not None and abs(turned - wanted) <= ANGLE_WITHIN_DEGREES:
        return None
    if turned is None:
        return say("The manual also wants a turn of {wanted}°; none is logged.", wanted=wanted)
    return say("Turned by {turned}°, the manual says {wanted}°.", turned=turned, wanted=wanted)


def is_not_turned(entry: dict[str, Any], values: dict[str, Any]) -> bool:
    """Whether a tightening lacks the turn that the specification in a group's values wants, or got another one."""
    spec = specification(values)
    return spec is not None and _not_turned(entry, spec) is not None


def is_wrong(entry: dict[str, Any], values: dict[str, Any]) -> bool:
    """Whether a tightening lies outside the specification in a group's values, its uncertainty counted."""
    return judged(entry, specification(values))[0] == conformity.REFUSED


def _no_doubts(entry: dict[str, Any]) -> list[dict[str, Any]]:
    return []


def worst(applied: list[dict[str, Any]], spec: Any, doubts_of: Any = _no_doubts) -> Any:
    """The tightening that tells most of a group: the last that is refused, else the last in doubt, else the last.

    `doubts_of` gives the doubts of an entry, as `judged` takes them.
    """
    judgements = [judged(entry, spec, doubts_of(entry))[0] for entry in applied]
    for telling in (conformity.REFUSED, conformity.DOUBTFUL):
        found = [entry for entry, judgement in zip(applied, judgements) if judgement == telling]
        if found:
            return found[-1]
    return applied[-1] if applied else None


def record(last: Any, spec: Any, at_ms: int, doubts: Any = ()) -> Any:
    """A tightening as the screens show it, or None; `doubts` as in `judged`."""
    if last is None:
        return None
    found, side, reason = judged(last, spec, doubts)
    spread = expanded_of(last)
    kept = held(last, None if spec is None else spec["prevailing"])
    locking, within = kept["prevailing_newton_metres"], kept["prevailing_expanded_newton_metres"]
    return {
        "newton_metres": last["newton_metres"],
        "expanded_newton_metres": spread,
        "shown": known(last["newton_metres"], spread),
        "setting": settable(last["setting_newton_metres"]) if last.get("setting_newton_metres") else None,
        "prevailing": known(locking, within) if locking else None,
        "clamping": known(*clamping(kept)) if locking else None,
        "angle_degrees": last.get("angle_degrees"),
        "tool": last.get("tool"),
        "with_tool": last.get("with_tool"),
        "who": last["who"],
        "at_ms": at_ms,
        "judged": found,
        "side": side,
        "reason": reason,
    }


def shown(value: float) -> dict[str, Any]:
    """A torque in N.m as it was written down."""
    return {"value": plain_number(value), "plus_minus": None, "unit": "N.m"}


def notice(last: Any, spec: Any) -> Any:
    """A sentence when a record is refused, else None."""
    if last is None or last["judged"] != conformity.REFUSED:
        return None
    below = last["side"] == "low"
    if spec["low"] == spec["high"]:
        text = "Tightened to {value}, above the specification of {low}. See what the manual says."
        if below:
            text = "Tightened to {value}, below the specification of {low}. Tighten it again."
    else:
        text = "Tightened to {value}, above the specification of {low} to {high}. See what the manual says."
        if below:
            text = "Tightened to {value}, below the specification of {low} to {high}. Tighten it again."
    return say(text, value=last["shown"], low=settable(spec["low"]), high=settable(spec["high"]))
