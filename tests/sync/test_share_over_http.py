"""The page to send over HTTP and by the command: its pictures made anew, who may ask, what is not written over."""

import base64
import hashlib
import io
import json
import re

import pytest
from PIL import Image
from test_program import sync

from cotterbook import create_app, demo, resources
from cotterbook.core.share_page import MOST_PICTURES, OPTIONS, PICTURE_SIDE
from cotterbook.devices import HAND, LOOKER_ON, OWNER, DeviceBook
from cotterbook.devices.routes import now_ms
from cotterbook.exports.folding import folded
from cotterbook.exports.share import write_share
from cotterbook.jpeg import more_than_the_picture
from cotterbook.store import TinyStore
from examples import OTHER_STRIP, STRIP, entry
from jpegs import SIDE, jpeg
from running import new_id, run

LOG = [json.loads(line) for line in (resources.folder("demo_data") / "entries.jsonl").read_text("utf-8").splitlines()]
DEMO = LOG[0]["strip"]
PEOPLE = sorted({each["who"] for each in LOG})
PICTURES = re.compile(rb'<img alt="[^"]*" src="data:image/jpeg;base64,([A-Za-z0-9+/=]+)">')


@pytest.fixture(scope="module")
def client(tmp_path_factory):
    folder = tmp_path_factory.mktemp("share") / "data"
    store = TinyStore(folder)
    demo.load(store, resources.folder("demo_data"))
    app = create_app(folder, store)
    app.testing = True
    yield app.test_client()
    store.close()


def page(client, **asked):
    answer = client.get(f"/api/exports/{DEMO}/share.html", query_string=asked)
    assert answer.status_code == 200, answer.data
    return answer


def test_it_is_a_file_to_save_of_a_name_of_ours_and_kept_by_nobody(client):
    answer = page(client)
    assert answer.content_type == "text/html; charset=utf-8"
    said = answer.headers["Content-Disposition"]
    assert re.fullmatch(r"attachment; filename=cotterbook-share-\d{4}-\d\d-\d\d\.html", said)
    assert (answer.headers["Cache-Control"], answer.headers["X-Content-Type-Options"]) == ("no-store", "nosniff")


def test_what_is_asked_for_is_told_and_by_itself_it_tells_little(client):
    least, most = page(client).data, page(client, **{name: "yes" for name, _ in OPTIONS}).data
    for name in PEOPLE:
        assert name.encode() not in least and name.encode() in most
    assert PICTURES.search(least) and not PICTURES.search(page(client, pictures="no").data)
    assert b"Notes go with the names" in page(client, notes="yes").data


def test_pictures_are_small_and_hold_nothing_but_what_is_seen(client):
    found = [base64.b64decode(each) for each in PICTURES.findall(page(client).data)]
    assert 0 < len(found) <= MOST_PICTURES
    taken = [each for each in LOG if each["kind"] == "photo"]
    for data in found:
        assert more_than_the_picture(data) == []
        with Image.open(io.BytesIO(data)) as image:
            assert max(image.size) == PICTURE_SIDE < max(taken[0]["width"], taken[0]["height"])
            assert not image.getexif() and "icc_profile" not in image.info and "comment" not in image.info


def test_a_picture_of_the_store_that_carries_a_name_gives_none_of_it_away(data_folder, store):
    """Such as an older program may have stored: this one refuses it."""
    exif = Image.Exif()
    exif[0x010E] = "Torrec Vale took this"
    carrying = jpeg(comment="by Torrec Vale", exif=exif, icc_profile=b"Torrec Vale" * 20, xmp=b"<x>Torrec Vale</x>")
    sha256 = hashlib.sha256(carrying).hexdigest()
    part, common = new_id(), {"strip": STRIP, "by": new_id(), "who": "Ann"}
    store.put_photo(sha256, carrying)
    store.append(STRIP, [
        {"id": new_id(), "at": 1, "kind": "set", "thing": part, "type": "part", "values": {"name": "Seat"}, **common},
        {"id": new_id(), "at": 2, "kind": "photo", "thing": part, "sha256": sha256, "media_type": "image/jpeg",
         "bytes": len(carrying), "width": SIDE, "height": SIDE, **common},
    ])
    made = io.BytesIO()
    write_share(folded(store, STRIP), store, {}, 1_760_000_000_000, made)
    [data] = [base64.b64decode(each) for each in PICTURES.findall(made.getvalue())]
    assert more_than_the_picture(data) == [] and b"Torrec" not in data


