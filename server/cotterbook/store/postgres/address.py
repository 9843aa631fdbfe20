"""A database's address: taken apart, kept from showing its password, and made to prove itself over a network."""

import ipaddress
import os
import ssl
from itertools import zip_longest
from pathlib import Path
from typing import Any, NamedTuple

import psycopg
from psycopg import conninfo, pq

from ...errors import Problem

CONNECT_SECONDS = 5
# The network's own tests whether the other end is there; without them a call to a machine that has gone never ends.
# They know nothing of a database that stands still on a machine that runs on; `connecting` has a limit for that.
ALIVE = {
    "keepalives": 1, "keepalives_idle": 5, "keepalives_interval": 2, "keepalives_count": 3, "tcp_user_timeout": 10_000,
}
# From here on libpq knows sslrootcert=system.
KNOWS_SYSTEM_ROOTS = 160_000


class Address(NamedTuple):
    """A database's address as the driver takes it, as people may read it, and the password that nobody may read."""

    conninfo: str
    shown: str
    password: str | None


def address_of(url: str) -> Address:
    """Take a URL apart. Raises Problem "store_url"; no word of it says what the URL held."""
    try:
        given = {name: value for name, value in conninfo.conninfo_to_dict(url).items() if value is not None}
    except psycopg.ProgrammingError:
        raise Problem("store_url") from None
    _check_nothing_strayed(given)
    host = given.get("host") or given.get("hostaddr") or "this computer"
    name = given.get("dbname") or given.get("user") or "its default"
    ports = str(given.get("port") or "").strip(",")  # of several hosts without a port the commas are left
    shown = f"database {name} at {host}" + (f":{ports}" if ports else "")
    parameters = {
        "connect_timeout": CONNECT_SECONDS, "application_name": "cotterbook", **ALIVE, **_proof(given), **given}
    password = given.get("password")
    return Address(conninfo.make_conninfo("", **parameters), shown, None if password is None else str(password))


def _check_nothing_strayed(given: dict[str, Any]) -> None:
    """A password with an @ or / in it, written as it is, makes its rest part of the host, port or database's name."""
    named = [str(given.get(name) or "") for name in ("host", "hostaddr", "dbname")]
    ports = str(given.get("port") or "").replace(",", "")
    if any("@" in each for each in named) or ports and not ports.isdecimal():
        raise Problem("store_url")


def _proof(given: dict[str, Any]) -> dict[str, str]:
    """What the other end must show where the way is a network and nobody said otherwise.

    libpq by itself goes on in plain where the other end offers no TLS, and takes any certificate: whoever stands in
    between would read everything (PostgreSQL's manual, "SSL Support", "Protection Provided in Different Modes").
    """
    said = any(_setting(given, name, variable) for name, variable in (
        ("sslmode", "PGSSLMODE"), ("service", "PGSERVICE")))
    if said or not _is_over_network(given):
        return {}
    proof = {"sslmode": "verify-full"}
    if not _setting(given, "sslrootcert", "PGSSLROOTCERT") and not _own_root():
        # The driver brings an OpenSSL of its own, which looks for "system" where no system keeps its roots.
        roots = ssl.get_default_verify_paths().cafile
        if roots or pq.version() >= KNOWS_SYSTEM_ROOTS:
            proof["sslrootcert"] = roots or "system"
    return proof


def _setting(given: dict[str, Any], name: str, variable: str) -> str:
    """A setting from the address or, as libpq takes it where the address has none, from the environment."""
    return str(given.get(name) or os.environ.get(variable) or "")


def _own_root() -> bool:
    """Whether there is a root certificate in the place where libpq looks by itself."""
    folder = Path(os.environ.get("APPDATA", "")) / "postgresql" if os.name == "nt" else Path("~/.postgresql")
    try:
        return (folder.expanduser() / "root.crt").exists()
    except (RuntimeError, OSError):  # no home, or none that may be looked into
        return False


def _is_over_network(given: dict[str, Any]) -> bool:
    """Whether any of the servers may be on another computer."""
    hosts, addresses = _setting(given, "host", "PGHOST"), _setting(given, "hostaddr", "PGHOSTADDR")
    pairs = zip_longest(hosts.split(","), addresses.split(","), fillvalue="")
    # An address decides; the name beside it is only what the certificate must be for.
    return not all(_is_here(address.strip() or host.strip()) for host, address in pairs)


def _is_here(host: str) -> bool:
    """Whether it is this computer itself: nothing said, a Unix socket, or the loopback."""
    # An @ begins a Unix socket without a file; in an address it is refused, in the environment it may be.
    if not host or host.startswith(("/", "@")) or host.lower() == "localhost":
        return True
    # On Windows a socket's path begins with a drive.
    if os.name == "nt" and Path(host).is_absolute():
        return True
    try:
        return ipaddress.ip_address(host).is_loopback
    except ValueError:
        return False
