"""The addresses that this computer has on private networks now."""

import ifaddr

from ..trust.certificates import is_private

LINK_LOCAL = "169.254."


def private_addresses() -> list[str]:
    """Private IPv4 addresses, those that a router gave before those that this computer gave itself."""
    found = {str(ip.ip) for adapter in ifaddr.get_adapters() for ip in adapter.ips if ip.is_IPv4}
    return sorted(filter(is_private, found), key=lambda each: (each.startswith(LINK_LOCAL), each))
