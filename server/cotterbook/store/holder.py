"""One process to a folder: who comes second is told who holds it."""

import contextlib
import os
from datetime import datetime
from pathlib import Path

from filelock import FileLock, Timeout

from ..errors import Problem


def hold(folder: Path) -> FileLock:
    """Take the folder for this process until the lock is released or the process ends, however it ends.

    Makes the folder when it is not there. Raises Problem "folder_unusable" or "folder_held".
    """
    named = folder / "held_by"
    try:
        folder.mkdir(mode=0o700, parents=True, exist_ok=True)
        lock = FileLock(folder / "lock", timeout=0, thread_local=False)
        lock.acquire()
        named.write_text(f"process {os.getpid()}, since {datetime.now():%Y-%m-%d %H:%M}", encoding="utf-8")
    except Timeout:
        holder = "another process"
        with contextlib.suppress(OSError):
            holder = named.read_text(encoding="utf-8")
        raise Problem("folder_held", folder=str(folder), holder=holder) from None
    except OSError as error:
        raise Problem("folder_unusable", folder=str(folder), what=error.strerror or str(error)) from error
    return lock
