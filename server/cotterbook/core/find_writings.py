"""What is found, in every usual writing: fasteners by thread and length, choices by their words."""

from typing import Any

from .figures import plain_number
from .find_words import fold
from .threads import Thread, read_thread
from .threads_table import INCH
from .words import label_words

# What a choice is called on the screens where that is more than its code; a test holds it against the screens' words.
ALSO_CALLED = {
    "hex": "hexagon", "flange_hex": "hexagon with flange", "socket_cap": "internal hexagon", "button": "button head",
    "cross": "cross recess", "bag": "in a bag", "both": "both sides", "stainless": "stainless steel",
    "zinc": "zinc plated", "chrome": "chromed", "slipping": "slipping wrench", "click": "click wrench",
    "bar": "bar with a pointer", "dial": "wrench with a dial", "electronic": "electronic wrench",
    "screwdriver": "torque screwdriver", "lamp_aim": "aim of a lamp",
}  # fmt: skip
# An inch is divided down to here on a rule and in the lengths of screws.
PARTS_OF_AN_INCH = 16
SAME_MILLIMETRES = 0.05

# A machine has few threads in few lengths.
KEPT_WRITINGS = 200
_kept: dict[Any, tuple[str, str]] = {}


def called(code: Any, spoken: Any = None) -> str:
    """The words for the code of a choice, in English and as it is `spoken` in the language read; nothing of None."""
    if not code:
        return ""
    own = (spoken or {}).get(code)
    return label_words(code) + " " + ALSO_CALLED.get(code, "") + (" " + own if isinstance(own, str) else "")


def writings(values: dict[str, Any]) -> tuple[str, str]:
    """How a group's thread and length are written: what it is called first, and all the rest; folded."""
    written, length = values.get("thread") or values.get("size") or "", values.get("length_millimetres")
    if (written, length) not in _kept:
        if len(_kept) >= KEPT_WRITINGS:
            _kept.clear()
        _kept[(written, length)] = _writings(values.get("thread"), fold(written), length)
    return _kept[(written, length)]


def _writings(written: Any, as_written: str, length: Any) -> tuple[str, str]:
    thread = read_thread(written)
    long = "" if not length else plain_number(length)
    if thread is None:
        whole = as_written.replace(" ", "") + "x" + long if as_written and long else as_written
        return (whole, as_written + (" " + long + " mm" if long else ""))
    first, rest = _metric(thread, long) if thread.metric else _inch(thread, length)
    return (first, " ".join([as_written, rest, long + " mm" if long else ""]))


def _metric(thread: Thread, long: str) -> tuple[str, str]:
    size, pitch = thread.size.lower(), plain_number(thread.pitch)
    behind = "x" + long if long else ""
    full = size + "x" + pitch + behind
    if thread.series == "metric_coarse":
        # "8x25" is written without its letter too.
        return (size + behind + " " + full, size[1:] + behind + " " + full[1:] + " coarse")
    # Whoever types no pitch may have the fine thread in hand all the same.
    return (full + " " + size + "x" + pitch, size + behind + " " + full[1:] + " fine")


def _inch(thread: Thread, length: Any) -> tuple[str, str]:
    per_inch, series = fold(thread.name).split()[-2:]
    size = per_inch.split("-")[0]
    lengths = [plain_number(length)] + _inches(length) if length else []
    first = [per_inch + "x" + each for each in lengths] or [per_inch]
    return (" ".join(first), " ".join([series, size] + [size + "x" + each for each in lengths]))


def _inches(length: float) -> list[str]:
    """A length in mm as people write it in inches, where it is a whole number of sixteenths: ["0.75", "3/4"]."""
    sixteenths = round(length / INCH * PARTS_OF_AN_INCH)
    if sixteenths < 1 or abs(sixteenths * INCH / PARTS_OF_AN_INCH - length) > SAME_MILLIMETRES:
        return []
    found, above, below = [plain_number(sixteenths / PARTS_OF_AN_INCH, 4)], sixteenths, PARTS_OF_AN_INCH
    while above % 2 == 0:
        above, below = above // 2, below // 2
    if below > 1 and above < below:
        found.append(str(above) + "/" + str(below))
    return found
