"""Back to standard: where every standard part is, and what it would take to have the machine as it was built."""

from typing import Any

from .going_on import came_off, is_on
from .mass import is_done, outcome_of
from .ordering import in_order
from .strip import Strip
from .thing import Thing

# A fastener in one of these places can go back in; one that is scrapped or lost has to be bought.
AT_HAND = ("machine", "bag", "spares")


def is_standard(part: Thing) -> bool:
    """Whether the part belongs to the machine as it was built, on it or not."""
    return part.values.get("came_in") not in ("accessory", "new") and not (
        outcome_of(part.values) == "added" and part.values.get("came_in") != "missing"
    )


def fate_of(part: Thing) -> str:
    """How a standard part stands: "on", or what has become of it.

    "off" it can go back on, "replaced" another is on in its place, "moved" it sits elsewhere on the machine;
    "gone" it was sold, given away or scrapped, "cut" it was cut for good, "missing" the machine came in without it.
    """
    values, outcome = part.values, outcome_of(part.values)
    if values.get("came_in") == "missing" and not (outcome == "added" and is_done(values)):
        return "missing"
    if outcome == "cut_down" and is_done(values):
        return "cut"
    if values.get("gone") and (values.get("off") or outcome == "swapped" and is_done(values)):
        return "gone"
    if outcome == "swapped" and is_done(values):
        return "replaced"
    if outcome == "moved" and is_done(values):
        return "moved"
    return "off" if values.get("off") else "on"


def to_take_off(strip: Strip) -> list[Thing]:
    """What has to come off first: what is on and is not standard, and what is on in a standard part's place."""
    found = []
    for part in strip.of_type("part"):
        if not is_standard(part):
            if is_on(part.values):
                found.append(part)
        elif outcome_of(part.values) == "swapped" and is_done(part.values):
            found.append(part)
    return in_order(found, came_off, reverse=True)


def to_put_on(strip: Strip) -> list[tuple[Thing, str]]:
    """(standard part, its fate) for each that is not on as it was, last off first."""
    parts = in_order([part for part in strip.of_type("part") if is_standard(part)], came_off, reverse=True)
    return [(part, fate_of(part)) for part in parts if fate_of(part) != "on"]


def fasteners_of(strip: Strip, part: Thing) -> list[dict[str, Any]]:
    """Of each group of a part: how many it has, how many are at hand, and how many have to be bought."""
    found = []
    for group in strip.groups_of(part.id):
        ledger = strip.ledger(group.id)
        at_hand = sum([max(0, count) for (where, _), count in ledger.places.items() if where in AT_HAND])
        bags = [(bag, count) for where, bag, count in ledger.elsewhere() if where == "bag" and count > 0]
        found.append(
            {
                "group": group,
                "count": ledger.count,
                "bags": bags,
                "buy": max(0, ledger.count - at_hand),
            }
        )
    return found
