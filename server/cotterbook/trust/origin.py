"""The one origin of this shop's pages, chosen once and kept.

What a phone keeps belongs to scheme, host and port. Under another origin it would begin with nothing, and what it had
not sent would be out of sight: so the origin stays, and every other address only shows the way to it.
"""

import json
import re
import secrets
from pathlib import Path
from typing import NamedTuple

from ..errors import Problem
from ..store.disk import disk_problems, read_or_nothing, write_whole
from .certificates import is_private

FILE, ONLY_ANEW = "origin.json", "only_anew"
LOOPBACK = ("127.0.0.1", "localhost")
LABEL = re.compile(r"[a-z0-9]([a-z0-9-]{0,61}[a-z0-9])?")
HOST = re.compile(rf"{LABEL.pattern}(\.{LABEL.pattern})*")
LONGEST_HOST, HIGHEST_PORT = 253, 65_535
# Letters and digits that nobody mistakes for others on a screen.
LETTERS = "abcdefghjkmnpqrstuvwxyz23456789"


class Origin(NamedTuple):
    """Where phones find the pages: always https."""

    host: str
    port: int

    def __str__(self) -> str:
        return f"https://{self.host}" + ("" if self.port == 443 else f":{self.port}")

    @property
    def authority(self) -> str:
        """Host and port as a request's Host field names them."""
        return str(self).removeprefix("https://")


def is_loopback(authority: str) -> bool:
    """Whether a request's Host field names this computer from itself."""
    return authority.partition(":")[0] in LOOPBACK


def new_name() -> str:
    """A name of its own for a computer on the shop's network, by multicast DNS (RFC 6762)."""
    return "cotterbook-" + "".join(secrets.choice(LETTERS) for _ in range(4)) + ".local"


def checked_host(text: str) -> str:
    """A host name or IPv4 address as it is written in an address. Raises Problem "bad_host"."""
    host = text.strip().rstrip(".").lower()
    if len(host) > LONGEST_HOST or not HOST.fullmatch(host) or host in LOOPBACK:
        raise Problem("bad_host", host=text[:100])
    if host.replace(".", "").isdecimal() and not is_private(host):
        raise Problem("bad_host", host=text[:100])
    return host


def kept_origin(folder: Path) -> Origin | None:
    """The origin that was chosen before, or None. Raises Problem "origin_damaged"."""
    path = folder / FILE
    with disk_problems():
        if not path.exists():
            return None
        data = read_or_nothing(path)
    try:
        kept = json.loads(data)
        origin = Origin(checked_host(str(kept["host"])), int(kept["port"]))
        if not 1 <= origin.port <= HIGHEST_PORT:
            raise ValueError(origin.port)
        return origin
    except (ValueError, KeyError, TypeError, OverflowError, Problem):
        raise Problem("origin_damaged", file=str(path)) from None


def origin_before(folder: Path, anew: bool) -> Origin | None:
    """What phones know so far. Raises Problem "origin_damaged", unless it is chosen anew."""
    try:
        return kept_origin(folder)
    except Problem as problem:
        if anew and problem.code == "origin_damaged":
            return None
        raise


class Choice(NamedTuple):
    """An origin that was decided on, not kept yet; whether the start was told to choose anew, and nothing else."""

    origin: Origin
    only_anew: bool


def decide_origin(folder: Path, host: str | None, port: int | None, default_port: int, anew: bool = False) -> Choice:
    """The origin for this folder: the kept one, or a new one. Nothing is written.

    Of an origin that is chosen `anew` what is given changes, and the rest stays; with nothing given it gets a new name,
    once: in a script that starts the program every day the option is given every day, and phones are to stay paired.
    Raises Problem "other_origin" when another is wanted than phones know, unless `anew`.
    """
    kept, only_anew = origin_before(folder, anew), anew and not host and not port
    named = kept and (port or not anew or only_anew and _was_only_anew(folder))
    wanted = checked_host(host) if host else kept.host if kept and named else new_name()
    origin = Origin(wanted, port or (kept.port if kept else default_port))
    if kept and origin != kept and not anew:
        raise Problem("other_origin", kept=str(kept), wanted=str(origin))
    return Choice(origin, only_anew)


def keep_origin(folder: Path, choice: Choice) -> Origin:
    """Keep what was decided, once nothing that is known speaks against serving there. Raises a disk's problem."""
    origin, only_anew = choice
    kept = origin_before(folder, True)
    if origin != kept or only_anew != _was_only_anew(folder):
        with disk_problems():
            said = {**origin._asdict(), **({ONLY_ANEW: True} if only_anew else {})}
            write_whole(folder / FILE, json.dumps(said).encode())
    return origin


def choose_origin(folder: Path, host: str | None, port: int | None, default_port: int, anew: bool = False) -> Origin:
    """Decide on an origin and keep it."""
    return keep_origin(folder, decide_origin(folder, host, port, default_port, anew))


def _was_only_anew(folder: Path) -> bool:
    """Whether the start before was told to choose anew, and nothing else: the file was read and is in order."""
    with disk_problems():
        return bool(json.loads(read_or_nothing(folder / FILE)).get(ONLY_ANEW))
