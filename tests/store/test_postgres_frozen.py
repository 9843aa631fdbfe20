"""Every process of PostgreSQL stands still while its machine runs on: calls end, and nothing is lost or doubled."""

import contextlib
import os
import threading
import time

import psycopg
import pytest

from cotterbook.errors import Problem
from cotterbook.store.postgres import PostgresStore, address, connecting
from examples import STRIP, entry, identifier
from postgres import Postgres

# More than a process has connections.
CALLS = connecting.CONNECTIONS + 4
STRIPS = [identifier(500 + number) for number in range(CALLS)]
LIMIT_SECONDS = 120
GATE = 4711
# Where an append is to stand still: in the middle of its writing, or while it is committed. It waits there for a lock
# that the test holds; the store's own limit for locks must not end it first.
PLACES = {
    "writing": "CREATE TRIGGER gate AFTER INSERT ON cotterbook.entries",
    "commit": "CREATE CONSTRAINT TRIGGER gate AFTER INSERT ON cotterbook.entries DEFERRABLE INITIALLY DEFERRED",
}
GATE_FUNCTION = f"""
    CREATE FUNCTION gate() RETURNS trigger LANGUAGE plpgsql SET lock_timeout = 0 AS $$ BEGIN
    PERFORM pg_advisory_xact_lock_shared({GATE}); RETURN NULL; END $$;
"""
WAITING = f"SELECT count(*) FROM pg_locks WHERE locktype = 'advisory' AND objid = {GATE} AND NOT granted"


@pytest.fixture(scope="module")
def own(postgres):
    """A PostgreSQL that these tests alone may freeze."""
    with contextlib.closing(Postgres(postgres.programs).start()) as server:
        yield server


@pytest.fixture
def store(own, monkeypatch):
    monkeypatch.setattr(connecting, "ANSWER_SECONDS", 2)
    monkeypatch.setattr(connecting, "CHECK_SECONDS", 1)
    monkeypatch.setattr(connecting, "WAIT_SECONDS", 2)
    monkeypatch.setattr(address, "CONNECT_SECONDS", 2)
    with contextlib.closing(PostgresStore(own.database())) as store:
        yield store


class AtOnce:
    """Calls in threads of their own, begun together: what each gave back or the code of its problem."""

    def __init__(self, *calls):
        self.ended = [None] * len(calls)
        self.threads = [threading.Thread(target=self._run, args=each, daemon=True) for each in enumerate(calls)]
        for thread in self.threads:
            thread.start()

    def _run(self, number, call):
        try:
            self.ended[number] = call()
        except Problem as problem:
            self.ended[number] = (problem.code, problem.status)

    def wait(self):
        for thread in self.threads:
            thread.join(LIMIT_SECONDS)
        assert not [thread for thread in self.threads if thread.is_alive()], "a call hangs"
        return self.ended


def each_appends(store, first=0, count=CALLS):
    """An append for each of so many strip-downs."""
    return [lambda number=number: store.append(STRIPS[number], [entry(first + number, STRIPS[number])])
            for number in range(count)]


def again_until_it_works(call):
    """What a phone does: the same once more."""
    until = time.monotonic() + LIMIT_SECONDS
    while True:
        try:
            return call()
        except Problem as problem:
            assert problem.code == "database_away" and time.monotonic() < until, problem


def ids_held(own, store):
    rows = own.execute("SELECT id FROM cotterbook.entries", own.url(store.shown.split()[1]))
    return sorted(str(row[0]) for row in rows)


AWAY = ("database_away", 503)


def test_more_calls_than_connections_all_end_and_the_next_ones_work(own, store, caplog):
    AtOnce(*each_appends(store)).wait()  # so that the pool has all its connections
    for number in range(1, 3):
        with own.frozen():
            calls = [*each_appends(store, number * 100), lambda: store.read(STRIP, 0, 10, 10_000), store.strips,
                     store.photos, lambda: store.put_photo("0" * 64, b"x")]
            assert AtOnce(*calls).wait() == [AWAY] * len(calls)
        again = AtOnce(*(lambda call=call: again_until_it_works(call) for call in each_appends(store, number * 100)))
        assert [each.refused for each in again.wait()] == [[]] * CALLS
        assert ids_held(own, store) == sorted(
            entry(part * 100 + each)["id"] for part in range(number + 1) for each in range(CALLS))
    assert "Traceback" not in caplog.text


@pytest.mark.parametrize("place", PLACES)
def test_what_was_cut_off_in_the_middle_and_is_sent_again_is_there_once(own, store, place):
    AtOnce(*[store.strips] * CALLS).wait()
    url = own.url(store.shown.split()[1])
    own.execute(GATE_FUNCTION + PLACES[place] + " FOR EACH ROW EXECUTE FUNCTION gate()", url)
    with psycopg.connect(url, autocommit=True) as gate:
        gate.execute("SELECT pg_advisory_lock(%s)", [GATE])
        # As many stand in the middle as there are connections, where the machine is quick enough; others wait for one.
        calls = AtOnce(*each_appends(store))
        middle = 0
        while middle < connecting.CONNECTIONS and not any(calls.ended):
            middle = gate.execute(WAITING).fetchone()[0]
        assert middle
        with own.frozen():
            assert calls.wait() == [AWAY] * CALLS
    again = AtOnce(*(lambda call=call: again_until_it_works(call) for call in each_appends(store)))
    assert [each.accepted for each in again.wait()] == [{entry(number)["id"]: 1} for number in range(CALLS)]
    assert ids_held(own, store) == sorted(entry(number)["id"] for number in range(CALLS))
    assert store.strips() == dict.fromkeys(sorted(STRIPS), 1)


def test_a_frozen_database_is_said_at_the_start_too(own, store):
    url = own.url(store.shown.split()[1])
    with own.frozen():
        assert AtOnce(lambda: PostgresStore(url)).wait() == [AWAY]


def test_the_limit_leaves_no_thread_and_no_socket_behind(own, store):
    store.append(STRIP, [entry(1)])
    with own.frozen():
        assert AtOnce(store.strips).wait() == [AWAY]
    again_until_it_works(store.strips)
    threads, sockets = threading.active_count(), len(os.listdir("/proc/self/fd"))
    for number in range(20):
        store.append(STRIP, [entry(number)])
    assert threading.active_count() <= threads
    assert len(os.listdir("/proc/self/fd")) <= sockets + 1  # the pool may make one more
