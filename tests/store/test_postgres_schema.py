"""The tables in PostgreSQL: from every earlier version to the newest, by several processes at once, or not at all."""

import contextlib
import hashlib
import json
import subprocess
import threading
import uuid
from concurrent.futures import ThreadPoolExecutor

import psycopg
import pytest

from cotterbook.core.entries import size_in_bytes
from cotterbook.errors import Problem
from cotterbook.store.contract import Last
from cotterbook.store.postgres import PostgresStore, schema
from cotterbook.store.postgres.postgres_store import LASTS
from examples import STRIP, entry, identifier, photo_entry, picture

EVERYTHING = (1_000, 1_000_000)
# What information_schema (SQL:2023, part 11) and PostgreSQL's own catalogues tell of tables, columns, keys, indexes.
DESCRIBED = """
    SELECT concat_ws(' ', table_name, column_name, data_type, is_nullable, column_default)
    FROM information_schema.columns WHERE table_schema = 'cotterbook'
    UNION ALL SELECT indexdef FROM pg_indexes WHERE schemaname = 'cotterbook'
    UNION ALL SELECT concat_ws(' ', conrelid::regclass, pg_get_constraintdef(oid))
    FROM pg_constraint WHERE connamespace = 'cotterbook'::regnamespace
    UNION ALL SELECT concat_ws(' ', attrelid::regclass, attname, attstorage::text) FROM pg_attribute
    WHERE attnum > 0 AND attrelid IN (SELECT oid FROM pg_class WHERE relnamespace = 'cotterbook'::regnamespace)
    ORDER BY 1
"""


@pytest.fixture
def url(postgres):
    return postgres.database()


@pytest.fixture
def connection(url):
    with psycopg.connect(url, autocommit=True) as connection:
        yield connection


def described(postgres, url):
    return [row[0] for row in postgres.execute(DESCRIBED, url)]


@pytest.mark.parametrize("version", range(len(schema.STEPS) + 1))
def test_every_earlier_version_becomes_the_newest_and_keeps_its_entries(postgres, url, connection, version):
    if version:
        schema.migrate(connection, schema.STEPS[:version])
        connection.execute("INSERT INTO cotterbook.strips VALUES (%s, 4, 1)", [STRIP])
        connection.execute("INSERT INTO cotterbook.entries VALUES (%s, 4, %s, %s, %s)",
                           [STRIP, entry(1)["id"], size_in_bytes(entry(1)), json.dumps(entry(1))])
    assert schema.version_of(connection) == version
    store = PostgresStore(url)
    assert store.read(STRIP, 0, *EVERYTHING) == (([entry(1)], 4, False) if version else ([], 0, False))
    assert store.append(STRIP, [entry(2)]).accepted == {entry(2)["id"]: 5 if version else 1}
    assert store.identity == str(uuid.UUID(store.identity))
    store.close()
    fresh = postgres.database()
    PostgresStore(fresh).close()
    assert described(postgres, url) == described(postgres, fresh)
    assert len(described(postgres, url)) > 20
    assert schema.version_of(connection) == len(schema.STEPS)


def test_an_older_database_learns_which_pictures_its_entries_name(postgres, url, connection):
    schema.migrate(connection, schema.STEPS[:3])
    pictures = [picture(number) for number in range(3)]
    hashes = [hashlib.sha256(data).hexdigest() for data in pictures]
    speaks_of_one = entry(7, values={"note": f'"kind":"photo","sha256":"{hashes[2]}" \0'})
    named = [photo_entry(1, pictures[0]), photo_entry(2, pictures[1]), photo_entry(3, pictures[1]), speaks_of_one]
    connection.execute("INSERT INTO cotterbook.strips VALUES (%s, 4, 4)", [STRIP])
    for number, each in enumerate(named, 1):
        connection.execute("INSERT INTO cotterbook.entries VALUES (%s, %s, %s, %s, %s)", [
            STRIP, number, each["id"], size_in_bytes(each), json.dumps(each, separators=(",", ":"))])
    connection.execute("INSERT INTO cotterbook.pictures VALUES (%s, %s)", [hashes[0], pictures[0]])
    store = PostgresStore(url)
    assert store.awaited_photos() == [hashes[1]]
    known = postgres.execute("SELECT sha256 FROM cotterbook.named_pictures", url)
    assert sorted(row[0] for row in known) == sorted(hashes[:2])
    store.close()


