"""The index of one strip-down: every thing that can be found as a line of folded words, all lines in one text.

The phone's Python is slow at looking at things one after the other and fast at finding bytes in bytes, so a search goes
through the one text, and looks at a line only where a word stands in it. The index is made for the first search, some
things at a time, and brought up to date after something was written: only what an entry touched is folded anew.
"""

from typing import Any

from .find_docs import FOUND, TYPES, docs_of, loose_docs
from .strip import Strip

# So many bytes of one line for each byte of a word: fewer lines than this share of all are found one by one.
FEW = 8


class Index:
    """The lines of a strip-down. `docs`, `names` and `lines` go together; `ranges` says which are of which kind."""

    def __init__(self) -> None:
        self._kept: dict[str, Any] = {}
        self._entries = -1
        self._spoken: Any = None
        # (kind of `FOUND`, id or words that it is of, which text of it) of each line.
        self.docs: list[tuple[str, str, str]] = []
        self.names: list[bytes] = []
        self.lines: list[bytes] = []
        self.ranges: list[tuple[str, int, int]] = []
        self._starts: list[int] = []
        self._text = b""
        self._words = b""

    def refresh(self, strip: Strip, most: int = 0, spoken: Any = None) -> bool:
        """Takes in what was written since; whether that is all. With `most`, so many things are folded and no more.

        In the words of another language (`spoken`, see `find_docs.to_be_spoken`) all of it is folded anew.
        """
        if spoken != self._spoken:
            self._kept, self._entries, self._spoken = {}, -1, spoken
        if self._entries == len(strip.entries):
            if most:
                self.all_words()
            return True
        found: dict[str, list[Any]] = {kind: [] for kind in FOUND}
        folded = 0
        for type_ in TYPES:
            for thing in strip.of_type(type_):
                part = strip.thing(thing.values.get("part") or "") if type_ != "part" else None
                kept = self._kept.get(thing.id)
                # What was folded is never changed: the same objects give the same lines.
                if kept is None or kept[0] is not thing or kept[1] is not part:
                    if most and folded == most:
                        return False
                    folded += 1
                    kept = self._kept[thing.id] = (thing, part, docs_of(thing, part, spoken))
                for doc in kept[2]:
                    found[doc[0]].append(doc)
        for doc in loose_docs(strip):
            found[doc[0]].append(doc)
        self._set(found)
        self._entries = len(strip.entries)
        # What is left, the words for slips, comes with the next call.
        return not most

    def _set(self, found: dict[str, list[Any]]) -> None:
        docs: list[Any] = []
        self.ranges = []
        for kind in FOUND:
            self.ranges.append((kind, len(docs), len(docs) + len(found[kind])))
            docs += _nearest_first(found[kind])
        self.docs, self.names, self.lines = docs, [doc[3] for doc in docs], [doc[4] for doc in docs]
        self._text, self._words, self._starts, at = b"\n".join(self.lines), b"", [], 0
        for line in self.lines:
            self._starts.append(at)
            at += len(line) + 1

    def has(self, piece: bytes) -> bool:
        """Whether a piece stands in any line."""
        return self._text.find(piece) >= 0

    def lines_with(self, piece: bytes) -> list[int]:
        """The numbers of the lines with a piece in them, in order."""
        text, starts, lines = self._text, self._starts, self.lines
        if text.count(piece) * FEW > len(lines):
            return [number for number in range(len(lines)) if piece in lines[number]]
        found, at = [], text.find(piece)
        while at >= 0:
            number = _place(starts, at)
            found.append(number)
            at = text.find(piece, starts[number] + len(lines[number]))
        return found

    def all_words(self) -> bytes:
        """Every longer word without figures, once, with a space before and after each; for words that were mistyped."""
        if not self._words and self._text:
            some = [word for word in set(self._text.split()) if len(word) > 3 and not _has_figure(word)]
            self._words = b" " + b" ".join(some) + b" "
        return self._words


def index_of(strip: Strip) -> Index:
    """The index of a strip-down, made or not."""
    if strip.found_by is None:
        strip.found_by = Index()
    found: Index = strip.found_by
    return found


def between(numbers: list[int], first: int, end: int) -> list[int]:
    """Of numbers in order, those from `first` up to but not `end`."""
    return numbers[_before(numbers, first) : _before(numbers, end)]


def _before(numbers: list[int], number: int) -> int:
    """How many of numbers in order lie below one."""
    low, high = 0, len(numbers)
    while low < high:
        middle = (low + high) // 2
        if numbers[middle] < number:
            low = middle + 1
        else:
            high = middle
    return low


def _place(starts: list[int], at: int) -> int:
    """The number of the line in which a byte of the text stands."""
    return _before(starts, at + 1) - 1


def _has_figure(word: bytes) -> bool:
    for byte in word:
        if 48 <= byte <= 57:
            return True
    return False


def _nearest_first(docs: list[Any]) -> list[Any]:
    """By the length of the name, which of two that fit alike has less beside what was typed; else as they came."""
    of_length: dict[int, list[Any]] = {}
    for doc in docs:
        of_length.setdefault(len(doc[3]), []).append(doc)
    return [doc for length in sorted(of_length) for doc in of_length[length]]
