"""Keys, spanners and sockets as people name them: the kind of a key, and its size."""

from typing import Any

from . import heads_table as table
from .threads_table import INCH
from .written import tokens, value_of

WORDS = (
    ("hexalobular", ("torx", "tx", "t", "hexalobular")),
    ("hexalobular_outside", ("e",)),
    ("cross", ("ph", "phillips", "cross", "crosshead", "jis", "pz")),
    ("slot", ("slot", "slotted", "flat", "blade")),
    ("inside", ("allen", "key", "bit", "internal", "inbus", "hexkey")),
    ("outside", ("spanner", "ring", "wrench", "socket", "af", "open", "nut", "crowfoot", "combination")),
)
WHITWORTH_WORDS = ("w", "whit", "whitworth", "bsw")
BRITISH_WORDS = ("bs", "bsf", "bsc", "cei")


class Key:
    """What turns a fastener: `kind` of HEADS_OF or None, `size` in mm or its number, `system` by what it is sized."""

    __slots__ = ("kind", "size", "system")

    def __init__(self, kind: Any, size: Any, system: str):
        self.kind, self.size, self.system = kind, size, system


def read_key(text: Any) -> Any:
    """The key that somebody wrote ("6 mm hex key", "12 mm socket", "T30", "PH2", "1/2 AF", "1/4 W"), or None."""
    if not isinstance(text, str) or len(text) > 40:
        return None
    words, figures, marks = tokens(text)
    kind = _kind_of(words)
    if kind == "slot" and not figures:
        return Key(kind, None, "metric")
    size = value_of(figures[0]) if figures else None
    if size is None or size <= 0.0:
        return None
    if kind in ("hexalobular", "hexalobular_outside", "cross"):
        return Key(kind, size, "number")
    if any(word in WHITWORTH_WORDS for word in words):
        return _whitworth(kind, size)
    if any(word in BRITISH_WORDS for word in words):
        return _british(kind, size, 0)
    if "mm" not in words and ("/" in figures[0] or '"' in marks or "in" in words or "inch" in words):
        return Key(kind, size * INCH, "inch")
    return Key(kind, size, "metric")


def _kind_of(words: list[str]) -> Any:
    if "socket" in words and any(word in words for word in ("cap", "screw")):
        return "inside"
    for kind, of_kind in WORDS:
        if any(word in of_kind for word in words):
            return kind
    return None


def _whitworth(kind: Any, size: float) -> Any:
    # A spanner marked 1/4 W has the larger hexagon of older 1/4 inch bolts: that of 5/16 BS.
    return _british(kind, size, 1)


def _british(kind: Any, size: float, larger: int) -> Any:
    sizes = [(value_of(name), table.HEX_WHITWORTH[name][0]) for name in table.HEX_WHITWORTH]
    sizes = sorted(sizes)
    for index, (inches, _flats) in enumerate(sizes):
        if abs(inches - size) < 0.001 and index + larger < len(sizes):
            return Key(kind or "outside", sizes[index + larger][1] * INCH, "british")
    return None
