"""The page of trust: over plain HTTP it hands out the root certificate and says how to install it, and nothing else.

Standard library alone: three fixed answers, a thread for each connection, none for longer than ten seconds all in all,
however slowly it sends or reads, and only so many for one address.
"""

import base64
import contextlib
import hashlib
import socket
import threading
import time
from collections.abc import Mapping
from functools import partial
from html import escape
from http import HTTPStatus
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from typing import Any, NamedTuple

from cryptography.hazmat.primitives.serialization import Encoding

from ..trust.certificates import Certificate, fingerprint
from ..trust.origin import Origin

CERTIFICATE = "/cotterbook.crt"
SECONDS = 10
MOST_CONNECTIONS = 200
MOST_OF_ONE_ADDRESS = 8


class _Place(NamedTuple):
    """Whose connection it is, and when it ends at the latest, by the monotonic clock."""

    address: str
    ends: float


STYLE = """body{font:1.125rem/1.5 system-ui,sans-serif;max-width:38rem;margin:0 auto;padding:1rem}
body{color:#1b1b1b;background:#fff}
@media (prefers-color-scheme:dark){body{color:#f2f2f2;background:#161616}a{color:#9ecbff}}
a.big{display:block;padding:1rem;border:2px solid;text-align:center;min-height:24px}
code{font-size:1.05rem;overflow-wrap:anywhere}
"""

HEADERS = {
    "Content-Security-Policy": "default-src 'none'; frame-ancestors 'none'; style-src 'sha256-"
    + base64.b64encode(hashlib.sha256(STYLE.encode()).digest()).decode() + "'",
    "X-Content-Type-Options": "nosniff", "Referrer-Policy": "no-referrer", "Cache-Control": "no-store",
}

PAGE = """<!doctype html>
<html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width">
<title>Trust this shop's Cotterbook</title><style>{style}</style></head><body><main>
<h1>Trust this shop's Cotterbook</h1>
<p>This phone can then talk with the shop's PC, and with nobody else by it: the certificate holds for
<code>{host}</code> and for addresses inside the shop alone.</p>
<h2>1. Fetch the certificate</h2>
<p><a class="big" href="{certificate}">Fetch the certificate</a></p>
<h2>2. Compare it</h2>
<p>The PC's screen shows the same figures. If one differs, stop: this is not the shop's PC.</p>
<p><code>{fingerprint}</code></p>
<p>Where the phone shows the SHA-256 of what it installs, compare that: a page can be forged,
what is installed can't.</p>
<h2>3. Install it</h2>
<h3>Android</h3>
<p>Settings, search for &ldquo;CA certificate&rdquo;, Install anyway, choose <code>cotterbook.crt</code> among the
downloads. Some makers put it under Security, More, Encryption and credentials.</p>
<h3>iPhone and iPad</h3>
<p>Open this page in Safari. Settings shows &ldquo;Profile Downloaded&rdquo;: install it. Then General, About,
Certificate Trust Settings: switch it on for <code>{name}</code>.</p>
<h2>4. Open Cotterbook</h2>
<p><a class="big" href="{origin}">{origin}</a></p>
<p>Put it on the home screen first, open it there, and then type the pairing code.</p>
</main></body></html>
"""


class Answer(NamedTuple):
    """What is served at one address."""

    type: str
    body: bytes
    headers: Mapping[str, str] = {}


def answers(root: Certificate, origin: Origin) -> dict[str, Answer]:
    """All that the page of trust has to say, by address."""
    page = PAGE.format(
        style=STYLE, host=escape(origin.host), certificate=CERTIFICATE, fingerprint=fingerprint(root),
        origin=escape(str(origin)), name=escape(str(root.subject.rfc4514_string().removeprefix("CN="))))
    named = {"Content-Disposition": 'attachment; filename="cotterbook.crt"'}
    return {
        "/": Answer("text/html; charset=utf-8", page.encode()),
        CERTIFICATE: Answer("application/x-x509-ca-cert", root.public_bytes(Encoding.DER), named),
    }


class _Handler(BaseHTTPRequestHandler):
    """GET and HEAD of the fixed answers; everything else is refused unread."""

    protocol_version = "HTTP/1.0"  # one answer a connection
    server_version, sys_version = "Cotterbook", ""
    timeout = SECONDS

    def __init__(self, given: Mapping[str, Answer], *arguments: Any) -> None:
        self._given = given
        super().__init__(*arguments)

    def do_GET(self) -> None:
        self._answer(with_body=True)

    def do_HEAD(self) -> None:
        self._answer(with_body=False)

    def _answer(self, with_body: bool) -> None:
        found = self._given.get(self.path.partition("?")[0])
        if found is None:
            self.send_error(HTTPStatus.NOT_FOUND)
            return
        self.send_response(HTTPStatus.OK)
        for name, value in {"Content-Type": found.type, **found.headers}.items():
            self.send_header(name, value)
        self.send_header("Content-Length", str(len(found.body)))
        self.end_headers()
        if with_body:
            self.wfile.write(found.body)

    def end_headers(self) -> None:
        """Every answer carries the security headers, a refusal too."""
        for name, value in HEADERS.items():
            self.send_header(name, value)
        super().end_headers()

    def log_message(self, format: str, *arguments: Any) -> None:
        """Who fetches the certificate is nobody's business."""


class WayIn(ThreadingHTTPServer):
    """The page of trust on all networks of this computer. Raises OSError when the port is taken."""

    daemon_threads = True

    def __init__(self, port: int, root: Certificate, origin: Origin) -> None:
        self._places: dict[Any, _Place] = {}
        self._lock = threading.Lock()
        super().__init__(("", port), partial(_Handler, answers(root, origin)))

    def start(self) -> None:
        """Serve in a thread of its own as long as this process lives."""
        threading.Thread(target=self.serve_forever, name="way-in", daemon=True).start()

    def process_request(self, request: Any, client_address: Any) -> None:
        """Answer in a thread, or hang up where all places, or all for this address, are taken."""
        address = client_address[0]
        with self._lock:
            held = sum(place.address == address for place in self._places.values())
            free = len(self._places) < MOST_CONNECTIONS and held < MOST_OF_ONE_ADDRESS
            if free:
                self._places[request] = _Place(address, time.monotonic() + SECONDS)
        if free:
            super().process_request(request, client_address)
        else:
            self.shutdown_request(request)

    def service_actions(self) -> None:
        """End what is over its time; the loop of the server asks every half second. A timeout of the socket's own
        begins anew with each byte that trickles in."""
        now = time.monotonic()
        with self._lock:
            for request, place in self._places.items():
                if place.ends <= now:
                    with contextlib.suppress(OSError):
                        request.shutdown(socket.SHUT_RDWR)

    def shutdown_request(self, request: Any) -> None:
        """Give the place back, and only then close: nobody may end a number that is another's by then."""
        with self._lock:
            self._places.pop(request, None)
        super().shutdown_request(request)

    def handle_error(self, request: Any, client_address: Any) -> None:
        """A connection that breaks off is nobody's fault here."""
