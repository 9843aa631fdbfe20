"""What lies where in the database, and the steps that bring an older database to it.

Everything is in a schema (a namespace) of its own, so that the database may hold other things too:
meta             the version of this, the identity, which database the identity was given in, those that it had where it
                 was filled from, and which entries are gone
strips           each strip-down, its highest number, the id of the entry under that where it is known, and its count
                 of entries; its row is the lock of its numbers
entries          each entry as JSON text under strip-down and number; its id is there once in the whole database
pictures         each picture's bytes under the SHA-256 of them; `damaged` where they were found to be others, until it
                 comes again
named_pictures   the hash of each picture that an entry names, and whether it is held, as far as was seen
"""

import uuid
from collections.abc import Sequence

from psycopg import Connection
from psycopg.rows import TupleRow

from ...errors import Problem
from ..gaps import Change, Gaps, gaps_as_text, gaps_in

# Each step is applied once, in order, and never changed after a release; a change of the tables is a further step.
STEPS = (
    """
    CREATE SCHEMA IF NOT EXISTS cotterbook;
    CREATE TABLE cotterbook.meta (name text PRIMARY KEY, value text NOT NULL);
    CREATE TABLE cotterbook.strips (
        strip uuid PRIMARY KEY,
        last bigint NOT NULL CHECK (last >= 0),
        held integer NOT NULL CHECK (held >= 0)
    );
    CREATE TABLE cotterbook.entries (
        strip uuid NOT NULL REFERENCES cotterbook.strips,
        number bigint NOT NULL CHECK (number > 0),
        id uuid NOT NULL UNIQUE,
        bytes integer NOT NULL,
        entry text NOT NULL,
        PRIMARY KEY (strip, number)
    );
    """,
    """
    CREATE TABLE cotterbook.pictures (sha256 text PRIMARY KEY CHECK (length(sha256) = 64), data bytea NOT NULL);
    ALTER TABLE cotterbook.pictures ALTER COLUMN data SET STORAGE EXTERNAL;
    """,
    """
    ALTER TABLE cotterbook.pictures ADD COLUMN damaged boolean NOT NULL DEFAULT false;
    CREATE INDEX pictures_damaged ON cotterbook.pictures (sha256) WHERE damaged;
    """,
    # As text: what makes JSON of it refuses the zero character. Quotes inside a text are escaped, and match nothing.
    """
    CREATE TABLE cotterbook.named_pictures (sha256 text PRIMARY KEY, held boolean NOT NULL);
    CREATE INDEX pictures_awaited ON cotterbook.named_pictures (sha256) WHERE NOT held;
    INSERT INTO cotterbook.named_pictures (sha256, held)
    SELECT sha256, EXISTS (SELECT 1 FROM cotterbook.pictures WHERE pictures.sha256 = named.sha256 AND NOT damaged)
    FROM (SELECT DISTINCT substring(entry FROM '"sha256": ?"([0-9a-f]{64})"') AS sha256 FROM cotterbook.entries
        WHERE entry ~ '"kind": ?"photo"') AS named
    WHERE sha256 IS NOT NULL;
    """,
    # One by one, each by the index: a page that the disk spoiled costs the strip-downs that end on it alone.
    """
    ALTER TABLE cotterbook.strips ADD COLUMN last_id uuid;
    SET LOCAL enable_seqscan = off;
    DO $$ DECLARE each record; BEGIN
        FOR each IN SELECT strip, last FROM cotterbook.strips LOOP
            BEGIN
                UPDATE cotterbook.strips SET last_id = (
                    SELECT id FROM cotterbook.entries WHERE entries.strip = each.strip AND number = each.last)
                WHERE strip = each.strip;
            EXCEPTION WHEN data_corrupted OR index_corrupted THEN NULL;
            END;
        END LOOP;
    END $$;
    SET LOCAL enable_seqscan TO DEFAULT;
    """,
)
# A copy of a copy of a copy: so many of the identities before are known, the last first.
FORMER_IDENTITIES = 8
# One process at a time changes the tables or the identity. The number is this program's own and says nothing.
LOCK = 7_236_402_518_364_409
# Numbers of one database say nothing in a copy of it: a copy has another system identifier, another time line, or
# another number of its own.
WHERE = """
    SELECT concat_ws('/', (SELECT system_identifier FROM pg_control_system()),
        left(pg_walfile_name(pg_current_wal_lsn()), 8),
        (SELECT oid FROM pg_database WHERE datname = current_database()))
"""


