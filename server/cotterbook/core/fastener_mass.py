"""What one fastener weighs: weighed, or worked out from its thread, length and head.

Lengths in mm, masses in g. The shank is a cylinder of the thread's pitch diameter
(and of the full diameter where it carries no thread), the head is that of the
standard, less its socket; steel has 7.85 g/cm3 (the figure of the DIN mass tables).
"""

import math
from typing import Any

from . import heads_table as table
from .amounts import ROOT_3, Amount
from .figures import plain_number
from .grades import read_grade
from .threads import Thread, read_thread
from .threads_table import INCH
from .words import require

STEEL = 7.85e-3  # g/mm3
STAINLESS = 7.95e-3  # austenitic: 7.9 to 8.0 (from memory)
# Half widths (common practice, no source): a head as a part of its mass, by how freely it is formed; a shank, whose
# thread is always a little thinner than nominal; and from one fastener of a kind to the next.
HEAD_FRACTION = {"hex": 0.08, "socket_cap": 0.15, "nut": 0.08, "countersunk": 0.15, "button": 0.15, "slot": 0.15}
HEAD_FRACTION_ELSE = 0.20
SHANK_FRACTION = 0.04
FASTENER_DIFFERENCE = 0.02
LONGEST_MILLIMETRES = 400.0
HEX_AREA = math.sqrt(3.0) / 2.0
# Rounded edges, the drill's point below the socket, and sizes below nominal: the heads of the DIN 912 mass table
# are lighter than their nominal shape, mostly by 5 to 12 %, of M5, M14 and M16 by more.
CAP_OF_NOMINAL = 0.94
# The chamfer of 30 degrees takes this part of a hexagon's volume, for each face that has one (worked).
CHAMFER = 0.01


def fastener_amount(group: str, values: dict[str, Any]) -> Any:
    """The mass of ONE fastener of a group, as an Amount with the cause "fastener:" + group; None where not known.

    A weighed figure wins. It is as good as its last digit (15.4 is good to half of
    0.1) and as fasteners of a kind agree, 2 %. Else it is worked out, if thread,
    head and length say enough.
    """
    weighed = values.get("grams_each")
    if weighed:
        step = _last_digit(weighed)
        standard = math.sqrt((step / 2.0) ** 2 + (weighed * FASTENER_DIFFERENCE) ** 2) / ROOT_3
        return Amount(float(weighed), {"fastener:" + group: (standard, None)})
    worked = from_geometry(values)
    return None if worked is None else Amount(worked[0], {"fastener:" + group: (worked[1], None)})


def from_geometry(values: dict[str, Any]) -> Any:
    """(grams, standard uncertainty) of one steel fastener from a group's values, or None where they say too little."""
    thread, head = read_thread(values.get("thread")), values.get("head")
    length = values.get("length_millimetres") or 0.0
    if thread is None or head is None or length > LONGEST_MILLIMETRES or (head != "nut" and not length):
        return None
    return steel_grams(thread, head, length, _density(values))


def steel_grams(thread: Thread, head: str, length: float, density: float = STEEL) -> Any:
    """(grams, standard uncertainty) of a fastener `length` mm long; None for a head that no table has.

    Length 0 to 400 mm as it is named: under the head, over all for a countersunk
    screw or a stud; of a nut it is not looked at. Density in g/mm3.
    """
    require("length_millimetres", length, 0.0, LONGEST_MILLIMETRES)
    shaped = head_volume(head, thread)
    if shaped is None:
        return None
    middle, half = shaped
    if head == "nut":
        return middle * density, half * density / ROOT_3
    under = length - (table.COUNTERSUNK[thread.diameter][3] if head == "countersunk" else 0.0)
    if under <= 0.0:
        return None
    plain, threaded = shank_volumes(head, thread, under)
    # Long cap and countersunk screws have a plain shank; of the others both are sold (ISO 4014 and ISO 4017).
    either = plain if head in ("socket_cap", "countersunk") else threaded
    shank, shank_half = (plain + either) / 2.0, (plain - either) / 2.0
    parts = (half, shank_half, shank * SHANK_FRACTION)
    standard = math.sqrt(sum([part * part for part in parts])) / ROOT_3
    return (middle + shank) * density, standard * density


