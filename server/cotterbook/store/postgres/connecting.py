"""Connections to the database: made, kept, made again after a break; and every failure as a sentence for people."""

import contextlib
import logging
import socket
import threading
from collections.abc import Callable, Iterator, Sequence

import psycopg
from psycopg import Connection, errors
from psycopg.rows import TupleRow
from psycopg_pool import ConnectionPool, PoolTimeout

from ...errors import Problem
from .address import Address

# How long a call waits for a connection: a database that is started again is back within that.
WAIT_SECONDS = 5
# How long a connection that the pool held may take to say that it is still there, and one use of it in all. With the
# wait before them they are less than what a phone waits for an answer (LIMIT_MS in webui/requests.js).
CHECK_SECONDS = 3
ANSWER_SECONDS = 20
CONNECTIONS = 8
# What holds for each connection. Durability may be asked for above "on" (a standby that has applied it), never below.
SETTINGS = """
    SELECT set_config('synchronous_commit', 'on', false)
        WHERE current_setting('synchronous_commit') NOT IN ('on', 'remote_apply');
    SELECT set_config('statement_timeout', '15s', false), set_config('lock_timeout', '5s', false),
        set_config('idle_in_transaction_session_timeout', '30s', false), set_config('client_encoding', 'UTF8', false)
"""
# Why there is no connection is said in words alone, without a code. Where they are in another language the general
# sentence is said, with those words in it.
REFUSALS = (
    ("server does not support SSL", "database_unproven"),
    ("unexpected eof", "database_away"),
    ("SSL error", "database_unproven"),
    ("does not match host name", "database_unproven"),
    ("server's host name from server certificate", "database_unproven"),
    ("host name must be specified for a verified", "database_unproven"),
    ("root certificate", "database_unproven"),
    ("password", "database_password"),
    ("no pg_hba.conf entry", "database_password"),
    ('role "', "database_password"),
    ("does not exist", "database_missing"),
    ("permission denied for database", "database_no_privilege"),
)
# The second is what a standby says when it is asked for its place in the log that only a leading server writes.
READ_ONLY = (errors.ReadOnlySqlTransaction, errors.ObjectNotInPrerequisiteState)
AWAY = (psycopg.OperationalError, psycopg.InterfaceError)

# It writes a line for each attempt to connect again; the calls that failed for it say so themselves.
logging.getLogger("psycopg.pool").setLevel(logging.CRITICAL)


@contextlib.contextmanager
def _answered_within(seconds: float, connection: Connection[TupleRow]) -> Iterator[None]:
    """Hang up after so many seconds in the body; what it then waits for raises OperationalError.

    It is done at this end: a server whose processes stand still keeps no limit of its own, while its machine goes on
    to acknowledge all that is sent. The pool throws away a connection that was hung up and makes another.
    """
    hung_up = threading.Event()
    # A duplicate, so that the driver may close its own at any moment and nothing else is hung up in its place.
    with socket.fromfd(connection.fileno(), socket.AF_INET, socket.SOCK_STREAM) as line:
        def hang_up() -> None:
            hung_up.set()
            with contextlib.suppress(OSError):  # the other end was quicker
                line.shutdown(socket.SHUT_RDWR)

        timer = threading.Timer(seconds, hang_up)
        timer.daemon = True
        timer.start()
        try:
            yield
        except AWAY:
            if hung_up.is_set():
                raise psycopg.OperationalError(f"no answer within {seconds} seconds") from None
            raise
        finally:
            timer.cancel()
            timer.join()


def _check(connection: Connection[TupleRow]) -> None:
    with _answered_within(CHECK_SECONDS, connection):
        ConnectionPool.check_connection(connection)


class Database:
    """Connections of one process to one database, from several threads at once.

    Raises Problem when the database cannot be reached or refuses; `prepare` is called with each new connection.
    """

    def __init__(self, address: Address, prepare: Callable[[Connection[TupleRow]], None]) -> None:
        self._address, self._prepare = address, prepare
        # What is wrong with the address or the database is said at once and in full.
        self._try()
        self._pool: ConnectionPool[Connection[TupleRow]] = ConnectionPool(
            address.conninfo, kwargs={"autocommit": True}, min_size=1, max_size=CONNECTIONS, timeout=WAIT_SECONDS,
            reconnect_timeout=2, configure=self._configure, check=_check, open=True)

    def _try(self) -> None:
        """Connect in this thread, which hears why when it fails; the pool only waits in vain."""
        with self._problems(REFUSALS):
            connection = psycopg.connect(self._address.conninfo, autocommit=True)
        with self._problems(), connection:
            self._configure(connection)

    def _configure(self, connection: Connection[TupleRow]) -> None:
        with _answered_within(ANSWER_SECONDS, connection):
            connection.execute(SETTINGS.encode())
            self._prepare(connection)

    @contextlib.contextmanager
    def connection(self) -> Iterator[Connection[TupleRow]]:
        """A connection that commits each statement by itself, unless a transaction is begun on it."""
        with self._problems():
            try:
                with self._pool.connection() as connection, _answered_within(ANSWER_SECONDS, connection):
                    yield connection
            except PoolTimeout:
                self._try()
                raise

    @contextlib.contextmanager
    def _problems(self, refusals: Sequence[tuple[str, str]] = ()) -> Iterator[None]:
        """Turn the driver's errors into problems, without the password; `refusals` are told by their words."""
        try:
            yield
        except psycopg.Error as error:
            raise self._problem(error, refusals) from None

    def _problem(self, error: psycopg.Error, refusals: Sequence[tuple[str, str]]) -> Problem:
        what = " ".join(str(error).split())
        if self._address.password:
            what = what.replace(self._address.password, "***")
        place = self._address.shown
        if isinstance(error, errors.DiskFull):
            return Problem("database_full", database=place)
        if isinstance(error, errors.InsufficientPrivilege):
            return Problem("database_no_privilege", database=place, what=what)
        if isinstance(error, READ_ONLY):
            return Problem("database_read_only", database=place)
        if isinstance(error, AWAY) or error.sqlstate is None:
            code = next((code for words, code in refusals if words in what), "database_away")
            return Problem(code, database=place, what=what)
        return Problem("database_trouble", database=place, what=what)

    def close(self) -> None:
        """Close every connection. A second call does nothing."""
        self._pool.close()
