"""What tests share: a fresh data folder, the application over it, the real server, a real browser."""

import os
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import hypothesis
import pytest
from flask import Flask
from flask.testing import FlaskClient

from browsers import find_chromium
from cotterbook import create_app
from cotterbook.store import TinyStore
from postgres import Postgres
from postgres_programs import find_programs
from running import COOKIES, RunningServer

MakeServer = Callable[..., RunningServer]

# By hand every run draws other cases; a machine that judges a change must not judge its luck. No case has a deadline:
# a busy machine is slow at any of them.
hypothesis.settings.register_profile("by hand", deadline=None)
hypothesis.settings.register_profile("judging", derandomize=True, print_blob=True, deadline=None)
hypothesis.settings.load_profile("judging" if os.environ.get("CI") else "by hand")


@pytest.fixture
def data_folder(tmp_path: Path) -> Path:
    """Where a fresh program would keep its data; not made yet."""
    return tmp_path / "data"


@pytest.fixture
def store(data_folder: Path) -> Iterator[TinyStore]:
    """An open, empty store."""
    store = TinyStore(data_folder)
    yield store
    store.close()


@pytest.fixture
def app(data_folder: Path, store: TinyStore) -> Flask:
    """The application over an empty store."""
    app = create_app(data_folder, store)
    app.testing = True
    return app


@pytest.fixture
def client(app: Flask) -> FlaskClient:
    """Flask's own test client, without a token."""
    return app.test_client()


@pytest.fixture(scope="session")
def session_servers(tmp_path_factory: pytest.TempPathFactory) -> Iterator[MakeServer]:
    """Starts servers; all are stopped at the end."""
    started: list[RunningServer] = []

    def make(demo: bool = False) -> RunningServer:
        server = RunningServer(tmp_path_factory.mktemp("server") / "data", demo)
        started.append(server)
        return server.start()

    yield make
    for server in started:
        server.stop()


@pytest.fixture
def make_server(session_servers: MakeServer) -> Iterator[MakeServer]:
    """make_server(demo=False) starts the real program on a free port; it is stopped after the test."""
    started: list[RunningServer] = []

    def make(demo: bool = False) -> RunningServer:
        started.append(session_servers(demo))
        return started[-1]

    yield make
    for server in started:
        server.stop()


@pytest.fixture
def stopped_server(tmp_path: Path) -> Iterator[RunningServer]:
    """The real program over an empty data folder, not started yet; whatever the test leaves running is stopped."""
    server = RunningServer(tmp_path / "data")
    yield server
    server.stop()


@pytest.fixture
def server(make_server: MakeServer) -> RunningServer:
    """The real program with an empty data folder, for this test alone. See `url`, `port` and `folder`."""
    return make_server()


@pytest.fixture(scope="module")
def module_server(session_servers: MakeServer) -> Iterator[RunningServer]:
    """The real program with an empty data folder, shared by a module's tests."""
    server = session_servers()
    yield server
    server.stop()


@pytest.fixture(scope="module")
def demo_server(session_servers: MakeServer) -> Iterator[RunningServer]:
    """The real program with the demo strip-down, shared by a module's tests."""
    server = session_servers(demo=True)
    yield server
    server.stop()


class PairedBrowser:
    """A browser whose contexts are paired with the servers that run at the time, as an owner's phone is."""

    def __init__(self, browser: Any) -> None:
        self.unpaired = browser

    def new_context(self, **options: Any) -> Any:
        # Units and paper begin with the country's; most of the world is metric.
        context = self.unpaired.new_context(**{"locale": "en-GB"} | options)
        cookies = [{**cookie, "domain": "127.0.0.1", "path": "/", "httpOnly": True, "sameSite": "Strict"}
                   for cookie in COOKIES.values()]
        if cookies:
            context.add_cookies(cookies)
        return context

    def __getattr__(self, name: str) -> Any:
        return getattr(self.unpaired, name)


@pytest.fixture(scope="session")
def postgres() -> Iterator[Postgres]:
    """A real PostgreSQL for this process's tests. Each takes databases of its own, and leaves it running."""
    programs = find_programs()
    if programs is None:
        reason = "PostgreSQL is not installed: its tests need initdb and pg_ctl (Debian's package postgresql)"
        if os.environ.get("CI"):
            pytest.fail(reason)
        pytest.skip(reason)
    server = Postgres(programs)
    try:
        yield server.start()
    finally:
        server.close()


@pytest.fixture(scope="session")
def chromium() -> Iterator[Any]:
    """A real browser, of Playwright. Tests open their own contexts in it."""
    from playwright.sync_api import expect, sync_playwright

    # Two cores, shared by the server, the pages and other tests, may take their time; nothing here is measured.
    expect.set_options(timeout=30_000)
    # A browser that runs as root has no sandbox of its own to go to.
    options = ["--no-sandbox"] if getattr(os, "geteuid", lambda: 1)() == 0 else []
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=find_chromium(), args=options)
        yield PairedBrowser(browser)
        browser.close()
