"""Pictures in the database: kept, given out, and asked about: which are whole, and which entries name that are not.

A page of the database that its disk spoiled is damage of the pictures on it, and stops no other. What PostgreSQL can
no longer read it can't delete either, so such a picture's row gets another name where the picture comes again.
"""

import contextlib
from collections.abc import Iterable, Sequence
from typing import Any

from psycopg import Connection, errors
from psycopg.rows import TupleRow

from ..photos import is_hash, is_whole
from .connecting import Database

# The hash is taken in the database: a phone asks for hundreds of pictures, and none of their bytes is wanted.
WHOLE = """
    SELECT sha256, encode(sha256(data), 'hex') = sha256 FROM cotterbook.pictures
    WHERE sha256 = ANY(%s) AND NOT damaged
"""
# So many at once that the answer comes well within the time that a statement has.
HASHED_AT_ONCE = 50
SET_ASIDE = """
    UPDATE cotterbook.pictures SET damaged = true
    WHERE sha256 = ANY(%s) AND NOT damaged AND encode(sha256(data), 'hex') <> sha256
"""
SET_ASIDE_UNREADABLE = "UPDATE cotterbook.pictures SET damaged = true WHERE sha256 = ANY(%s) AND NOT damaged"
# As long as a hash, and none.
RENAME_UNREADABLE = """
    UPDATE cotterbook.pictures SET damaged = true,
        sha256 = 'spoiled-' || left(encode(sha256(convert_to(sha256 || clock_timestamp(), 'UTF8')), 'hex'), 56)
    WHERE sha256 = %s
"""
KEEP_PICTURE = """
    INSERT INTO cotterbook.pictures AS held (sha256, data) VALUES (%s, %b)
    ON CONFLICT (sha256) DO UPDATE SET data = excluded.data, damaged = false
    WHERE held.damaged OR held.data <> excluded.data
"""
NAME_PICTURES = """
    INSERT INTO cotterbook.named_pictures (sha256, held)
    SELECT sha256, EXISTS (SELECT 1 FROM cotterbook.pictures WHERE pictures.sha256 = new.sha256 AND NOT damaged)
    FROM unnest(%s::text[]) AS new (sha256) ORDER BY sha256 ON CONFLICT DO NOTHING
"""
PICTURE_CAME = "UPDATE cotterbook.named_pictures SET held = true WHERE sha256 = %s AND NOT held"
# Rows are locked in order, so that two processes that find the same never wait for each other crosswise.
PICTURES_GONE = """
    UPDATE cotterbook.named_pictures SET held = false WHERE sha256 IN (
        SELECT sha256 FROM cotterbook.named_pictures WHERE sha256 = ANY(%s) AND held ORDER BY sha256 FOR UPDATE)
"""
LOOK_FOR_PICTURES = """
    UPDATE cotterbook.named_pictures SET held = false WHERE sha256 IN (
        SELECT sha256 FROM cotterbook.named_pictures AS named WHERE held
        AND NOT EXISTS (SELECT 1 FROM cotterbook.pictures WHERE pictures.sha256 = named.sha256)
        ORDER BY sha256 FOR UPDATE)
"""
# Of the few that are said not to be held some may have come meanwhile: one was named and came at the same moment.
AWAITED = """
    SELECT sha256 FROM cotterbook.named_pictures AS named WHERE NOT held
    AND NOT EXISTS (SELECT 1 FROM cotterbook.pictures WHERE pictures.sha256 = named.sha256 AND NOT damaged)
    UNION SELECT sha256 FROM cotterbook.pictures WHERE damaged
"""
# What PostgreSQL says of a page or an index that is not as it was written.
SPOILED = (errors.DataCorrupted, errors.IndexCorrupted)
# A database that only reads, or a role that may: what was found is known all the same, and noted by whoever may write.
REFUSED = (errors.ReadOnlySqlTransaction, errors.InsufficientPrivilege)


