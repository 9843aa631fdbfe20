"""The keys that a head with a thread usually takes, as people write them, likeliest first."""

from typing import Any

from . import heads_table as table
from .figures import plain_number
from .heads import across_flats, hexalobular_number
from .threads import Thread
from .threads_table import INCH
from .words import say

# A width across flats in inches is a whole number of these.
SIXTY_FOURTHS = 64


def usual_keys(thread: Thread, head: Any) -> list[dict[str, Any]]:
    """[{"key", "why"}]: "13 mm", "T30", "1/2 AF" or "1/4 BS", each with the standard that has it; none where no table.

    `read_key` reads each of them as what turns that head.
    """
    number = hexalobular_number(head, thread)
    lobed = [] if number is None else [{"key": "T" + str(number), "why": _lobed(head)}]
    if head == "hexalobular":
        return lobed
    if head in ("cross", "slot") and thread.metric:
        return _blades(head, thread.diameter)
    flats_of = across_flats(head, thread)
    return [{"key": size_called(flats, thread), "why": _why(head, by)} for flats, by in flats_of] + lobed


def _lobed(head: str) -> dict[str, Any]:
    if head not in table.HEXALOBULAR_OF_HEAD:
        return _why(head, "ISO 10664")
    text = "{head} with a hexalobular socket, {standard}"
    return say(text, head={"label": head}, standard=table.HEXALOBULAR_OF_HEAD[head])


def _why(head: str, standard: str) -> dict[str, Any]:
    return say("{head}, {standard}", head={"label": head}, standard=say(standard))


def _blades(head: str, diameter: float) -> list[dict[str, Any]]:
    if head == "cross" and diameter in table.CROSS:
        return [{"key": "PH" + str(table.CROSS[diameter][0]), "why": _why(head, "ISO 7045")}]
    if head == "slot" and diameter in table.SLOT:
        return [{"key": plain_number(table.SLOT[diameter][0]) + " mm blade", "why": _why(head, "ISO 1207")}]
    return []


def size_called(flats: float, thread: Thread) -> str:
    """A width across flats in mm as it is called where the thread is: "13 mm", "1/2 AF", "1/4 BS"."""
    if thread.metric:
        return plain_number(flats) + " mm"
    if thread.series not in ("unc", "unf"):
        # Spanners for these are called by the bolt: across the flats they are no round fraction.
        return thread.size + " BS"
    above, below = int(round(flats / INCH * SIXTY_FOURTHS)), SIXTY_FOURTHS
    while above % 2 == 0 and below > 1:
        above, below = above // 2, below // 2
    return str(above) + "/" + str(below) + " AF"
