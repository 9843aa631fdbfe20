"""The tables of the mass statement: a line for each part, and the sums, which are those that the screens show."""

from typing import Any

from . import mass
from .strip import Strip
from .tables import WHOSE, column, columns, known, pair, whose
from .thing import Thing
from .words import say

# The sums of the statement by their names in `Strip.sums`.
SUMS = (
    ("came_in", "Change since the machine came in"),
    ("standard", "Change against the standard machine"),
    ("spell", "Change since the spell began"),
)
STATEMENT = columns(
    WHOSE,
    column("pieces", "Pieces", "number"),
    known("off", "Came off", "g"),
    known("on", "Went on", "g"),
    *[known(key, name, "g") for key, name in SUMS],
    column("counted", "Counted", "yes_no"),
    column("reason", "Not counted, because", "sentence"),
    known("given_back", "Fasteners given back, in the change", "g"),
    column("basis", "Where the figures are from", "words"),
    column("outcome", "What becomes of it", "word"),
    column("outcome_done", "That is done", "yes_no"),
    column("id", "Identifier of the part")
)  # fmt: skip
SUM = columns(
    column("sum", "Sum", "sentence"),
    known("mass", "Mass", "g"),
    column("unweighed", "Parts not in it, for want of a mass", "number")
)  # fmt: skip


def statement_rows(strip: Strip) -> list[list[Any]]:
    """A row for each part that is not struck; the columns of change add up to `sum_rows`."""
    return [_row(strip, part) for part in strip.of_type("part")]


def _changes(strip: Strip, part: Thing) -> dict[str, Any]:
    line = strip.line(part.id)
    spell = line.spell_change if strip.last_spell() is not None else None
    return {"came_in": line.change, "standard": line.standard_change, "spell": spell}


def _row(strip: Strip, part: Thing) -> list[Any]:
    line, changes, values = strip.line(part.id), _changes(strip, part), part.values
    row = whose(part) + [values.get("pieces") or 1] + pair(line.off) + pair(line.on)
    for key, _ in SUMS:
        row += pair(changes[key])
    row += [line.counted, line.reason] + pair(None if line.back is None else line.back.amount)
    return row + [line.basis, mass.outcome_of(values), mass.is_done(values), part.id]


def sum_rows(strip: Strip) -> list[list[Any]]:
    """The three sums, never mixed; that of the spell is empty before one has begun."""
    sums, parts, found = strip.sums(), [_changes(strip, part) for part in strip.of_type("part")], []
    for key, name in SUMS:
        missing = None if sums[key] is None else len([each for each in parts if each[key] is None])
        found.append([say(name)] + pair(sums[key]) + [missing])
    return found
