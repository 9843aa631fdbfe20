"""The process that serves: granian with one worker, because a folder's store belongs to one process."""

import contextlib
import logging
import multiprocessing
import os
import signal
import socket
import sys
import threading
import time
import webbrowser
from functools import partial
from multiprocessing.synchronize import Event
from multiprocessing.util import Finalize
from pathlib import Path
from typing import Any, NamedTuple

from granian.constants import Interfaces
from granian.log import LogLevels
from granian.server import MPServer

from . import create_app
from .arriving import Arriving
from .concerns import Concerns
from .copies import DailyCopies
from .core.words import spoken
from .devices import DeviceBook, greeting
from .devices.routes import now_ms
from .errors import Problem
from .network.announcing import Announcer
from .network.loopback_door import open_door
from .network.shop_network import ShopNetwork
from .network.way_in import WayIn
from .pages import make_program_short
from .settings import HOST, STOP_SECONDS
from .store.gaps import told_of
from .store.opening import check_store, open_store
from .store.ours import check_ours
from .store.served_at import hold_address
from .telling import tell

# Between two looks whether the port answers.
PAUSE_SECONDS = 0.05
# Between two looks whether the certificate wants renewing.
RENEWAL_SECONDS = 6 * 3_600
# Phones come by whatever network the computer is on.
EVERYWHERE = "0.0.0.0"


class Served(NamedTuple):
    """What is to be served: the folder, the port for this computer, and how; `url` is a database's address.

    `where` says in words where the data are, and is filled in by `serve`.
    """

    folder: Path
    port: int
    browser: bool
    demo: bool = False
    network: ShopNetwork | None = None
    url: str | None = None
    where: str = ""
    copies: int = 0


class Server(MPServer):
    """granian, which on a closed terminal stops instead of starting a second worker beside the first."""

    def signal_handler_reload(self, *args: Any, **kwargs: Any) -> None:
        """The terminal has gone: stop."""
        self.stop()

    def stop(self) -> None:
        """End the worker, and then `serve`."""
        self.interrupt_signal = True
        self.main_loop_interrupt.set()


def serve(served: Served) -> int:
    """Serve until Ctrl-C or SIGTERM; the process's exit code.

    Raises Problem "port_taken" and what `check_store` does before anything is served, and "serving_ended".
    """
    network = served.network
    check_ours(served.folder)
    for port in (served.port, *((network.origin.port, network.trust_port) if network else ())):
        check_port(port, EVERYWHERE if network and port != served.port else HOST)
    served = served._replace(where=check_store(served.folder, served.url))
    while True:
        server, renewed, told = make_server(served), threading.Event(), multiprocessing.Event()
        if network and network.authority:
            threading.Thread(target=watch_certificate, args=(network, server, renewed), daemon=True).start()
        try:
            server.serve(target_loader=partial(load, served, told), wrap_loader=False)
        except SystemExit:
            # On Ctrl-C the worker may end before granian has told it to, which granian takes for a crash.
            if not server.interrupt_signal:
                if not told.is_set():
                    raise Problem("serving_ended") from None
                return 1
        if not renewed.is_set():
            return 0
        served = served._replace(browser=False)


def make_server(served: Served) -> Server:
    """granian for these pages: on the network over TLS, or on this computer alone."""
    network = served.network
    where: dict[str, Any] = {"address": HOST, "port": served.port}
    if network:
        where = {
            "address": EVERYWHERE, "port": network.origin.port, "ssl_cert": network.chain, "ssl_key": network.key}
    # It has been said why, or `serve` says it in a person's words.
    logging.getLogger("_granian").addFilter(is_no_exit)
    return Server(
        "cotterbook", **where, interface=Interfaces.ASGINL, workers=1, workers_kill_timeout=STOP_SECONDS,
        log_level=LogLevels.error,
    )


def is_no_exit(record: logging.LogRecord) -> bool:
    """Whether a line of granian's log says something else than that the worker has ended."""
    return not record.getMessage().startswith("Unexpected exit from worker")


def watch_certificate(network: ShopNetwork, server: Server, renewed: threading.Event) -> None:
    """Look now and then whether the certificate wants renewing, and begin again with the new one."""
    while not server.interrupt_signal:
        time.sleep(RENEWAL_SECONDS)
        try:
            if network.renew():
                renewed.set()
                server.stop()
                return
        except Problem as problem:
            print(f"cotterbook: {problem}", file=sys.stderr, flush=True)


