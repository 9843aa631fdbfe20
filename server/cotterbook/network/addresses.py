"""The addresses that this computer has on private networks now."""

import contextlib
import ipaddress
import socket

import ifaddr

from ..trust.certificates import is_private

LINK_LOCAL = "169.254."


def private_addresses() -> list[str]:
    """Private IPv4 addresses, those that a router gave before those that this computer gave itself."""
    found = {str(ip.ip) for adapter in ifaddr.get_adapters() for ip in adapter.ips if ip.is_IPv4}
    return sorted(filter(is_private, found), key=lambda each: (each.startswith(LINK_LOCAL), each))


def leads_here(host: str) -> bool:
    """Whether a name or IPv4 address leads to this computer; a name under .local does once we announce it."""
    if host.endswith(".local"):
        return True
    own = {str(ip.ip if ip.is_IPv4 else ip.ip[0]) for adapter in ifaddr.get_adapters() for ip in adapter.ips}
    found: set[str] = set()
    with contextlib.suppress(OSError, UnicodeError):
        found = {str(each[4][0]) for each in socket.getaddrinfo(host, None)}
    return any(each in own or ipaddress.ip_address(each.partition("%")[0]).is_loopback for each in found)
