"""The order in which a group of fasteners is tightened, where each one lies in the drawing, and the stages.

MIL-HDBK-60 5.7: an opposite pair, then the opposite pair at 90 degrees, then the
pairs between. Above 41 N.m first 70 % of the torque in the pattern, then all of it
(Army TM 5-3805-298-23-2). A star for an odd number, a spiral and a row from the
middle are common practice, no source. The manual's own order and steps come first.
"""

import math
from typing import Any

from .limits import PATTERNS
from .words import Refused, problem, say

FEWEST, MOST = 2, 500
# More than these are told in a list: their numbers could not be read on a phone.
DRAWN_UP_TO = 24
# In a drawing one unit wide: the largest mark, the part of the gap to the next that a mark takes, the smallest mark
# that holds its own number, and how far from a smaller one its number stands.
LARGEST_MARK, MARK_OF_GAP, HOLDS_NUMBER, NUMBER_AWAY = 0.11, 0.42, 0.045, 0.09
STAGED_ABOVE_NEWTON_METRES, FIRST_STAGE = 41.0, 0.70
MIL_HANDBOOK = "An opposite pair, then the pair across it, then the pairs between (MIL-HDBK-60, 5.7)."
SOURCES = {
    "pair": "One, then the other (common practice, no source).",
    "cross": MIL_HANDBOOK,
    "ring": MIL_HANDBOOK,
    "star": "Each time on to the far side (common practice, no source).",
    "spiral": "From the middle outwards, round and round (common practice, no source).",
    "row": "From the middle outwards, left and right in turn (common practice, no source).",
}
STAR = SOURCES["star"]


def suggested(count: int) -> Any:
    """The pattern to offer for so many fasteners; None for one alone, or for more than can be laid out."""
    if not FEWEST <= count <= MOST:
        return None
    if count in (2, 4):
        return "pair" if count == 2 else "cross"
    return "ring" if count % 2 == 0 else "star"


def fitting(count: int) -> list[str]:
    """The patterns that so many fasteners can have; none for one alone, or for more than can be laid out."""
    return [pattern for pattern in PATTERNS if not _against(pattern, count)]


def order(pattern: str, count: int) -> list[int]:
    """The places 1 to `count` in the order of tightening; `count` from 2 to 500.

    Places run clockwise from the top (star, ring, and cross from the upper left), along the
    row from the left, or line by line (spiral). Refused for a count that the pattern is not for.
    """
    _check(pattern, count)
    if pattern == "pair":
        return [1, 2]
    if pattern == "row":
        return _from_the_middle([(float(index), 0.0) for index in range(count)])
    if pattern == "spiral":
        return _from_the_middle(_grid(count))
    return _opposite_pairs(count) if count % 2 == 0 else _far_side(count)


def places(pattern: str, count: int) -> list[tuple[float, float]]:
    """(x, y) of each place in a drawing that is one unit wide and high, y downwards; `count` from 2 to 500."""
    _check(pattern, count)
    if pattern in ("pair", "row"):
        return [(_spread(index, count), 0.5) for index in range(count)]
    if pattern == "spiral":
        grid = _grid(count)
        across, down = max([x for x, _ in grid]) + 1, max([y for _, y in grid]) + 1
        return [(_spread(x, across), _spread(y, down)) for x, y in grid]
    if pattern == "cross":
        half = count // 2
        upper = [(_spread(index, half), 0.25) for index in range(half)]
        return upper + [(1.0 - x, 0.75) for x, _ in upper]
    turns = [2.0 * math.pi * index / count for index in range(count)]
    return [(0.5 + 0.5 * math.sin(turn), 0.5 - 0.5 * math.cos(turn)) for turn in turns]


def stages(target_newton_metres: float, own_steps: list[float]) -> list[dict[str, Any]]:
    """[{"newton_metres", "source"}] in turn, the last one full: the manual's own steps, or 70 % first above 41 N.m."""
    if own_steps:
        said = say("Steps of the manual.")
        return [{"newton_metres": step, "source": said} for step in own_steps + [target_newton_metres]]
    if target_newton_metres <= STAGED_ABOVE_NEWTON_METRES:
        return [{"newton_metres": target_newton_metres, "source": say("All of it at once, in this order.")}]
    said = say("Above 41 N·m: 70 % in this order, then all of it (Army TM 5-3805-298-23-2).")
    first = FIRST_STAGE * target_newton_metres
    return [{"newton_metres": each, "source": said} for each in (first, target_newton_metres)]


def pattern_view(pattern: Any, count: int) -> dict[str, Any]:
    """What a drawing needs: the order, the places up to 24 of them, the source; `trouble` where it does not fit."""
    view: dict[str, Any] = {
        "pattern": pattern,
        "suggested": suggested(count),
        "count": count,
        "fitting": fitting(count),
    }
    if pattern is None:
        return view
    try:
        numbered = order(pattern, count)
    except Refused as refused:
        return dict(view, trouble=say(refused.problems[0]["text"], **refused.problems[0]["values"]))
    source = STAR if pattern == "ring" and count % 2 else SOURCES[pattern]
    view.update(order=numbered, source=say(source), counted=say(COUNTED[pattern]), trouble=None)
    if count > DRAWN_UP_TO:
        return dict(view, places=[], drawing=None)
    spots, drawing = drawn(places(pattern, count), numbered)
    return dict(view, places=spots, drawing=drawing)