def load(served: Served, told: Event) -> Arriving:
    """The application, made in the worker; the store is closed when the worker ends.

    `told` is set where it has been said why it cannot serve.
    """
    obey_parent()
    try:
        store = open_store(served.folder, served.url)
        # A worker process runs no atexit functions, only these.
        Finalize(None, store.close, exitpriority=1)
        book = None if served.demo else DeviceBook(served.folder)
        network = served.network
        concerns = Concerns(
            store, served.folder, network.certificate() if network else None, network.authority if network else None,
            book)
        app = create_app(served.folder, store, book, served.network, concerns)
        threading.Thread(target=make_program_short, args=(app,), daemon=True).start()
        copies = DailyCopies(store, served.folder, served.copies, concerns)
        copies.start()
        Finalize(None, copies.close, exitpriority=4)
        if served.network:
            open_doors(served.network, served.port)
        address = str(served.network.origin) if served.network else f"http://{HOST}:{served.port}"
        Finalize(None, hold_address(served.folder, served.port, address).release, exitpriority=5)
    except Problem as problem:
        print(f"cotterbook: {problem}", file=sys.stderr, flush=True)
        told.set()
        raise SystemExit(1) from None
    known = (*store.reports, *told_of(store.gaps(), book.names() if book else {}, store.in_folder))
    for said in (*map(spoken, known), *(served.network.warnings() if served.network else ())):
        print(f"cotterbook: {said}", file=sys.stderr, flush=True)
    if book:
        Finalize(None, lambda: book.write_seen(now_ms()), exitpriority=2)
    threading.Thread(target=announce, args=(served, book), daemon=True).start()
    return Arriving(app.wsgi_app)


def open_doors(network: ShopNetwork, port: int) -> None:
    """All that is beside the pages: the door for this computer, the page of trust, and the name on the network."""
    open_door(port, network.origin.port, network.chain)
    if network.authority:
        try:
            WayIn(network.trust_port, network.authority.root, network.origin).start()
        except OSError:
            raise Problem("port_taken", port=network.trust_port) from None
    if network.origin.host.endswith(".local"):
        announcer = Announcer(network.origin)
        announcer.start()
        Finalize(None, announcer.close, exitpriority=3)


def obey_parent() -> None:
    """Let the worker end when its parent says so or was killed, and at nothing else.

    A terminal sends Ctrl-C and its own end to both. granian's worker can hang when
    a second signal comes while it handles the first, so those wait for ever here.
    """
    if hasattr(signal, "pthread_sigmask"):
        signal.pthread_sigmask(signal.SIG_BLOCK, {signal.SIGINT, signal.SIGHUP})
    parent = multiprocessing.parent_process()
    if parent is None:
        return

    def watch() -> None:
        parent.join()
        os.kill(os.getpid(), signal.SIGTERM)

    threading.Thread(target=watch, daemon=True).start()


def check_port(port: int, host: str = HOST) -> None:
    """Raise Problem "port_taken" if somebody listens there; granian itself would share the port with them."""
    with socket.socket(socket.AF_INET, socket.SOCK_STREAM) as probe:
        if os.name == "posix":
            probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            probe.bind((host, port))
        except OSError:
            raise Problem("port_taken", port=port) from None


def announce(served: Served, book: DeviceBook | None) -> None:
    """Say where the program is once the port answers, and open the page: the worker loads before it listens."""
    address = f"http://{HOST}:{served.port}"
    network = served.network
    while not answers(served.port) or network and not answers(network.origin.port):
        time.sleep(PAUSE_SECONDS)
    tell(f"Cotterbook is at {address} (data in {served.where}). Stop it with Ctrl-C.")
    for line in network.words() if network else ():
        tell(line)
    try:
        if book and network and network.moved:
            for line in greeting.left_behind(book, str(network.before)):
                tell(line)
        if book and not book.has_owner():
            for line in greeting.first_owner(book, address, now_ms()):
                tell(line)
    except Problem as problem:
        # It serves all the same: those that are on the list, and from here `cotterbook pair`.
        print(f"cotterbook: {problem}", file=sys.stderr, flush=True)
    if served.browser and has_screen():
        webbrowser.open(address)


def has_screen() -> bool:
    """Whether there is a screen to show the page on."""
    return not sys.platform.startswith("linux") or bool(os.environ.get("DISPLAY") or os.environ.get("WAYLAND_DISPLAY"))


def answers(port: int) -> bool:
    """Whether somebody listens on the port."""
    with contextlib.suppress(OSError), socket.create_connection((HOST, port), timeout=1):
        return True
    return False
