"""Pictures as files, each under the SHA-256 of its bytes."""

import contextlib
import hashlib
import os
import shutil
import threading
from collections.abc import Iterable
from pathlib import Path

from ..core.values import HEXADECIMAL
from ..errors import Problem
from .disk import clear_temporary, disk_problems, read_or_nothing, write_whole

DAMAGED = ".damaged"
# What says that one picture may not be read, and nothing of the disk: its rights, or a folder in its place.
CLOSED = (PermissionError, IsADirectoryError)
# Pictures stop here, so that entries still have room.
LEFT_FOR_ENTRIES_BYTES = 200_000_000


def is_hash(value: object) -> bool:
    """Whether `value` is a SHA-256 in lower-case hexadecimal."""
    return isinstance(value, str) and len(value) == 64 and value.strip(HEXADECIMAL) == ""


def picture_path(folder: Path, sha256: str) -> Path:
    """Where a picture lies. Raises ValueError for what is no hash, before it becomes part of a path."""
    if not is_hash(sha256):
        raise ValueError("not a SHA-256 in lower-case hexadecimal")
    return folder / (sha256 + ".jpg")


def read_picture(folder: Path, sha256: str) -> bytes | None:
    """The bytes of a picture, or None when there is no such picture; of one that the disk can't read, none.

    Raises Problem "picture_closed", which names it, where this program may not read it.
    """
    path = picture_path(folder, sha256)
    with disk_problems():
        try:
            return read_or_nothing(path) if path.exists() else None
        except CLOSED as error:
            raise Problem("picture_closed", file=str(path), what=error.strerror or str(error)) from error


def hashes_in(folder: Path) -> list[str]:
    """The hash of every picture in the folder, in order; of a folder that is not there none."""
    with disk_problems(), contextlib.suppress(FileNotFoundError):
        names = map(Path, os.listdir(folder))
        return sorted(name.stem for name in names if name.suffix == ".jpg" and is_hash(name.stem))
    return []


def is_whole(sha256: str, data: bytes) -> bool:
    """Whether these are the bytes that the picture was kept under."""
    return hashlib.sha256(data).hexdigest() == sha256


def is_there(path: Path) -> bool:
    """Whether something has that name; what can't be looked at counts as there."""
    try:
        return path.exists()
    except OSError:
        return True


class PhotoFolder:
    """A folder of pictures. Each name is checked before it becomes part of a path.

    A picture whose bytes are found to be others than were kept, or that the disk can't read, is put aside under another
    name, and is wanted again. So is one that this program may not read, which stays where it is.
    """

    def __init__(self, folder: Path) -> None:
        self._folder, self._setting_aside = folder, threading.Lock()
        folder.mkdir(exist_ok=True)
        clear_temporary(folder)
        aside = {path.stem for path in folder.glob("*" + DAMAGED) if is_hash(path.stem)}
        self._wanted = aside - set(self.hashes())
        self._named: set[str] = set()
        self._lacking: set[str] = set()
        for sha256 in self._wanted.copy():
            self._put_back(sha256)

    def name(self, hashes: Iterable[str]) -> None:
        """Entries name these pictures."""
        new = set(hashes) - self._named
        self._named |= new
        self._lacking |= {sha256 for sha256 in new if not is_there(picture_path(self._folder, sha256))}

    def awaited(self) -> list[str]:
        """The hash of every picture that was named and is not here, or is wanted, in order."""
        return sorted({*self.wanted(), *self._lacking.copy()})

    def _put_back(self, sha256: str) -> None:
        """Take back what was put aside where it is whole after all: a loose cable spoils nothing for good."""
        path = picture_path(self._folder, sha256)
        with contextlib.suppress(OSError):  # what can't be looked at is wanted, and stops no start
            if is_whole(sha256, read_or_nothing(path.with_suffix(DAMAGED))):
                os.replace(path.with_suffix(DAMAGED), path)
                self._wanted.discard(sha256)

    def wanted(self) -> list[str]:
        """The hash of every picture that was damaged here and did not come again yet, in order.

        What can't be looked at is still wanted: entries come and go beside it.
        """
        for sha256 in self._wanted.copy():
            path = picture_path(self._folder, sha256)
            if is_there(path):
                with contextlib.suppress(Problem):
                    self.get(sha256)  # put back by hand, or by a phone while another thread looked
            elif not is_there(path.with_suffix(DAMAGED)):  # somebody took it away: nobody has it any more
                self._wanted.discard(sha256)
        return sorted(self._wanted.copy())

    def hashes(self) -> list[str]:
        """The hash of every picture held, in order; of a folder that may not be read, none: entries go on beside it."""
        try:
            return hashes_in(self._folder)
        except Problem as problem:
            if isinstance(problem.__cause__, PermissionError):
                return []
            raise

    def missing(self, hashes: Iterable[str]) -> list[str]:
        """Those of the hashes for which there is no whole picture: a phone may let its own go because of the answer."""
        return [sha256 for sha256 in hashes if self.get(sha256) is None]

    def put(self, sha256: str, data: bytes) -> None:
        """Keep the bytes; they are on disk when this returns. Raises Problem "disk_for_entries" or a disk's."""
        path = picture_path(self._folder, sha256)
        if self.get(sha256) is None:
            with disk_problems():
                if shutil.disk_usage(self._folder).free - len(data) < LEFT_FOR_ENTRIES_BYTES:
                    raise Problem("disk_for_entries")
                write_whole(path, data)
            self._wanted.discard(sha256)
            self._lacking.discard(sha256)

    def get(self, sha256: str) -> bytes | None:
        """The bytes, or None when there is no such picture, it is damaged or this program may not read it."""
        try:
            data = read_picture(self._folder, sha256)
        except Problem as problem:
            if problem.code != "picture_closed":
                raise
            # Copied in by another user, say. A phone's takes its place, or somebody gives the right to read it.
            self._wanted.add(sha256)
            return None
        if data is None:
            if sha256 in self._named:
                self._lacking.add(sha256)
            return None
        if is_whole(sha256, data):
            self._lacking.discard(sha256)
            self._wanted.discard(sha256)
            return data
        with self._setting_aside:
            # Once more: meanwhile another thread may have put it aside, and a phone have sent it.
            data = read_picture(self._folder, sha256)
            if data is None or is_whole(sha256, data):
                return data
            path = picture_path(self._folder, sha256)
            with contextlib.suppress(OSError):
                os.replace(path, path.with_suffix(DAMAGED))
                self._wanted.add(sha256)
        return None
