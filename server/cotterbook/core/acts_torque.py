"""The act of writing down what the manual says of a group's torque, all of it at once."""

from typing import Any

from .acts_part import existing, saw_of
from .maker import Maker, given
from .specification_form import specified
from .strip import Strip

# What belongs to one figure of the manual: where one of these changes, so does how it was written.
FIGURES = (
    "torque_low_newton_metres",
    "torque_high_newton_metres",
    "torque_tolerance_newton_metres",
    "torque_steps_newton_metres",
)
OTHERS = ("torque_angle_degrees", "torque_condition", "torque_page", "prevailing_newton_metres", "pattern")
# A figure that went into a form and came out again untouched differs by what its last digit was worth.
SAME = 2e-6


def specify(strip: Strip, form: dict[str, Any], make: Maker) -> dict[str, Any]:
    """The specification, prevailing torque and pattern of a group as one form has them; what is blank is taken back.

    Only what changed is written, and what settles two answers that the author saw (`saw`).
    """
    group = existing(strip, make, form.get("group"), "group", "group")
    if group is None:
        return make.done()
    found = dict(specified(make, form, ""), pattern=given(form, "pattern"))
    low, high = found[FIGURES[0]], found[FIGURES[1]]
    if high is not None and _same(high, low):
        # One value for both ends is one value.
        high = found[FIGURES[1]] = None
    if low is not None and high is not None and low > high:
        make.refuse("range_reversed", "torque", "The range begins above its end.")
    if low is None and found["torque_angle_degrees"] is not None:
        make.refuse("missing", "torque", "Give the torque that this belongs to.")
    seen, before = form.get("saw") or {}, dict(group.values)
    if before.get(FIGURES[1]) == before.get(FIGURES[0]):
        before[FIGURES[1]] = None
    values = {
        name: found[name]
        for name in FIGURES + OTHERS
        if not _same(found[name], before.get(name)) or _settles(group.fields.get(name), seen.get(name) or ())
    }
    if any(name in values for name in FIGURES):
        values["torque_as_written"] = found["torque_as_written"]
        if high is None and group.values.get(FIGURES[1]) is not None:
            values[FIGURES[1]] = None
    if not values:
        return make.done()
    saw = {name: seen[name] if name in seen else saw_of(group, name) for name in values}
    make.entry("set", "", thing=group.id, type="group", values=values, saw={n: saw[n] for n in saw if saw[n]})
    return make.done()


def _settles(field: Any, seen: Any) -> bool:
    return field is not None and field.disputed and all([head["id"] in seen for head in field.heads])


def _same(new: Any, old: Any) -> bool:
    if isinstance(new, list) and isinstance(old, list):
        return len(new) == len(old) and all([_same(one, other) for one, other in zip(new, old)])
    if isinstance(new, (int, float)) and isinstance(old, (int, float)):
        return abs(new - old) <= SAME * abs(old)
    return bool(new == old)


TORQUE_ACTS = {"specify": specify}
