"""What a map says of torques, held against itself: as it is written and as it is kept, and against what threads stand.

A torque stands in a map twice, as the manual has it and in newton metres: where the two differ by more than rounding,
one of them is in another unit. One that nobody can read stands beside the figure that is kept.
"""

from typing import Any

from .figures import plain_number
from .maps_alike import fasteners_words, has_specification
from .slips_torque import torque_questions
from .specification_form import read_steps
from .torque_cell import cells_of_torque
from .typed_quantities import last_unit, read
from .words import Refused, say

# A torque as written may be rounded against the one in N.m.
AS_WRITTEN = 0.02
LOW, HIGH, TOLERANCE, STEPS = (
    "torque_low_newton_metres", "torque_high_newton_metres", "torque_tolerance_newton_metres",
    "torque_steps_newton_metres",
)  # fmt: skip


def wrong_torque(values: dict[str, Any]) -> list[tuple[str, dict[str, Any]]]:
    """What is wrong with the torque of like fasteners whose fields are right one by one: [(field, sentence)]."""
    low, high, tolerance = values.get(LOW), values.get(HIGH), values.get(TOLERANCE)
    if low is None:
        return [(name, say("Give the lower torque too.")) for name in (HIGH, TOLERANCE, STEPS)
                if values.get(name) is not None]  # fmt: skip
    if tolerance is not None and tolerance >= low:
        return [(TOLERANCE, say("The tolerance is as large as the value itself."))]
    text = values.get("torque_as_written")
    if text is None:
        return []
    written = _as_kept(text)
    if written is None:
        return []
    for name, kept in ((LOW, [low]), (HIGH, _one(high)), (TOLERANCE, _one(tolerance)), (STEPS, values.get(STEPS))):
        said, kept = written[name], kept or []
        # An upper end that is the lower one is none.
        if name == HIGH and not said and kept == [low]:
            continue
        if len(said) != len(kept) or any([abs(a - b) > AS_WRITTEN * b for a, b in zip(said, kept)]):
            words = "Its torque is written as {written}, but kept as {kept}: one of them is in a wrong unit."
            return [(name, say(words, written=text, kept=_shown(kept or [low])))]
    return []


def _one(value: Any) -> list[Any]:
    return [] if value is None else [value]


def _shown(kept: list[Any]) -> dict[str, Any]:
    return {"value": " ".join([plain_number(each) for each in kept]), "plus_minus": None, "unit": "N.m"}


# What was read of the torques as written of late: in a map the same ones stand many times.
_READ: dict[str, Any] = {}
MOST_READ = 100


def _as_kept(text: str) -> Any:
    """The fields of a torque as it is written, each a list in N.m; None where it cannot be read."""
    if text not in _READ:
        if len(_READ) >= MOST_READ:
            _READ.clear()
        _READ[text] = _read_as_written(text)
    return _READ[text]


def unit_as_written(text: Any) -> Any:
    """The code of the unit that a torque as written is in; None where it says none, or none that is known here."""
    return _figures_and_unit(str(text or "").rpartition("→")[2])[1]


def _figures_and_unit(rest: str) -> tuple[str, Any]:
    words = rest.split()
    # Words may stand behind it, "with locking compound"; a figure may not.
    unit = None
    while words:
        unit = last_unit(" ".join(words), "torque")
        if unit is not None or any([c in "0123456789" for c in words[-1]]):
            break
        words.pop()
    return (" ".join(words), unit)


def _read_as_written(text: str) -> Any:
    before, _, rest = text.rpartition("→")
    rest, unit = _figures_and_unit(rest)
    if unit is None:
        return None
    cells = cells_of_torque({"torque": rest}, unit)
    if len(cells["units"]) > 1:
        return None
    try:
        found = {LOW: [read(cells["torque"], "torque", unit).value]}
        found[STEPS] = read_steps(before, unit)[0] if before else []
        for name, cell in ((HIGH, "torque_high"), (TOLERANCE, "torque_tolerance")):
            found[name] = [read(cells[cell], "torque", unit).value] if cells[cell] else []
    except Refused:
        return None
    return found


def torque_doubts(name: str, rows: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """What may be wrong with the torques of a part although they can be read, in sentences."""
    said = []
    for row in rows:
        if not has_specification(row):
            continue
        what = fasteners_words(row)
        if not str(row.get("torque_page") or "").strip():
            said.append(say("{part}, {what}: no page stands beside its torque.", part=name, what=what))
        text = row.get("torque_as_written")
        if text is not None and _as_kept(text) is None:
            words = "{part}, {what}: its torque is written as “{written}” and kept as {kept}."
            said.append(say(words, part=name, what=what, written=text, kept=_shown([row[LOW]])))
        form = {"thread": row.get("thread"), "torque_unit": "N.m"}
        form.update(torque=plain_number(row[LOW]), torque_high=plain_number(row[HIGH]) if row.get(HIGH) else None)
        for each in torque_questions({"groups": [form], "index": 0})[:1]:
            said.append(say("{part}, {what}: {why}", part=name, what=what, why=each["sentence"]))
    return said
