"""The threads that a key, spanner or socket likely turns.

A key says little: hexagons of one size stand on threads of several. What comes
out is a list of likelihoods (common practice on motorcycles, no source), each with
the standard that has that size; it is never certain.
"""

from typing import Any

from . import heads_table as table
from .named_keys import Key, read_key
from .threads import THREADS, Thread, thread_named
from .threads_table import INCH
from .words import say

NOTE = (
    "Likely only, never certain: hexagons of one size stand on several threads. "
    "Measure the thread, or read it on the bolt, before a torque rests on it."
)
# The heads that each kind of key turns.
INSIDE = ("socket_cap", "button", "countersunk")
OUTSIDE = ("hex", "flange_hex", "nut")
HEADS_OF = {
    "inside": INSIDE,
    "outside": OUTSIDE,
    "hexalobular": ("hexalobular",),
    "hexalobular_outside": ("hexalobular",),
    "cross": ("cross",),
    "slot": ("slot",),
}
# How common threads are on motorcycles, commonest first (common practice, no source).
COMMON_DIAMETERS = (6.0, 8.0, 10.0, 5.0, 12.0, 4.0, 14.0, 16.0, 3.0, 20.0, 18.0, 7.0, 3.5)
# Fine threads usual beside or instead of the coarse one (common practice, no source).
FINE_BESIDE: dict[float, Any] = {10.0: (1.25,), 12.0: (1.25,)}
FINE_FIRST: dict[float, Any] = {14.0: (1.5,), 16.0: (1.5,), 18.0: (1.5,), 20.0: (1.5,)}
SAME_MILLIMETRES = 0.05
MOST = 8


def likely_threads(key: Any, head: Any = None) -> list[dict[str, Any]]:
    """Threads that a key as typed likely turns, likeliest first: [{"thread", "head", "why"}], at most eight.

    A head that is known leaves only its own. Nothing is listed for a key that is not understood, and never one
    thread alone: of a size, a key does not tell the pitch.
    """
    read = read_key(key)
    if read is None:
        return []
    kinds = [read.kind] if read.kind else ["outside", "inside"]
    if read.kind in (None, "outside", "inside") and head is not None:
        # "12 mm socket" may be a tool or a screw's socket: a head that is named decides.
        kinds = [
            kind for kind in ("outside", "inside") if head in HEADS_OF[kind] or (head == "stud" and kind == "outside")
        ]
    found: list[dict[str, Any]] = []
    turned = [row for kind in kinds for row in _turned_by(kind, read)]
    for thread, of_head, standard in turned if len(kinds) == 1 else _commonest_first(turned):
        wanted = head is None or head == of_head or (head == "stud" and of_head == "nut")
        if (
            of_head == "hexalobular"
            and head in table.HEXALOBULAR_OF_HEAD
            and thread.diameter in table.HEXALOBULAR_CHEESE
        ):
            # Pan and countersunk heads have the same sockets.
            wanted, standard = True, table.HEXALOBULAR_OF_HEAD[head]
        known = [each for each in found if each["thread"] == thread.name and each["head"] == (head or of_head)]
        if wanted and not known:
            found.append({"thread": thread.name, "head": head or of_head, "why": _why(of_head, standard)})
    if found and all([each["thread"] == found[0]["thread"] for each in found]):
        found += _other_pitches(found[0])
    return found[:MOST]


def _why(head: str, standard: str) -> dict[str, Any]:
    return say("{head}, {standard}", head={"label": head}, standard=say(standard))


def _commonest_first(rows: list[tuple[Thread, str, str]]) -> list[tuple[Thread, str, str]]:
    """Rows of several kinds of key by how common their diameter is, nuts last, else in the order they came."""

    def order(pair: Any) -> Any:
        thread, head, _standard = pair[1]
        common = COMMON_DIAMETERS.index(thread.diameter) if thread.diameter in COMMON_DIAMETERS else MOST
        return (head == "nut", common, pair[0])

    return [pair[1] for pair in sorted(enumerate(rows), key=order)]


def _other_pitches(only: dict[str, Any]) -> list[dict[str, Any]]:
    """The finer threads of the same size, which the same key turns."""
    of = thread_named(only["thread"])
    why = say("{head}, the same size with a finer thread; seldom", head={"label": only["head"]})
    others = [t for t in THREADS if t.metric and t.diameter == of.diameter and t.name != of.name]
    return [{"thread": thread.name, "head": only["head"], "why": why} for thread in others]


def _turned_by(kind: str, key: Key) -> list[tuple[Thread, str, str]]:
    if kind in ("hexalobular", "hexalobular_outside", "cross", "slot"):
        return _by_number(kind, key.size)
    if key.system == "metric":
        return _metric(kind, key.size)
    return _inch(kind, key)


