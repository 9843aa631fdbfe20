"""What went astray of a group: lost and not found since, and places that more once left than were there.

Worked out from the moves in their order, and not from how many are where in the end: two people apart can find the
same bolt, and then the next loss would only make the count even, with one bolt inside the machine.
"""

from typing import Any

from .thing import Thing


def losses(group: Thing) -> list[dict[str, Any]]:
    """The moves by which some of a group were lost, in order."""
    return [move for move in group.of_kind("move") if move["to"] == "lost"]


def still_lost(strip: Any, group: Thing) -> int:
    """How many were lost and not found since; a find more than were lost makes up for no later loss."""
    # Every count asks, and of most groups nothing was ever lost.
    if not losses(group):
        return 0
    lost = 0
    for move in _moves(strip, group):
        lost += move["count"] if move["to"] == "lost" else 0
        lost -= min(lost, move["count"]) if move["from"] == "lost" else 0
    return lost


def covered(strip: Any, group: Thing) -> list[tuple[str, str, int]]:
    """(place, bag, n) where n more once left than were there, though the count there is even again, in fixed order.

    It stands until a move is struck, or all of the group are on the machine and nowhere else.
    """
    ledger = strip.ledger(group.id)
    if len(group.of_kind("move")) < 2 or ledger.on == ledger.count and not ledger.elsewhere():
        return []
    places = dict(strip.handling(group)[0].places)
    deepest: dict[tuple[str, str], int] = {}
    for move in _moves(strip, group):
        source, target = (move["from"], move.get("from_bag") or ""), (move["to"], move.get("to_bag") or "")
        places[source] = places.get(source, 0) - move["count"]
        places[target] = places.get(target, 0) + move["count"]
        deepest[source] = min(deepest.get(source, 0), places[source])
    return [(at[0], at[1], -deepest[at]) for at in sorted(deepest) if _is_covered(at, deepest[at], places[at])]


def _is_covered(place: tuple[str, str], deepest: int, now: int) -> bool:
    return place[0] != "stock" and deepest < 0 <= now


def _moves(strip: Any, group: Thing) -> list[dict[str, Any]]:
    """A group's moves in order, as its ledger takes them."""
    return [entry for entry in strip.handling(group)[1] if entry["kind"] == "move"]
