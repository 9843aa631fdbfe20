"""Slips in a torque as it is typed from the manual: another unit's figure, or more than the thread stands."""

from typing import Any

from .figures import NEWTON_METRES_IN, read_figure, rounded
from .slips_asked import ask, figure_apart
from .threads import Thread, read_thread
from .words import say

# The short form T = K d F with K = 0.2, as received, at the proof stress of the strongest ordinary bolt,
# class 12.9 (ISO 898-1): what no ordinary manual asks of the thread. Good for a question, not for a torque.
NUT_FACTOR = 0.2
PROOF_MEGAPASCALS = 970.0
# Less than a twentieth of it hardly holds anything (common practice, no source).
LOOSE = 0.05


def torque_questions(form: dict[str, Any]) -> list[dict[str, Any]]:
    """What to ask about the torque of one row of fasteners; `form` has `groups`, rows as typed, and `index`.

    A row has `thread`, `torque` and perhaps `torque_high`, both in `torque_unit` or with their own. Questions are
    shaped as those of `slips.questions`; the upper end is asked about where the torque itself is not.
    """
    rows, index = form.get("groups") or [], form.get("index") or 0
    if not 0 <= index < len(rows):
        return []
    row = rows[index]
    thread = read_thread(row.get("thread"))
    if thread is None:
        return []
    return _about(row, thread, "torque", "torque") or _about(row, thread, "torque_high", "upper")


def _about(row: dict[str, Any], thread: Thread, field: str, begins: str) -> list[dict[str, Any]]:
    """The question about one figure of a row, whose code begins with this word."""
    apart = figure_apart(row.get(field), "torque", NEWTON_METRES_IN)
    typed, unit = apart or (row.get(field), row.get("torque_unit") or "N.m")
    read = read_figure(typed)
    if read is None or unit not in NEWTON_METRES_IN or read[0] <= 0.0:
        return []
    most = NUT_FACTOR * thread.diameter * thread.stress_area * PROOF_MEGAPASCALS / 1000.0
    side = _side(read[0] * NEWTON_METRES_IN[unit], most)
    code = begins + "_" + side
    if not side or code in str(row.get("right") or "").split(","):
        return []
    offers = []
    for other in ("N.m", "kgf.m", "lbf.ft", "lbf.in"):
        if other != unit and not _side(read[0] * NEWTON_METRES_IN[other], most):
            words = say("Make it {figure}", figure=_shown(read, other))
            # Where figure and unit were typed as one, they are set apart.
            values = {"torque_unit": other} if apart is None else {field: typed, "torque_unit": other}
            offers.append({"words": words, "values": values})
    text = {
        "high": "{figure} is more than {thread} stands: look at the figure and its unit again.",
        "low": "{figure} is very little for {thread}: look at the figure and its unit again.",
    }[side]
    sentence = say(text, figure=_shown(read, unit), thread=thread.name)
    source = say("Held against a bolt of class 12.9 by the short form, nut factor 0.2: a check, no guidance.")
    return [ask(code, sentence, offers, source, field)]


def _side(newton_metres: float, most: float) -> str:
    return "high" if newton_metres > most else "low" if newton_metres < LOOSE * most else ""


def _shown(read: Any, unit: str) -> dict[str, Any]:
    return {"value": rounded(read[0], read[1]), "plus_minus": None, "unit": unit}
