"""Helpers that run the real thing: the server as its own process, and a plain HTTP client for it."""

import http.client
import json
import os
import re
import select
import signal
import socket
import subprocess
import sys
import time
import uuid
from pathlib import Path
from typing import Any

from cotterbook.devices import DeviceBook
from cotterbook.devices.routes import now_ms

START_SECONDS = 60
# The cookies that pair a device with each running server, by port: browsers and clients of the tests take them along.
COOKIES: dict[int, dict[str, str]] = {}


def free_port() -> int:
    """A port on which nobody listens now."""
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return int(probe.getsockname()[1])


def new_id() -> str:
    """A UUIDv7 (RFC 9562), as phones name themselves."""
    made, random = now_ms(), uuid.uuid4().int & (1 << 74) - 1
    return str(uuid.UUID(int=made << 80 | 7 << 76 | random >> 62 << 64 | 2 << 62 | random & (1 << 62) - 1))


def run(*arguments: str, **options: Any) -> tuple[int, str, str]:
    """A command of the terminal, finished: exit code, output, errors."""
    done = subprocess.run(
        [sys.executable, "-m", "cotterbook.cli", *arguments], capture_output=True, text=True, timeout=START_SECONDS,
        check=False, **options)
    return done.returncode, done.stdout, done.stderr


class RunningServer:
    """`cotterbook serve` or `cotterbook demo` as a process group of its own.

    `url` is its address, `folder` its data folder, `store` the address of its
    database when it has one. `log` is the file that its standard error goes to.
    Unless `paired` is False, the tests' browsers and clients are on its list,
    as an owner.
    """

    def __init__(
        self, folder: Path, demo: bool = False, store: str | None = None, paired: bool = True,
        options: tuple[str, ...] = ()
    ) -> None:
        self.demo, self.paired, self.options, self.port, self.store = demo, paired, options, free_port(), store
        self.folder, self.log = folder, folder.parent / f"{folder.name}.log"
        self.url = f"http://127.0.0.1:{self.port}"
        self.process: subprocess.Popen[bytes] | None = None
        self.cookie: dict[str, str] | None = None
        self.program = ["-m", "cotterbook.cli"]
        self.list_of_devices = b""

    def code(self, role: str) -> str:
        """A pairing code, as `cotterbook pair` would make it."""
        return DeviceBook(self.folder).make_code(role, now_ms())

    def pair(self, role: str = "owner", device_id: str | None = None) -> dict[str, str]:
        """The cookie of a device that is paired as a code of the terminal would pair it."""
        book = DeviceBook(self.folder)
        token, _ = book.pair(self.code(role), device_id or new_id(), f"A {role}", now_ms())
        return {"name": f"cotterbook-device-{self.port}", "value": token}

    def _listed(self) -> dict[str, str]:
        """The same device on the list again, also where the folder was begun anew: those are not what is tested."""
        path = self.folder / "devices.json"
        if self.list_of_devices and not path.exists():
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_bytes(self.list_of_devices)
        if self.cookie is None or not DeviceBook(self.folder).find(self.cookie["value"]):
            self.cookie = self.pair()
        self.list_of_devices = path.read_bytes()
        return self.cookie

    def start(self) -> "RunningServer":
        """Start it and wait until it answers; the same port and folder again after a stop or a kill."""
        command = [sys.executable, *self.program]
        command += ["demo", "--no-browser"] if self.demo else ["serve", "--data", str(self.folder), *self.options]
        command += ["--store", self.store] if self.store else []
        if not self.demo and self.paired:
            COOKIES[self.port] = self._listed()
        self.said = b""
        with self.log.open("ab") as log:
            self.process = subprocess.Popen(
                [*command, "--port", str(self.port)], stdout=subprocess.PIPE, stderr=log, start_new_session=True)
        self._wait_for_address()
        self._wait_for_answer()
        return self

    def hear(self, words: str) -> str:
        """Wait until it has said these words; all that it has said since its start."""
        assert self.process is not None and self.process.stdout is not None
        end = time.monotonic() + START_SECONDS
        while words.encode() not in self.said:
            ready, _, _ = select.select([self.process.stdout], [], [], max(0, end - time.monotonic()))
            more = os.read(self.process.stdout.fileno(), 4096) if ready else b""
            assert more, f"the server did not start: {self.log.read_text()}"
            self.said += more
        return self.said.decode()

    def _wait_for_address(self) -> None:
        self.hear("\n")
        if self.demo:
            named = re.search(r"\(data in (.*)\)", self.said.decode())
            assert named is not None
            self.folder = Path(named[1])

    def _wait_for_answer(self) -> None:
        end = time.monotonic() + START_SECONDS
        while True:
            try:
                socket.create_connection(("127.0.0.1", self.port), timeout=5).close()
                return
            except ConnectionRefusedError:
                assert time.monotonic() < end, f"the server does not answer: {self.log.read_text()}"
                select.select([], [], [], 0.005)

    def signal(self, number: int) -> None:
        """Send a signal to the process that was started, as a service manager would."""
        assert self.process is not None
        self.process.send_signal(number)

    def kill(self) -> None:
        """End it as a power cut would: no chance to finish anything."""
        assert self.process is not None
        os.killpg(self.process.pid, signal.SIGKILL)
        self.wait()

    def stop(self) -> int:
        """Stop it as a service manager would; its exit code."""
        if self.process is None:
            return 0
        self.signal(signal.SIGTERM)
        return self.wait()

    def wait(self) -> int:
        """Wait for its end; its exit code."""
        assert self.process is not None and self.process.stdout is not None
        code = self.process.wait(timeout=START_SECONDS)
        self.process.stdout.close()
        self.process = None
        # Its device stays on the list; a browser takes only so many cookies of one host.
        COOKIES.pop(self.port, None)
        return code