class Pictures:
    """The pictures of one database. Each name is checked before anything is asked. Raises what `connecting` does.

    What only `reads` them notes nothing of what it finds: what is held stays the same until it is through.
    """

    def __init__(self, database: Database, reads: bool) -> None:
        self._database, self._reads = database, reads
        # What this process could not read, where not even that can be noted beside it.
        self._unreadable: set[str] = set()

    def look(self) -> None:
        """Note which of the named pictures are gone."""
        with self._database.connection() as connection:
            self._note(connection, LOOK_FOR_PICTURES)

    def hashes(self) -> list[str]:
        """The hash of every picture held, in order."""
        return self._asked("SELECT sha256 FROM cotterbook.pictures WHERE NOT damaged")

    def wanted(self) -> list[str]:
        """The hash of every picture that was damaged here and did not come again yet, in order."""
        return sorted({*self._asked("SELECT sha256 FROM cotterbook.pictures WHERE damaged"), *self._unreadable.copy()})

    def awaited(self) -> list[str]:
        """The hash of every picture that a phone should send if it has it, in order."""
        return sorted({*self._asked(AWAITED), *self._unreadable.copy()})

    def _asked(self, statement: str) -> list[str]:
        with self._database.connection() as connection:
            return sorted(row[0] for row in connection.execute(statement.encode()) if is_hash(row[0]))

    def missing(self, hashes: Iterable[str]) -> list[str]:
        """Those of the hashes for which there is no whole picture: a phone may let its own go because of the answer."""
        asked = [_checked(sha256) for sha256 in hashes]
        whole: set[str] = set()
        for first in range(0, len(asked), HASHED_AT_ONCE):
            some = asked[first:first + HASHED_AT_ONCE]
            with self._database.connection() as connection:
                found = self._look_at(connection, some)
                if not all(found.values()):
                    self._note(connection, SET_ASIDE, [[sha256 for sha256 in found if not found[sha256]]])
                if gone := [sha256 for sha256 in some if sha256 not in found]:
                    self._note(connection, PICTURES_GONE, [gone])
                whole.update(sha256 for sha256 in found if found[sha256])
        return [sha256 for sha256 in asked if sha256 not in whole]

    def _look_at(self, connection: Connection[TupleRow], some: list[str]) -> dict[str, bool]:
        """Whether each of these pictures that is held, and can be read, is whole."""
        try:
            return dict(connection.execute(WHOLE, [some]).fetchall())
        except SPOILED:
            found: dict[str, bool] = {}
        for sha256 in some:
            try:
                found.update(connection.execute(WHOLE, [[sha256]]).fetchall())
            except SPOILED:
                self._set_aside(connection, sha256)
        return found

    def _set_aside(self, connection: Connection[TupleRow], sha256: str) -> None:
        self._unreadable.add(sha256)
        if self._note(connection, SET_ASIDE_UNREADABLE, [[sha256]]):
            self._unreadable.discard(sha256)

    def put(self, sha256: str, data: bytes) -> None:
        """Keep a checked picture under its hash."""
        _checked(sha256)
        with self._database.connection() as connection:
            try:
                self._put(connection, sha256, data)
            except SPOILED:
                with connection.transaction():
                    connection.execute(RENAME_UNREADABLE, [sha256])
                    self._put(connection, sha256, data)
        self._unreadable.discard(sha256)

    @staticmethod
    def _put(connection: Connection[TupleRow], sha256: str, data: bytes) -> None:
        with connection.transaction():
            connection.execute(KEEP_PICTURE, [sha256, data])
            connection.execute(PICTURE_CAME, [sha256])

    def get(self, sha256: str) -> bytes | None:
        """The picture's bytes, or None when it is not held or damaged."""
        with self._database.connection() as connection:
            try:
                row = connection.execute(
                    "SELECT data FROM cotterbook.pictures WHERE sha256 = %s AND NOT damaged", [_checked(sha256)],
                    binary=True).fetchone()
            except SPOILED:
                self._set_aside(connection, sha256)
                return None
            if row and not is_whole(sha256, row[0]):
                self._note(connection, SET_ASIDE, [[sha256]])
                return None
            if row is None:
                self._note(connection, PICTURES_GONE, [[sha256]])
        return row[0] if row else None

    def _note(self, connection: Connection[TupleRow], statement: str, values: Sequence[Any] = ()) -> bool:
        """Write down what was found, on a connection that commits by itself; whether that could be done."""
        if not self._reads:
            with contextlib.suppress(*SPOILED, *REFUSED):
                connection.execute(statement.encode(), values)
                return True
        return False


def _checked(sha256: str) -> str:
    if not is_hash(sha256):
        raise ValueError("not a SHA-256 in lower-case hexadecimal")
    return sha256
