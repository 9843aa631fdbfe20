"""The ways to the pages: the origin, this computer itself, and from everywhere else only a sign to the origin."""

from collections.abc import Callable, Iterable
from html import escape
from typing import Any

from flask import Flask, Response, request

from .errors import Problem, answer
from .settings import TRUSTED_HOSTS
from .trust.origin import Origin, is_loopback

SIGN = """<!doctype html>
<html lang="en"><meta charset="utf-8"><meta name="viewport" content="width=device-width">
<title>Cotterbook is elsewhere</title>
<h1>Cotterbook is at another address</h1>
<p><a href="{address}">{address}</a></p>
<p>What a phone keeps belongs to that address. Nothing is kept under this one.</p>
</html>
"""


def init_app(app: Flask, origin: Origin | None) -> None:
    """Answer at the origin and on this computer; show the way to the origin from every other name."""
    if origin is None:
        app.config["TRUSTED_HOSTS"] = TRUSTED_HOSTS
        return
    app.wsgi_app = loopback_is_plain(app.wsgi_app)  # type: ignore[method-assign]

    @app.before_request
    def show_the_way() -> Response | None:
        if request.host == origin.authority or is_loopback(request.host):
            return None
        if request.path.startswith("/api/"):
            return answer(Problem("elsewhere", address=str(origin)))
        return Response(SIGN.format(address=escape(str(origin))), 421, content_type="text/html; charset=utf-8")


def loopback_is_plain(app: Callable[..., Iterable[bytes]]) -> Callable[..., Iterable[bytes]]:
    """Let the application see what the browser on this computer sees.

    It asks over plain HTTP, by the door of `loopback_door`, which reaches us over TLS.
    """

    def wrapped(environ: dict[str, Any], start_response: Any) -> Iterable[bytes]:
        if is_loopback(environ.get("HTTP_HOST", "")):
            environ["wsgi.url_scheme"] = "http"
        return app(environ, start_response)

    return wrapped
