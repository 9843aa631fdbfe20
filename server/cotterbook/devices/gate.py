"""The gate: every request but those of the pairing page needs the token of a device that is on the list."""

from flask import Flask, Response, g, request

from ..errors import Problem
from .book import DeviceBook
from .limits import Attempts
from .records import ANYBODY, LOOKER_ON, Device

# The program's own files are the same for everybody and hold nothing of the shop; `hello` says no more than whether
# the one who asks is paired.
OPEN = ("pages.page", "sync.hello", "devices.pair")
# Browsers keep no cookie for longer (RFC 6265bis); each hello gives it anew.
COOKIE_SECONDS = 400 * 24 * 3_600


def init_app(app: Flask, book: DeviceBook | None, attempts: Attempts) -> None:
    """Ask every request who it is. Without a book anybody may do anything: the throw-away demo."""

    @app.before_request
    def at_the_gate() -> None:
        g.device = ANYBODY if book is None else _recognised(book)
        if request.endpoint not in OPEN and not (g.device and g.device.may(LOOKER_ON)):
            attempts.unknown(request.remote_addr or "")
            raise Problem("revoked" if g.device else "not_paired")
        if request.method not in ("GET", "HEAD", "OPTIONS"):
            sends = g.device.id if g.device else request.remote_addr or ""
            attempts.begin_sending(sends)
            g.sends = sends

    @app.teardown_request
    def answered(_: BaseException | None) -> None:
        if sends := g.pop("sends", None):
            attempts.end_sending(sends)


def _recognised(book: DeviceBook) -> Device | None:
    token = request.cookies.get(cookie_name())
    return book.find(token) if token else None


def device() -> Device:
    """The device that asks. Raises Problem "not_paired" where nobody is known."""
    found: Device | None = g.get("device")
    if found is None:
        raise Problem("not_paired")
    return found


def need(role: str, otherwise: str = "not_allowed") -> Device:
    """The device that asks, if it may do what this role may; else raises Problem `otherwise`."""
    found = device()
    if not found.may(role):
        raise Problem(otherwise)
    return found


def cookie_name() -> str:
    """The name of the device's cookie: cookies know no ports, so the port stands in it."""
    # Browsers hold what is called __Host- to this host and to HTTPS; on this computer itself there is none.
    return ("cotterbook-device-" if not request.is_secure else "__Host-cotterbook-device-") + port()


def port() -> str:
    """The port that was asked."""
    # Not `request.host`, which raises at a name that is not ours, and that before anything can answer.
    asked = request.environ.get("HTTP_HOST", "").rpartition(":")[2]
    return asked if asked.isdecimal() else "443" if request.is_secure else "80"


def give_token(response: Response, token: str) -> None:
    """Let the browser keep a device's token, out of the pages' reach."""
    response.set_cookie(
        cookie_name(), token, max_age=COOKIE_SECONDS, path="/", secure=request.is_secure, httponly=True,
        samesite="Strict")
