"""Sentences for people, as data: English text with named gaps, and what fills them.

The English text is the key under which a translation is found, on the phone and
on the PC alike, so no sentence is ever put together from pieces.
"""

import math
from typing import Any


class Refused(Exception):
    """What was asked cannot be done; `problems` says why, by the form's or the function's own fields."""

    def __init__(self, problems: list[dict[str, Any]]):
        super().__init__(problems)
        self.problems = problems


def say(text: str, **values: Any) -> dict[str, Any]:
    """A sentence: {"text": English with {gaps}, "values": what fills the gaps}."""
    return {"text": text, "values": values}


def problem(code: str, field: str, text: str, **values: Any) -> dict[str, Any]:
    """What is wrong, as a code for programs, the field and a sentence for people."""
    return {"code": code, "field": field, "text": text, "values": values}


def require(field: str, value: Any, low: float, high: float) -> float:
    """The value, when it is a number from `low` to `high`, both included; else Refused says what it may be."""
    if isinstance(value, bool) or not isinstance(value, (int, float)) or not math.isfinite(value):
        raise Refused([problem("not_a_number", field, "This must be a number.")])
    if not low <= value <= high:
        raise Refused([problem("out_of_range", field, "This must lie between {low} and {high}.", low=low, high=high)])
    return value


def spoken(sentence: dict[str, Any]) -> str:
    """The sentence in English with its gaps filled; a gap may hold a sentence or a shown figure."""
    return with_gaps(sentence["text"], {name: _filled(value) for name, value in sentence["values"].items()})


def with_gaps(text: str, filled: dict[str, Any]) -> str:
    """The text with its {gaps} filled, as the pages fill them: a gap that nothing fills stays, and none says how."""
    pieces = text.split("{")
    found = [pieces[0]]
    for piece in pieces[1:]:
        ends = piece.find("}")
        name = piece[: max(0, ends)]
        found.append(str(filled[name]) + piece[ends + 1 :] if name in filled else "{" + piece)
    return "".join(found)


def label_words(code: str) -> str:
    """The code of a choice in plain English; the phone has a word of its own for each (`labels.js`)."""
    return str(code).replace("_", " ")


def _filled(value: Any) -> Any:
    if isinstance(value, list):
        return ", ".join([str(_filled(each)) for each in value])
    if isinstance(value, dict) and "text" in value:
        return spoken(value)
    if isinstance(value, dict) and "label" in value:
        return label_words(value["label"])
    if isinstance(value, dict) and "field" in value:
        return str(value["field"]).replace("_", " ")
    if isinstance(value, dict) and "unit" in value:
        spread = " ± " + value["plus_minus"] if value.get("plus_minus") else ""
        return value["value"] + spread + " " + value["unit"]
    return value