def shank_volumes(head: str, thread: Thread, length: float) -> tuple[float, float]:
    """Volume in mm3 with the longest plain shank the standard allows, and threaded from end to end."""
    threaded = math.pi / 4.0 * thread.pitch_diameter**2
    plain = max(0.0, length - thread_length(head, thread, length))
    if plain < 5.0 * thread.pitch and head != "stud":  # ISO 4762 and ISO 4014 then thread it up to the head
        plain = 0.0
    return (
        math.pi / 4.0 * thread.diameter**2 * plain + threaded * (length - plain),
        threaded * length,
    )


def thread_length(head: str, thread: Thread, length: float) -> float:
    """The usual length of thread, b: 2 d + 12 for socket screws (ISO 4762), 2 d + 6 else (ISO 888, to 125 mm)."""
    if head == "stud":
        return min(length, 4.0 * thread.diameter)
    more = 12.0 if head in ("socket_cap", "button", "countersunk", "hexalobular") else 6.0
    return 2.0 * thread.diameter + more + (6.0 if length > 125.0 and more == 6.0 else 0.0)


def head_volume(head: str, thread: Thread) -> Any:
    """(volume in mm3, half width) of a head less its socket, or of a nut; None where no table has it."""
    if head == "stud":
        return 0.0, 0.0
    if not thread.metric:
        return _inch_head(head, thread)
    d = thread.diameter
    if head == "hex":
        rows = [rows[d] for rows in (table.HEX_ISO, table.HEX_DIN) if d in rows]
        return _between([hexagon(row[0], row[1], 1) for row in rows], HEAD_FRACTION["hex"])
    if head == "nut":
        bored = math.pi / 4.0 * thread.pitch_diameter**2
        return _between([hexagon(flats, high, 2) - bored * high for flats, high in _nuts(d)], HEAD_FRACTION["nut"])
    if head == "flange_hex":
        rows = [rows[d] for rows in (table.FLANGE_SMALL, table.FLANGE_HEAVY) if d in rows]
        return _between([_flanged(*row[:4]) for row in rows], 0.12)
    return _round_head(head, d)


def _nuts(d: float) -> list[tuple[float, float]]:
    """Across flats and height of the nuts of ISO 4032 and DIN 934 on this diameter."""
    iso, din = table.HEX_ISO.get(d), table.HEX_DIN.get(d) or table.HEX_ISO.get(d)
    found = [(iso[0], table.NUT[d])] if iso and d in table.NUT else []
    return found + ([(din[0], table.NUT_DIN[d])] if din and d in table.NUT_DIN else [])


def _round_head(head: str, d: float) -> Any:
    fraction = HEAD_FRACTION.get(head, HEAD_FRACTION_ELSE)
    if head == "socket_cap" and d in table.SOCKET_CAP:
        return _between([_cap(table.SOCKET_CAP[d])], fraction)
    if head == "button" and d in table.BUTTON:
        key, deep, across, high, _, top = table.BUTTON[d]
        return _between([dome(across, top, high) - HEX_AREA * key * key * deep], fraction)
    if head == "countersunk" and d in table.COUNTERSUNK:
        key, deep, across, high = table.COUNTERSUNK[d]
        cone = (across - d) / 2.0
        return _between(
            [disc(across, max(0.0, high - cone)) + frustum(across, d, cone) - HEX_AREA * key * key * deep], fraction
        )
    if head == "hexalobular":
        found = []
        if d in table.HEXALOBULAR_CHEESE:
            number, across, high = table.HEXALOBULAR_CHEESE[d]
            # The socket is about half as deep as the head is high, and fills 0.8 of the circle round its points.
            found.append(disc(across, high) - 0.8 * disc(table.HEXALOBULAR_ACROSS[number], high / 2.0))
        if d in table.SOCKET_CAP:
            found.append(_cap(table.SOCKET_CAP[d]))
        return _between(found, 0.08)
    if head == "cross" and d in table.CROSS:
        # A pan head's rounding and recess take about a fifth of the cylinder round it (common practice, no source).
        return _between([0.8 * disc(table.CROSS[d][1], table.CROSS[d][2])], fraction)
    if head == "slot" and d in table.SLOT:
        wide, deep, across, high = table.SLOT[d]
        return _between([disc(across, high) - wide * deep * across], fraction)
    return None


