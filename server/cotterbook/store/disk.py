"""Bytes onto the disk, for certain: what is written here survives a crash once the call returns."""

import contextlib
import errno
import os
import sys
from collections.abc import Callable, Iterator
from itertools import count
from pathlib import Path

from ..errors import Problem

if sys.platform == "darwin":
    import fcntl

DISK_FULL = (errno.ENOSPC, errno.EDQUOT, errno.EFBIG)
# What a disk or its file system says of bytes that are lost.
UNREADABLE = (errno.EIO, errno.EBADMSG, getattr(errno, "EUCLEAN", errno.EIO))
TEMPORARY = ".tmp"


@contextlib.contextmanager
def disk_problems() -> Iterator[None]:
    """Turn the system's errors into Problem "disk_full" or "disk_trouble", which names the file that it is about."""
    try:
        yield
    except OSError as error:
        if error.errno in DISK_FULL:
            raise Problem("disk_full") from error
        what = error.strerror or str(error)
        # Of two names the second is the one to be: the first is there for a moment.
        if file := error.filename2 or error.filename:
            what = f"{what}: {file}"
        raise Problem("disk_trouble", what=what) from error


def is_unreadable(error: OSError) -> bool:
    """Whether the disk has lost what was asked for, and not merely the right or the means to read it."""
    return error.errno in UNREADABLE


def read_whole(path: Path) -> bytes:
    """All bytes of a file. Raises OSError, which names the file also where reading fails half-way."""
    try:
        return path.read_bytes()
    except OSError as error:
        raise OSError(error.errno, error.strerror, str(path)) from error


def read_or_nothing(path: Path) -> bytes:
    """All bytes of a file, or none where it is not there or the disk lost some of them. Raises OSError."""
    try:
        return read_whole(path)
    except FileNotFoundError:
        return b""
    except OSError as error:
        if is_unreadable(error):
            return b""
        raise


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


def free_path(named: Callable[[int], Path]) -> Path:
    """The first of these paths, by number from 1, where nothing is: what was put aside before is not written over."""
    return next(path for path in map(named, count(1)) if not os.path.lexists(path))


def clear_temporary(folder: Path) -> None:
    """Remove what a crash left half-written under a temporary name; none of it was ever acknowledged."""
    for path in folder.glob("*" + TEMPORARY):
        path.unlink()
