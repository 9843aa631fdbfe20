"""The words by which things are found: what was written and what is typed, brought to one writing.

Small letters, without the marks on them, so that nobody has to type an accent; digits as 0 to 9, a comma in a figure
as a point; a thread and its length in one piece, however the cross between them was written.
"""

import re
from typing import Any

from .figures import plain_digits
from .letters_alike import alike

APOSTROPHES = "'’‘ʼ′`´"
DASHES = "–—‑−"
CROSSES = "×✕*"
# What parts words wherever it stands; "." "," "-" and "/" do so unless a figure is on both sides.
PARTING = ";:!?()[]{}\"<>=+&_|\\#~^%@$\x1f"
PARTING_BEYOND = "\u00a0\u202f\u3000…·•№„“”«»‹›،؛؟۔।॥、。×✕"
WITHIN_FIGURES = ".,-/"
DIGITS = "0123456789"
# Units that are written right behind a figure as well as apart from it.
UNITS = ("mm", "nm", "kg")
# Marks that stand with a letter and are not typed in a hurry: of Latin, Greek and Cyrillic letters; points of Hebrew
# and Arabic; the stroke that makes an Arabic word longer; the dot under a letter of Devanagari, which many
# leave out; signs that only turn the direction.
MARKS = (
    (0x0300, 0x036F), (0x0591, 0x05BD), (0x05BF, 0x05BF), (0x05C1, 0x05C2), (0x05C4, 0x05C5), (0x05C7, 0x05C7),
    (0x0640, 0x0640), (0x064B, 0x065F), (0x0670, 0x0670), (0x093C, 0x093C), (0x200B, 0x200F), (0x202A, 0x202E),
    (0x2060, 0x2069), (0xFEFF, 0xFEFF),
)  # fmt: skip
SOFT_HYPHEN = "\u00ad"
# Letters of Devanagari with that dot in one piece, and without it (Unicode 15.0, code chart U+0900).
DOTTED = tuple(zip("\u0929\u0931\u0934\u0958\u0959\u095a\u095b\u095c\u095d\u095e\u095f", "नरळकखगजडढफय"))
# What a text has none of that is its own words but for capitals: the phone's Python sees that in one look.
ODD = re.compile("[^a-z0-9 ]|[0-9 ]x|x[0-9 ]| m( |$)|^m |[0-9](mm|nm|kg)|  ")
# More than this is no search.
LONGEST = 200
# Short texts of a log are the same again and again: places, keys, pages.
KEPT_CHARACTERS, KEPT_TEXTS = 60, 400
_kept: dict[str, str] = {}


def fold_kept(text: str) -> str:
    """As `fold`, of what is likely to come again."""
    if len(text) > KEPT_CHARACTERS:
        return fold(text)
    if text not in _kept:
        if len(_kept) >= KEPT_TEXTS:
            _kept.clear()
        _kept[text] = fold(text)
    return _kept[text]


def fold(text: str) -> str:
    """The words of a text in the writing they are found by, a space between each; nothing of no words."""
    plain = text.lower()
    if ODD.search(plain) is None:
        return plain.strip()
    if is_ascii(text):
        text = text.lower().replace("'", "").replace("`", "").replace("*", " x ")
    else:
        text = _bare(text)
    for mark in PARTING:
        if mark in text:
            text = text.replace(mark, " ")
    words = text.split()
    for mark in WITHIN_FIGURES:
        if mark in text:
            words = " ".join([_parted(word) for word in words]).split()
            break
    if "x" in words or " x" in text or "x " in text or "m" in words:
        words = _joined(words)
    for unit in UNITS:
        if unit in text or unit == "nm" and unit in words:
            words = _units_apart(words, unit)
    return " ".join(words)


def is_ascii(text: str) -> bool:
    """Whether a text has nothing but letters, figures and marks of ASCII."""
    return len(text.encode()) == len(text)


def asked(typed: Any) -> list[str]:
    """The words that somebody looks for, each once, in the order they were typed."""
    words: list[str] = []
    text = typed[:LONGEST] if isinstance(typed, str) else ""
    # Half a picture letter, as a cut may leave it, is no text and stands nowhere.
    text = "".join([letter for letter in text if not "\ud800" <= letter <= "\udfff"])
    for word in fold(text).split():
        # "M8-1.25x25": behind a metric size a dash stands for the cross.
        if word[0] == "m" and _is_digit(word[1:2]) and "-" in word:
            word = word.replace("-", "x")
        if word not in words:
            words.append(word)
    # A cross with nothing behind it yet, or between words: "1/4 UNC x 25".
    rest = [word for word in words if word != "x"]
    return rest or words


def _bare(text: str) -> str:
    # Some letters are two: an apostrophe may come out of one.
    text = "".join([letter for letter in alike(plain_digits(text)) if not is_mark(letter)])
    for dotted, plain in DOTTED:
        text = text.replace(dotted, plain)
    for mark in APOSTROPHES:
        text = text.replace(mark, "")
    for mark in CROSSES:
        text = text.replace(mark, " x ")
    for mark in DASHES:
        text = text.replace(mark, "-")
    for mark in PARTING_BEYOND:
        # "25 N·m" is one unit, whatever stands between its letters.
        text = text.replace(mark, "." if mark == "·" else " ")
    if "х" in text:
        # A Cyrillic keyboard has letters that look like those of a thread.
        text = " ".join([_latin(word) for word in text.split()])
    return text


def _latin(word: str) -> str:
    """A thread written with letters that only look Latin; another word as it is."""
    if not any([letter in DIGITS for letter in word]):
        return word
    return word.replace("х", "x").replace("м", "m")


def _is_digit(letter: str) -> bool:
    return letter != "" and letter in DIGITS


def is_mark(letter: str) -> bool:
    """Whether it stands with a letter, turns the direction, or is not seen; no letter of its own."""
    if letter < "\u0300":
        return letter == SOFT_HYPHEN
    code = ord(letter)
    for first, last in MARKS:
        if code <= last:
            return code >= first
    return False


def _parted(word: str) -> str:
    """A word with its marks: they stay between two figures, a comma as a point, and part it elsewhere."""
    found, last = "", len(word) - 1
    for n, letter in enumerate(word):
        if letter not in WITHIN_FIGURES:
            found += letter
        elif 0 < n < last and word[n - 1] in DIGITS and word[n + 1] in DIGITS:
            found += "." if letter == "," else letter
        else:
            found += " "
    return found


def _joined(words: list[str]) -> list[str]:
    """"m 8 x 25", "m8 x25" and "8x 25" in one piece; "n m" as the one unit it is."""
    found: list[str] = []
    for word in words:
        before = found[-1] if found else ""
        if word[0] in DIGITS and (before == "m" or before[-1:] == "x" and _is_digit(before[-2:-1])):
            found[-1] = before + word
        elif word[0] == "x" and _is_digit(before[-1:]) and (len(word) == 1 or word[1] in DIGITS):
            found[-1] = before + word
        elif before == "n" and word == "m":
            found[-1] = "nm"
        else:
            found.append(word)
    return found


def _units_apart(words: list[str], unit: str) -> list[str]:
    """"6mm" as "6 mm"."""
    found: list[str] = []
    for word in words:
        figure = word[: len(word) - len(unit)]
        if figure and word.endswith(unit) and figure[-1] in DIGITS:
            found.append(figure)
            found.append(unit)
        else:
            found.append(word)
    return found
