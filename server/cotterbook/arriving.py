"""Requests on their way in: whoever sends slowly, or stops in the middle, holds a thread for a while and no longer.

The server underneath waits for a body as long as the other end keeps the connection, which for a phone that has left
the network is for ever. So it hands requests over piece by piece, and each must be here in time.
"""

import asyncio
import string
import sys
from collections.abc import Awaitable, Callable, Iterable
from typing import Any, cast
from urllib.parse import quote
from wsgiref.types import StartResponse, WSGIApplication

from a2wsgi import WSGIMiddleware

from .core.limits import PHOTO_BYTES_KEPT, REQUEST_BYTES
from .settings import BLOCKING_THREADS, BODY_SECONDS, LEAST_BYTES_A_SECOND

Receive = Callable[[], Awaitable[Any]]


class Arriving:
    """The application for granian, by ASGI; inside it is WSGI, in threads."""

    def __init__(self, app: WSGIApplication) -> None:
        def inside(environ: dict[str, Any], start_response: StartResponse) -> Iterable[bytes]:
            # The body ends where it ends, also without a Content-Length; faults go where the terminal's words go.
            return app({**environ, "wsgi.input_terminated": True, "wsgi.errors": sys.stderr}, start_response)

        # Its types are its own, and say the same as the standard library's.
        self._inside = WSGIMiddleware(cast(Any, inside), workers=BLOCKING_THREADS)

    async def __call__(self, scope: Any, receive: Receive, send: Any) -> None:
        """Pass one request on."""
        # Nothing here is asked by query; a2wsgi takes it for ASCII, and other bytes there are answered too.
        asked = quote(scope["query_string"], safe=string.punctuation)
        scope = {**scope, "headers": one_cookie_header(scope["headers"]), "query_string": asked.encode()}
        announced = announced_bytes(scope["headers"])
        await self._inside(scope, in_time(receive, BODY_SECONDS, LEAST_BYTES_A_SECOND, announced), send)


def in_time(receive: Receive, seconds: float, least: float, announced: int) -> Receive:
    """The same pieces, with TimeoutError for one that is not there so long after the one before, and for all that are
    not there so long after the first was asked for, and a second longer for each `least` bytes: of those announced,
    or of those that came where that is more.

    Not after the request began: one that waits for a thread behind slow ones has done nothing wrong.
    """
    end: float | None = None
    came = 0

    async def receive_in_time() -> Any:
        nonlocal end, came
        now = asyncio.get_running_loop().time()
        end = end or now + seconds
        async with asyncio.timeout_at(min(now + seconds, end + max(announced, came) / least)):
            piece = await receive()
        came += len(piece.get("body", b""))
        return piece

    return receive_in_time


def announced_bytes(headers: Iterable[tuple[bytes, bytes]]) -> int:
    """How long a request says that its body is, as far as any may be; 0 where it does not say.

    >>> announced_bytes([(b"content-length", b"700")]), announced_bytes([(b"content-length", b"x")])
    (700, 0)
    """
    said = next((value for name, value in headers if name == b"content-length"), b"")
    return min(int(said), max(REQUEST_BYTES, PHOTO_BYTES_KEPT)) if said.isdigit() else 0


def one_cookie_header(headers: Iterable[tuple[bytes, bytes]]) -> list[tuple[bytes, bytes]]:
    """Headers with the cookies in one: HTTP/2 lets a browser send each by itself (RFC 9113, 8.2.3).

    >>> one_cookie_header([(b"cookie", b"a=1"), (b"host", b"x"), (b"cookie", b"b=2")])
    [(b'host', b'x'), (b'cookie', b'a=1; b=2')]
    """
    given = list(headers)
    cookies = [value for name, value in given if name == b"cookie"]
    others = [(name, value) for name, value in given if name != b"cookie"]
    return [*others, (b"cookie", b"; ".join(cookies))] if cookies else others
