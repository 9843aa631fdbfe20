"""What to set a wrench to, before it is done: the answer under the form while it is typed."""

from typing import Any

from . import conformity, tightening, torque
from .accepted_range import Proving, accepted_range
from .figures import plain_number
from .limits import CLOCK_LOW_MS
from .maker import Maker
from .shown_torque import known, settable
from .strip import Strip
from .torque_tool import NO_TOOL, lever_factor
from .words import Refused, problem, say


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
    kept = torque.held(entry, group.values.get("prevailing_newton_metres"))
    locking = kept["prevailing_newton_metres"]
    return {
        "setting": settable(found["setting"], unit),
        # A wrench may be marked in N.m while the manual speaks in another unit.
        "setting_newton_metres": settable(found["setting"]) if unit != "N.m" else None,
        "applied": known(found["newton_metres"], found["expanded"]),
        "prevailing": known(locking, kept["prevailing_expanded_newton_metres"]) if locking else None,
        "clamping": known(*torque.clamping(kept)) if locking else None,
        "basis_of_prevailing": tightening.basis_of_prevailing(found),
        "factor": found["setting"] and found["newton_metres"] / found["setting"],
        "judged": judged,
        "side": side,
        "notices": ([reason] if reason else []) + [each for each in doubts if each is not reason] + _notices(found),
        "deviation": found["deviation"],
        "accepted": _accepted(strip, spec, found, entry, now_ms),
        "rule": conformity.RULE if spec is not None else None,
        "step": found["step"],
    }


def _accepted(strip: Strip, spec: Any, found: dict[str, Any], entry: dict[str, Any], now_ms: Any) -> Any:
    """The torques at the fastener, prevailing torque included, accepted with this wrench; None where none is."""
    if spec is None:
        return None
    tool = found["tool"].values if found["tool"] is not None else NO_TOOL
    kept = torque.held(entry, spec["prevailing"])
    arm = (found["lever"], found["adapter"], found["degrees"] or 0.0)
    locking, within = kept["prevailing_newton_metres"], kept["prevailing_expanded_newton_metres"]
    ends = accepted_range(Proving(spec["limits"], tool, arm, locking, within))
    if ends is None:
        return None
    factor = lever_factor(arm[0], arm[1], arm[2])
    for end in ends:
        # Within its range a wrench may still be in doubt, as where its calibration is overdue: then it proves nothing.
        if tightening.doubts(strip, dict(entry, newton_metres=end, setting_newton_metres=end / factor), now_ms):
            return None
    return {"low": _exactly(ends[0]), "high": _exactly(ends[1])}


def _exactly(newton_metres: float) -> dict[str, Any]:
    """A torque with all the decimals that it has: rounded once more it would not be the one that was proven."""
    return {"value": plain_number(newton_metres), "plus_minus": None, "unit": "N.m"}


def _notices(found: dict[str, Any]) -> list[dict[str, Any]]:
    asked = None if found["torque"] is None else found["torque"] + (found["prevailing"] or 0.0)
    if asked is None or abs(asked - found["newton_metres"]) <= 1e-9 * asked:
        return []
    text = "The wrench has no mark for {asked}: the nearest gives {applied}."
    return [say(text, asked=settable(asked), applied=settable(found["newton_metres"]))]
