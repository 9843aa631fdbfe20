"""The record of who was let in, refused and let go: lines of JSON, only ever added, each on the disk at once.

It holds no name, code or token: a device is named by its identifier, which the book of devices explains.
"""

import contextlib
import json
import os
import threading
from pathlib import Path
from typing import Any

from ..store.disk import disk_problems, read_or_nothing, sync_file, sync_folder

FILE = "audit.jsonl"
# A stranger who fills the record with refusals must not fill the disk: beyond this only what let somebody in, or out,
# is still written.
MOST_BYTES = 5_000_000
# How every line begins. A text in one has its quotes escaped, so this stands nowhere else.
BEGINNING = b'{"at_ms":'
ALWAYS = (
    "paired", "revoked", "changed", "restored", "code_made", "decided", "begun_anew", "entries_back", "given_up")


class Audit:
    """The record of a data folder."""

    def __init__(self, folder: Path) -> None:
        self._path, self._lock = folder / FILE, threading.Lock()

    def write(self, event: str, at_ms: int, **what: str | int | None) -> None:
        """Add a line. Raises a disk's problem."""
        said = {"at_ms": at_ms, "event": event, **{key: each for key, each in what.items() if each is not None}}
        line = json.dumps(said, separators=(",", ":")).encode() + b"\n"
        with self._lock, disk_problems():
            self._path.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
            number = os.open(self._path, os.O_RDWR | os.O_APPEND | os.O_CREAT | getattr(os, "O_BINARY", 0), 0o600)
            try:
                length = os.fstat(number).st_size
                if event in ALWAYS or length < MOST_BYTES:
                    _write_all(number, _line_end(number, length) + line)
                    sync_file(number)
            finally:
                os.close(number)
            if not length:
                sync_folder(self._path.parent)

    def length(self) -> int:
        """How many bytes there are: nothing is added without more of them. Raises a disk's problem."""
        with disk_problems():
            return self._path.stat().st_size if self._path.exists() else 0

    def read(self, event: str) -> list[dict[str, Any]]:
        """What was written of such events, in order; a line that is not whole is left. Raises a disk's problem.

        Older programs wrote the next line behind one that was cut short, without a line's end: it is read too.
        """
        found = []
        with disk_problems():
            lines = read_or_nothing(self._path).splitlines()
        for line in lines:
            with contextlib.suppress(ValueError):
                said = json.loads(line[max(line.rfind(BEGINNING), 0):])
                if isinstance(said, dict) and said.get("event") == event:
                    found.append(said)
        return found


def _line_end(number: int, length: int) -> bytes:
    """What ends the line before, where a power cut or a full disk cut it short."""
    if not length:
        return b""
    os.lseek(number, length - 1, os.SEEK_SET)
    return b"" if os.read(number, 1) == b"\n" else b"\n"


def _write_all(number: int, data: bytes) -> None:
    """Write until all is written: a disk that is nearly full takes a part first, and then refuses. Raises OSError."""
    while data:
        data = data[os.write(number, data):]