def kept_by_an_older_program(connection, lasts):
    """Strip-downs as the fourth version keeps them, each of so many entries."""
    schema.migrate(connection, schema.STEPS[:4])
    rows = []
    for place, last in enumerate(lasts):
        strip = identifier(place)
        connection.execute("INSERT INTO cotterbook.strips VALUES (%s, %s, %s)", [strip, last, last])
        rows += [(strip, number, identifier(10_000 * (place + 1) + number)) for number in range(1, last + 1)]
    for strip, number, entry_id in rows:
        connection.execute("INSERT INTO cotterbook.entries VALUES (%s, %s, %s, 3, %s)", [
            strip, number, entry_id, json.dumps(entry(number, strip, id=entry_id))])
    return {strip: Last(number, entry_id) for strip, number, entry_id in rows}


def test_an_older_database_learns_its_last_entries(url, connection):
    lasts = kept_by_an_older_program(connection, (3, 0, 1))
    store = PostgresStore(url)
    assert store.lasts() == lasts and len(lasts) == 2
    store.append(identifier(1), [entry(7, identifier(1))])
    assert store.lasts() == {**lasts, identifier(1): (1, entry(7)["id"])}
    store.close()


def test_a_spoiled_page_keeps_no_older_database_from_the_newest_version(postgres, url, connection):
    """The strip-down that ends on it tells of no last entry until its next one."""
    lasts = kept_by_an_older_program(connection, (2, 200, 3))
    connection.close()
    postgres.spoil(url, "cotterbook.entries", beside=False)
    store = PostgresStore(url)
    del lasts[identifier(0)]
    assert store.lasts() == lasts
    store.close()


def test_the_last_entries_are_told_without_reading_any(url, connection):
    """As with many short strip-downs, where PostgreSQL would rather read all entries than look up so many."""
    with contextlib.closing(PostgresStore(url)) as store:
        for number in range(100):
            store.append(identifier(number), [entry(number, identifier(number))])
        assert len(store.lasts()) == 100
    connection.execute("ANALYZE cotterbook.entries, cotterbook.strips")
    plan = "\n".join(row[0] for row in connection.execute(f"EXPLAIN (ANALYZE, VERBOSE) {LASTS}".encode()))
    assert "rows=100" in plan and "cotterbook.strips" in plan and "entries" not in plan


def test_a_step_that_fails_leaves_everything_as_it_was(postgres, url, connection):
    schema.migrate(connection)
    before = described(postgres, url)
    broken = (*schema.STEPS, "ALTER TABLE cotterbook.strips ADD COLUMN more text; SELECT 1 / 0")
    with pytest.raises(psycopg.errors.DivisionByZero):
        schema.migrate(connection, broken)
    assert described(postgres, url) == before
    assert schema.version_of(connection) == len(schema.STEPS)
    PostgresStore(url).close()


def test_a_newer_database_is_refused_and_not_touched(postgres, url, connection):
    schema.migrate(connection, (*schema.STEPS, "CREATE TABLE cotterbook.to_come (name text)"))
    before = described(postgres, url)
    with pytest.raises(Problem, match="written by a newer Cotterbook. It was not touched. Install that version"):
        PostgresStore(url)
    assert described(postgres, url) == before


def test_many_that_begin_at_once_make_one_store(url):
    together = threading.Barrier(8)

    def begin(_):
        together.wait()
        store = PostgresStore(url)
        store.close()
        return store.identity

    with ThreadPoolExecutor(8) as pool:
        assert len(set(pool.map(begin, range(8)))) == 1


def test_a_database_filled_from_a_copy_has_another_identity(postgres, url):
    """Its numbers may come to mean other entries than phones know (promise 6)."""
    first = PostgresStore(url)
    first.append(STRIP, [entry(1), entry(2)])
    other = postgres.database()
    programs = postgres.programs
    dumped = subprocess.run([programs / "pg_dump", url], capture_output=True, check=True).stdout
    subprocess.run([programs / "psql", "-q", "-v", "ON_ERROR_STOP=1", other], input=dumped, check=True,
                   capture_output=True)
    second = PostgresStore(other)
    assert second.read(STRIP, 0, *EVERYTHING) == ([entry(1), entry(2)], 2, False)
    assert second.identity != first.identity
    for store, address in ((first, url), (second, other)):
        store.close()
        again = PostgresStore(address)
        assert again.identity == store.identity
        again.close()


def test_what_else_the_database_holds_stays(postgres, url):
    postgres.execute("CREATE TABLE strips (name text); INSERT INTO strips VALUES ('of somebody else')", url)
    store = PostgresStore(url)
    store.append(STRIP, [entry(1)])
    store.close()
    assert postgres.execute("SELECT * FROM strips", url) == [("of somebody else",)]
