"""Making a copy: a bundle of everything, while the program serves or not, read back before it gets its name.

A copy beside the data leaves its pictures in a folder that all copies share, as second names of the same files where
the disk can do that: pictures never change, so a year of copies holds each of them once. What a disk spoils in place is
spoiled under both names; when the store gets the picture again, so does that folder.
"""

import contextlib
import os
from collections.abc import Iterable
from datetime import datetime
from pathlib import Path

from ..bundles import Contents, write_bundle
from ..errors import Problem
from ..store.contract import Page, Readable
from ..store.disk import disk_problems, write_whole
from ..store.photos import is_whole, picture_path, read_picture

FOLDER, PHOTOS, LINKED = "copies", "photos", ".link"


class WithoutPhotos:
    """A store whose pictures stay where they are: a bundle of it names them as not in it."""

    def __init__(self, store: Readable) -> None:
        self._store, self.reports = store, store.reports

    def strips(self) -> dict[str, int]:
        """As the store's."""
        return self._store.strips()

    def read(self, strip: str, after: int, entries: int, size: int) -> Page:
        """As the store's."""
        return self._store.read(strip, after, entries, size)

    def photos(self) -> list[str]:
        """None."""
        return []

    def get_photo(self, sha256: str) -> bytes | None:
        """None."""
        return None


def make_copy(store: Readable, path: Path) -> Contents:
    """Put everything, pictures too, into a new file. Raises what `write_bundle` does."""
    with disk_problems():
        path.parent.mkdir(parents=True, exist_ok=True)
    return write_bundle(store, path)


def make_light_copy(store: Readable, path: Path, photos: Path) -> Contents:
    """Put every entry into a new file, and see that the folder beside it holds each picture.

    `photos` is where the store keeps its own pictures as files, or nowhere. Raises what `write_bundle` does.
    """
    keep_photos(store, store.photos(), path.parent, photos)
    return write_bundle(WithoutPhotos(store), path)


def keep_photos(store: Readable, hashes: Iterable[str], folder: Path, photos: Path) -> None:
    """See that these pictures are whole beside the copies in a folder, as far as the store has them whole."""
    with disk_problems():
        (folder / PHOTOS).mkdir(parents=True, exist_ok=True)
        for sha256 in hashes:
            _keep_photo(store, sha256, picture_path(folder / PHOTOS, sha256), picture_path(photos, sha256))


def _keep_photo(store: Readable, sha256: str, kept: Path, own: Path) -> None:
    if kept.exists():
        with contextlib.suppress(Problem):  # what may not be read is written over, as what is spoiled is
            if _is_one_file(kept, own) or pooled_photo(sha256, kept.parent.parent) is not None:
                return
    data = store.get_photo(sha256)
    # A damaged picture is no copy of anything.
    if data is None or not is_whole(sha256, data):
        return
    # Not the name that `write_whole` writes to: what is written there must never be the store's own file.
    beside = kept.with_suffix(LINKED)
    with contextlib.suppress(OSError):
        beside.unlink(missing_ok=True)
        os.link(own, beside)
        os.replace(beside, kept)
        return
    write_whole(kept, data)


def _is_one_file(kept: Path, own: Path) -> bool:
    """Whether both are names of one file: then the store, which looks at its own whenever it is asked, looks at both.

    Whatever came into the store's place since is another file.
    """
    return own.exists() and os.path.samefile(kept, own)


def pooled_photo(sha256: str, *folders: Path) -> bytes | None:
    """A picture of the copies in one of these folders, whole or not at all.

    Raises Problem "picture_closed" where none has it whole, and one has what this program may not read.
    """
    closed = None
    for folder in folders:
        try:
            data = read_picture(folder / PHOTOS, sha256)
        except Problem as problem:
            if problem.code != "picture_closed":
                raise
            closed = problem
        else:
            if data is not None and is_whole(sha256, data):
                return data
    if closed:
        raise closed
    return None


def new_path(folder: Path, word: str, now: datetime, ending: str = ".zip") -> Path:
    """Where something of this moment goes: a name that is free."""
    for number in range(100):
        path = folder / f"{word}-{now:%Y-%m-%d-%H%M%S}{f'-{number}' if number else ''}{ending}"
        if not path.exists():
            return path
    raise Problem("file_exists", file=str(path))