def _metric(kind: str, size: float) -> list[tuple[Thread, str, str]]:
    if kind == "inside":
        tables = (
            ("socket_cap", table.SOCKET_CAP, "ISO 4762", False),
            ("button", table.BUTTON, "ISO 7380-1", None),
            ("countersunk", table.COUNTERSUNK, "ISO 10642", None),
        )
        return [row for each in tables for row in _rows(size, each)]
    small = {d: (table.FLANGE_OTHER[d],) for d in table.FLANGE_OTHER}
    din = {d: (table.FLANGE_DIN[d],) for d in table.FLANGE_DIN}
    found = [
        row
        for each in (
            ("hex", table.HEX_ISO, "ISO 4014", False),
            ("flange_hex", table.FLANGE_SMALL, "EN 1662", False),
            ("hex", table.HEX_SMALL, "small, by JIS B 1180 or usual on motorcycles (from memory)", True),
            ("flange_hex", small, "as usual on motorcycles (from memory)", True),
            ("hex", table.HEX_DIN, "DIN 931", False),
            ("flange_hex", table.FLANGE_HEAVY, "EN 1665", False),
            ("flange_hex", din, "DIN 6921 (from memory)", False),
        )
        for row in _rows(size, each)
    ]
    order = {d: index for index, d in enumerate(COMMON_DIAMETERS)}
    found = [pair[1] for pair in sorted(enumerate(found), key=lambda pair: (order[pair[1][0].diameter], pair[0]))]
    nuts = (("nut", table.HEX_ISO, "ISO 4032", False), ("nut", table.HEX_DIN, "DIN 934", False))
    return found + [row for each in nuts for row in _rows(size, each)]


def _rows(size: float, rows: Any) -> list[tuple[Thread, str, str]]:
    # `fine_first`: whether its fine threads are commoner than the coarse one; None where it has none.
    head, sizes, standard, fine_first = rows
    return [
        (thread, head, standard)
        for d in sorted(sizes)
        if abs(sizes[d][0] - size) < SAME_MILLIMETRES
        for thread in _pitches(d, fine_first)
    ]


def _pitches(d: float, fine_first: Any) -> list[Thread]:
    """The threads of a diameter, commonest first."""
    coarse = [thread for thread in THREADS if thread.series == "metric_coarse" and thread.diameter == d]
    if fine_first is None:
        return coarse
    usual = FINE_FIRST.get(d) or FINE_BESIDE.get(d) or ()
    fine = [t for pitch in usual for t in THREADS if t.metric and t.diameter == d and t.pitch == pitch]
    return fine + coarse if fine_first or d in FINE_FIRST else coarse + fine


def _by_number(kind: str, number: Any) -> list[tuple[Thread, str, str]]:
    standard, sized = "ISO 14580 (hexalobular, ISO 10664)", []
    if kind == "hexalobular":
        of_number: Any = dict(table.HEXALOBULAR_CHEESE)
        of_number.update({d: (table.HEXALOBULAR_CAP[d],) for d in table.HEXALOBULAR_CAP})
        sized = [(d, standard) for d in sorted(of_number) if of_number[d][0] == number]
        sized += [(d, "as met on motorcycles (from memory)") for d in table.HEXALOBULAR_OTHER.get(number, ())]
    elif kind == "hexalobular_outside":
        sized = [(d, "driven from outside (from memory)") for d in (table.HEXALOBULAR_OUTSIDE.get(number),) if d]
    elif kind == "cross":
        sized = [(d, "ISO 7045") for d in COMMON_DIAMETERS if d in table.CROSS and table.CROSS[d][0] == number]
    elif number is not None:
        blade = sorted([d for d in table.SLOT if abs(table.SLOT[d][0] - number) < SAME_MILLIMETRES])
        sized = [(d, "ISO 1207") for d in blade]
    head = "hexalobular" if kind == "hexalobular_outside" else kind
    return [(thread, head, standard) for d, standard in sized for thread in _pitches(d, None)]


def _inch(kind: str, key: Key) -> list[tuple[Thread, str, str]]:
    series = ("bsf", "bsw", "bsc") if key.system == "british" else ("unf", "unc")
    found = []
    for of_series in series:
        for thread in [each for each in THREADS if each.series == of_series]:
            for head, flats, standard in _inch_heads(kind, thread):
                if abs(flats * INCH - key.size) < SAME_MILLIMETRES:
                    found.append((thread, head, standard))
    return [row for row in found if row[1] != "nut"] + [row for row in found if row[1] == "nut"]


def _inch_heads(kind: str, thread: Thread) -> list[tuple[str, float, str]]:
    unified = thread.series in ("unc", "unf")
    if kind == "inside":
        sizes = table.SOCKET_CAP_UNIFIED if unified else {}
        return [("socket_cap", sizes[thread.size][0], "ASME B18.3")] if thread.size in sizes else []
    if unified and thread.size in table.HEX_UNIFIED:
        row = table.HEX_UNIFIED[thread.size]
        return [("hex", row[0], "ASME B18.2.1 (from memory)"), ("nut", row[2], "ASME B18.2.2 (from memory)")]
    if not unified and thread.size in table.HEX_WHITWORTH:
        flats = table.HEX_WHITWORTH[thread.size][0]
        standard = "as BS 1083 (from memory)" if thread.series == "bsc" else "BS 1083"
        older = [larger for larger in sorted(row[0] for row in table.HEX_WHITWORTH.values()) if larger > flats][:1]
        older = older if thread.series == "bsw" else []
        found = [("hex", flats, standard), ("nut", flats, standard)]
        return found + [("hex", larger, "older and a size larger (from memory)") for larger in older]
    return []
