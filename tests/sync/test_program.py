"""The program as it is started and stopped by hand: real processes, real signals."""

import json
import os
import re
import signal
import socket

import pytest

from cotterbook.settings import SETTINGS
from cotterbook.store import TinyStore
from cotterbook.store.journal import FORMAT, VERSION, line
from examples import DEVICE, STRIP, entry
from running import HttpClient, free_port, run


def sync(server, entries):
    client = HttpClient(server.port)
    client.hello()
    body = {"version": "0.1.0", "now": 0, "device": DEVICE, "strips": {STRIP: {"cursor": 0, "entries": entries}}}
    status, answer = client.ask_json("/api/sync", body)
    client.close()
    assert status == 200, answer
    return answer


@pytest.mark.parametrize("number", [signal.SIGTERM, signal.SIGINT, signal.SIGHUP])
def test_it_stops_cleanly_and_keeps_what_it_acknowledged(stopped_server, tmp_path, number):
    server = stopped_server.start()
    assert server.url in server.said.decode() and str(tmp_path / "data") in server.said.decode()
    sync(server, [entry(1)])
    assert (tmp_path / "data" / "held_by").exists()
    server.signal(number)
    assert server.wait() == 0
    assert not (tmp_path / "data" / "held_by").exists()
    assert server.log.read_text() == ""
    server.start()
    assert sync(server, [])["strips"][STRIP]["entries"] == [entry(1)]
    assert server.stop() == 0


def test_ctrl_c_reaches_all_its_processes_at_once_and_is_clean(stopped_server, tmp_path):
    server = stopped_server.start()
    os.killpg(server.process.pid, signal.SIGINT)
    assert server.wait() == 0
    assert server.log.read_text() == ""



def test_it_stops_though_clients_stall_in_the_middle_of_sending(stopped_server, tmp_path):
    server = stopped_server.start()
    stalled = [socket.create_connection(("127.0.0.1", server.port)) for _ in range(12)]
    for each in stalled:
        each.sendall(b"POST /api/sync HTTP/1.1\r\nHost: localhost\r\nContent-Length: 900\r\n\r\n{")
    assert sync(server, [entry(1)])["strips"][STRIP]["cursor"] == 1
    assert server.stop() == 0
    for each in stalled:
        each.close()


def test_its_second_process_ends_when_the_first_was_killed(stopped_server, tmp_path):
    server = stopped_server.start()
    server.signal(signal.SIGKILL)
    # The pipe that both write to ends when the last of them has ended.
    assert server.process.stdout.read() == b""
    server.wait()
    server.start()
    sync(server, [entry(1)])
    assert server.stop() == 0


def test_a_taken_port_is_said(tmp_path):
    with socket.create_server(("127.0.0.1", 0)) as taken:
        port = str(taken.getsockname()[1])
        for command in (["serve", "--data", str(tmp_path / "data")], ["demo", "--no-browser"]):
            code, said, errors = run(*command, "--port", port)
            assert (code, said) == (1, "")
            assert errors == (
                f"cotterbook: Port {port} on this computer is taken, perhaps by another Cotterbook."
                " Stop that one first, or choose another port with --port.\n")
    assert not (tmp_path / "data").exists()


def test_a_second_server_on_the_same_port_is_refused(stopped_server, tmp_path):
    server = stopped_server.start()
    code, _, errors = run("serve", "--data", str(tmp_path / "other"), "--port", str(server.port))
    assert code == 1 and f"Port {server.port} on this computer is taken" in errors
    assert server.stop() == 0


def test_a_folder_held_by_another_process_is_said(stopped_server, tmp_path):
    server = stopped_server.start()
    code, said, errors = run("serve", "--data", str(tmp_path / "data"), "--port", str(free_port()))
    assert (code, said) == (1, "")
    assert re.fullmatch(
        rf"cotterbook: The folder {tmp_path}/data is in use by another Cotterbook \(process \d+, since [-\d: ]+\)\."
        " Stop that one first, or choose another folder with --data.\n", errors)
    assert sync(server, [entry(1)])["strips"][STRIP]["cursor"] == 1
    assert server.stop() == 0


def test_a_folder_that_cannot_be_written_is_said(tmp_path):
    (tmp_path / "file").write_text("")
    code, said, errors = run("serve", "--data", str(tmp_path / "file"), "--port", str(free_port()))
    assert (code, said) == (1, "")
    assert errors == (
        f"cotterbook: Cotterbook cannot write in the folder {tmp_path}/file (Not a directory)."
        " Nothing was changed. Choose another folder, or let yourself write there.\n")


def test_damage_is_told_at_the_start(stopped_server, tmp_path):
    store = TinyStore(tmp_path / "data")
    store.append(STRIP, [entry(1), entry(2)])
    store.close()
    path = tmp_path / "data" / "strips" / f"{STRIP}.jsonl"
    path.write_bytes(path.read_bytes().replace(b"note 1", b"note 7")[:-5])
    server = stopped_server.start()
    assert server.stop() == 0
    errors = server.log.read_text().splitlines()
    assert len(errors) == 2
    assert "the last write was cut short" in errors[0] and "damaged and cannot be read: 1." in errors[1]


def test_a_file_of_a_later_version_stops_the_start(tmp_path):
    (tmp_path / "data" / "strips").mkdir(parents=True)
    later = line({"format": FORMAT, "version": VERSION + 1})
    (tmp_path / "data" / "strips" / f"{STRIP}.jsonl").write_bytes(later)
    code, _, errors = run("serve", "--data", str(tmp_path / "data"), "--port", str(free_port()))
    assert code == 1
    assert f"The file {STRIP}.jsonl was written by a newer Cotterbook. It was not touched." in errors


def test_the_demo_holds_the_demo_strip_down_and_its_folder_goes_with_it(make_server):
    server = make_server(demo=True)
    assert server.folder.is_dir()
    answer = sync(server, [])
    [(strip, part)] = [(strip, part) for strip, part in answer["strips"].items() if part["entries"]]
    hashes = [each["sha256"] for each in part["entries"] if each["kind"] == "photo"]
    assert hashes
    client = HttpClient(server.port)
    for sha256 in hashes:
        status, headers, data = client.ask("GET", f"/api/photos/{sha256}")
        assert (status, headers["content-type"]) == (200, "image/jpeg") and data
    client.close()
    lines = (server.folder / "strips" / f"{strip}.jsonl").read_bytes().splitlines()
    assert [json.loads(line)["entry"] for line in lines[1:]] == part["entries"]
    assert server.stop() == 0
    assert not server.folder.exists()


@pytest.mark.parametrize("arguments", [
    [], ["fly"], ["serve", "--port", "0"], ["serve", "--port", "65536"], ["serve", "--port", "x"],
    ["demo", "--data", "x"],
])
def test_a_command_that_is_not_understood_is_refused(arguments):
    code, said, errors = run(*arguments)
    assert (code, said) == (2, "") and errors.startswith("usage: cotterbook")


def test_the_help_tells_every_setting_and_its_default():
    told = ""
    for command in ("serve", "demo"):
        code, said, _ = run(command, "--help", env={**os.environ, "COLUMNS": "500"})
        assert code == 0
        told += said
    for setting in SETTINGS:
        assert f"--{setting.name.replace('_', '-')}" in told
        default = {None: "none", False: "no", True: "yes"}.get(setting.default, setting.default)
        assert f"{setting.help} (default: {default})" in told
