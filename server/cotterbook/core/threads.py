"""Standard threads, and how people write them down.

A thread that is in no table is not guessed at: what is unknown, or could be two
threads, reads as None, since a torque may come to rest on it.
"""

import math
import re
from typing import Any

from .threads_table import FORMS, INCH, INCH_SERIES, METRIC, SOURCES, STRESS
from .written import tokens, value_of

# A figure after the size is a pitch up to here, in mm, and from there on a length. No pitch to M20 is
# above 2.5 and no screw is shorter than 4; between them it may be either, and is refused.
LARGEST_PITCH = 2.5
SHORTEST_LENGTH = 4.0
# "1/4-20" and "0.25": inches agree with the table within this.
SAME_INCHES = 0.0006
MARKS = "x-–—‑−#\"'()″”“′’·•№"
# "M8-6g", "M8 x 1.25 - 6H": grade and position of the tolerance (ISO 965-1), which say nothing of the thread.
TOLERANCE = re.compile("[ -][4-8][gGhH]([4-8][gGhH])?( |$)")


class Thread:
    """A screw thread. Lengths in mm, areas in mm2, of the nominal profile.

    `name` is how it is written ("M8", "M8×1", "1/4-20 UNC"), `series` one of FORMS,
    `minor_diameter` the bolt's (d3), `nut_minor_diameter` the nut's (D1). The stress
    area is by ISO 898-1 for metric threads, by ASME B1.1 for unified ones, and for the
    old British ones by the mean of pitch and minor diameter, as ISO 898-1 takes it.
    """

    __slots__ = ("name", "series", "diameter", "pitch", "size")

    def __init__(self, name: str, series: str, diameter: float, pitch: float, size: str):
        self.name, self.series = name, series
        self.diameter: float = diameter
        self.pitch: float = pitch
        self.size = size

    @property
    def metric(self) -> bool:
        """Whether it is an ISO metric thread."""
        return self.series in ("metric_coarse", "metric_fine")

    @property
    def flank_degrees(self) -> float:
        """The angle between the flanks."""
        return float(FORMS[self.series][0])

    @property
    def pitch_diameter(self) -> float:
        """d2, where thread and gap are equally wide."""
        return self.diameter - FORMS[self.series][1] * self.pitch

    @property
    def minor_diameter(self) -> float:
        """d3, at the root of the bolt's thread."""
        return self.diameter - FORMS[self.series][2] * self.pitch

    @property
    def nut_minor_diameter(self) -> float:
        """D1, of the hole before it is tapped."""
        return self.diameter - FORMS[self.series][3] * self.pitch

    @property
    def stress_area(self) -> float:
        """As, which carries the load."""
        across = (self.pitch_diameter + self.minor_diameter) / 2.0
        if self.series in STRESS:
            across = self.diameter - STRESS[self.series] * self.pitch
        return math.pi / 4.0 * across * across

    @property
    def source(self) -> str:
        """The standard that the figures are from."""
        return SOURCES[self.series]


def _metric_threads() -> list[Thread]:
    found = []
    for diameter, coarse, fine in METRIC:
        size = "M" + _short(diameter)
        found.append(Thread(size, "metric_coarse", float(diameter), coarse, size))
        for pitch in fine:
            found.append(Thread(size + "×" + _short(pitch), "metric_fine", float(diameter), pitch, size))
    return found


def _inch_threads() -> list[Thread]:
    return [
        Thread(size + "-" + str(per_inch) + " " + series.upper(), series, inches * INCH, INCH / per_inch, size)
        for series, table in INCH_SERIES
        for size, inches, per_inch in table
    ]


def _short(value: float) -> str:
    return str(int(value)) if value == int(value) else str(value)


THREADS = _metric_threads() + _inch_threads()
FAMILIES = ("unc", "unf", "bsw", "bsf", "bsc")
ALSO_CALLED = {"whit": "bsw", "whitworth": "bsw", "w": "bsw", "cei": "bsc", "cycle": "bsc", "un": "unified"}
# Words that may stand beside a thread and say nothing else about it.
WORDS_PASSED_OVER = (
    "mm", "iso", "metric", "thread", "bolt", "screw", "nut", "stud", "coarse", "tpi", "in", "inch", "no", "lh", "rh",
    "long", "pitch", "left", "right", "hand",
)  # fmt: skip


def thread_named(name: str) -> Any:
    """The thread that is called exactly so, or None."""
    found = [thread for thread in THREADS if thread.name == name]
    return found[0] if found else None


