"""What fasteners weigh that are in no line of the mass statement.

A part's line holds its fasteners only where they lay on the scale with it. Of all
others, those that the machine has lost are told apart from the sums ("off"), and
so are new ones that it has gained ("added"). A fastener in a bag comes back where
its part does: where the part goes back, is moved or cut, or is still on the machine.
"""

from typing import Any

from .amounts import together
from .fastener_mass import fastener_amount
from .mass import GivenBack, outcome_of
from .strip import Strip
from .thing import Thing


def fasteners_beside(strip: Strip) -> dict[str, GivenBack]:
    """{"off", "added"}: how many such fasteners, of how many the mass is known, and what these weigh in all."""
    found: dict[str, list[Any]] = {"off": [], "added": []}
    for part in strip.of_type("part"):
        along = strip.line(part.id).along
        for group in strip.groups_of(part.id):
            if part.values.get("came_in") == "new":
                count, where = max(0, strip.ledger(group.id).on), "added"
                in_the_line = 1.0 in along
            else:
                count, where = _gone(strip, part, group), "off"
                in_the_line = -1.0 in along
            if count and not in_the_line:
                found[where].append((count, fastener_amount(group.id, group.values)))
    return {where: _together(found[where]) for where in found}


def _gone(strip: Strip, part: Thing, group: Thing) -> int:
    ledger = strip.ledger(group.id)
    values, gone = part.values, ledger.out
    on = not values.get("off") and not (values.get("outcome") == "swapped" and values.get("outcome_done"))
    if gone and (on or outcome_of(values) in ("goes_back", "moved", "cut_down")):
        in_bags = sum([ledger.places[place] for place in ledger.places if place[0] == "bag"])
        gone = max(0, gone - max(0, in_bags))
    return 0 if values.get("came_in") == "missing" else int(gone)


def _together(groups: list[Any]) -> GivenBack:
    known = [(count, each) for count, each in groups if each is not None]
    return GivenBack(
        sum([count for count, _ in groups]),
        sum([count for count, _ in known]),
        together([each.times(count) for count, each in known]),
    )
