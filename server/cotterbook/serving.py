"""The process that serves: granian with one worker, because a folder's store belongs to one process."""

import contextlib
import multiprocessing
import os
import signal
import socket
import sys
import threading
import time
import webbrowser
from functools import partial
from multiprocessing.util import Finalize
from pathlib import Path
from typing import Any

from flask import Flask
from granian.constants import Interfaces
from granian.log import LogLevels
from granian.server import MPServer

from . import create_app
from .core.words import spoken
from .errors import Problem
from .settings import BLOCKING_THREADS, HOST, STOP_SECONDS
from .store.opening import check_store, open_store

# Between two looks whether the port answers.
PAUSE_SECONDS = 0.05


class Server(MPServer):
    """granian, which on a closed terminal stops instead of starting a second worker beside the first."""

    def signal_handler_reload(self, *args: Any, **kwargs: Any) -> None:
        """The terminal has gone: stop."""
        self.interrupt_signal = True
        self.main_loop_interrupt.set()


def serve(folder: Path, port: int, browser: bool, url: str | None = None) -> int:
    """Serve the folder's store, or the one at the address, until Ctrl-C or SIGTERM; the process's exit code.

    Raises Problem "port_taken" and what `check_store` does before anything is served.
    """
    check_port(port)
    where = check_store(folder, url)
    server = Server(
        "cotterbook", address=HOST, port=port, interface=Interfaces.WSGI, workers=1,
        blocking_threads=BLOCKING_THREADS, workers_kill_timeout=STOP_SECONDS, log_level=LogLevels.error,
    )
    try:
        server.serve(target_loader=partial(load, folder, port, browser, url, where), wrap_loader=False)
    except SystemExit:
        # On Ctrl-C the worker may end before granian has told it to, which granian takes for a crash.
        return 0 if server.interrupt_signal else 1
    return 0


def load(folder: Path, port: int, browser: bool, url: str | None, where: str) -> Flask:
    """The application, made in the worker; the store is closed when the worker ends."""
    obey_parent()
    try:
        store = open_store(folder, url)
        app = create_app(folder, store)
    except Problem as problem:
        print(f"cotterbook: {problem}", file=sys.stderr, flush=True)
        raise SystemExit(1) from None
    # A worker process runs no atexit functions, only these.
    Finalize(None, store.close, exitpriority=1)
    for report in store.reports:
        print(f"cotterbook: {spoken(report)}", file=sys.stderr)
    threading.Thread(target=announce, args=(where, port, browser), daemon=True).start()
    return app


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


def check_port(port: int) -> None:
    """Raise Problem "port_taken" if somebody listens there; granian itself would share the port with them."""
    with socket.socket(socket.AF_INET, socket.SOCK_STREAM) as probe:
        if os.name == "posix":
            probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            probe.bind((HOST, port))
        except OSError:
            raise Problem("port_taken", port=port) from None


def announce(where: str, port: int, browser: bool) -> None:
    """Say where the program is once the port answers, and open the page: the worker loads before it listens."""
    address = f"http://{HOST}:{port}"
    while not answers(port):
        time.sleep(PAUSE_SECONDS)
    print(f"Cotterbook is at {address} (data in {where}). Stop it with Ctrl-C.", flush=True)
    if browser and has_screen():
        webbrowser.open(address)


def has_screen() -> bool:
    """Whether there is a screen to show the page on."""
    return not sys.platform.startswith("linux") or bool(os.environ.get("DISPLAY") or os.environ.get("WAYLAND_DISPLAY"))


def answers(port: int) -> bool:
    """Whether somebody listens on the port."""
    with contextlib.suppress(OSError), socket.create_connection((HOST, port), timeout=1):
        return True
    return False
