"""Options of the terminal that make no sense, and an output that nobody reads to its end."""

import contextlib
import os
import socket
import subprocess
import sys

import pytest

from cotterbook.network.addresses import leads_here, private_addresses
from cotterbook.store import TinyStore
from cotterbook.store.folder import FolderReader
from examples import OTHER_STRIP, STRIP, entry
from running import START_SECONDS, RunningServer, free_port, run


def serve(folder, *options):
    ports = {name: str(free_port()) for name in ("--port", "--lan-port", "--trust-port")}
    if "--lan" not in options:
        ports = {"--port": ports["--port"]}
    return run("serve", "--data", str(folder), *(word for each in ports.items() for word in each), *options)


# 192.0.2.0/24 and 198.51.100.0/24 belong to no computer, and names under .invalid to nobody (RFC 5737, RFC 6761).
@pytest.mark.parametrize("host", ["shop.invalid", "10.255.254.253"])
def test_a_host_that_is_another_computer_is_refused_before_it_is_chosen(tmp_path, host):
    assert host not in private_addresses()
    code, said, errors = serve(tmp_path / "data", "--lan", "--host", host)
    assert (code, said) == (1, "")
    assert errors == (
        f"cotterbook: {host} does not lead to this computer, and phones would not find it there. Nothing was changed."
        " Leave --host out, or take a name under .local, an address that this computer has, or a name that the network"
        " gives it.\n")
    assert not (tmp_path / "data" / "origin.json").exists()


def test_the_names_and_addresses_of_this_computer_lead_here():
    assert leads_here("bench.local") and leads_here("localhost")
    assert not leads_here("198.51.100.7") and not leads_here("shop.invalid") and not leads_here("a" * 70 + ".invalid")
    for address in private_addresses():
        assert leads_here(address)
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
        # What the system itself would speak from; nothing is sent, as UDP has no greeting (RFC 768).
        try:
            probe.connect(("192.0.2.1", 9))
        except OSError:
            return
        assert leads_here(probe.getsockname()[0])


@pytest.mark.parametrize("host", ["", "  "])
def test_no_host_at_all_is_refused(tmp_path, host):
    code, said, errors = serve(tmp_path / "data", "--lan", "--host", host)
    assert (code, said) == (2, "") and "a host is a name such as shop.local" in errors
    assert not (tmp_path / "data").exists()


@pytest.mark.parametrize("options", [
    ("--new-origin",), ("--host", "bench.local"), ("--lan-port", "8399"), ("--certificate", "x.pem"),
    ("--certificate-key", "x.pem")])
def test_what_is_for_phones_is_refused_where_phones_are_not_let_in(tmp_path, options):
    code, said, errors = serve(tmp_path / "data", *options)
    assert (code, said) == (1, "")
    assert errors == (
        f"cotterbook: {options[0]} says how phones find this computer, and does nothing without --lan. Nothing was"
        f" changed, and nothing is served. Give --lan too, or leave {options[0]} out.\n")
    assert not (tmp_path / "data").exists()


@pytest.fixture(params=["", "1"])
def environment(request):
    """With Python's output in large pieces and in small ones."""
    return {**os.environ, "PYTHONUNBUFFERED": request.param}


def unread(*arguments, **options):
    """A command whose output nobody reads: exit code and errors."""
    reading, writing = os.pipe()
    os.close(reading)
    try:
        done = subprocess.run(
            [sys.executable, "-m", "cotterbook.cli", *arguments], stdout=writing, stderr=subprocess.PIPE, text=True,
            timeout=START_SECONDS, check=False, **options)
    finally:
        os.close(writing)
    return done.returncode, done.stderr


@pytest.mark.parametrize("arguments", [("convert", "8 lbf ft"), ("--help",), ("--version",)])
def test_an_output_that_nobody_reads_is_no_fault(arguments, environment):
    assert unread(*arguments, env=environment) == (0, "")


def test_what_was_begun_is_done_to_its_end_though_nobody_reads_on(tmp_path, environment):
    with contextlib.closing(TinyStore(tmp_path / "data")) as store:
        store.append(STRIP, [entry(n) for n in range(5)])
        store.append(OTHER_STRIP, [entry(5, OTHER_STRIP)])
    asked = ("move", "--data", str(tmp_path / "data"), "--to", str(tmp_path / "new"))
    assert unread(*asked, env=environment) == (0, "")
    assert FolderReader(tmp_path / "new").strips() == {STRIP: 5, OTHER_STRIP: 1}


def test_a_server_goes_on_though_nobody_reads_what_it_says(tmp_path, environment):
    server = RunningServer(tmp_path / "data", paired=False)
    reading, writing = os.pipe()
    os.close(reading)
    with server.log.open("wb") as log:
        process = subprocess.Popen(
            [sys.executable, "-m", "cotterbook.cli", "serve", "--data", str(server.folder), "--port", str(server.port)],
            stdout=writing, stderr=log, env=environment)
    os.close(writing)
    try:
        while process.poll() is None:
            try:
                socket.create_connection(("127.0.0.1", server.port), timeout=5).close()
                break
            except ConnectionRefusedError:
                pass
        # It has said, or tried to, when a code waits for the first owner.
        while process.poll() is None and not (server.folder / "devices.json").exists():
            pass
        assert process.poll() is None
    finally:
        process.terminate()
        assert process.wait(timeout=START_SECONDS) == 0
    assert server.log.read_text() == ""
