"""Bytes onto the disk, for certain: what is written here survives a crash once the call returns."""

import contextlib
import errno
import os
import sys
from collections.abc import Iterator
from pathlib import Path

from ..errors import Problem

if sys.platform == "darwin":
    import fcntl

DISK_FULL = (errno.ENOSPC, errno.EDQUOT, errno.EFBIG)
TEMPORARY = ".tmp"


@contextlib.contextmanager
def disk_problems() -> Iterator[None]:
    """Turn the system's errors into Problem "disk_full" or "disk_trouble"."""
    try:
        yield
    except OSError as error:
        if error.errno in DISK_FULL:
            raise Problem("disk_full") from error
        raise Problem("disk_trouble", what=error.strerror or str(error)) from error


def sync_file(number: int) -> None:
    """Wait until an open file's bytes are on the disk itself."""
    if sys.platform == "darwin":
        # There fsync stops at the drive's cache.
        fcntl.fcntl(number, fcntl.F_FULLFSYNC)
    else:
        os.fsync(number)


def sync_folder(folder: Path) -> None:
    """Wait until a folder's list of names is on the disk."""
    if os.name == "nt":
        return  # Windows opens no folder as a file; its rename is written through the journal of the file system.
    number = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(number)
    finally:
        os.close(number)


def write_whole(path: Path, data: bytes) -> None:
    """Put `data` at `path`, whole or not at all, readable by its owner alone.

    Whatever was there before stays until the new bytes are on the disk. Raises OSError.
    """
    beside = path.with_name(path.name + TEMPORARY)
    try:
        number = os.open(beside, os.O_WRONLY | os.O_CREAT | os.O_TRUNC | getattr(os, "O_BINARY", 0), 0o600)
        with os.fdopen(number, "wb") as file:
            file.write(data)
            file.flush()
            sync_file(file.fileno())
        os.replace(beside, path)
    except OSError:
        with contextlib.suppress(OSError):
            beside.unlink()
        raise
    sync_folder(path.parent)


def clear_temporary(folder: Path) -> None:
    """Remove what a crash left half-written under a temporary name; none of it was ever acknowledged."""
    for path in folder.glob("*" + TEMPORARY):
        path.unlink()
