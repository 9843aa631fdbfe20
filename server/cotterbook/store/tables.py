"""TinyDB with a journal under it: an ordinary table to read, and an append that costs what it adds.

TinyDB itself writes the whole table for every change. Here a change of that
sort is possible too, and safe, but entries only ever come in by
`insert_multiple`, which adds lines to the journal.
"""

import os
from collections.abc import Iterable, Mapping
from pathlib import Path
from typing import Any

from tinydb import TinyDB
from tinydb.storages import Storage
from tinydb.table import Table

from ..core.words import say
from ..errors import Problem
from .disk import disk_problems, free_path, read_whole, sync_file, sync_folder, write_whole
from .journal import WRITTEN_ANEW, Journal, entry_lines, header, parse
from .salvage import SALVAGED, read_what_is_left

ENTRIES = "entries"
Tables = dict[str, dict[str, Any]]


class JournalStorage(Storage):
    """One journal, held in memory. Only one thread may write at a time; any may read.

    `reports` says in words what was found wrong with the file when it was opened; `others` are entries in it that
    belong to other strip-downs, by these.
    """

    def __init__(self, path: Path, strip: str) -> None:
        self.path, self._strip = path, strip
        with disk_problems():
            if not path.exists():
                write_whole(path, header(strip))
            journal = self._load()
        self.reports = journal.reports

    def _load(self) -> Journal:
        """Read the file into memory; cut off what a crash left behind its last whole line."""
        data, whole = read_what_is_left(self.path)
        journal = parse(data, self.path)
        if not whole:
            aside = self._replace_unreadable(data)
            journal.reports.insert(0, say(WRITTEN_ANEW, file=self.path.name, aside=aside.name))
        self._rows: dict[str, Any] = {str(number): document for number, document in journal.documents.items()}
        self._length, self.damaged_lines, self._cut_needed = journal.length, journal.damaged_lines, False
        self.next_number, self.others = journal.next_number, journal.others
        if journal.length == 0:
            first = header(self._strip)
            if not first.startswith(data):
                self._keep_aside(data)
            write_whole(self.path, first)
            self._length = len(first)
        elif journal.unended:
            self._end_last_line()
        elif journal.length < len(data):
            self._cut()
        return journal

    def read(self) -> Tables:
        """TinyDB's view: the table by name. Its rows are shared, so that reading copies nothing."""
        return {ENTRIES: self._rows}

    def append(self, documents: list[Mapping[str, Any]]) -> list[int]:
        """Add documents at the end and return their numbers once they are on disk.

        Raises Problem when they are not; then the file and the memory are as before.
        """
        numbered = {self.next_number + i: dict(document) for i, document in enumerate(documents)}
        lines = entry_lines(numbered)
        with disk_problems():
            if self._cut_needed:
                self._cut()
            if self.path.stat().st_size != self._length:
                raise Problem("changed_outside", file=self.path.name)
            try:
                self._write_at_end(lines)
            except OSError:
                self._cut_needed = True
                self._cut()
                raise
        self._length += len(lines)
        self._rows.update((str(number), document) for number, document in numbered.items())
        self.next_number += len(numbered)
        return list(numbered)

    def _write_at_end(self, lines: bytes) -> None:
        # Unbuffered: an error must come from here, not from closing the file.
        with open(self.path, "ab", buffering=0) as file:
            rest = memoryview(lines)
            while rest:
                rest = rest[file.write(rest):]
            sync_file(file.fileno())

    def _end_last_line(self) -> None:
        with open(self.path, "r+b", buffering=0) as file:
            file.seek(self._length - 1)
            file.write(b"\n")
            sync_file(file.fileno())

    def _cut(self) -> None:
        """Take the file back to its last whole line."""
        with open(self.path, "r+b", buffering=0) as file:
            os.ftruncate(file.fileno(), self._length)
            sync_file(file.fileno())
        self._cut_needed = False

    def write(self, data: Tables) -> None:
        """TinyDB's write of everything: a new file takes the old one's place, whole or not at all."""
        documents = {int(number): document for number, document in data.get(ENTRIES, {}).items()}
        with disk_problems():
            try:
                if self.damaged_lines:
                    self._keep_aside(read_whole(self.path))
                write_whole(self.path, header(self._strip) + entry_lines(documents))
            finally:
                # TinyDB may have changed rows in place: what counts is what the file says now.
                given = self.next_number
                self._load()
                self.next_number = max(given, self.next_number)

    def _keep_aside(self, data: bytes) -> None:
        """Keep the bytes of a damaged file beside the new one that takes its place."""
        write_whole(self._aside(), data)

    def _aside(self) -> Path:
        return free_path(lambda number: self.path.with_suffix(f".damaged-{number}"))

    def _replace_unreadable(self, data: bytes) -> Path:
        """Put what can be read in the place of a file that can't be read whole; where that one is now.

        On the bad place itself nothing could be added any more, and nobody can copy what can't be read.
        """
        aside, new = self._aside(), self.path.with_suffix(SALVAGED)
        write_whole(new, data)
        try:
            os.link(self.path, aside)
        except OSError:  # a disk without second names; a crash before the next line is seen to at the next opening
            os.replace(self.path, aside)
        os.replace(new, self.path)
        sync_folder(self.path.parent)
        return aside


class EntryTable(Table):
    """A table whose inserts cost what they add, however long the log."""

    def insert(self, document: Mapping[str, Any]) -> int:
        """Add one document; its number."""
        return self.insert_multiple([document])[0]

    def insert_multiple(self, documents: Iterable[Mapping[str, Any]]) -> list[int]:
        """Add documents in one write; their numbers, in order. They are on disk when this returns."""
        storage = self.storage
        assert isinstance(storage, JournalStorage)
        numbers = storage.append(list(documents))
        self.clear_cache()
        return numbers


class EntryDatabase(TinyDB):
    """TinyDB over one journal."""

    table_class = EntryTable
    default_table_name = ENTRIES

    def __init__(self, path: Path, strip: str) -> None:
        super().__init__(path, strip, storage=JournalStorage)
