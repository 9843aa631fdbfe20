"""A PC that has run out of file handles, and a data folder that may no longer be written: what a phone hears of it."""

import contextlib
import hashlib
import socket
import sys

import pytest

from cotterbook.core.words import spoken
from cotterbook.errors import Problem
from examples import STRIP, entry, photo_entry, picture
from held_back import HELD_BACK
from running import HttpClient, new_id

# The program keeps about thirty open; the rest go to whoever connects.
HANDLES = 80
FEW_HANDLES = f"""
import resource, sys
resource.setrlimit(resource.RLIMIT_NOFILE, ({HANDLES}, {HANDLES}))
from cotterbook import cli
sys.exit(cli.main(sys.argv[1:]))
"""


@contextlib.contextmanager
def phone_of(server):
    phone = HttpClient(server.port)
    try:
        phone.hello()
        yield phone
    finally:
        phone.close()


def send(phone, strip, *entries):
    """The status, and the answer for this strip-down or the error's code."""
    strips = {strip: {"cursor": 0, "entries": list(entries)}}
    status, said = phone.ask_json("/api/sync", {"version": "0.1.0", "device": new_id(), "strips": strips})
    return status, said["strips"].get(strip) if status == 200 else said["error"]["code"]


def ids(phone, strip):
    status, said = send(phone, strip)
    assert status == 200
    return [each["id"] for each in said["entries"]] if said else []


def test_handles_that_are_gone_lose_nothing_and_it_serves_again_when_they_are_back(stopped_server):
    server = stopped_server
    server.program = ["-c", FEW_HANDLES]
    server.start()
    strips = [new_id() for _ in range(10)]
    with phone_of(server) as phone, contextlib.ExitStack() as taken:
        assert send(phone, STRIP, entry(0))[0] == 200
        for _ in range(HANDLES):
            taken.enter_context(socket.create_connection(("127.0.0.1", server.port), timeout=30))
        # Each is the first of its strip-down, so that a new file must be opened.
        refused = [send(phone, strip, entry(number, strip)) for number, strip in enumerate(strips, 1)]
        assert set(refused) == {(500, "disk_trouble")}
        taken.close()
        with phone_of(server) as late:
            assert ids(late, STRIP) == [entry(0)["id"]]
            for number, strip in enumerate(strips, 1):
                assert ids(late, strip) == []
                assert send(late, strip, entry(number, strip))[0] == 200
                assert ids(late, strip) == [entry(number, strip)["id"]]
    assert server.stop() == 0


def modes(folder, of_folders, of_files):
    for path in [folder, *folder.rglob("*")]:
        path.chmod(of_folders if path.is_dir() else of_files)


@pytest.mark.skipif(not sys.platform.startswith("linux"), reason="holds an administrator back as Linux does")
def test_a_folder_that_may_no_longer_be_written_acknowledges_nothing_and_is_still_read(stopped_server):
    server = stopped_server
    server.program = ["-c", HELD_BACK]
    server.start()
    data, other = picture(1), new_id()
    address = f"/api/photos/{hashlib.sha256(data).hexdigest()}"
    with phone_of(server) as phone:
        assert send(phone, STRIP, entry(0))[0] == 200
        modes(server.folder, 0o500, 0o400)
        assert send(phone, other, entry(1, other)) == (500, "disk_trouble")
        assert phone.ask("PUT", address, data, {"Content-Type": "image/jpeg"})[0] == 500
        assert ids(phone, STRIP) == [entry(0)["id"]] and ids(phone, other) == []
        modes(server.folder, 0o700, 0o600)
        assert send(phone, other, entry(1, other))[0] == 200
        assert phone.ask("PUT", address, data, {"Content-Type": "image/jpeg"})[0] == 200


@pytest.mark.skipif(sys.platform == "win32", reason="modes of files are not Windows' rights")
def test_pictures_that_may_not_be_read_stop_neither_the_start_nor_entries_and_come_again(stopped_server):
    """As an administrator leaves them who puts them back by hand: one in its place, one put aside."""
    server, pictures = stopped_server, {hashlib.sha256(picture(n)).hexdigest(): picture(n) for n in (1, 2, 3)}
    whole, closed, aside = pictures
    server.start()
    with phone_of(server) as phone:
        named = [photo_entry(number, data) for number, data in enumerate(pictures.values())]
        assert send(phone, STRIP, *named)[1]["refused"] == []
        for sha256, data in pictures.items():
            assert phone.ask("PUT", f"/api/photos/{sha256}", data)[0] == 200
    server.stop()
    folder = server.folder / "photos"
    (folder / f"{aside}.jpg").rename(folder / f"{aside}.damaged")
    for path in (folder / f"{closed}.jpg", folder / f"{aside}.damaged"):
        path.chmod(0)
    server.program = ["-c", HELD_BACK]
    server.start()
    with phone_of(server) as phone:
        status, said = phone.ask_json("/api/photos/missing", {"hashes": list(pictures)})
        assert (status, said) == (200, {"missing": [closed, aside]})
        assert [phone.ask("GET", f"/api/photos/{sha256}")[0] for sha256 in (whole, closed)] == [200, 404]
        body = {"version": "0.1.0", "device": new_id(), "strips": {STRIP: {"cursor": 3, "entries": [entry(9)]}}}
        status, said = phone.ask_json("/api/sync", body)
        assert status == 200 and said["strips"][STRIP]["refused"] == []
        assert sorted(said["wanted_photos"]) == sorted([closed, aside])
        told = [spoken(each) for each in said["concerns"] if each["text"].startswith("Pictures")]
        assert len(told) == 2 and "spoiled: 1. " in told[1]
        assert f"may not read in the folder photos of the data: 1, the first of them {closed}.jpg. " in told[0]
        assert phone.ask("PUT", f"/api/photos/{closed}", pictures[closed])[0] == 200
        (folder / f"{aside}.damaged").chmod(0o600)
        (folder / f"{aside}.damaged").rename(folder / f"{aside}.jpg")  # put back by hand, with its rights
        status, said = phone.ask_json("/api/sync", body)
        assert said["wanted_photos"] == [] and not [each for each in said["concerns"] if "Pictures" in each["text"]]
        assert [phone.ask("GET", f"/api/photos/{sha256}")[0] for sha256 in pictures] == [200] * 3


def test_what_is_asked_about_pictures_fails_no_answer_about_entries(app, store, monkeypatch):
    client = app.test_client()
    token = {"X-CSRFToken": client.get("/api/hello").get_json()["csrf"]}

    def fail():
        raise Problem("disk_trouble", what="Input/output error")

    monkeypatch.setattr(store, "wanted_photos", fail)
    monkeypatch.setattr(store, "awaited_photos", fail)
    body = {"version": "0.1.0", "device": new_id(), "strips": {STRIP: {"cursor": 0, "entries": [entry(1)]}}}
    answer = client.post("/api/sync", json=body, headers=token)
    assert answer.status_code == 200 and answer.get_json()["wanted_photos"] == []
    assert store.strips() == {STRIP: 1}
    assert "can’t look at its pictures: The PC could not" in spoken(answer.get_json()["concerns"][0])
