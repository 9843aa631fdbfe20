"""What can be read of a file of which the disk has lost a part.

A sector that cannot be read is damage of that one file, as a flipped bit is, and no trouble of the whole disk: what
else there is is read on. A file that may not be opened, or for which no handle is left, is not damaged.
"""

import os
from io import FileIO
from pathlib import Path
from typing import NamedTuple

from .disk import is_unreadable, read_whole, sync_folder

# Disks lose 512 or 4,096 bytes at once, and file systems read by no less than the latter.
BLOCK_BYTES = 4_096
JOURNAL, SALVAGED = ".jsonl", ".salvaged"


class Salvaged(NamedTuple):
    """The bytes of a file, with zeros for those that the disk lost, and whether all of them could be read.

    Where the end is lost, a line's end stands behind it: what comes next is no part of what was lost.
    """

    data: bytes
    whole: bool


def read_what_is_left(path: Path) -> Salvaged:
    """Read a file, around what cannot be read. Raises OSError for any other reason why it can't be."""
    try:
        return Salvaged(read_whole(path), True)
    except OSError as error:
        if not is_unreadable(error):
            raise
    length = path.stat().st_size
    try:
        with open(path, "rb", buffering=0) as file:
            return Salvaged(around_what_is_lost(file, length), False)
    except OSError as error:
        if not is_unreadable(error):
            raise
    return Salvaged(b"\0" * length + b"\n", False)


def journal_of(folder: Path, name: str) -> Path:
    """Where the journal of this name is: what was saved of it, where it has gone aside already.

    On a disk without second names a crash may come between its going and the other's taking its place.
    """
    path, saved = folder / (name + JOURNAL), folder / (name + SALVAGED)
    return saved if saved.exists() and not path.exists() else path


def journal_names(folder: Path) -> list[str]:
    """The names, without their endings, of all that `journal_of` finds, in order."""
    return sorted({path.stem for ending in (JOURNAL, SALVAGED) for path in folder.glob("*" + ending)})


def finish_salvage(folder: Path) -> None:
    """Let what was saved of a journal take its place where a crash came before that. The folder is held.

    Raises OSError.
    """
    for name in journal_names(folder):
        if (path := journal_of(folder, name)).suffix == SALVAGED:
            os.replace(path, folder / (name + JOURNAL))
            sync_folder(folder)


def around_what_is_lost(file: FileIO, length: int) -> bytes:
    """The first `length` bytes of a file that cannot be read as a whole; see `Salvaged`."""
    found, lost = bytearray(), True
    while len(found) < length:
        block = min(BLOCK_BYTES, length - len(found))
        file.seek(len(found), os.SEEK_SET)
        try:
            piece = file.read(block)
            if not piece:  # it is shorter than it says
                break
            lost = False
        except OSError as error:
            if not is_unreadable(error):
                raise
            piece, lost = bytes(block), True
        found += piece
    return bytes(found) + (b"\n" if lost else b"")
