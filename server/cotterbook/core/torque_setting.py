"""What to set a wrench to, before it is done: the answer under the form while it is typed."""

from typing import Any

from . import tightening, torque
from .kinds import CLOCK_LOW_MS
from .maker import Maker
from .shown_torque import known, settable
from .strip import Strip
from .words import Refused, problem, say


def torque_setting(strip: Strip, form: dict[str, Any]) -> dict[str, Any]:
    """Setting, torque applied and judgement to expect of a form for a tightening; Refused with its problems.

    The form is that of the act `tighten`, with `group`, and `now_ms` for the age of
    the calibration. Shown figures; `notices` are sentences, worst first.
    """
    group = strip.thing(form["group"]) if isinstance(form.get("group"), str) else None
    if group is None or group.type != "group":
        raise Refused([problem("no_such_group", "group", "That is not in this strip-down.")])
    # A Maker that makes no entry only reads the form.
    make = Maker(strip.id, 0, {"now": CLOCK_LOW_MS, "who": "-", "device": ""}, None)
    angle = make.figure(form, "angle", "")
    found = tightening.of_form(strip, group, form, make)
    if found is None:
        raise Refused(make.problems)
    entry = dict(tightening.fields_of(found), angle_degrees=angle)
    spec = torque.of_step(torque.specification(group.values), found["step"])
    now_ms = form.get("now_ms") if isinstance(form.get("now_ms"), int) else None
    judged, side, reason = torque.judged(entry, spec, tightening.doubts(strip, entry, now_ms))
    unit = form.get("torque_unit") or "N.m"
    return {
        "setting": settable(found["setting"], unit),
        "applied": known(found["newton_metres"], found["expanded"]),
        "prevailing": settable(found["prevailing"], unit) if found["prevailing"] else None,
        "factor": found["setting"] and found["newton_metres"] / found["setting"],
        "judged": judged,
        "side": side,
        "notices": ([reason] if reason else []) + _notices(found),
        "deviation": found["deviation"],
        "step": found["step"],
    }


def _notices(found: dict[str, Any]) -> list[dict[str, Any]]:
    asked = None if found["torque"] is None else found["torque"] + (found["prevailing"] or 0.0)
    if asked is None or abs(asked - found["newton_metres"]) <= 1e-9 * asked:
        return []
    text = "The wrench has no mark for {asked}: the nearest gives {applied}."
    return [say(text, asked=settable(asked), applied=settable(found["newton_metres"]))]
