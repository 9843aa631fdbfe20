"""A search in the index of a strip-down: which lines have all words, and how well each fits."""

from typing import Any

from .find_docs import BEHIND_NAME
from .find_index import Index, between
from .find_near import in_two, meant

# How well a line fits, the best first: it is called just that; the words are words of its name; they begin words of its
# name; they begin words of it; they stand within words; one of them was mistyped.
WHOLE, WORDS_OF_NAME, IN_NAME, BEGINS, WITHIN, MISTYPED = range(6)


class Word:
    """A word that is looked for: as it stands, where it begins a word, by itself; what it may be meant for."""

    __slots__ = ("text", "begins", "whole", "figure", "meant")

    def __init__(self, word: str, index: Index):
        self.text = word.encode()
        self.begins = b" " + self.text
        self.whole = self.begins + b" "
        self.figure = word[0] in "0123456789"
        if len(self.text) == 1 and not self.figure:
            # One letter stands in nearly every word: only where one begins with it.
            self.text = self.begins
        apart = [b" " + each + b" " for each in in_two(word)]
        self.meant = [each for each in apart if index.has(each)]
        self.meant += [b" " + each + b" " for each in meant(word, index.all_words)]

    def stands_in(self, line: bytes) -> bool:
        """Whether it stands in a line; "8x25" does not in "18x25"."""
        if not self.figure or self.begins in line:
            return self.text in line
        at = line.find(self.text)
        while at > 0 and (48 <= line[at - 1] <= 57 or line[at - 1] == 46):
            at = line.find(self.text, at + 1)
        return at >= 0

    def may_be_in(self, line: bytes) -> bool:
        """Whether it, or a word that it may be meant for, stands in a line."""
        return self.stands_in(line) or any([each in line for each in self.meant])


class Found:
    """What has all of some words: `exact` and `mistyped` are the numbers of lines in order.

    How well each fits is only looked at for as many as are shown: what every thing has is found in no time.
    """

    def __init__(self, index: Index, words: list[str]):
        self._index = index
        self._words = [Word(word, index) for word in words]
        self._whole = b" " + b" ".join([word.encode() for word in words]) + b" "
        self.exact: list[int] = []
        self.mistyped: list[int] = []
        if not words:
            return
        # The longest is in the fewest lines.
        first, lines = self._words[0], index.lines
        for each in self._words:
            if len(each.text) > len(first.text):
                first = each
        numbers = index.lines_with(first.text)
        for each in self._words:
            if each.figure:
                numbers = [number for number in numbers if each.stands_in(lines[number])]
            elif each is not first:
                numbers = [number for number in numbers if each.text in lines[number]]
        self.exact = numbers
        if any([each.meant for each in self._words]):
            self.mistyped = self._mistyped(first, set(numbers))

    def _mistyped(self, first: Word, exact: set[int]) -> list[int]:
        found: set[int] = set()
        lines = self._index.lines
        for piece in first.meant + [first.text]:
            for number in self._index.lines_with(piece):
                if number not in exact and number not in found:
                    if all([word.may_be_in(lines[number]) for word in self._words]):
                        found.add(number)
        return sorted(found)

    @property
    def count(self) -> int:
        """How many lines have all words."""
        return len(self.exact) + len(self.mistyped)

    def nearest(self, first: int, end: int, most: Any = None) -> tuple[int, list[tuple[int, int]]]:
        """Of the lines from `first` up to but not `end`: how many were found, and (number, fit) of the nearest."""
        exact, mistyped = between(self.exact, first, end), between(self.mistyped, first, end)
        count = len(exact) + len(mistyped)
        wanted = count if most is None else min(most, count)
        found: list[tuple[int, int]] = []
        taken: set[int] = set()
        for fit in (WHOLE, WORDS_OF_NAME, IN_NAME, BEGINS, WITHIN):
            if len(found) < min(wanted, len(exact)):
                own = [number for number in self._fitting(exact, fit) if number not in taken][: wanted - len(found)]
                taken.update(own)
                found += [(number, fit) for number in own]
        return (count, found + [(number, MISTYPED) for number in mistyped[: wanted - len(found)]])

    def _fitting(self, numbers: list[int], fit: int) -> list[int]:
        """Of lines that have all words, those that fit at least so well."""
        names, whole = self._index.names, self._whole
        if fit == WITHIN:
            return numbers
        if fit == WHOLE:
            # Mostly there is none, and that is seen in one look.
            there_is = self._index.has(whole + BEHIND_NAME)
            return [number for number in numbers if names[number] == whole] if there_is else []
        within = self._index.lines if fit == BEGINS else names
        for word in self._words:
            piece = word.whole if fit == WORDS_OF_NAME else word.begins
            numbers = [number for number in numbers if piece in within[number]]
        return numbers
