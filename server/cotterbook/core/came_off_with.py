"""That fasteners come off with their part, whether or not anybody wrote down where they went.

What is still on the machine of them when the part goes on again cannot have stayed tight: nothing says where it was, so
it counts as out, in no bag, until somebody says. The same holds of fasteners that are written down for a part after it
came off, and of those whose way into a bag was struck.
"""

from typing import Any

from .ordering import in_order
from .thing import Thing, key_of

PART_OFF, PART_BACK = "part_off", "part_back"


def with_the_part(handled: list[dict[str, Any]], part: Any, before: Any = None) -> list[dict[str, Any]]:
    """What was done to a group, in order, with the part's goings among it, as entries of PART_OFF and PART_BACK.

    Up to just before `before`, an (at, id), or all of it. They are the part's own entries, under those kinds; a part
    that is still off ends with a PART_BACK of the entry that took it off, for how its fasteners stand now.
    """
    known = [entry for entry in handled if before is None or key_of(entry) < before]
    goings = _goings(part, before)
    if not goings:
        return known
    placed = in_order(goings + known, key_of)
    if goings[-1]["kind"] == PART_OFF:
        placed.append(dict(goings[-1], kind=PART_BACK))
    return placed


def _goings(part: Any, before: Any) -> list[dict[str, Any]]:
    """Each entry by which the part came off or went on again, and was not so already."""
    field = part.fields.get("off") if isinstance(part, Thing) else None
    found: list[dict[str, Any]] = []
    off = False
    for entry in field.writers if field is not None else ():
        if before is not None and key_of(entry) >= before:
            break
        is_off = bool(entry["values"]["off"])
        if is_off != off:
            found.append(dict(entry, kind=PART_OFF if is_off else PART_BACK))
            off = is_off
    return found
