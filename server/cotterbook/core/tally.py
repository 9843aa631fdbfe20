"""The tally check: the smallest sets of slips that turn our sum into the total somebody gave.

A slip shifts the sum of one line by a known number of grams. A set of slips, at
most one a line, explains a difference when what it leaves of it is no more than
the half width given, and the own uncertainty of masses that the slips bring in.

The search (`tally_search`) is exact: up to three slips at once, how many sets fit, and the likeliest of them.
200 lines make about 1,500 single slips.
"""

from typing import Any

from .figures import GRAMS_IN, read_figure
from .ordering import in_order
from .tally_search import CLOSE, Search
from .words import Refused, problem, require

# How rare a slip is, for the order of what is shown (common practice, no source).
RARITY = {
    "left_out": 1.0,
    "not_counted": 1.0,
    "one_side": 1.0,
    "counted_twice": 1.5,
    "one_mass": 1.5,
    "unit": 1.5,
    "digits": 2.0,
    "sign": 2.0,
}
KINDS = ("left_out", "not_counted", "one_side", "counted_twice", "one_mass", "unit", "digits", "sign")
# The units that a figure is taken for by mistake.
MISTAKEN_FOR = {"g": ("kg", "oz"), "kg": ("g", "lb"), "lb": ("kg",), "oz": ("g",)}
MOST_LINES = 500
MOST_SLIPS = 3
# As many steps at once as the search takes.
NO_END = 10**9


class Slip:
    """One slip in one line: what it adds to the sum, and the own uncertainty it brings in, in grams."""

    __slots__ = ("line", "kind", "shift", "own", "detail", "order")

    def __init__(self, line: Any, kind: str, shift: float, own: float = 0.0, detail: Any = None):
        self.line, self.kind, self.shift, self.own, self.detail = line, kind, shift, own, detail
        self.order = 0


def explain(
    difference: float,
    half_width: float,
    lines: list[dict[str, Any]],
    kinds: Any = KINDS,
    most: int = MOST_SLIPS,
    limit: int = 20,
    steps: int = NO_END,
    so_far: Any = None,
) -> dict[str, Any]:
    """The smallest sets of slips that explain `difference`: the total given less our sum, in grams.

    `half_width` in grams, from 0: how far apart the two may lie without any slip.
    `lines`, at most 500, each with
      key         names the line; two with one key share their one slip
      grams       what it adds to the sum, signed; or would add, where it is not counted
      plus_minus  its own expanded uncertainty in grams, used where it is not counted; 0 when left out
      pieces      1 when left out; counted  True when left out
      figures     what it was read from: {"text", "unit", "times"}, `times` being what a gram
                  more of the figure adds to the sum, in grams; none when left out
      terms       signed masses in grams that it is the sum of, where there are several
    `kinds` of KINDS, `most` slips at once from 1 to 3. Three at once are looked for in pieces of about `steps`;
    `so_far` is what the piece before gave.

    {"size": slips in each, 0 when none is needed, None when no set explains it; "count" of sets of that
    size; "complete": False when they are too many to be listed; "sets": the likeliest `limit` of them, each
    {"slips": [Slip], "left_grams": what they leave of the difference}; "tried": single slips; "searched": the most
    slips at once that were tried; "so_far": None, or where to go on; "part_done" of the search, from 0 to 1}.
    """
    require("difference", difference, -4_000_000, 4_000_000)
    require("half_width", half_width, 0, 4_000_000)
    require("most", most, 1, MOST_SLIPS)
    if len(lines) > MOST_LINES:
        text = "More than {limit} lines: too many to look for slips."
        raise Refused([problem("too_many_lines", "lines", text, limit=MOST_LINES)])
    slips = slips_of(lines, kinds)
    found: dict[str, Any] = {"size": None, "count": 0, "complete": True, "sets": [], "so_far": None, "part_done": 1.0}
    found.update(tried=len(slips), searched=most)
    if abs(difference) <= half_width + CLOSE:
        found.update(size=0, count=1, sets=[{"slips": [], "left_grams": difference}])
        return found
    search = Search(slips, difference, half_width)
    for size in range(1, min(most, 2) + 1):
        count, sets = search.few(size)
        if count:
            return _explained(found, size, count, sets, search, limit)
    return found if most < 3 else _threes(found, slips, search, limit, steps, so_far)


