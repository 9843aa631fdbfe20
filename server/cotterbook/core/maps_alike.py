"""What of two maps, or of a map and a machine, is the same part and the same fasteners, and in what they differ."""

from typing import Any

from .fasteners import title
from .figures import plain_number
from .named_keys import read_key
from .second_check import same_name
from .things import OF_FORESEEN_FASTENERS, THINGS
from .threads import is_left_hand, read_thread
from .words import say

KINDS_OF_FIELDS = {field[0]: field[1] for field in THINGS["group"] + THINGS["part"]}
# One specification is one whole: no figure of it is ever taken without the others.
SPECIFICATION = tuple(
    [name for name in OF_FORESEEN_FASTENERS if name.startswith("torque_") or name == "prevailing_newton_metres"]
)
COMPARED = tuple([name for name in OF_FORESEEN_FASTENERS if name not in SPECIFICATION])
# A bolt's length in inches is a figure in mm that was rounded somewhere (common practice, no source).
SAME_MILLIMETRES = 0.05
SAME_TORQUE = 1e-3


def part_key(values: dict[str, Any]) -> str:
    """By which two parts are the same: the name without case, accents or blanks, and the side."""
    return same_name(values.get("name")) + "\n" + str(values.get("side") or "")


def thread_key(text: Any) -> str:
    """By which two threads are the same, however they were written."""
    thread = read_thread(text)
    hand = " left" if is_left_hand(text) else ""
    return same_name(text) if thread is None else thread.name + hand


def same_value(name: str, one: Any, other: Any) -> bool:
    """Whether two values of a field say the same."""
    if one is None or other is None:
        return one is other
    if name == "thread":
        return thread_key(one) == thread_key(other)
    if name == "length_millimetres":
        return bool(abs(one - other) <= SAME_MILLIMETRES)
    if name == "key":
        mine, theirs = read_key(one), read_key(other)
        if mine is not None and theirs is not None:
            return (mine.kind, mine.size, mine.system) == (theirs.kind, theirs.size, theirs.system)
    if KINDS_OF_FIELDS[name] == "text":
        return same_name(one) == same_name(other)
    return bool(one == other)


def same_specification(one: dict[str, Any], other: dict[str, Any]) -> bool:
    """Whether two specifications say the same, wherever they are from; how they were written says nothing."""
    for name in SPECIFICATION:
        if name in ("torque_as_written", "torque_page"):
            continue
        mine, theirs = _listed(one.get(name)), _listed(other.get(name))
        if name == "torque_high_newton_metres":
            # One value for both ends is one value.
            mine = mine or _listed(one.get("torque_low_newton_metres"))
            theirs = theirs or _listed(other.get("torque_low_newton_metres"))
        if len(mine) != len(theirs) or not all([_near(a, b) for a, b in zip(mine, theirs)]):
            return False
    return True


def _listed(value: Any) -> list[Any]:
    return value if isinstance(value, list) else [] if value is None else [value]


def _near(one: Any, other: Any) -> bool:
    if isinstance(one, (int, float)) and isinstance(other, (int, float)):
        return abs(one - other) <= SAME_TORQUE * max(abs(one), abs(other))
    return bool(one == other)


def has_specification(values: dict[str, Any]) -> bool:
    """Whether there is a torque."""
    return values.get("torque_low_newton_metres") is not None or values.get("torque_high_newton_metres") is not None


def specification_of(values: dict[str, Any]) -> dict[str, Any]:
    """The fields of its specification."""
    return {name: values[name] for name in SPECIFICATION if values.get(name) is not None}


def pairs(ours: list[dict[str, Any]], theirs: list[dict[str, Any]]) -> list[tuple[Any, Any]]:
    """Like fasteners of one part as (index of ours, index of theirs), None where there is no other.

    Those most alike are one another's first; those with nothing in common are nobody's, but for the only two left.
    """
    free, matched = list(range(len(theirs))), {}
    scored = [(-_likeness(ours[i], theirs[j]), i, j) for i in range(len(ours)) for j in free]
    for score, i, j in sorted(scored):
        if score < 0 and i not in matched and j in free:
            matched[i] = j
            free.remove(j)
    left = [i for i in range(len(ours)) if i not in matched]
    if len(left) == 1 and len(free) == 1:
        matched[left[0]] = free.pop()
    return [(i, matched.get(i)) for i in range(len(ours))] + [(None, j) for j in free]


def _likeness(one: dict[str, Any], other: dict[str, Any]) -> int:
    found = 0
    for name, worth in (("thread", 8), ("size", 8), ("sits", 4), ("length_millimetres", 2), ("head", 1), ("key", 1)):
        if one.get(name) is not None and same_value(name, one.get(name), other.get(name)):
            found += worth
    return found


def shown_value(name: str, value: Any) -> Any:
    """The value of a field as a sentence's gap holds it."""
    kind = KINDS_OF_FIELDS[name]
    if kind == "choice":
        return {"label": value}
    if kind == "boolean":
        return say("yes") if value else say("no")
    if name == "length_millimetres":
        return {"value": plain_number(value), "plus_minus": None, "unit": "mm"}
    return value


def specification_words(values: dict[str, Any]) -> str:
    """A specification in the manual's own figures, its angle and its page with it."""
    low, high = values.get("torque_low_newton_metres"), values.get("torque_high_newton_metres")
    low = high if low is None else low
    if low is None:
        return "–"
    text = values.get("torque_as_written")
    if text is None:
        text = plain_number(low) + ("" if high is None or high == low else " – " + plain_number(high))
        text += " N·m"
    if values.get("torque_angle_degrees") is not None:
        text += " + " + plain_number(values["torque_angle_degrees"]) + "°"
    return str(text) + (" (" + values["torque_page"] + ")" if values.get("torque_page") else "")


def fasteners_words(values: dict[str, Any]) -> str:
    """Like fasteners in a few signs: "4 × M8×25"; "4" where nothing else is known."""
    count, name = str(values.get("count") or "?"), title(values)
    return count + " × " + name if name else count