def version_of(connection: Connection[TupleRow]) -> int:
    """How many steps the database has had; 0 for one that this program has not used yet."""
    # From the catalogue's rows: a name that is looked up may be answered from before another process made it.
    known = connection.execute("SELECT 1 FROM pg_tables WHERE schemaname = 'cotterbook' AND tablename = 'meta'")
    if known.fetchone() is None:
        return 0
    row = connection.execute("SELECT value FROM cotterbook.meta WHERE name = 'version'").fetchone()
    return int(row[0]) if row else 0


def migrate(connection: Connection[TupleRow], steps: Sequence[str] = STEPS) -> None:
    """Bring the database to the last of the steps, in one transaction: wholly or not at all.

    The connection is in no transaction and commits by itself. Of several processes that begin at once one works and
    the others wait for it. Raises Problem "database_newer" when a later version of the program was here; nothing is
    changed then.
    """
    if _is_up_to_date(connection, steps):
        return
    with connection.transaction():
        connection.execute("SELECT pg_advisory_xact_lock(%s)", [LOCK])
        if not _is_up_to_date(connection, steps):  # it may have become so while this waited
            for step in steps[version_of(connection):]:
                connection.execute(step.encode())
            set_meta(connection, "version", str(len(steps)))


def _is_up_to_date(connection: Connection[TupleRow], steps: Sequence[str]) -> bool:
    version = version_of(connection)
    if version > len(steps):
        raise Problem("database_newer", database=connection.info.dbname)
    return version == len(steps)


def settled_identity(connection: Connection[TupleRow]) -> str:
    """The store's identity: a new one where there is none, or where it was given in another database than this.

    A database that was filled from a copy, or was set back to an earlier moment, may come to give numbers again that
    phones know for other entries; with another identity they send and read everything once more. The one before is kept
    beside it: a phone that knew more by that tells what the copy did not hold.
    """
    where = str((connection.execute(WHERE).fetchone() or [""])[0])
    meta = _meta(connection)
    if meta.get("where") == where:
        return meta["identity"]
    with connection.transaction():
        connection.execute("SELECT pg_advisory_xact_lock(%s)", [LOCK])
        meta = _meta(connection)
        if meta.get("where") != where:
            if before := meta.get("identity"):
                former = [before, *(each for each in _former_in(meta) if each != before)]
                set_meta(connection, "former", " ".join(former[:FORMER_IDENTITIES]))
            made = connection.execute("SELECT gen_random_uuid()::text").fetchone() or [""]
            set_meta(connection, "identity", str(made[0]))
            set_meta(connection, "where", where)
    return _meta(connection)["identity"]


def identity_of(connection: Connection[TupleRow]) -> str:
    """The store's identity, as it is now; empty where nobody has served from the database yet."""
    return _meta(connection).get("identity", "")


def is_former(connection: Connection[TupleRow], identity: str) -> bool:
    """Whether the data had this identity in the database that this one was filled from, or before it was set back."""
    return identity in _former_in(_meta(connection))


def _former_in(meta: dict[str, str]) -> list[str]:
    return meta.get("former", "").split()


def renew_identity(connection: Connection[TupleRow], known: str) -> str:
    """Another identity in the place of `known`, or the one that another process gave meanwhile."""
    with connection.transaction():
        connection.execute("SELECT pg_advisory_xact_lock(%s)", [LOCK])
        if identity_of(connection) == known:
            set_meta(connection, "identity", str(uuid.uuid4()))
        return identity_of(connection)


def gaps_of(connection: Connection[TupleRow]) -> Gaps:
    """Which entries are gone and not back."""
    row = connection.execute("SELECT value FROM cotterbook.meta WHERE name = 'gaps'").fetchone()
    return gaps_in(row[0]) if row else ()


def change_gaps(connection: Connection[TupleRow], change: Change) -> None:
    """Keep what `change` makes of them; one process at a time."""
    with connection.transaction():
        connection.execute("SELECT pg_advisory_xact_lock(%s)", [LOCK])
        before = gaps_of(connection)
        if (changed := change(before)) != before:
            set_meta(connection, "gaps", gaps_as_text(changed))


def _meta(connection: Connection[TupleRow]) -> dict[str, str]:
    return dict(connection.execute("SELECT name, value FROM cotterbook.meta").fetchall())


def set_meta(connection: Connection[TupleRow], name: str, value: str) -> None:
    """Keep a value of the store itself under its name."""
    connection.execute(
        "INSERT INTO cotterbook.meta (name, value) VALUES (%s, %s) ON CONFLICT (name) DO UPDATE SET value = %s",
        [name, value, value])