class HttpClient:
    """A phone's way to the PC, with its cookies and its token, over the standard library's client.

    It is paired where the tests' browsers are, or by the cookie given; {} for none.
    """

    def __init__(self, port: int, cookie: dict[str, str] | None = None) -> None:
        self.connection = http.client.HTTPConnection("127.0.0.1", port, timeout=30)
        cookie = COOKIES.get(port) if cookie is None else cookie
        self.device = [f"{cookie['name']}={cookie['value']}"] if cookie else []
        self.headers: dict[str, str] = {"Cookie": self.device[0]} if cookie else {}

    def hello(self) -> dict[str, Any]:
        """Fetch a fresh token, as a phone does before it sends."""
        status, headers, body = self.ask("GET", "/api/hello")
        assert status == 200
        answer: dict[str, Any] = json.loads(body)
        session = re.search(r"[\w-]*cotterbook-session[^;]*", headers["set-cookie"])
        assert session is not None
        self.headers["Cookie"] = "; ".join([session[0], *self.device])
        self.headers["X-CSRFToken"] = answer["csrf"]
        return answer

    def ask(
        self, method: str, path: str, body: bytes | None = None, headers: dict[str, str] | None = None
    ) -> tuple[int, dict[str, str], bytes]:
        """Status, headers by lower-case name, and body."""
        self.connection.request(method, path, body, {**self.headers, **(headers or {})})
        # Closed whatever happens: what hangs up within an answer leaves its socket to the answer alone.
        with self.connection.getresponse() as response:
            data = response.read()
        return response.status, {name.lower(): value for name, value in response.getheaders()}, data

    def ask_json(self, path: str, body: object) -> tuple[int, Any]:
        """POST an object; status and the object that comes back."""
        status, _, data = self.ask("POST", path, json.dumps(body).encode(), {"Content-Type": "application/json"})
        return status, json.loads(data)

    def close(self) -> None:
        """Close the connection; the next request opens another."""
        self.connection.close()
