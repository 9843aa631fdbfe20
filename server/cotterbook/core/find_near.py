"""Words that somebody may have meant who mistyped one letter of a long word."""

from typing import Any

# A short word with another letter is another word: "seat" and "seal".
LONG = 5
# From here on what was mistyped may be the beginning of a word that is not typed to its end yet.
LONG_ENOUGH_TO_BEGIN = 6
MOST = 10


def meant(word: str, all_words: Any) -> list[bytes]:
    """Of what `all_words()` gives, each between spaces, those that begin as `word` does but for one slip.

    A letter is another, missing, one too many, or changed places with its neighbour. Those with `word` in them are left
    out: they are found as it is.
    """
    if len(word) < LONG or any([letter in "0123456789" for letter in word]):
        return []
    half, words = len(word) // 2, all_words()
    found: dict[bytes, bool] = {}
    # One slip lies in one half, and the other half is as it was typed; or two letters changed places in the middle.
    changed = word[: half - 1] + word[half] + word[half - 1] + word[half + 1 :]
    for piece in (" " + word[:half], word[half:], " " + changed):
        for each in _with(piece.encode(), words):
            if each not in found and word not in each.decode() and is_near(word, each.decode()):
                found[each] = True
                if len(found) == MOST:
                    return sorted(found)
    return sorted(found)


def _with(piece: bytes, words: bytes) -> list[bytes]:
    found, at = [], words.find(piece)
    while at >= 0:
        end = words.find(b" ", at + 1)
        found.append(words[words.rfind(b" ", 0, at + 1) + 1 : end])
        at = words.find(piece, end)
    return found


def is_near(word: str, other: str) -> bool:
    """Whether `other` is `word` but for one slip, or begins as it does where it is long."""
    if len(word) < LONG_ENOUGH_TO_BEGIN and len(other) > len(word) + 1:
        return False
    at = 0
    while at < len(word) and at < len(other) and word[at] == other[at]:
        at += 1
    rest = other[at:]
    return (
        rest[1:].startswith(word[at + 1 :]) and rest != ""
        or rest.startswith(word[at + 1 :])
        or rest[1:].startswith(word[at:])
        or len(rest) > 1 and word[at : at + 2] == rest[1] + rest[0] and rest[2:].startswith(word[at + 2 :])
    )


def in_two(word: str) -> list[bytes]:
    """A long word as two, wherever it may be parted: "headlamp" as it stands in "head lamp"."""
    if len(word) <= LONG or any([letter in "0123456789" for letter in word]):
        return []
    return [(word[:at] + " " + word[at:]).encode() for at in range(3, len(word) - 2)]
