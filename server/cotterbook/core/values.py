"""Checks of a single value by the type its field has.

Each check gives None, or why the value is refused: (code, sentence, gaps).
"""

import math
import re
from typing import Any

# What is nearer to 0 than a millionth is no mass, length or torque that anybody measured, and quotients by it have no
# end (common practice, no source).
LEAST = 1e-6
HEXADECIMAL = "0123456789abcdef"
# The phone's `re` takes no zero character in a pattern: that one is looked for apart.
CONTROL = re.compile("[\x01-\x08\x0b-\x1f]")


def is_id(value: Any) -> bool:
    """Whether `value` is a UUID of version 7, lower case (RFC 9562, 5.7)."""
    if not isinstance(value, str) or len(value) != 36 or value[14] != "7" or value[19] not in "89ab":
        return False
    if value[8] != "-" or value[13] != "-" or value[18] != "-" or value[23] != "-":
        return False
    # `strip` is one call where a loop over the characters is 36: this runs for every id of every entry.
    return value.replace("-", "").strip(HEXADECIMAL) == "" and value.count("-") == 4


def _id(value: Any, bounds: Any) -> Any:
    return None if is_id(value) else ("not_an_id", "This is no identifier.", {})


def _text(value: Any, longest: int) -> Any:
    if not isinstance(value, str):
        return ("not_text", "This must be text.", {})
    if len(value) > longest:
        return ("too_long", "This is longer than {limit} characters.", {"limit": longest})
    if not value.strip():
        return ("blank", "This is blank.", {})
    return None if _can_be_shown(value) else ("not_text", "This holds a character that cannot be shown.", {})


def _can_be_shown(text: str) -> bool:
    """Whether the text holds no control character but tab and line end, and no half of a surrogate pair."""
    try:
        text.encode()
    except UnicodeError:
        return False
    return "\x00" not in text and CONTROL.search(text) is None


def _integer(value: Any, bounds: Any) -> Any:
    if isinstance(value, bool) or not isinstance(value, int):
        return ("not_whole", "This must be a whole number.", {})
    return _in_range(value, bounds)


def _is_number(value: Any) -> bool:
    # Of whole numbers none is beyond all ends, and one of hundreds of digits is no float.
    return not isinstance(value, bool) and (
        isinstance(value, int) or isinstance(value, float) and math.isfinite(value))  # fmt: skip


def _number(value: Any, bounds: Any) -> Any:
    if not _is_number(value):
        return ("not_a_number", "This must be a number.", {})
    if bounds[0] == 0 and value <= 0:
        return ("out_of_range", "This must be more than 0.", {})
    if bounds[0] == 0 and value < LEAST:
        return ("out_of_range", "This is too near 0 to be right.", {})
    return _in_range(value, bounds)


def _measure(value: Any, bounds: Any) -> Any:
    if not _is_number(value):
        return ("not_a_number", "This must be a number.", {})
    return _in_range(value, bounds)


def _numbers(value: Any, bounds: Any) -> Any:
    most, low, high = bounds
    if not isinstance(value, list) or not 1 <= len(value) <= most:
        return ("not_a_list", "This must be a list of at most {limit}.", {"limit": most})
    for each in value:
        wrong = _number(each, (low, high))
        if wrong:
            return wrong
    return None


def _integers(value: Any, bounds: Any) -> Any:
    """A list of whole numbers, none of them twice."""
    most, low, high = bounds
    if not isinstance(value, list) or not 1 <= len(value) <= most:
        return ("not_a_list", "This must be a list of at most {limit}.", {"limit": most})
    for each in value:
        wrong = _integer(each, (low, high))
        if wrong:
            return wrong
    return None if len(set(value)) == len(value) else ("twice", "This has the same number twice.", {})


def _date(value: Any, bounds: Any) -> Any:
    """A calendar date as ISO 8601 writes it, 2026-05-31."""
    if not isinstance(value, str) or len(value) != 10 or value[4] != "-" or value[7] != "-":
        return ("not_a_date", "This must be a date as 2026-05-31.", {})
    digits = value[:4] + value[5:7] + value[8:]
    if digits.strip("0123456789") or not _is_day(int(digits[:4]), int(digits[4:6]), int(digits[6:])):
        return ("not_a_date", "There is no such day.", {})
    return None


def _is_day(year: int, month: int, day: int) -> bool:
    if not (1900 <= year <= 2200 and 1 <= month <= 12):
        return False
    leap = year % 4 == 0 and (year % 100 != 0 or year % 400 == 0)
    return 1 <= day <= (31, 29 if leap else 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31)[month - 1]


def _in_range(value: float, bounds: Any) -> Any:
    low, high = bounds
    if low <= value <= high:
        return None
    return ("out_of_range", "This must lie between {low} and {high}.", {"low": low, "high": high})


def _choice(value: Any, choices: Any) -> Any:
    if isinstance(value, str) and value in choices:
        return None
    return ("not_a_choice", "This must be one of: {choices}.", {"choices": ", ".join(choices)})


def _boolean(value: Any, bounds: Any) -> Any:
    return None if isinstance(value, bool) else ("not_yes_or_no", "This must be yes or no.", {})


def _hash(value: Any, bounds: Any) -> Any:
    if isinstance(value, str) and len(value) == 64 and value.strip(HEXADECIMAL) == "":
        return None
    return ("not_a_hash", "This is no SHA-256 in lower-case hexadecimal.", {})


def _names(value: Any, bounds: Any) -> Any:
    most, longest = bounds
    if not isinstance(value, list) or len(value) > most:
        return ("not_a_list", "This must be a list of at most {limit}.", {"limit": most})
    for each in value:
        wrong = _text(each, longest)
        if wrong:
            return wrong
    return None


def _map(value: Any, bounds: Any) -> Any:
    if isinstance(value, dict) and all(isinstance(key, str) for key in value):
        return None
    return ("not_an_object", "This must be an object with named fields.", {})


def _ids(value: Any, most: int) -> Any:
    if not isinstance(value, list) or len(value) > most:
        return ("not_a_list", "This must be a list of at most {limit}.", {"limit": most})
    return None if all([is_id(each) for each in value]) else ("not_an_id", "This is no identifier.", {})


CHECKS = {
    "id": _id,
    "ids": _ids,
    "text": _text,
    "integer": _integer,
    "number": _number,
    "measure": _measure,
    "numbers": _numbers,
    "integers": _integers,
    "date": _date,
    "choice": _choice,
    "boolean": _boolean,
    "hash": _hash,
    "names": _names,
    "map": _map,
}
