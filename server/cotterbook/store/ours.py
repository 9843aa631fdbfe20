"""Whether a folder is one of ours: a slip in --data fills nobody's own folder, and pairs nobody with an empty one."""

import uuid
from pathlib import Path

from ..core.values import is_id
from ..errors import Problem
from .disk import is_unreadable

# What only this program makes: a folder with one of these is ours, whatever else lies in it.
MARKS = ("secret_key", "devices.json", "origin.json", "restoring", "restoring.json")
# Names that other programs use too: what is in them tells.
IDENTITY, STRIPS = "identity", "strips"
# What is left where a start was refused before anything was kept, or where all but the copies was taken away.
BEGUN = (
    "lock", "held_by", "trust", "copies", "serving", "devices.lock", "secret_key.lock", "audit.jsonl", "server.log")
# Folders that a start which was cut short leaves empty, beside its lock.
BEGUN_EMPTY = (STRIPS, "photos")
# What systems put into folders and disks by themselves; the trash of a disk has its user's number behind it.
BY_SYSTEMS = (
    "lost+found", ".DS_Store", ".Trashes", ".fseventsd", ".Spotlight-V100", "Thumbs.db", "desktop.ini",
    "System Volume Information", "$RECYCLE.BIN")
TRASH = ".Trash-"
# Each line of a journal begins so; of a damaged file one of the lines near its beginning does all the same.
JOURNAL_LINE, LOOKED_AT_BYTES = b'{"crc32":"', 1 << 16


def is_ours(folder: Path) -> bool:
    """Whether Cotterbook has kept something in this folder. Raises Problem "folder_unusable"."""
    return _is_ours(folder, _names(folder))


def check_ours(folder: Path) -> None:
    """Raise Problem "foreign_folder" where there are files and none is ours; an empty or missing folder will do."""
    names = _names(folder)
    others = {name for name in names if not name.startswith(TRASH)} - {*BEGUN, *BY_SYSTEMS}
    if "lock" in names:
        others -= {name for name in BEGUN_EMPTY if name in names and _is_empty(folder / name)}
    if others and not _is_ours(folder, names):
        raise foreign(folder, min(others))


def foreign(folder: Path, example: str) -> Problem:
    """The refusal of a folder that holds something else, of which one name is told."""
    return Problem("foreign_folder", folder=str(folder), example=example[:100])


def identity_in(data: bytes) -> str | None:
    """The identity that the file's first line says, as the program writes it; None where it says none."""
    text = data.partition(b"\n")[0].decode("ascii", "replace").strip()
    try:
        return text if str(uuid.UUID(text)) == text else None
    except ValueError:
        return None


def _is_ours(folder: Path, names: list[str]) -> bool:
    return (
        not {*MARKS}.isdisjoint(names)
        or identity_in(_beginning(folder / IDENTITY)) is not None
        or any(is_id(path.stem) and JOURNAL_LINE in _beginning(path) for path in (folder / STRIPS).glob("*.jsonl")))


def _beginning(path: Path) -> bytes:
    """The first bytes of a file; none of what is not there or is no file. Raises Problem "folder_unusable"."""
    try:
        if not path.is_file():
            return b""
        with open(path, "rb") as file:
            return file.read(LOOKED_AT_BYTES)
    except OSError as error:
        if is_unreadable(error):
            return b""  # another file tells
        raise Problem("folder_unusable", folder=str(path), what=error.strerror or str(error)) from error


def _is_empty(folder: Path) -> bool:
    return folder.is_dir() and not _names(folder)


def _names(folder: Path) -> list[str]:
    try:
        return [path.name for path in folder.iterdir()]
    except FileNotFoundError:
        return []
    except OSError as error:
        raise Problem("folder_unusable", folder=str(folder), what=error.strerror or str(error)) from error
