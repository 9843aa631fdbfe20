"""A real PostgreSQL of the tests' own: its own data folder, its own port, its own password, and nothing shared."""

import contextlib
import os
import secrets
import shutil
import signal
import subprocess
import tempfile
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import psycopg

from running import free_port

OWNER = "shop"
SECONDS = 60
# pg_ctl comes back once the server takes connections, or has gone.
WAIT = ["-w", "-t", str(SECONDS)]


class Postgres:
    """One server, started by `start`, stopped by `stop` or `kill`; databases are made by `database`."""

    def __init__(self, programs: Path, copy_of: "Postgres | None" = None) -> None:
        """A new server; or a standby that follows another one until `promote`."""
        self.programs, self.port, self._count = programs, free_port(), 0
        self.password = copy_of.password if copy_of else secrets.token_urlsafe(12)
        # Short: the path of a Unix socket has room for some hundred characters.
        self._folder = Path(tempfile.mkdtemp(prefix="cb-pg-", dir="/tmp" if os.name == "posix" else None))
        self._data = self._folder / "data"
        if self._as_root():
            shutil.chown(self._folder, "postgres", "postgres")
        if copy_of:
            self._run("pg_basebackup", "-d", copy_of.url(), "-D", self._data, "-R", "-c", "fast")
        else:
            self._begin()
        with (self._data / "postgresql.conf").open("a") as settings:
            settings.write(f"port = {self.port}\nlisten_addresses = '127.0.0.1'\nfsync = on\n"
                           f"unix_socket_directories = '{self._folder}'\n")

    def use_tls(self, chain: bytes, key: bytes) -> None:
        """Before `start`: let it show this certificate, as PEM."""
        for name, content in (("server.crt", chain), ("server.key", key)):
            path = self._data / name
            path.write_bytes(content)
            path.chmod(0o600)
            if self._as_root():
                shutil.chown(path, "postgres", "postgres")
        with (self._data / "postgresql.conf").open("a") as settings:
            settings.write("ssl = on\n")

    def _begin(self) -> None:
        word = self._folder / "password"
        word.write_text(self.password)
        if self._as_root():
            shutil.chown(word, "postgres", "postgres")
        self._run("initdb", "-D", self._data, "-U", OWNER, "-A", "scram-sha-256", "--pwfile", word, "-E", "UTF8",
                  "--locale=C", "--data-checksums")
        word.unlink()

    @staticmethod
    def _as_root() -> bool:
        return getattr(os, "geteuid", lambda: 1)() == 0

    def _run(self, program: str, *arguments: object) -> None:
        # PostgreSQL refuses to run as root.
        command = ["runuser", "-u", "postgres", "--"] if self._as_root() else []
        command += [str(self.programs / program), *map(str, arguments)]
        done = subprocess.run(command, capture_output=True, text=True, cwd=self._folder, timeout=2 * SECONDS,
                              check=False, start_new_session=True)
        assert done.returncode == 0, done.stdout + done.stderr

    def start(self) -> "Postgres":
        """Start it and wait until it takes connections."""
        log = self._folder / "log"
        self._run("pg_ctl", "start", *WAIT, "-D", self._data, "-l", log)
        return self

    def stop(self, how: str = "fast") -> None:
        """Stop it: "fast" ends every connection first, "immediate" is a crash that it recovers from."""
        self._run("pg_ctl", "stop", *WAIT, "-D", self._data, "-m", how)

    def do_without_checksums(self) -> None:
        """While it is stopped: let it no longer know its pages' checksums."""
        self._run("pg_checksums", "--disable", "-D", self._data)

    def spoil(self, url: str, table: str, beside: bool = True) -> None:
        """Flip a byte of the first page of what a table keeps `beside` it, or of its own, as a disk does; it is stopped
        and started."""
        what = "reltoastrelid" if beside else "oid"
        [(path,)] = self.execute(
            f"SELECT pg_relation_filepath({what}) FROM pg_class WHERE oid = '{table}'::regclass", url)
        self.execute("CHECKPOINT")
        self.stop()
        file = self._data / path
        page = file.read_bytes()
        file.write_bytes(page[:3_000] + bytes([page[3_000] ^ 0xFF]) + page[3_001:])
        self.start()

    def kill(self) -> None:
        """End it as a power cut would."""
        os.kill(self._first_process(), signal.SIGKILL)
        with contextlib.suppress(AssertionError):
            self.stop("immediate")

    def _first_process(self) -> int:
        return int((self._data / "postmaster.pid").read_text().split()[0])

    @contextlib.contextmanager
    def frozen(self) -> Iterator[None]:
        """Let every one of its processes stand still: the machine takes what is sent, and nobody reads it."""
        stopped = [self._first_process()]
        os.kill(stopped[0], signal.SIGSTOP)  # first, so that no more are made
        try:
            asked = ["ps", "-A", "-o", "pid=,ppid="]
            for line in subprocess.run(asked, capture_output=True, text=True, check=True).stdout.splitlines():
                process, parent = map(int, line.split())
                if parent == stopped[0]:
                    os.kill(process, signal.SIGSTOP)
                    stopped.append(process)
            yield
        finally:
            for process in reversed(stopped):
                with contextlib.suppress(ProcessLookupError):
                    os.kill(process, signal.SIGCONT)

    def promote(self) -> None:
        """Make a standby a leading server."""
        self._run("pg_ctl", "promote", *WAIT, "-D", self._data)

    def close(self) -> None:
        """Stop it and remove all that it was."""
        with contextlib.suppress(AssertionError):
            self.stop("immediate")
        shutil.rmtree(self._folder, ignore_errors=True)

    def url(self, database: str = "postgres", user: str = OWNER, password: str | None = None) -> str:
        """The address of a database, with the password in it."""
        return f"postgresql://{user}:{password or self.password}@127.0.0.1:{self.port}/{database}"

    def database(self, options: str = "") -> str:
        """The address of a new, empty database."""
        self._count += 1
        name = f"shop_{self._count}"
        self.execute(f"CREATE DATABASE {name} {options}")
        return self.url(name)

    def execute(self, statement: str, url: str | None = None) -> list[Any]:
        """Run a statement as the owner; its rows."""
        with psycopg.connect(url or self.url(), autocommit=True) as connection:
            cursor = connection.execute(statement.encode())
            return cursor.fetchall() if cursor.description else []