def coarse(diameter: float) -> Any:
    """The coarse metric thread of a diameter in mm, or None."""
    return thread_named("M" + _short(diameter))


# A machine has few threads, and every screen reads them again and again.
READ_BEFORE = 200
_read_before: dict[str, Any] = {}


def read_thread(text: Any) -> Any:
    """The thread that somebody wrote, or None where it is unknown or could be two.

    "M8", "m 8", "M8x1,25", "M10×1.25", "M8x25" (a length behind it is passed over),
    "8x1.25", "1/4-20", "1/4 UNF", "5/16 BSF", "1/4 BSC 26", "#10-32". Not "8 mm" (a
    thread or a key?), "1/4" or "1/4 × 20" (unified or Whitworth?), "M10 fine" (there are
    three), nor a pitch that ISO 261 does not have for the size.
    """
    if not isinstance(text, str) or len(text) > 40:
        return None
    if text not in _read_before:
        if len(_read_before) >= READ_BEFORE:
            _read_before.clear()
        _read_before[text] = _read_thread(text)
    return _read_before[text]


def _read_thread(text: str) -> Any:
    words, figures, marks = tokens(TOLERANCE.sub(" ", text))
    # A cross with nothing behind it is a thread still being written; a mark that no thread has is a doubt.
    if marks.count("x") >= max(1, len(figures)) or any(mark not in MARKS for mark in marks):
        return None
    in_inches = "/" in text or "#" in marks or '"' in marks or "no" in words
    if "m" not in words and (in_inches or any(word in FAMILIES or word in ALSO_CALLED for word in words)):
        return _read_inch(words, figures, marks)
    return _read_metric(words, figures)


def is_left_hand(text: Any) -> bool:
    """Whether a thread is written as a left-hand one: "M10x1.25 LH", "1/2-20 UNF left hand"."""
    words = tokens(text)[0] if isinstance(text, str) and len(text) <= 40 else []
    return "lh" in words or "left" in words


def _read_metric(words: list[str], figures: list[str]) -> Any:
    others = [word for word in words if word != "m" and word not in WORDS_PASSED_OVER]
    fine = "fine" in others
    sized: list[Any] = [None if "/" in figure else value_of(figure) for figure in figures]
    if None in sized or len(others) > fine:
        return None
    after = sized[1:]
    pitches = [value for value in after if value <= LARGEST_PITCH]
    lengths = [value for value in after if value >= SHORTEST_LENGTH]
    if not sized or len(pitches) > 1 or len(lengths) > 1 or len(pitches) + len(lengths) < len(after):
        return None
    if not pitches and (fine or "m" not in words):
        return None
    found = [thread for thread in THREADS if thread.metric and thread.diameter == sized[0]]
    if pitches:
        found = [thread for thread in found if thread.pitch == pitches[0]]
    return found[0] if found else None


def _read_inch(words: list[str], figures: list[str], marks: list[str]) -> Any:
    named = [ALSO_CALLED.get(word, word) for word in words if word not in WORDS_PASSED_OVER]
    if len(named) > 1 or any(name not in FAMILIES and name != "unified" for name in named) or not figures:
        return None
    inches = _inches(figures[0], "#" in marks or "no" in words)
    per_inch = value_of(figures[1]) if len(figures) > 1 else None
    if inches is None or len(figures) > 2 or (len(figures) == 2 and per_inch is None):
        return None
    found = [t for t in THREADS if not t.metric and abs(t.diameter / INCH - inches) < SAME_INCHES]
    if per_inch is not None:
        found = [thread for thread in found if abs(INCH / thread.pitch - per_inch) < 0.01]
    if named:
        unified = named[0] == "unified"
        found = [t for t in found if t.series == named[0] or (unified and t.series in ("unc", "unf"))]
    elif "-" in marks and len(found) > 1:  # written as the unified threads are
        found = [thread for thread in found if thread.series in ("unc", "unf")]
    return found[0] if len(found) == 1 else None


def _inches(figure: str, numbered: bool) -> Any:
    if numbered:
        of_size = [t.diameter / INCH for t in THREADS if t.size == "#" + figure]
        return of_size[0] if of_size else None
    # "10-32 UNF": numbered sizes are written without their sign too.
    of_size = [t.diameter / INCH for t in THREADS if t.size == "#" + figure]
    return of_size[0] if of_size else value_of(figure)
