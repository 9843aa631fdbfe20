"""Reading what a request carries: bounded in size, and proper JSON or refused whole."""

import json
import math
from typing import Any

from flask import Flask, Response, request
from werkzeug.exceptions import ClientDisconnected, RequestEntityTooLarge

from .core.limits import PHOTO_BYTES_KEPT, REQUEST_BYTES
from .errors import Problem, answer

# An entry is flat, and a request wraps it in four levels; the rest is room for kinds of entry to come.
# A request wraps entries in four more levels, and a whole one must not fall because of one entry in it.
DEEPEST = 32


# The limit in bytes and the error beyond it, by endpoint; REQUEST for all others.
REQUEST = (REQUEST_BYTES, "request_too_big")
LIMITS = {"photos.put": (PHOTO_BYTES_KEPT, "photo_too_big")}


def too_big() -> Problem:
    """The error for a request that is larger than its endpoint takes."""
    limit, code = LIMITS.get(request.endpoint or "", REQUEST)
    return Problem(code, limit=limit)


def read_body() -> bytes:
    """The request's bytes. Raises the error of `too_big` when there are more than the endpoint takes."""
    limit, _ = LIMITS.get(request.endpoint or "", REQUEST)
    if (request.content_length or 0) > limit:
        raise too_big()
    data = request.get_data(cache=False)
    if len(data) > limit:
        raise too_big()
    return data


def read_json() -> dict[str, Any]:
    """The request's JSON object. Raises Problem "request_too_big", "bad_json" or "bad_request"."""
    return strict_json(read_body())


def strict_json(data: bytes) -> dict[str, Any]:
    """The JSON object that the bytes are, whole. Raises Problem "bad_json" or "bad_request"."""
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


def init_app(app: Flask) -> None:
    """Let Flask stop reading at the largest limit: not every client says its length before it sends."""
    app.config["MAX_CONTENT_LENGTH"] = max(limit for limit, _ in (REQUEST, *LIMITS.values()))

    @app.errorhandler(RequestEntityTooLarge)
    def stopped(error: RequestEntityTooLarge) -> Response:
        return answer(too_big())

    @app.errorhandler(ClientDisconnected)
    def came_too_slowly(error: ClientDisconnected) -> Response:
        # Whoever read the body: a form's is read where its security token is looked for.
        return answer(Problem("came_too_slowly"))


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
