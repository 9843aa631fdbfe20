"""One process to a folder: who comes second is told who holds it."""

import contextlib
import os
from datetime import datetime
from pathlib import Path

from filelock import FileLock, Timeout

from ..errors import Problem


def make_folder(folder: Path) -> None:
    """Make the folder where there is none, for its owner alone. Raises Problem "folder_unusable"."""
    try:
        folder.mkdir(mode=0o700, parents=True, exist_ok=True)
    except OSError as error:
        raise Problem("folder_unusable", folder=str(folder), what=error.strerror or str(error)) from error


class Holder:
    """Holds a folder for this process until `release`, or until the process ends, however it ends.

    `told` is what others are told of the holder, after `seconds` of waiting. Makes the folder when it is not there.
    Raises Problem "folder_unusable" or "folder_held".
    """

    def __init__(self, folder: Path, told: str | None = None, seconds: float = 0) -> None:
        self._named = folder / "held_by"
        make_folder(folder)
        try:
            self._lock = FileLock(folder / "lock", timeout=seconds, thread_local=False)
            self._lock.acquire()
            told = told or f"process {os.getpid()}, since {datetime.now():%Y-%m-%d %H:%M}"
            self._named.write_text(told, encoding="utf-8")
        except Timeout:
            holder = "another process"
            with contextlib.suppress(OSError):
                holder = self._named.read_text(encoding="utf-8")
            raise Problem("folder_held", folder=str(folder), holder=holder) from None
        except OSError as error:
            raise Problem("folder_unusable", folder=str(folder), what=error.strerror or str(error)) from error

    def release(self) -> None:
        """Let the folder go. A second call does nothing."""
        if self._lock.is_locked:
            with contextlib.suppress(OSError):
                self._named.unlink()
            self._lock.release()


def held_by(folder: Path) -> str | None:
    """What the holder of a folder tells of itself; None where nobody holds it. Raises Problem "folder_unusable"."""
    try:
        Holder(folder).release()
    except Problem as problem:
        if problem.code == "folder_held":
            return str(problem.values["holder"])
        raise
    return None
