"""What people write on a tag or a form, taken apart: words, figures and marks."""

from typing import Any

from .figures import plain_digits, read_figure

CROSSES = "x×*х✕"
# What beyond ASCII is no letter. The phone's Python knows no letters there, so any other character counts as one:
# what cannot be read is then the same on both.
MARKS_BEYOND = "–—‑−′″”“’°·•№"


def tokens(text: str) -> tuple[list[str], list[str], list[str]]:
    """Words, figures and marks of a text, each in order, in small letters.

    Letters that stand together are a word, digits with their marks and a "/" a figure;
    a cross between figures is the mark "x". "M8x1,25" is ["m"], ["8", "1,25"], ["x"].
    """
    found: dict[str, list[str]] = {"word": [], "figure": [], "mark": [], "space": []}
    before = ""
    for character in plain_digits(text.strip().lower()):
        kind = _kind(character)
        if character in CROSSES and (before != "word" or character != "x"):
            kind, character = "mark", "x"
        if kind == before and kind in ("word", "figure"):
            found[kind][-1] += character
        else:
            found[kind].append(character)
        before = kind
    figures = [figure.rstrip(",.") for figure in found["figure"]]
    return found["word"], [figure for figure in figures if figure], found["mark"]


def value_of(figure: str) -> Any:
    """A figure's value, a fraction's too, or None."""
    if "/" in figure:
        above, below = value_of(figure[: figure.find("/")]), value_of(figure[figure.find("/") + 1 :])
        return above / below if above is not None and below else None
    read = read_figure(figure)
    return None if read is None else read[0]


def _kind(character: str) -> str:
    if character in "0123456789,./":
        return "figure"
    if character in " \t\n":
        return "space"
    return "word" if "a" <= character <= "z" or (ord(character) > 127 and character not in MARKS_BEYOND) else "mark"
