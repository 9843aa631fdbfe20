"""What a head takes and what it bears on: width across flats, size of the key, bearing and hole."""

from typing import Any

from . import heads_table as table
from .keys import SAME_MILLIMETRES
from .named_keys import read_key
from .threads import Thread
from .threads_table import INCH

HEXAGON_HEADS = ("hex", "flange_hex", "nut", "stud")
SOCKET_HEADS = ("socket_cap", "button", "countersunk")


def across_flats(head: Any, thread: Thread) -> list[tuple[float, str]]:
    """The spanner or hexagon key that a head with this thread takes: (mm, by which standard), likeliest first.

    Hexagons of ISO and DIN differ at M10, M12 and M14, so there may be several; none where no table has any.
    """
    found = _metric_flats(head, thread.diameter) if thread.metric else _inch_flats(head, thread)
    once: list[tuple[float, str]] = []
    for flats, standard in found:
        if flats not in [each[0] for each in once]:
            once.append((flats, standard))
    return once


def _metric_flats(head: Any, d: float) -> list[tuple[float, str]]:
    if head in ("nut", "stud"):
        return _of(d, ((table.HEX_ISO, "ISO 4032"), (table.HEX_DIN, "DIN 934")))
    if head == "hex":
        small = "JIS B 1180" if d > 6.0 else "usual on motorcycles, from memory"
        din = "DIN 931" if d > 7.0 else "DIN 931, from memory"
        return _of(d, ((table.HEX_ISO, "ISO 4014"), (table.HEX_DIN, din), (table.HEX_SMALL, small)))
    if head == "flange_hex":
        found = _of(d, ((table.FLANGE_SMALL, "EN 1662"), (table.FLANGE_HEAVY, "EN 1665")))
        for other, standard in (
            (table.FLANGE_OTHER, "usual on motorcycles, from memory"),
            (table.FLANGE_DIN, "DIN 6921, from memory"),
        ):
            if d in other:
                found.append((other[d], standard))
        return found
    tables = {
        "socket_cap": (table.SOCKET_CAP, "ISO 4762"),
        "button": (table.BUTTON, "ISO 7380-1"),
        "countersunk": (table.COUNTERSUNK, "ISO 10642"),
    }
    return _of(d, (tables[head],)) if head in tables else []


def _of(d: float, tables: Any) -> list[tuple[float, str]]:
    return [(rows[d][0], standard) for rows, standard in tables if d in rows]


def _inch_flats(head: Any, thread: Thread) -> list[tuple[float, str]]:
    if thread.series in ("unc", "unf"):
        if head == "socket_cap" and thread.size in table.SOCKET_CAP_UNIFIED:
            return [(table.SOCKET_CAP_UNIFIED[thread.size][0] * INCH, "ASME B18.3")]
        if head in ("hex", "nut", "stud") and thread.size in table.HEX_UNIFIED:
            flats = table.HEX_UNIFIED[thread.size][0 if head == "hex" else 2]
            return [(flats * INCH, "ASME B18.2.1, from memory" if head == "hex" else "ASME B18.2.2, from memory")]
    elif head in ("hex", "nut", "stud") and thread.size in table.HEX_WHITWORTH:
        standard = "BS 1083" if thread.series != "bsc" else "as BS 1083, from memory"
        return [(table.HEX_WHITWORTH[thread.size][0] * INCH, standard)]
    return []


def hexalobular_number(head: Any, thread: Thread) -> Any:
    """The number of the hexalobular socket (ISO 10664) in a head with this thread, or None.

    Of a button or countersunk head, which more often has a hexagon, the one it has where it has none.
    """
    if head not in ("hexalobular", "button", "countersunk") or not thread.metric:
        return None
    if head != "hexalobular" and thread.diameter not in table.HEXALOBULAR_CHEESE:
        return None
    if thread.diameter in table.HEXALOBULAR_CHEESE:
        return table.HEXALOBULAR_CHEESE[thread.diameter][0]
    return table.HEXALOBULAR_CAP.get(thread.diameter)


def bearing_diameters(head: Any, thread: Thread, key: Any = None) -> Any:
    """(outer, hole) in mm of the ring that a head or nut bears on: dw and dh of VDI 2230; None where not known.

    Outer is the least the standard allows, hole the medium series of ISO 273 (ASME
    B18.2.8 for inch threads). `key` as somebody wrote it: a hexagon bolt bears as far as
    the hexagon that it fits does, and without one as ISO 4014 has it. None for a
    countersunk head: it wedges in a cone, and no torque is worked out for one.
    """
    flats = flats_of_key(head, key)
    if thread.metric:
        outer, hole = _metric_bearing(head, thread.diameter, flats), table.HOLE.get(thread.diameter)
    else:
        outer, hole = _inch_bearing(head, thread), table.HOLE_INCHES.get(thread.size)
        hole = hole * INCH if hole else None
    if outer and not thread.metric and flats is not None:
        outer = min(outer, flats * table.BEARING_OF_FLATS)
    return (outer, hole) if outer and hole and outer > hole else None


def flats_of_key(head: Any, key: Any) -> Any:
    """Millimetres across the hexagon of a hexagon bolt by the key that was written down, or None."""
    read = read_key(key) if head == "hex" else None
    if read is None or read.kind not in (None, "outside") or read.system == "number":
        return None
    return read.size


def _hexagon_bearing(d: float, flats: Any) -> Any:
    """The bearing in mm of a hexagon bolt of diameter d with these flats, both in mm, of ISO 4014 without; or None.

    Of a small hexagon, and of flats that no table has, it is taken no wider than a hexagon's is usually.
    """
    rows = [rows[d] for rows in (table.HEX_ISO, table.HEX_DIN) if d in rows]
    if not rows or flats is None:
        return rows[0][2] if rows else None
    known = [row[2] for row in rows if abs(row[0] - flats) < SAME_MILLIMETRES]
    return known[0] if known else min(rows[0][2], flats * table.BEARING_OF_FLATS)


def _metric_bearing(head: Any, d: float, flats: Any) -> Any:
    if head == "hex":
        return _hexagon_bearing(d, flats)
    if head in ("nut", "stud"):
        rows = [rows[d] for rows in (table.HEX_ISO, table.HEX_DIN) if d in rows]
        return rows[0][2] if rows else None
    if head in ("socket_cap", "hexalobular"):
        return table.SOCKET_CAP[d][4] if d in table.SOCKET_CAP else None
    if head == "flange_hex":
        return table.FLANGE_SMALL[d][4] if d in table.FLANGE_SMALL else None
    if head == "button":
        return table.BUTTON[d][4] if d in table.BUTTON else None
    column: dict[Any, Any] = {"cross": (table.CROSS, 1), "slot": (table.SLOT, 2)}
    if head in column and d in column[head][0]:
        return column[head][0][d][column[head][1]]
    return None


def _inch_bearing(head: Any, thread: Thread) -> Any:
    if head == "socket_cap" and thread.size in table.SOCKET_CAP_UNIFIED and thread.series in ("unc", "unf"):
        # Of an ISO 4762 head the bearing is 0.92 to 0.96 of its diameter.
        return table.SOCKET_CAP_UNIFIED[thread.size][2] * INCH * 0.94
    if head in ("hex", "nut", "stud"):
        if thread.series not in ("unc", "unf"):
            return table.HEX_WHITWORTH[thread.size][3] * INCH if thread.size in table.HEX_WHITWORTH else None
        flats = _inch_flats(head, thread)
        return flats[0][0] * table.BEARING_OF_FLATS if flats else None
    return None
