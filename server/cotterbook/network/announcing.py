"""The computer's name on the shop's network, by multicast DNS (RFC 6762) and DNS-SD (RFC 6763)."""

import socket
import sys
import threading
from collections.abc import Callable, Sequence

from zeroconf import InterfaceChoice, ServiceInfo, Zeroconf

from ..trust.origin import Origin
from .addresses import private_addresses

SERVICE = "_https._tcp.local."
LOOK_SECONDS = 30


class Announcer:
    """Announces the origin's name as long as it lives, at the addresses that the computer has at the time."""

    def __init__(
        self, origin: Origin, addresses: Callable[[], Sequence[str]] = private_addresses,
        interfaces: Sequence[str] | InterfaceChoice = InterfaceChoice.All,
    ) -> None:
        self._origin, self._addresses, self._interfaces = origin, addresses, interfaces
        self._stop = threading.Event()
        self._thread = threading.Thread(target=self._run, name="announcer", daemon=True)

    def start(self) -> None:
        """Begin, in a thread of its own: a network may not be there yet."""
        self._thread.start()

    def close(self) -> None:
        """Say good-bye to the network."""
        self._stop.set()
        self._thread.join(timeout=5)

    def _run(self) -> None:
        responder: Zeroconf | None = None
        told: list[str] = []
        said_why = ""
        while True:
            now = list(self._addresses())
            try:
                if now != told:
                    if responder:
                        responder.close()
                    # A new one, because it stays with the networks that it found when it began.
                    responder = self._announce(now) if now else None
                    told, said_why = now, ""
            except Exception as error:  # whatever the network's own library meets, it must not stop the pages
                responder, why = None, f"{type(error).__name__}: {error}"
                if why != said_why:
                    print(f"cotterbook: {self._origin.host} can't be announced on the network ({why}). Phones that"
                          " know no other way need the computer's address.", file=sys.stderr)
                said_why = why
            if self._stop.wait(LOOK_SECONDS):
                break
        if responder:
            responder.close()

    def _announce(self, addresses: Sequence[str]) -> Zeroconf:
        responder = Zeroconf(interfaces=self._interfaces)
        try:
            responder.register_service(self._service(addresses), allow_name_change=True)
        except BaseException:
            responder.close()
            raise
        return responder

    def _service(self, addresses: Sequence[str]) -> ServiceInfo:
        name = self._origin.host.removesuffix(".local")
        return ServiceInfo(
            SERVICE, f"{name}.{SERVICE}", addresses=[socket.inet_aton(each) for each in addresses],
            port=self._origin.port, server=self._origin.host + ".", properties={"path": "/"})