def _inch_head(head: str, thread: Thread) -> Any:
    unified = thread.series in ("unc", "unf")
    if head == "socket_cap" and unified and thread.size in table.SOCKET_CAP_UNIFIED:
        return _between([_cap([value * INCH for value in table.SOCKET_CAP_UNIFIED[thread.size]])], 0.08)
    rows = table.HEX_UNIFIED if unified else table.HEX_WHITWORTH
    if head not in ("hex", "nut") or thread.size not in rows:
        return None
    row = [value * INCH for value in rows[thread.size]]
    if head == "hex":
        return _between([hexagon(row[0], row[1], 1)], HEAD_FRACTION["hex"])
    flats, high = (row[2], row[3]) if unified else (row[0], row[2])
    bored = math.pi / 4.0 * thread.pitch_diameter**2 * high
    return _between([hexagon(flats, high, 2) - bored], HEAD_FRACTION["nut"])


def _between(volumes: list[float], fraction: float) -> Any:
    """The middle of what the head may be, with half the way between and the fraction as half widths."""
    if not volumes:
        return None
    low, high = min(volumes), max(volumes)
    middle = (low + high) / 2.0
    return middle, math.sqrt(((high - low) / 2.0) ** 2 + (middle * fraction) ** 2)


def hexagon(flats: float, high: float, chamfers: int) -> float:
    """Volume of a hexagon of this width across flats and height, with so many faces chamfered."""
    return HEX_AREA * flats * flats * high * (1.0 - chamfers * CHAMFER)


def disc(across: float, high: float) -> float:
    """Volume of a cylinder."""
    return math.pi / 4.0 * across * across * high


def frustum(wide: float, narrow: float, high: float) -> float:
    """Volume of a cone cut off, from one diameter to the other."""
    return math.pi / 12.0 * high * (wide * wide + wide * narrow + narrow * narrow)


def dome(wide: float, narrow: float, high: float) -> float:
    """Volume of a slice of a ball between circles of these diameters."""
    return math.pi * high / 24.0 * (3.0 * wide * wide + 3.0 * narrow * narrow + 4.0 * high * high)


def _cap(row: Any) -> float:
    key, deep, across, high = row[:4]
    return CAP_OF_NOMINAL * float(disc(across, high) - HEX_AREA * key * key * deep)


def _flanged(flats: float, high: float, flange: float, edge: float) -> float:
    # From its edge the flange rises at 25 degrees until it meets the hexagon.
    inner = 1.05 * flats
    rise = max(0.0, (flange - inner) / 2.0 * math.tan(math.radians(25.0)))
    return disc(flange, edge) + frustum(flange, inner, rise) + hexagon(flats, max(0.0, high - edge - rise), 1)


def _density(values: dict[str, Any]) -> float:
    grade = read_grade(values.get("grade"))
    return STAINLESS if values.get("finish") == "stainless" or (grade is not None and grade.stainless) else STEEL


def _last_digit(value: float) -> float:
    text = plain_number(value)
    decimals: int = len(text) - text.find(".") - 1 if "." in text else 0
    return (1.0, 0.1, 0.01, 0.001)[decimals]
