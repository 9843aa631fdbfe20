"""The default store: one journal for each strip-down, and a folder of pictures."""

import json
import threading
import uuid
from collections.abc import Iterable, Sequence
from functools import partial
from pathlib import Path
from typing import Any

from ..core.limits import ENTRIES_A_STRIP
from ..core.values import is_id
from ..core.words import say
from .changing_places import finish_changing
from .contract import Appended, Entry, Page, named_pictures
from .disk import clear_temporary, disk_problems, read_or_nothing, sync_folder, write_whole
from .holder import Holder
from .ours import IDENTITY, foreign, identity_in
from .paging import page_of
from .photos import PhotoFolder
from .sorting import Held, sort_out
from .tables import ENTRIES, EntryDatabase, JournalStorage

SUFFIX = ".jsonl"


class TinyStore:
    """The store contract over TinyDB, in one folder that belongs to one process.

    Everything is read into memory when it opens. `reports` then says, as
    sentences for people, what was found wrong and what was done about it.
    """

    in_folder = True

    def __init__(self, folder: Path, entries_a_strip: int = ENTRIES_A_STRIP) -> None:
        self.shown = str(folder)
        self._entries_a_strip = entries_a_strip
        self._writing = threading.Lock()
        self._databases: dict[str, EntryDatabase] = {}
        self._found: dict[str, tuple[str, int]] = {}
        self.reports: list[dict[str, Any]] = []
        self._holder = Holder(folder)
        try:
            finish_changing(folder)
            with disk_problems():
                self._strips_folder = folder / "strips"
                self._strips_folder.mkdir(exist_ok=True)
                clear_temporary(self._strips_folder)
                self._photos = PhotoFolder(folder / "photos")
                for path in sorted(self._strips_folder.glob("*" + SUFFIX)):
                    self._open_file(path)
                self._identity = _identity(folder, self._damage(), bool(self._databases))
                sync_folder(folder)
        except BaseException:
            self.close()
            raise

    def _open_file(self, path: Path) -> None:
        if not is_id(path.stem):
            self.reports.append(say("{file} is no file of a strip-down and is left alone.", file=path.name))
            return
        database = self._open(path.stem)
        for row in database.table(ENTRIES):
            self._found[row["id"]] = (path.stem, row.doc_id)
        self._photos.name(named_pictures(database.table(ENTRIES)))

    def _open(self, strip: str) -> EntryDatabase:
        """The strip-down's database, made when there is none. `strip` was checked."""
        if strip not in self._databases:
            database = EntryDatabase(self._strips_folder / (strip + SUFFIX), strip)
            self.reports.extend(_storage(database).reports)
            self._databases[strip] = database
        return self._databases[strip]

    def _damage(self) -> str:
        """What is damaged, as a line that differs when something else is; empty where all is whole."""
        found = {strip: _storage(database).damaged_lines for strip, database in self._databases.items()}
        damaged = json.dumps({strip: lines for strip, lines in sorted(found.items()) if lines})
        return "" if damaged == "{}" else damaged

    @property
    def damaged(self) -> bool:
        """Whether lines of a journal cannot be read any more."""
        return bool(self._damage())

    @property
    def identity(self) -> str:
        """The UUID that the folder got when it was begun, or when damage was last found in it."""
        return self._identity

    def strips(self) -> dict[str, int]:
        """Each strip-down held, with the highest number it has given."""
        return {strip: self._last(strip) for strip in self._databases.copy()}

    def _last(self, strip: str) -> int:
        return _storage(self._databases[strip]).next_number - 1 if strip in self._databases else 0

    def append(self, strip: str, entries: Sequence[Entry]) -> Appended:
        """Keep checked entries of one strip-down: the one function that writes entries."""
        if not is_id(strip):
            raise ValueError("not an identifier")
        with self._writing:
            room = self._entries_a_strip - (len(self._databases[strip]) if strip in self._databases else 0)
            accepted, refused, new = sort_out(entries, self._held, room, self._entries_a_strip)
            if new:
                numbers = self._open(strip).table(ENTRIES).insert_multiple(new.values())
                for entry_id, number in zip(new, numbers, strict=True):
                    accepted[entry_id] = number
                    self._found[entry_id] = (strip, number)
                self._photos.name(named_pictures(new.values()))
        return Appended(accepted, refused)

    def _held(self, entry_id: str) -> Held | None:
        where = self._found.get(entry_id)
        if where is None:
            return None
        entry = self._row(*where)
        assert entry is not None
        return Held(where[1], entry)

    def held(self, ids: Sequence[str]) -> dict[str, Entry]:
        """What the store has under these identifiers, in whichever strip-down, by identifier."""
        found = {entry_id: self._held(entry_id) for entry_id in ids}
        return {entry_id: held.entry for entry_id, held in found.items() if held}

    def _row(self, strip: str, number: int) -> Entry | None:
        return self._databases[strip].table(ENTRIES).get(doc_id=number)

    def read(self, strip: str, after: int, entries: int, size: int) -> Page:
        """Entries numbered above `after`; see the contract."""
        if not is_id(strip):
            raise ValueError("not an identifier")
        last = self._last(strip)
        return page_of(partial(self._row, strip), after if after <= last else 0, last, entries, size)

    def photos(self) -> list[str]:
        """The hash of every picture held, in order."""
        return self._photos.hashes()

    def missing_photos(self, hashes: Iterable[str]) -> list[str]:
        """Which of these pictures are not held."""
        return self._photos.missing(hashes)

    def wanted_photos(self) -> list[str]:
        """The hash of every picture that was damaged here and did not come again yet."""
        return self._photos.wanted()

    def awaited_photos(self) -> list[str]:
        """The hash of every picture that a phone should send if it has it; see the contract."""
        return self._photos.awaited()

    def put_photo(self, sha256: str, data: bytes) -> None:
        """Keep a checked picture: the one function that writes pictures."""
        with self._writing:
            self._photos.put(sha256, data)

    def get_photo(self, sha256: str) -> bytes | None:
        """The picture's bytes, or None when it is not held or damaged."""
        return self._photos.get(sha256)

    def close(self) -> None:
        """Close the journals and let the folder go."""
        with self._writing:
            for database in self._databases.values():
                database.close()
            self._databases = {}
            self._holder.release()


def _identity(folder: Path, damage: str, has_journals: bool) -> str:
    """What the file says, or a new identity where it says none or knows less damage.

    By another identity phones send all that they hold once more, and so bring back what was lost here. Without a
    journal beside it a file that says something else is not ours to write over: Problem "foreign_folder".
    """
    path = folder / IDENTITY
    data = read_or_nothing(path)
    kept = identity_in(data)
    if kept is not None and data.partition(b"\n")[2].decode("ascii", "replace").strip() == damage:
        return kept
    # Of a file that a power cut left without its bytes some disks keep the length, in zeros.
    if kept is None and not has_journals and data.strip(b"\0 \r\n"):
        raise foreign(folder, IDENTITY)
    made = str(uuid.uuid4())
    write_whole(path, f"{made}\n{damage}".encode())
    return made


def _storage(database: EntryDatabase) -> JournalStorage:
    storage = database.storage
    assert isinstance(storage, JournalStorage)
    return storage
