"""What parts changed between two moments of a strip-down, as bodies: their masses and where those sit.

A moment is the (at, id) of an entry, "just before it"; None for now. What stands
between two moments cancels, with its uncertainty. A part whose mass or place is
needed and not known is named, never left out in silence.

Now is as the mass statement counts: what goes back is on. At the moment of an entry
it is as it was: what lay beside the machine, to go back, was not on it.
"""

from typing import Any

from .amounts import Amount, together
from .balance import Body, body_at, joined
from .mass import outcome_of
from .places import said_place
from .strip import Strip
from .thing import Thing

NOWHERE = Amount(0.0)
# What is off for a while only, and counts as on.
COMES_BACK = ("goes_back", "moved", "cut_down")


class Change:
    """What one part changed: its bodies, and what is missing of it: of "mass", "place", "to_place", "height"."""

    __slots__ = ("part", "amount", "bodies", "missing")

    def __init__(self, part: Thing, amount: Any, bodies: list[Body], missing: list[str]):
        self.part, self.amount, self.bodies, self.missing = part, amount, bodies, missing


def part_changes(strip: Strip, earlier: Any, later: Any = None) -> list[Change]:
    """What each part that changed did between two moments; `earlier` None for as it came in."""
    found = []
    for part in strip.of_type("part"):
        amount = strip.change_between(part.id, earlier, later)
        terms = _moves(strip, part, earlier, later)
        if not terms and (amount is None or amount.grams != 0.0 or amount.causes):
            terms = [(1.0, amount, _goes_on_elsewhere(part))]
        turn = lies_beside(strip, part, earlier) - lies_beside(strip, part, later)
        if turn:
            mass = strip.masses(part.id).get("taken_off")
            terms.append((float(turn), mass, False))
            amount = None if amount is None or mass is None else together([amount, mass.times(float(turn))])
        if terms:
            found.append(_placed(part, amount, terms))
    return found


def lies_beside(strip: Strip, part: Thing, moment: Any) -> bool:
    """Whether a part was off at a moment though it counts as on: it goes back, moved or cut down."""
    outcome = outcome_of(part.values)
    if moment is None or outcome not in COMES_BACK or part.values.get("came_in") in ("missing", "new"):
        return False
    then = strip.standing_before(part, moment)
    return bool(then["off"]) and (outcome == "goes_back" or not then["outcome_done"])


def standard_changes(strip: Strip) -> list[Change]:
    """What sets the machine as it is now apart from the standard machine, a part at a time."""
    found = []
    for part in strip.of_type("part"):
        amount, values = strip.line(part.id).standard_change, part.values
        moved = outcome_of(values) == "moved" and bool(values.get("outcome_done"))
        accessory = values.get("came_in") == "accessory"
        moves = _moves(strip, part, None, None)
        if moves and not accessory:
            found.append(_placed(part, amount, moves))
        elif amount is None or amount.grams != 0.0 or amount.causes:
            to_place = moved and accessory or _goes_on_elsewhere(part)
            found.append(_placed(part, amount, [(1.0, amount, to_place)]))
    return found


def _goes_on_elsewhere(part: Thing) -> bool:
    """Whether what is new to the machine has a new place of its own; what is swapped sits where the old one sat."""
    return outcome_of(part.values) == "added" and part.values.get("to_along_millimetres") is not None


def _moves(strip: Strip, part: Thing, earlier: Any, later: Any) -> list[tuple[float, Any, bool]]:
    """(sign, mass, at its new place) of a part that moved in between: away from its old place, on to its new one."""
    values = part.values
    if outcome_of(values) != "moved" or values.get("came_in") in ("missing", "new"):
        return []
    then = earlier is not None and bool(strip.standing_before(part, earlier)["outcome_done"])
    now = values if later is None else strip.standing_before(part, later)
    turn = bool(now.get("outcome_done")) - then
    mass = strip.masses(part.id).get("taken_off")
    return [(-float(turn), mass, False), (float(turn), mass, True)] if turn else []


def _placed(part: Thing, amount: Any, terms: list[tuple[float, Any, bool]]) -> Change:
    bodies: list[Body] = []
    missing: list[str] = []
    for sign, mass, moved_to in terms:
        along, up = said_place(part.values, part.id, moved_to)
        if mass is None and "mass" not in missing:
            missing.append("mass")
        if along is None:
            missing.append("to_place" if moved_to and len(terms) > 1 else "place")
        elif up is None:
            missing.append("height")
        if mass is not None and along is not None:
            bodies.append(body_at(mass.times(sign), along, up))
    return Change(part, amount, bodies, missing)


def together_as_body(changes: list[Change]) -> Any:
    """All that changed as one body, or None when a mass or a place is missing; no height where one is not known."""
    if any([name != "height" for change in changes for name in change.missing]):
        return None
    return joined([Body(NOWHERE, NOWHERE, NOWHERE)] + [body for change in changes for body in change.bodies])
