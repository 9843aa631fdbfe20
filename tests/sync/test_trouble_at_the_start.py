"""What is wrong at the start and keeps nobody from serving: said in words, and the pages are there all the same."""

import socket
import time
import urllib.request
from datetime import timedelta

import pytest

from cotterbook.concerns import Concerns
from cotterbook.core.words import spoken
from cotterbook.devices import DeviceBook
from cotterbook.devices.book import MOST_CODES
from cotterbook.devices.routes import now_ms
from cotterbook.serving import Served, announce
from cotterbook.store import TinyStore
from cotterbook.trust import Authority, certificates
from cotterbook.trust.origin import choose_origin
from running import RunningServer, free_port

HOST = "cotterbook-ab12.local"
SECONDS = 60


def logged(server, words):
    """All that the server has said as errors, once these words are in it."""
    end = time.monotonic() + SECONDS
    while words not in server.log.read_text():
        assert time.monotonic() < end, server.log.read_text()
        time.sleep(0.05)
    return server.log.read_text()


@pytest.fixture
def on_the_network(tmp_path):
    """A program that serves the network, not yet started, with a name that phones know."""
    (tmp_path / "data").mkdir()
    lan_port = free_port()
    choose_origin(tmp_path / "data", HOST, lan_port, lan_port)
    server = RunningServer(tmp_path / "data", options=("--lan", "--trust-port", str(free_port())))
    yield server
    server.stop()


def test_a_clock_that_is_behind_is_said_and_the_pages_are_served(on_the_network, tmp_path):
    """The certificate begins in nine days: as if the clock stood nine days back."""
    later = certificates.now_utc() + timedelta(days=10)
    authority = Authority(on_the_network.folder / "trust", HOST, later)
    authority.renew([], later)
    leaf, day = authority.leaf(), f"{later - timedelta(days=1):%Y-%m-%d}"
    server = on_the_network.start()
    said = logged(server, "Set the clock.")
    assert f"The clock of this computer stands at {certificates.now_utc():%Y-%m-%d}, before its certificate" in said
    assert f"begins ({day}). Set the clock." in said
    with urllib.request.urlopen(server.url + "/api/hello", timeout=SECONDS) as answer:
        assert b'"cotterbook"' in answer.read()
    assert Authority(server.folder / "trust", HOST).leaf() == leaf
    store = TinyStore(tmp_path / "other")
    [told] = map(spoken, Concerns(store, tmp_path, leaf).now())
    store.close()
    assert told.startswith("The PC’s clock stands at ") and told.endswith(f"begins ({day}). Set the clock of the PC.")


def test_a_certificate_that_can_not_be_renewed_is_said_while_it_is_served(on_the_network):
    authority = Authority(on_the_network.folder / "trust", HOST)
    authority.renew([])
    (on_the_network.folder / "trust" / "intermediate_key.pem").unlink()
    server = on_the_network.start()
    said = logged(server, "intermediate_key.pem) is gone.")
    assert f"holds until {authority.leaf().not_valid_after_utc:%Y-%m-%d}; phones can't reach this" in said


def test_codes_that_wait_keep_nobody_from_hearing_the_address(tmp_path):
    book = DeviceBook(tmp_path / "data")
    for _ in range(MOST_CODES):
        book.make_code("hand", now_ms())
    server = RunningServer(tmp_path / "data", paired=False)
    try:
        said = server.start().hear("Stop it with Ctrl-C.")
        assert server.url in said
        errors = logged(server, "Too many codes")
        assert errors == "cotterbook: Too many codes wait to be used. Wait five minutes.\n"
    finally:
        server.stop()


def test_a_disk_that_takes_no_code_keeps_nobody_from_hearing_the_address(tmp_path, capsys):
    book = DeviceBook(tmp_path)
    (tmp_path / "devices.json.tmp").mkdir()  # nothing can be written on the way to the list
    with socket.create_server(("127.0.0.1", 0)) as listening:
        port = listening.getsockname()[1]
        announce(Served(tmp_path, port, browser=False, where="here"), book)
    said = capsys.readouterr()
    assert said.out == f"Cotterbook is at http://127.0.0.1:{port} (data in here). Stop it with Ctrl-C.\n"
    where = tmp_path / "devices.json.tmp"
    assert said.err.startswith(f"cotterbook: The disk could not be read or written (Is a directory: {where}).")
