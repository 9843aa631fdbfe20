"""The store contract over PostgreSQL: as many server processes as wanted write and read at once."""

import contextlib
import json
from collections.abc import Iterable, Sequence
from typing import Any

from psycopg import Connection, errors
from psycopg.rows import TupleRow

from ...core.entries import size_in_bytes
from ...core.limits import ENTRIES_A_STRIP
from ...core.values import is_id
from ...core.words import say
from ...errors import Problem
from ..contract import Appended, Entry, Last, Page, named_pictures
from ..gaps import Change, Gaps
from ..paging import page_of
from ..sorting import Held, sort_out
from . import schema
from .address import address_of
from .connecting import Database
from .pictures import NAME_PICTURES, Pictures

OLDEST_SERVER = 13
LOCK_STRIP = "SELECT last, held FROM cotterbook.strips WHERE strip = %s FOR UPDATE"
# No entry is read for it: there may be many strip-downs of a few entries each.
LASTS = "SELECT strip, last, last_id FROM cotterbook.strips WHERE last_id IS NOT NULL"
FORGET_LAST = "UPDATE cotterbook.strips SET last_id = NULL WHERE strip = %s AND last_id = %s"
BEGIN_STRIP = "INSERT INTO cotterbook.strips (strip, last, held) VALUES (%s, 0, 0) ON CONFLICT DO NOTHING"
HELD = "SELECT id, number, entry FROM cotterbook.entries WHERE id = ANY(%s::uuid[])"
# In the order of ids, so that two writers that bring the same entries never wait for each other crosswise.
ADD = """
    INSERT INTO cotterbook.entries (strip, number, id, bytes, entry)
    SELECT %s, * FROM unnest(%s::bigint[], %s::uuid[], %s::integer[], %s::text[]) AS new (number, id, bytes, entry)
    ORDER BY id
"""
COUNT = "UPDATE cotterbook.strips SET last = last + %s, held = held + %s, last_id = %s WHERE strip = %s"
# One statement, so that the highest number and the rows are of one moment. Rows that the page's size leaves no room
# for stay in the database.
READ = """
    SELECT strips.last, rows.number, rows.entry
    FROM cotterbook.strips CROSS JOIN LATERAL (
        SELECT CASE WHEN %(after)s <= strips.last THEN %(after)s ELSE 0 END AS after) AS reader
    LEFT JOIN LATERAL (
        SELECT number, entry, sum(bytes) OVER (ORDER BY number) - bytes AS before FROM (
            SELECT number, bytes, entry FROM cotterbook.entries
            WHERE entries.strip = strips.strip AND number > reader.after ORDER BY number LIMIT %(entries)s) AS next
    ) AS rows ON rows.before < %(size)s
    WHERE strips.strip = %(strip)s
"""


