"""The default store: one journal for each strip-down, and a folder of pictures."""

import contextlib
import json
import threading
from collections.abc import Iterable, Sequence
from functools import partial
from pathlib import Path
from typing import Any

from ..core.limits import ENTRIES_A_STRIP
from ..core.values import is_id
from ..core.words import say
from ..errors import Problem
from .changing_places import finish_changing
from .contract import Appended, Entry, Last, Page, named_pictures
from .disk import clear_temporary, disk_problems, sync_folder
from .gaps import Change, Gaps
from .holder import Holder
from .identity import IdentityFile
from .journal import NOT_TAKEN_OVER
from .paging import page_of
from .photos import PhotoFolder
from .salvage import finish_salvage
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
        self._lasts: dict[str, Last] = {}
        self._identity: IdentityFile | None = None
        self.reports: list[dict[str, Any]] = []
        self._holder = Holder(folder)
        try:
            finish_changing(folder)
            with disk_problems():
                self._strips_folder = folder / "strips"
                self._strips_folder.mkdir(exist_ok=True)
                clear_temporary(self._strips_folder)
                finish_salvage(self._strips_folder)
                self._photos = PhotoFolder(folder / "photos")
                for path in sorted(self._strips_folder.glob("*" + SUFFIX)):
                    self._open_file(path)
                self._take_over()
                self._identity = IdentityFile(folder, self._damage(), self.strips(), self._readable())
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
            # Where a file holds an entry twice the first stands, and the last one is told only as it is found.
            place = self._found.setdefault(row["id"], (path.stem, row.doc_id))
            if place == (path.stem, row.doc_id) and self._lasts.get(path.stem, (0,))[0] < row.doc_id:
                self._lasts[path.stem] = Last(row.doc_id, row["id"])
        self._photos.name(named_pictures(database.table(ENTRIES)))

    def _take_over(self) -> None:
        """Give each strip-down those of its entries that a file has under another's name: they were acknowledged, and
        what is told to be done about that file must cost none of them."""
        for database in list(self._databases.values()):
            storage = _storage(database)
            for strip, entries in storage.others.items():
                left = len(entries)
                if is_id(strip):
                    with contextlib.suppress(Problem):
                        left = len(self.append(strip, entries).refused)
                if left:
                    self.reports.append(say(NOT_TAKEN_OVER, file=storage.path.name, strip=strip, count=left))
            storage.others = {}

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
        assert self._identity is not None
        return self._identity.identity

    def identity_now(self) -> str:
        """The same: the folder belongs to this process."""
        return self.identity

    def begin_anew(self, known: str) -> str:
        """Take another identity in the place of `known`, because entries are gone; see the contract."""
        with self._writing:
            assert self._identity is not None
            return self._identity.begin_anew(known)

    def is_former(self, identity: str) -> bool:
        """Never: a copy of a folder goes on by the identity that is in it, until a phone tells that it is older."""
        return False

    def gaps(self) -> Gaps:
        """Which entries are gone and not back."""
        assert self._identity is not None
        return self._identity.gaps

    def change_gaps(self, change: Change) -> None:
        """Keep others in the place of the gaps; see the contract."""
        with self._writing:
            assert self._identity is not None
            self._identity.change_gaps(change)

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
                first = strip not in self._lasts
                self._lasts[strip] = Last(number, entry_id)
                self._photos.name(named_pictures(new.values()))
                # A young file is what the mending of a file system takes away most easily.
                if first and self._identity:
                    self._identity.note(self._readable())
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

    def places(self, ids: Sequence[str]) -> dict[str, tuple[str, int]]:
        """The strip-down and the number of each of these entries that the store has."""
        return {entry_id: self._found[entry_id] for entry_id in ids if entry_id in self._found}

    def lasts(self) -> dict[str, Last]:
        """The last entry of each strip-down, of those that can be read."""
        # Not between the entries and what is noted of them: a page that has them would be ahead of this.
        with self._writing:
            return self._lasts.copy()

    def _readable(self) -> dict[str, int]:
        return {strip: last.number for strip, last in self._lasts.items()}

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
            if self._identity and self._databases:
                self._identity.note(self._readable())
            for database in self._databases.values():
                database.close()
            self._databases = {}
            self._holder.release()


def _storage(database: EntryDatabase) -> JournalStorage:
    storage = database.storage
    assert isinstance(storage, JournalStorage)
    return storage
