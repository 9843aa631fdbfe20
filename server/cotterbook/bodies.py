"""Reading what a request carries: bounded in size, and proper JSON or refused whole."""

import json
import math
from typing import Any

from flask import request
from werkzeug.exceptions import RequestEntityTooLarge

from .errors import Problem

# An entry is flat, and a request wraps it in four levels; the rest is room for kinds of entry to come.
DEEPEST = 16


def read_body(limit: int, too_big: str) -> bytes:
    """The request's bytes. Raises Problem `too_big` above `limit` bytes, before reading them all."""
    request.max_content_length = limit
    try:
        return request.get_data(cache=False)
    except RequestEntityTooLarge:
        raise Problem(too_big, limit=limit) from None


def read_json(limit: int) -> dict[str, Any]:
    """The request's JSON object. Raises Problem "request_too_big", "bad_json" or "bad_request"."""
    data = read_body(limit, "request_too_big")
    try:
        value = json.loads(data.decode(), parse_constant=_no_number, parse_float=_finite, parse_int=_whole)
    except RecursionError:
        raise Problem("bad_json", what="nested too deep") from None
    except UnicodeDecodeError:
        raise Problem("bad_json", what="no UTF-8 text") from None
    except ValueError as error:
        raise Problem("bad_json", what=str(error)[:100]) from None
    if not isinstance(value, dict):
        raise Problem("bad_request", what="the request")
    _check_depth(value)
    return value


def _no_number(text: str) -> float:
    raise ValueError(f"{text} is no number")


def _finite(text: str) -> float:
    value = float(text)
    if not math.isfinite(value):
        raise ValueError(f"{text[:20]} is no number that a phone can hold")
    return value


def _whole(text: str) -> int:
    _finite(text)
    return int(text)


def _check_depth(value: Any) -> None:
    level = [value]
    for _ in range(DEEPEST):
        level = [
            child for each in level for child in (each.values() if isinstance(each, dict) else each)
            if isinstance(child, dict | list)
        ]
    if level:
        raise Problem("bad_json", what="nested too deep")