@pytest.mark.parametrize("asked", ["names=1", "names=", "who=yes", "names=yes&now_ms=yes", "pictures=No"])
def test_what_is_neither_yes_nor_no_is_refused(client, asked):
    answer = client.get(f"/api/exports/{DEMO}/share.html?{asked}")
    assert (answer.status_code, answer.get_json()["error"]["code"]) == (400, "bad_request")


def test_who_may_read_may_make_it_and_nobody_else(data_folder, store):
    book = DeviceBook(data_folder)
    app = create_app(data_folder, store, book)
    demo.load(store, resources.folder("demo_data"))

    def ask(token, strip=DEMO):
        client = app.test_client()
        if token:
            client.set_cookie("cotterbook-device-8350", token, domain="127.0.0.1")
        return client.get(f"/api/exports/{strip}/share.html?pictures=no", headers={"Host": "127.0.0.1:8350"})

    for role in (OWNER, HAND, LOOKER_ON):
        token, device = book.pair(book.make_code(role, now_ms()), new_id(), f"A {role}", now_ms())
        assert (ask(token).status_code, ask(token, OTHER_STRIP).status_code) == (200, 404)
        assert f"A {role}".encode() not in ask(token).data
    book.revoke(device.id, now_ms())
    for stranger, code in ((token, "revoked"), (None, "not_paired")):
        assert {(each.status_code, each.get_json()["error"]["code"])
                for each in (ask(stranger), ask(stranger, OTHER_STRIP))} == {(401, code)}


def test_a_picture_that_is_not_here_is_said_in_its_place(data_folder, store):
    photo = entry(2) | {"kind": "photo", "thing": entry(1)["thing"], "sha256": "0" * 64, "media_type": "image/jpeg",
                        "bytes": 10, "width": 10, "height": 10}
    photo = {key: photo[key] for key in (*(
        "id", "strip", "kind", "at", "by", "who", "thing", "sha256", "media_type", "bytes", "width", "height"),)}
    part = entry(1) | {"kind": "set", "type": "part", "values": {"name": "Seat", "off": True}}
    store.append(STRIP, [part, photo])
    data = create_app(data_folder, store).test_client().get(f"/api/exports/{STRIP}/share.html").data
    assert b"This picture is not at hand here." in data and b"<img" not in data


def test_the_command_writes_one_file_while_the_program_serves_and_writes_over_none(stopped_server, tmp_path):
    server = stopped_server.start()
    sync(server, [entry(1)])
    file, data = tmp_path / "page.html", str(tmp_path / "data")
    code, said, errors = run("share", STRIP, str(file), "--data", data)
    assert (code, errors) == (0, "")
    assert said == f"{file}: one page to send. Read it over before you do: whoever gets it can read all of it.\n"
    assert file.stat().st_mode & 0o777 == 0o600 and file.read_bytes().startswith(b"<!DOCTYPE html>")
    assert entry(1)["who"].encode() not in file.read_bytes()
    file.write_text("mine")
    code, said, errors = run("share", STRIP, str(file), "--data", data)
    assert (code, said) == (1, "") and file.read_text() == "mine"
    assert errors == f"cotterbook: There is a file {file} already. It was not touched: choose another name.\n"
    named = tmp_path / "named.html"
    assert run("share", STRIP, str(named), "--names", "--no-pictures", "--data", data)[0] == 0
    assert entry(1)["who"].encode() in named.read_bytes()
    notes = tmp_path / "notes.html"
    code, said, errors = run("share", STRIP, str(notes), "--notes", "--data", data)
    assert errors == "cotterbook: Notes are left out with the names: nobody can tell which names stand in them.\n"


def test_what_the_command_cannot_do_is_said(tmp_path):
    store = TinyStore(tmp_path / "data")
    store.append(STRIP, [entry(1)])
    store.close()
    for arguments, told in (
        ((OTHER_STRIP, "x.html"), "There is no such strip-down here. Nothing was made. Take its name from its"
                                  " address."),
        ((STRIP, "no/x.html"), "The page no/x.html could not be written (No such file or directory). There is no half"
                               " of it. Choose a folder with room, where you may write."),
    ):
        assert run("share", *arguments, "--data", "data", cwd=tmp_path) == (1, "", f"cotterbook: {told}\n")
    assert sorted(path.name for path in tmp_path.iterdir()) == ["data"]