def _threes(found: dict[str, Any], slips: list[Slip], search: Search, limit: int, steps: int, so_far: Any) -> Any:
    """The answer with three slips at once, or as far as these steps led."""
    of = [search.difference, search.half_width, len(slips)]
    # Where something was logged in between, the search begins anew.
    begun = so_far if isinstance(so_far, dict) and so_far.get("of") == of else search.begin_threes()
    state = search.more_threes(begun, steps)
    if state["at"] is not None:
        found.update(searched=2, so_far=dict(state, of=of), part_done=search.part_done(state))
        return found
    if state["count"] == 0:
        return found
    by_order = {slip.order: slip for slip in slips}
    sets = None if state["found"] is None else [[by_order[order] for order in each] for each in state["found"]]
    return _explained(found, 3, state["count"], sets, search, limit)


def _explained(found: dict[str, Any], size: int, count: int, sets: Any, search: Search, limit: int) -> dict[str, Any]:
    """The answer with these sets, the likeliest first; `sets` is None where they are too many to list."""
    judged = [_judged(each, search) for each in sets or []]
    kept = [{"slips": each[2], "left_grams": each[1]} for each in in_order(judged, _likeliest_first)[:limit]]
    found.update(size=size, count=count, complete=sets is not None, sets=kept)
    return found


def _judged(chosen: list[Slip], search: Search) -> Any:
    """(rarity and misfit, what is left, the slips in the order of their lines)."""
    chosen = sorted(chosen, key=lambda slip: slip.order)
    left = search.difference - sum([slip.shift for slip in chosen])
    width = search.half_width + sum([slip.own for slip in chosen]) + CLOSE
    return (sum([RARITY[slip.kind] for slip in chosen]) + abs(left) / width, left, chosen)


def _likeliest_first(judged: Any) -> Any:
    return (judged[0], abs(judged[1]), [slip.order for slip in judged[2]])


def slips_of(lines: list[dict[str, Any]], kinds: Any = KINDS) -> list[Slip]:
    """Every single slip that the lines allow, by what it shifts; those that shift nothing are left out."""
    found: list[Slip] = []
    for line in lines:
        require("grams", line["grams"], -2_000_000, 2_000_000)
        slips = _of_counted(line) if line.get("counted", True) else [_brought_in(line)]
        found += [slip for slip in slips if slip.kind in kinds and abs(slip.shift) > CLOSE]
    for order, slip in enumerate(found):
        slip.order = order
    return in_order(found, lambda slip: slip.shift)


def _brought_in(line: dict[str, Any]) -> Slip:
    return Slip(line, "not_counted", line["grams"], line.get("plus_minus") or 0.0)


def _of_counted(line: dict[str, Any]) -> list[Slip]:
    grams, pieces, terms = line["grams"], line.get("pieces", 1), line.get("terms") or ()
    found = [Slip(line, "left_out", -grams), Slip(line, "counted_twice", grams), Slip(line, "sign", -2.0 * grams)]
    if pieces % 2 == 0:
        found.append(Slip(line, "one_side", -grams / 2.0))
    if len(terms) > 1:
        found += [Slip(line, "one_mass", -term, 0.0, {"term": index}) for index, term in enumerate(terms)]
    for figure in line.get("figures") or ():
        found += _of_figure(line, figure)
    return found


def _of_figure(line: dict[str, Any], figure: dict[str, Any]) -> list[Slip]:
    """A figure taken for another unit, or with two neighbouring digits the wrong way round."""
    text, unit, read = figure["text"], figure["unit"], read_figure(figure["text"])
    if read is None or unit not in GRAMS_IN:
        return []
    found = []
    for other in MISTAKEN_FOR[unit]:
        shift = read[0] * (GRAMS_IN[other] - GRAMS_IN[unit]) * figure["times"]
        found.append(Slip(line, "unit", shift, 0.0, {"text": text, "unit": unit, "taken_for": other}))
    for swapped in digits_swapped(text):
        shift = (read_figure(swapped)[0] - read[0]) * GRAMS_IN[unit] * figure["times"]
        found.append(Slip(line, "digits", shift, 0.0, {"text": text, "unit": unit, "taken_for": swapped}))
    return found


def digits_swapped(text: str) -> list[str]:
    """The figures that come of swapping two different neighbouring digits, marks staying where they are.

    A nought at the front, or one that would come there, is no swap that anybody makes.
    """
    places = [place for place, character in enumerate(text) if character in "0123456789"]
    found = []
    for index in range(len(places) - 1):
        one, two = places[index], places[index + 1]
        if text[one] == text[two] or (index == 0 and "0" in (text[one], text[two])):
            continue
        characters = list(text)
        characters[one], characters[two] = text[two], text[one]
        found.append("".join(characters))
    return found