class PostgresStore:
    """The store contract in a PostgreSQL database, which several processes may use at once.

    Numbers are given under a lock on the strip-down's row that is held until the entries are committed. So whoever
    sees a number sees every lower one, and a reader's cursor passes nobody by.
    Raises Problem when the database cannot be used; see `connecting`. `reports` says what a person should know of it.
    """

    in_folder = False

    def __init__(self, url: str, entries_a_strip: int = ENTRIES_A_STRIP, reads: bool = False) -> None:
        """`reads`: only to be read from, and so a standby will do, or a role that may do no more."""
        self._reads = reads
        self._entries_a_strip = entries_a_strip
        self._identity = ""
        self.reports: list[dict[str, Any]] = []
        address = address_of(url)
        self.shown = address.shown
        self._database = Database(address, self._prepare)
        self._pictures = Pictures(self._database, reads)
        self._pictures.look()
        with self._database.connection() as connection:
            if connection.execute("SHOW fsync").fetchone() == ("off",):
                self.reports.append(say(
                    "PostgreSQL runs with fsync off: after a power cut what phones took for kept may be gone. Turn it"
                    " on in postgresql.conf."))
            if connection.execute("SHOW data_checksums").fetchone() == ("off",):
                self.reports.append(say(
                    "PostgreSQL keeps no checksums of its pages (data_checksums off): nobody notices entries that the"
                    " disk spoils. Stop it and run pg_checksums --enable."))

    def _prepare(self, connection: Connection[TupleRow]) -> None:
        """What each new connection finds: it may be another server than before, with the data of a copy."""
        if connection.info.server_version < OLDEST_SERVER * 10_000:
            raise Problem("database_old", database=self.shown, oldest=OLDEST_SERVER)
        # What is only read is not begun: the name may be a slip.
        if self._reads and not schema.version_of(connection):
            raise Problem("nothing_in_database", database=self.shown)
        schema.migrate(connection)
        # A standby may come to lead, and have another identity then: nobody serves from one.
        self._identity = schema.identity_of(connection) if self._reads else schema.settled_identity(connection)
        if not self._identity:
            raise Problem("nothing_in_database", database=self.shown)

    @property
    def damaged(self) -> bool:
        """Never: a database whose pages do not match their checksums raises. `reports` tell of one without them."""
        return False

    @property
    def identity(self) -> str:
        """The UUID that the store got when it was begun in this database, as this process last saw it."""
        return self._identity

    def identity_now(self) -> str:
        """The same as the database has it now: another process may have begun anew."""
        with self._database.connection() as connection:
            self._identity = schema.identity_of(connection)
        return self._identity

    def begin_anew(self, known: str) -> str:
        """Take another identity in the place of `known`, because entries are gone; see the contract."""
        with self._database.connection() as connection:
            self._identity = schema.renew_identity(connection, known)
        with contextlib.suppress(Problem):  # else at the next time
            self._forget_lost_lasts()
        return self._identity

    def _forget_lost_lasts(self) -> None:
        """Tell no last entry any more that is gone itself: phones would begin anew because of it for ever."""
        lasts = self.lasts()
        places = self.places([last.id for last in lasts.values()])
        with self._database.connection() as connection:
            for strip, last in lasts.items():
                if places.get(last.id) != (strip, last.number):
                    connection.execute(FORGET_LAST, [strip, last.id])

    def is_former(self, identity: str) -> bool:
        """Whether the database that this one was filled from had this identity; see the contract."""
        with self._database.connection() as connection:
            return schema.is_former(connection, identity)

    def gaps(self) -> Gaps:
        """Which entries are gone and not back."""
        with self._database.connection() as connection:
            return schema.gaps_of(connection)

    def change_gaps(self, change: Change) -> None:
        """Keep others in the place of the gaps; see the contract."""
        with self._database.connection() as connection:
            schema.change_gaps(connection, change)

    def strips(self) -> dict[str, int]:
        """Each strip-down held, with the highest number it has given."""
        with self._database.connection() as connection:
            rows = connection.execute("SELECT strip, last FROM cotterbook.strips WHERE last > 0 ORDER BY strip")
            return {str(strip): last for strip, last in rows}

    def append(self, strip: str, entries: Sequence[Entry]) -> Appended:
        """Keep checked entries of one strip-down: the one function that writes entries."""
        if not is_id(strip):
            raise ValueError("not an identifier")
        if not entries:
            return Appended({}, [])
        # Another process may bring an entry of these into another strip-down at the same moment. Each time round one
        # more of them is held and seen.
        for _ in range(len(entries)):
            try:
                return self._append(strip, entries)
            except _IdTaken:
                continue
        return self._append(strip, entries)

    def _append(self, strip: str, entries: Sequence[Entry]) -> Appended:
        with self._database.connection() as connection, connection.transaction():
            row = connection.execute(LOCK_STRIP, [strip]).fetchone()
            if row is None:
                connection.execute(BEGIN_STRIP, [strip])
                row = connection.execute(LOCK_STRIP, [strip]).fetchone()
            assert row is not None
            last, count = row
            held = _held(connection, [entry["id"] for entry in entries])
            accepted, refused, new = sort_out(
                entries, held.get, self._entries_a_strip - count, self._entries_a_strip)
            numbers = {entry_id: last + position for position, entry_id in enumerate(new, 1)}
            if new:
                _add(connection, strip, numbers, new)
        return Appended(accepted | numbers, refused)

    def held(self, ids: Sequence[str]) -> dict[str, Entry]:
        """What the store has under these identifiers, in whichever strip-down, by identifier."""
        with self._database.connection() as connection:
            return {entry_id: held.entry for entry_id, held in _held(connection, ids).items()}

    def places(self, ids: Sequence[str]) -> dict[str, tuple[str, int]]:
        """The strip-down and the number of each of these entries that the store has."""
        with self._database.connection() as connection:
            rows = connection.execute(
                "SELECT id, strip, number FROM cotterbook.entries WHERE id = ANY(%s::uuid[])", [list(ids)])
            return {str(entry_id): (str(strip), number) for entry_id, strip, number in rows}

    def lasts(self) -> dict[str, Last]:
        """The last entry of each strip-down."""
        with self._database.connection() as connection:
            return {str(strip): Last(number, str(entry_id)) for strip, number, entry_id in connection.execute(LASTS)}

    def read(self, strip: str, after: int, entries: int, size: int) -> Page:
        """Entries numbered above `after`; see the contract."""
        if not is_id(strip):
            raise ValueError("not an identifier")
        asked = {"strip": strip, "after": after, "entries": max(entries, 0), "size": size}
        with self._database.connection() as connection:
            found = connection.execute(READ, asked).fetchall()
        last = found[0][0] if found else 0
        rows = {number: json.loads(text) for _, number, text in found if number is not None}
        return page_of(rows.get, after if after <= last else 0, last, entries, size)

    def photos(self) -> list[str]:
        """The hash of every picture held, in order."""
        return self._pictures.hashes()

    def missing_photos(self, hashes: Iterable[str]) -> list[str]:
        """Those of the hashes for which there is no whole picture: a phone may let its own go because of the answer."""
        return self._pictures.missing(hashes)

    def wanted_photos(self) -> list[str]:
        """The hash of every picture that was damaged here and did not come again yet."""
        return self._pictures.wanted()

    def awaited_photos(self) -> list[str]:
        """The hash of every picture that a phone should send if it has it; see the contract."""
        return self._pictures.awaited()

    def put_photo(self, sha256: str, data: bytes) -> None:
        """Keep a checked picture: the one function that writes pictures."""
        self._pictures.put(sha256, data)

    def get_photo(self, sha256: str) -> bytes | None:
        """The picture's bytes, or None when it is not held or damaged."""
        return self._pictures.get(sha256)

    def close(self) -> None:
        """Close every connection. A second call does nothing."""
        self._database.close()


class _IdTaken(Exception):
    """Another process kept an entry under one of our ids after we had looked."""


def _held(connection: Connection[TupleRow], ids: Sequence[str]) -> dict[str, Held]:
    rows = connection.execute(HELD, [list(ids)])
    return {str(entry_id): Held(number, json.loads(text)) for entry_id, number, text in rows}


def _add(connection: Connection[TupleRow], strip: str, numbers: dict[str, int], new: dict[str, Entry]) -> None:
    """Add new entries under their numbers. Raises _IdTaken when another process was quicker with one of them."""
    sizes = [size_in_bytes(entry) for entry in new.values()]
    # In ASCII, so that any text comes back as it was from a database of any encoding. JSON's own type would refuse the
    # zero character, which an entry of a kind to come may hold.
    texts = [json.dumps(entry, separators=(",", ":")) for entry in new.values()]
    try:
        connection.execute(ADD, [strip, list(numbers.values()), list(new), sizes, texts])
        if named := named_pictures(new.values()):
            connection.execute(NAME_PICTURES, [named])
    except (errors.UniqueViolation, errors.DeadlockDetected):
        raise _IdTaken from None
    connection.execute(COUNT, [len(new), len(new), next(reversed(new)), strip])
