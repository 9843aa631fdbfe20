"""What to set a wrench to, before it is done: the answer under the form while it is typed."""

import math
from typing import Any

from . import conformity, tightening, torque
from .figures import digits_after_point
from .limits import CLOCK_LOW_MS
from .maker import Maker
from .shown_torque import MOST_DECIMALS, known, settable
from .strip import Strip
from .words import Refused, problem, say

# What adding and taking away may blur, in steps of the rounding.
BLUR = 1e-6


def torque_setting(strip: Strip, form: dict[str, Any]) -> dict[str, Any]:
    """Setting, torque applied and judgement to expect of a form for a tightening; Refused with its problems.

    The form is that of the act `tighten`, with `group`, and `now_ms` for the age of
    the calibration. Shown figures; `notices` are sentences, worst first.
    """
    group = strip.thing(form["group"]) if isinstance(form.get("group"), str) else None
    if group is None or group.type != "group":
        raise Refused([problem("no_such_group", "group", "That is not in this strip-down.")])
    # The entry that it would become is made, so that what it may hold is asked of it, and is then let go.
    stamp = {"now": CLOCK_LOW_MS, "who": "-", "device": strip.id}
    make = Maker(strip.id, 0, stamp, lambda: group.id)
    angle = make.figure(form, "angle", "")
    found = tightening.of_form(strip, group, form, make)
    if found is None:
        raise Refused(make.problems)
    entry = dict(tightening.fields_of(found), angle_degrees=angle)
    make.entry("tighten", "", group=group.id, count=1, **entry)
    if make.problems:
        raise Refused(make.problems)
    spec = torque.of_step(torque.specification(group.values), found["step"])
    now_ms = form.get("now_ms") if isinstance(form.get("now_ms"), int) else None
    doubts = tightening.doubts(strip, entry, now_ms)
    judged, side, reason = torque.judged(entry, spec, doubts)
    unit = form.get("torque_unit") or "N.m"
    return {
        "setting": settable(found["setting"], unit),
        # A wrench may be marked in N.m while the manual speaks in another unit.
        "setting_newton_metres": settable(found["setting"]) if unit != "N.m" else None,
        "applied": known(found["newton_metres"], found["expanded"]),
        "prevailing": settable(found["prevailing"]) if found["prevailing"] else None,
        "factor": found["setting"] and found["newton_metres"] / found["setting"],
        "judged": judged,
        "side": side,
        "notices": ([reason] if reason else []) + [each for each in doubts if each is not reason] + _notices(found),
        "deviation": found["deviation"],
        "accepted": _accepted(spec, found["expanded"], found["prevailing"] or 0.0),
        "rule": conformity.RULE if spec is not None else None,
        "step": found["step"],
    }


def _accepted(spec: Any, spread: float, prevailing: float) -> Any:
    """The torques at the fastener, prevailing torque included, accepted with this uncertainty; None where none is."""
    if spec is None or conformity.is_too_coarse(spread, spec["limits"]["low"], spec["limits"]["high"]):
        return None
    low, high = spec["limits"]["low"] + spread + prevailing, spec["limits"]["high"] - spread + prevailing
    # Rounded inwards, and by one digit more where that would leave nothing.
    for decimals in (digits_after_point(spread), MOST_DECIMALS):
        scale = 10.0 ** max(0, decimals)
        ends = (math.ceil(low * scale - BLUR) / scale, math.floor(high * scale + BLUR) / scale)
        if ends[0] <= ends[1]:
            return {"low": settable(ends[0]), "high": settable(ends[1])}
    return None


def _notices(found: dict[str, Any]) -> list[dict[str, Any]]:
    asked = None if found["torque"] is None else found["torque"] + (found["prevailing"] or 0.0)
    if asked is None or abs(asked - found["newton_metres"]) <= 1e-9 * asked:
        return []
    text = "The wrench has no mark for {asked}: the nearest gives {applied}."
    return [say(text, asked=settable(asked), applied=settable(found["newton_metres"]))]
