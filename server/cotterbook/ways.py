"""The ways to the pages: the origin, this computer itself, and from everywhere else only a sign to the origin."""

from collections.abc import Callable, Iterable
from html import escape
from typing import Any

from flask import Flask, Response, request

from .errors import Problem, answer
from .network.shop_network import ShopNetwork
from .settings import TRUSTED_HOSTS
from .trust.certificates import is_private
from .trust.origin import is_loopback

# Only with a certificate of the owner's own (RFC 6797): under ours the page of trust stands on the same name over plain
# HTTP, and a phone that keeps to HTTPS could never fetch what it needs to come in. A day, so that an owner who gives
# his certificate up again is not locked out for long.
HTTPS_KEPT_SECONDS = 86_400

SIGN = """<!doctype html>
<html lang="en"><meta charset="utf-8"><meta name="viewport" content="width=device-width">
<title>Cotterbook is elsewhere</title>
<h1>Cotterbook is at another address</h1>
<p><a href="{address}">{address}</a></p>
<p>What a phone keeps belongs to that address. Nothing is kept under this one.</p>
</html>
"""


def init_app(app: Flask, network: ShopNetwork | None) -> None:
    """Answer at the origin and on this computer; show the way to the origin from every other name."""
    if network is None:
        app.config["TRUSTED_HOSTS"] = TRUSTED_HOSTS
        return
    origin = network.origin
    app.wsgi_app = loopback_is_plain(app.wsgi_app)  # type: ignore[method-assign]

    @app.before_request
    def show_the_way() -> Response | None:
        if request.host == origin.authority or is_loopback(request.host):
            return None
        if request.path.startswith("/api/"):
            return answer(Problem("elsewhere", address=str(origin)))
        return Response(SIGN.format(address=escape(str(origin))), 421, content_type="text/html; charset=utf-8")


    if network.authority is None and not is_private(origin.host):

        @app.after_request
        def keep_to_https(response: Response) -> Response:
            if request.is_secure:
                response.headers["Strict-Transport-Security"] = f"max-age={HTTPS_KEPT_SECONDS}"
            return response


def loopback_is_plain(app: Callable[..., Iterable[bytes]]) -> Callable[..., Iterable[bytes]]:
    """Let the application see what the browser on this computer sees.

    It asks over plain HTTP, by the door of `loopback_door`, which reaches us over TLS.
    """

    def wrapped(environ: dict[str, Any], start_response: Any) -> Iterable[bytes]:
        if is_loopback(environ.get("HTTP_HOST", "")):
            environ["wsgi.url_scheme"] = "http"
        return app(environ, start_response)

    return wrapped
