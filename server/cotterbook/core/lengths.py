"""The length of bolt that a grip asks for, among the lengths that are made."""

from typing import Any

from . import heads_table as table
from .figures import plain_number
from .threads import Thread
from .threads_table import INCH
from .words import Refused, problem, require, say

# Nominal lengths in mm of ISO 888, as ISO 4762 and ISO 4014 have them.
NOMINAL = (
    4, 5, 6, 8, 10, 12, 16, 20, 25, 30, 35, 40, 45, 50, 55, 60, 65, 70, 80, 90, 100, 110, 120, 130, 140, 150, 160,
    180, 200, 220, 240, 260, 280, 300,
)  # fmt: skip
# In eighths of an inch: ASME B18.3 from 3/4 inch; shorter ones, and that British bolts come in them too, from memory.
NOMINAL_EIGHTHS = (2, 3, 4, 5, 6, 7, 8) + tuple(range(10, 66, 2)) + (68, 72, 76, 80, 88, 96)
# Engagement in diameters, least and most, that is usual (common practice, no source).
ENGAGEMENT = {
    "steel": (1.0, 1.5),
    "brass_insert": (1.0, 1.5),
    "captive_nut": (0.8, 1.2),
    "cast_aluminium": (1.5, 2.0),
    "wrought_aluminium": (1.5, 2.0),
    "magnesium": (2.0, 2.5),
}
# Threads that stand out of a nut (common practice, no source).
STANDS_OUT = 2.0
LONGEST_GRIP = 250.0


def nut_height(thread: Thread) -> Any:
    """The height in mm of a standard nut, or None where no table has one."""
    if thread.metric:
        return table.NUT.get(thread.diameter)
    unified = thread.series in ("unc", "unf")
    rows = table.HEX_UNIFIED if unified else table.HEX_WHITWORTH
    return rows[thread.size][3 if unified else 2] * INCH if thread.size in rows else None


def usual_lengths(thread: Thread, grip: Any, into: Any, engagement: Any = None) -> dict[str, Any]:
    """Bolt lengths for a grip: {"least", "lengths", "why"}, the shortest that does first, at most three.

    "least" is in mm, a length {"millimetres", "called"}, in inches for an inch thread.
    `grip` is the thickness held under the head, washers included, 0 to 250 mm (of a
    countersunk screw from its top, as its length is). With a loose nut the bolt reaches through the nut and two
    threads stand out; else it reaches into the hole by `engagement` mm, or by what is
    usual for what it screws into. Refused where that is not said.
    """
    grip = require("grip", grip, 0.0, LONGEST_GRIP)
    if into == "loose_nut":
        height = nut_height(thread)
        if height is None:
            raise Refused([problem("no_table", "thread", "No table here has the nut of this thread.")])
        least = grip + height + STANDS_OUT * thread.pitch
        why = say("Through the nut, with two threads standing out (common practice).")
        return _made(thread, least, least + 2.0 * thread.diameter, why)
    if engagement is not None:
        engagement = require("engagement", engagement, 0.1, 200.0)
        why = say("{engagement} mm in the thread.", engagement=plain_number(engagement))
        return _made(thread, grip + engagement, grip + engagement + thread.diameter / 2.0, why)
    if into not in ENGAGEMENT:
        raise Refused(
            [problem("missing", "into", "Say what it screws into, or how many millimetres of thread hold it.")]
        )
    low, high = ENGAGEMENT[into]
    why = say(
        "{low} to {high} diameters of thread in {into} (common practice). "
        "Measure the hole: a bolt must not touch its end.",
        low=low,
        high=high,
        into={"label": into},
    )
    return _made(thread, grip + low * thread.diameter, grip + high * thread.diameter, why)


def _made(thread: Thread, least: float, most: float, why: dict[str, Any]) -> dict[str, Any]:
    longer = [each for each in made_lengths(thread) if each[0] >= least - 1e-9]
    found = [each for each in longer if each[0] <= most] or longer[:1]
    return {
        "least": plain_number(round(least, 2)),
        "lengths": [{"millimetres": millimetres, "called": called} for millimetres, called in found[:3]],
        "why": why,
    }


def made_lengths(thread: Thread) -> list[tuple[float, str]]:
    """The lengths that bolts with this thread come in, shortest first: (mm, as they are called)."""
    if thread.metric:
        return [(length, str(length) + " mm") for length in NOMINAL]
    return [(eighths * INCH / 8.0, _in_eighths(eighths)) for eighths in NOMINAL_EIGHTHS]


def _in_eighths(eighths: int) -> str:
    whole, above, below = eighths // 8, eighths % 8, 8
    while above and above % 2 == 0:
        above, below = above // 2, below // 2
    part = str(above) + "/" + str(below) if above else ""
    return " ".join([each for each in (str(whole) if whole else "", part) if each]) + " in"
