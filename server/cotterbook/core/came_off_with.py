"""That fasteners come off with their part, whether or not anybody wrote down where they went.

What is still on the machine of them when the part goes on again cannot have stayed tight: nothing says where it was, so
it counts as out, in no bag, until somebody says. The same holds of fasteners that are written down for a part after it
came off, of those whose way into a bag was struck, of the new part that came off again where one was swapped or added,
and of what stayed as it came though another part is in the place of the first.
"""

from typing import Any

from .going_on import NEW_THING
from .mass import outcome_of
from .ordering import in_order
from .thing import Thing, key_of

PART_OFF, PART_BACK, PART_SWAPPED = "part_off", "part_back", "part_swapped"
# The fields that say what is on: the latter two by themselves, the first with them.
SAYS = ("outcome", "off", "outcome_done")
MOVES = SAYS[1:]


def with_the_part(handled: list[dict[str, Any]], part: Any, before: Any = None) -> list[dict[str, Any]]:
    """What was done to a group, in order, with the part's goings among it, as entries of these three kinds.

    Up to just before `before`, an (at, id), or all of it. They are the part's own entries, under those kinds:
    PART_SWAPPED is that a new one took the place of one that nobody wrote down as off. A part that is still off, or
    swapped so, ends with a PART_BACK of the entry that says so, for how its fasteners stand now.
    """
    known = [entry for entry in handled if before is None or key_of(entry) < before]
    goings = _goings(part, before)
    if not goings:
        return known
    placed = in_order(goings + known, key_of)
    if goings[-1]["kind"] != PART_BACK:
        placed.append(dict(goings[-1], kind=PART_BACK))
    return placed


def _goings(part: Any, before: Any) -> list[dict[str, Any]]:
    """Each entry by which the part, or the new one in its place, came off or went on again, and was not so already."""
    if not isinstance(part, Thing):
        return []
    writers = {entry["id"]: entry for name in SAYS for entry in _writers(part, name)}
    values: dict[str, Any] = {"came_in": part.values.get("came_in")}
    found: list[dict[str, Any]] = []
    on = _what_is_on(values)
    for entry in in_order([writers[each] for each in writers], key_of):
        if before is not None and key_of(entry) >= before:
            break
        values.update({name: entry["values"][name] for name in SAYS if name in entry["values"]})
        # That another outcome is decided moves nothing by itself.
        now = _what_is_on(values) if any([name in entry["values"] for name in MOVES]) else on
        if on is not None and now != on:
            found.append(dict(entry, kind=PART_OFF if now is None else PART_SWAPPED))
        elif on is None and now is not None and found:
            found.append(dict(entry, kind=PART_BACK))
        on = now
    return found


def _writers(part: Thing, name: str) -> list[dict[str, Any]]:
    return part.fields[name].writers if name in part.fields else []


def _what_is_on(values: dict[str, Any]) -> Any:
    """Whether "first", the part as it came, is on the machine, or "new", what takes its place, or None."""
    outcome = outcome_of(values)
    if outcome in NEW_THING and values.get("outcome_done"):
        return "new"
    return None if values.get("off") or outcome == "added" else "first"