# How the places of an order are counted.
COUNTED = {
    "pair": "The two, one after the other.",
    "row": "Counted along the row from the left.",
    "spiral": "Counted line by line from the upper left.",
    "cross": "Counted clockwise from the upper left.",
    "star": "Counted clockwise from the top.",
    "ring": "Counted clockwise from the top.",
}


def drawn(spots: list[tuple[float, float]], numbered: list[int]) -> tuple[list[dict[str, Any]], dict[str, Any]]:
    """(places, drawing) of spots in a drawing one unit wide, tightened in the order `numbered`.

    A place has "x" and "y" of its mark, its "number" in the order and where that stands: "number_y", beside marks that
    are too small for it, above and below in turn. The drawing has the marks' "radius" and "height" of its numbers, and
    "left", "top", "width" and "tall" of the box that holds all of it.
    """
    gaps = [_distance(one, other) for index, one in enumerate(spots) for other in spots[:index]]
    radius = min(LARGEST_MARK, MARK_OF_GAP * min(gaps))
    away = 0.0 if radius >= HOLDS_NUMBER else NUMBER_AWAY
    turns = {place: turn + 1 for turn, place in enumerate(numbered)}
    found = []
    for index, (x, y) in enumerate(spots):
        number_y = y + (away if index % 2 else -away)
        spot = {"x": round(x, 4), "y": round(y, 4), "number": turns[index + 1], "number_y": round(number_y, 4)}
        found.append(spot)
    margin = max(radius, HOLDS_NUMBER) + 0.02
    left, top = min([x for x, _ in spots]) - margin, min([y for _, y in spots]) - margin - away
    width = max([x for x, _ in spots]) + margin - left
    tall = max([y for _, y in spots]) + margin + away - top
    box = {"left": left, "top": top, "width": width, "tall": tall, "radius": radius}
    box["height"] = max(min(1.1 * radius, 0.1), HOLDS_NUMBER)
    return (found, {name: round(box[name], 4) for name in sorted(box)})


def _distance(one: tuple[float, float], other: tuple[float, float]) -> float:
    return math.sqrt((one[0] - other[0]) ** 2 + (one[1] - other[1]) ** 2)


def _check(pattern: str, count: int) -> None:
    against = _against(pattern, count)
    if against:
        raise Refused(against)


def _against(pattern: str, count: int) -> list[dict[str, Any]]:
    fits = {
        "pair": (count == 2, "A pair is two fasteners. Choose another pattern."),
        "cross": (count >= 4 and count % 2 == 0, "A cross is for an even number from 4 on. Choose another pattern."),
        "star": (count >= 3 and count % 2 == 1, "A star is for an odd number from 3 on. Choose another pattern."),
        "ring": (count >= 3, "A ring is for 3 fasteners or more. Choose another pattern."),
        "spiral": (count >= 3, "A spiral is for 3 fasteners or more. Choose another pattern."),
        "row": (True, ""),
    }
    if pattern not in fits:
        return [problem("not_a_choice", "pattern", "This pattern is not known here.")]
    if not FEWEST <= count <= MOST:
        text = "A pattern is for {low} to {high} fasteners."
        return [problem("out_of_range", "count", text, low=FEWEST, high=MOST)]
    return [] if fits[pattern][0] else [problem("not_for_this_count", "pattern", fits[pattern][1])]


def _spread(index: float, count: float) -> float:
    return index / (count - 1) if count > 1 else 0.5


def _opposite_pairs(count: int) -> list[int]:
    """Pair after pair, each as far from those before as it can be."""
    half = count // 2
    found: list[int] = []
    away, here = [half] * half, 0
    for _ in range(half):
        found += [here + 1, here + half + 1]
        for index in range(half):
            apart = abs(index - here)
            away[index] = min(away[index], apart, half - apart)
        here = away.index(max(away))
    return found


def _far_side(count: int) -> list[int]:
    # An odd number and half of it have no common divisor, so the steps come by every place once.
    return [turn * (count // 2) % count + 1 for turn in range(count)]


def _grid(count: int) -> list[tuple[float, float]]:
    """Two lines as on a cylinder head, more where there are many; a short last line stands in the middle."""
    lines = 2 if count <= 12 else int(math.sqrt(count))
    across = (count + lines - 1) // lines
    found: list[tuple[float, float]] = []
    while len(found) < count:
        here = min(across, count - len(found))
        line = len(found) // across
        found += [(index + (across - here) / 2.0, float(line)) for index in range(here)]
    return found


def _from_the_middle(spots: list[tuple[float, float]]) -> list[int]:
    across = (max([x for x, _ in spots]) + min([x for x, _ in spots])) / 2.0
    down = (max([y for _, y in spots]) + min([y for _, y in spots])) / 2.0
    keys = []
    for index, (x, y) in enumerate(spots):
        away = round(math.sqrt((x - across) ** 2 + (y - down) ** 2), 6)
        keys.append((away, round(math.atan2(x - across, down - y) % (2.0 * math.pi), 6), index + 1))
    return [key[2] for key in sorted(keys)]
