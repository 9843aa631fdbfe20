"""The server's log: what it says, and all that it must not."""

import json
import logging
import os
import stat

import pytest

from cotterbook import create_app
from cotterbook.devices import HAND, DeviceBook
from cotterbook.devices.routes import now_ms
from cotterbook.server_log import BYTES, FILE, LOGGER
from examples import STRIP, entry
from running import new_id

HOST = "127.0.0.1:8350"
SECRET = "Mrs Secretname"


def lines(folder):
    path = folder / FILE
    return [json.loads(line) for line in path.read_text().splitlines()] if path.exists() else []


@pytest.fixture
def caller(data_folder, store):
    """ask(method, path, body) of a paired device; `token` and `id` are its own."""
    book = DeviceBook(data_folder)
    app = create_app(data_folder, store, book)
    token, device = book.pair(book.make_code(HAND, now_ms()), new_id(), SECRET, now_ms())
    client = app.test_client()
    client.set_cookie("cotterbook-device-8350", token, domain="127.0.0.1")
    csrf = client.get("/api/hello", headers={"Host": HOST}).json["csrf"]

    def ask(method, path, body=None):
        return client.open(path, method=method, json=body, headers={"Host": HOST, "X-CSRFToken": csrf})

    ask.token, ask.id, ask.csrf, ask.app = token, device.id, csrf, app
    return ask


def body(*entries):
    return {"version": "0.1.0", "device": new_id(), "strips": {STRIP: {"cursor": 0, "entries": list(entries)}}}


def test_each_answer_is_a_line_with_route_status_device_and_code(caller, data_folder):
    caller("POST", "/api/sync", body(entry(1)))
    caller("POST", "/api/devices/codes", {"role": "owner"})
    caller("GET", "/api/photos/" + "a" * 64)
    caller("GET", "/core.json")
    said = [(each["method"], each["route"], each["status"], each.get("error")) for each in lines(data_folder)]
    assert said == [
        ("GET", "sync.hello", 200, None), ("POST", "sync.sync", 200, None),
        ("POST", "devices.code", 403, "not_allowed"), ("GET", "photos.get", 404, "no_such_photo")]
    assert {each["device"] for each in lines(data_folder)} == {caller.id}
    assert all(each["ms"] >= 0 and each["at_ms"] > 1_700_000_000_000 for each in lines(data_folder))


def test_nothing_that_a_person_wrote_or_that_opens_a_door_is_in_it(caller, data_folder):
    caller("POST", "/api/sync", body(entry(1, who=SECRET, values={"note": SECRET})))
    caller("POST", "/api/sync", {**body(), "device": SECRET})
    caller("POST", "/api/pairing", {"code": "12345678", "device": new_id(), "name": SECRET})
    caller("GET", "/" + SECRET)
    caller("PROPFIND", "/api/" + SECRET)
    log = (data_folder / FILE).read_text()
    for secret in (SECRET, "Secretname", caller.token, caller.csrf, "12345678"):
        assert secret not in log


def test_a_fault_is_told_by_its_kind_and_place_and_not_by_its_words(caller, data_folder, store, monkeypatch, capsys):
    def broken(*_):
        raise KeyError(SECRET)

    monkeypatch.setattr(type(store), "append", broken)
    answer = caller("POST", "/api/sync", body(entry(1)))
    assert (answer.status_code, answer.json["error"]["code"]) == (500, "fault")
    [fault] = [each for each in lines(data_folder) if each["event"] == "fault"]
    assert fault["type"] == "KeyError" and fault["places"][-1].startswith("test_server_log.py:")
    said = capsys.readouterr().err
    assert "a fault (KeyError)" in said and SECRET not in said + (data_folder / FILE).read_text()


def test_a_stranger_that_is_turned_away_leaves_no_line_and_the_file_is_its_owners_alone(caller, data_folder):
    stranger = caller.app.test_client()
    answers = [stranger.get("/api/devices", headers={"Host": HOST}).status_code for _ in range(125)]
    assert answers[-1] == 429
    assert [each["status"] for each in lines(data_folder)].count(401) == 120
    assert 429 not in [each["status"] for each in lines(data_folder)]
    if os.name == "posix":
        assert stat.S_IMODE((data_folder / FILE).stat().st_mode) == 0o600


def test_the_log_does_not_grow_for_ever(caller, data_folder):
    logger = logging.getLogger(LOGGER)
    for _ in range(5 * BYTES // 1_000):
        logger.info("x" * 1_000)
    files = sorted(data_folder.glob(FILE + "*"))
    assert [path.name for path in files] == [FILE, FILE + ".1", FILE + ".2"]
    assert all(path.stat().st_size <= BYTES for path in files)


def test_a_log_that_can_not_be_written_stops_no_request(caller, data_folder):
    logging.getLogger(LOGGER).handlers[0].close()
    (data_folder / FILE).unlink(missing_ok=True)
    (data_folder / FILE).mkdir()
    assert caller("POST", "/api/sync", body(entry(1))).status_code == 200
