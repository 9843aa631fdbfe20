"""Pictures over HTTP: kept once, by hash, and only when they are whole pictures."""

import hashlib
import io
import json
import shutil

import pytest
from PIL import Image

from cotterbook.core.limits import PHOTO_BYTES_KEPT
from cotterbook.store import photos
from disk import full_at
from examples import STRIP, entry, picture
from jpegs import CLEAN, MORE, NONE, large_profile


def sha256_of(data):
    return hashlib.sha256(data).hexdigest()


def jpeg(width, height, **options):
    file = io.BytesIO()
    Image.new("L", (width, height)).save(file, "JPEG", **options)
    return file.getvalue()


@pytest.fixture
def token(client):
    return {"X-CSRFToken": client.get("/api/hello").get_json()["csrf"]}


@pytest.fixture
def put(client, token):
    def put(data, sha256=None):
        return client.put(
            f"/api/photos/{sha256 or sha256_of(data)}", data=data, headers={**token, "Content-Type": "image/jpeg"})

    return put


@pytest.fixture
def missing(client, token):
    def missing(hashes):
        return client.post("/api/photos/missing", data=json.dumps({"hashes": hashes}), headers=token)

    return missing


def error(response, status, code):
    body = response.get_json()
    assert (response.status_code, body["error"]["code"]) == (status, code), body
    return body["error"]["text"].format(**body["error"]["values"])


def test_a_picture_is_asked_for_sent_and_given_out(client, put, missing, data_folder):
    data, other = picture(1), "0" * 64
    assert missing([other, sha256_of(data)]).get_json() == {"missing": [other, sha256_of(data)]}
    for _ in range(2):
        response = put(data)
        assert (response.status_code, response.get_json()) == (200, {"stored": True})
    assert missing([other, sha256_of(data)]).get_json() == {"missing": [other]}
    given = client.get(f"/api/photos/{sha256_of(data)}")
    assert (given.data, given.mimetype) == (data, "image/jpeg")
    assert given.headers["Cache-Control"] == "private, max-age=31536000, immutable"
    assert (data_folder / "photos" / f"{sha256_of(data)}.jpg").read_bytes() == data


def test_a_browser_that_has_the_picture_gets_no_second_copy(client, put):
    data = picture(1)
    put(data)
    address = f"/api/photos/{sha256_of(data)}"
    again = client.get(address, headers={"If-None-Match": client.get(address).headers["ETag"]})
    assert (again.status_code, again.data) == (304, b"")


def test_a_hash_that_does_not_match_is_refused(put, missing):
    other = sha256_of(picture(2))
    assert "damaged on its way" in error(put(picture(1), other), 422, "hash_differs")
    assert missing([other, sha256_of(picture(1))]).get_json()["missing"] == [other, sha256_of(picture(1))]


def test_a_picture_damaged_on_its_way_does_not_replace_the_good_one(client, put):
    data = picture(1)
    put(data)
    error(put(data[:-1], sha256_of(data)), 422, "hash_differs")
    assert client.get(f"/api/photos/{sha256_of(data)}").data == data


@pytest.mark.parametrize("data", [
    b"", b"hello", picture(1)[:200], picture(1)[:-40], b"\xff\xd8\xff" + b"x" * 500, b"\xff\xd8\xff",
    b"GIF89a" + picture(1), picture(1)[2:],
], ids=["empty", "text", "head", "cut", "noise", "mark", "gif", "no_mark"])
def test_what_is_no_whole_picture_is_refused(put, missing, data):
    assert "no whole JPEG picture" in error(put(data), 415, "not_a_picture")
    assert missing([sha256_of(data)]).get_json()["missing"] == [sha256_of(data)]


@pytest.mark.parametrize("name", NONE)
def test_what_does_not_follow_the_syntax_is_refused(put, name):
    error(put(NONE[name]), 415, "not_a_picture")


@pytest.mark.parametrize("name", MORE)
def test_a_picture_that_carries_more_is_refused_and_the_reason_told(put, missing, name):
    data, what = MORE[name]
    text = error(put(data), 415, "picture_carries_more")
    assert f"({what})" in text and "stays on the phone" in text
    assert missing([sha256_of(data)]).get_json()["missing"] == [sha256_of(data)]


@pytest.mark.parametrize("name", CLEAN)
def test_a_picture_that_carries_nothing_else_is_kept_as_it_is(client, put, name):
    assert put(CLEAN[name]).status_code == 200
    assert client.get(f"/api/photos/{sha256_of(CLEAN[name])}").data == CLEAN[name]


@pytest.mark.parametrize("name", CLEAN)
def test_pillow_sees_nothing_else_in_what_is_kept(name):
    """Its own list of what applications add, up to the first scan."""
    with Image.open(io.BytesIO(CLEAN[name])) as image:
        kinds = {body[:5] for _, body in image.applist}
        assert kinds <= {b"JFIF\0", b"Adobe", b"ICC_P"} and not image.getexif()
        assert not {"comment", "exif", "xmp", "photoshop", "mp"} & set(image.info)


def test_a_picture_of_another_format_is_refused(put):
    file = io.BytesIO()
    Image.new("L", (4, 4)).save(file, "PNG")
    error(put(file.getvalue()), 415, "not_a_picture")


def test_a_picture_may_have_two_million_bytes_and_no_more(put):
    # A profile of colours may be as long as it says; each of its parts costs 18 bytes more (ICC.1, Annex B.4).
    length = PHOTO_BYTES_KEPT - len(jpeg(8, 8)) - 31 * 18
    filled = jpeg(8, 8, icc_profile=large_profile(length))
    assert len(filled) == PHOTO_BYTES_KEPT and put(filled).status_code == 200
    text = error(put(jpeg(8, 8, icc_profile=large_profile(length + 1))), 413, "photo_too_big")
    assert text == "The picture is larger than 2000000 bytes. It stays on this phone; take a smaller one."


def test_a_picture_may_have_fifty_megapixels_and_no_more(put):
    assert put(jpeg(10_000, 5_000)).status_code == 200
    assert "50000000 pixels" in error(put(jpeg(10_000, 5_001)), 413, "too_many_pixels")
    error(put(jpeg(12_000, 10_000)), 413, "too_many_pixels")


@pytest.mark.parametrize("name", ["x", "0" * 63, "A" * 64, "..%2F..%2Fsecret_key", "0" * 63 + "/"])
def test_names_that_are_no_hash_lead_nowhere(client, token, name, data_folder):
    assert client.get(f"/api/photos/{name}").status_code == 404
    assert client.put(f"/api/photos/{name}", data=picture(1), headers=token).status_code in (400, 404)
    assert list((data_folder / "photos").iterdir()) == []


def test_a_picture_that_is_not_held_is_said(client):
    assert error(client.get(f"/api/photos/{'0' * 64}"), 404, "no_such_photo") == "The PC does not hold this picture."


@pytest.mark.parametrize("hashes", [None, "x", 5, {}, [5], ["x"], ["0" * 63], [None]])
def test_a_question_of_the_wrong_form_is_refused(missing, hashes):
    error(missing(hashes), 400, "bad_request")


def test_at_most_five_hundred_pictures_are_asked_about(missing):
    assert len(missing([f"{n:064x}" for n in range(500)]).get_json()["missing"]) == 500
    assert "More than 500 pictures" in error(missing([f"{n:064x}" for n in range(501)]), 413, "too_many_hashes")


def test_without_a_token_no_picture_is_taken(client, put, token):
    data = picture(1)
    token.clear()
    error(put(data), 400, "csrf")
    assert client.get(f"/api/photos/{sha256_of(data)}").status_code == 404


def test_pictures_stop_before_entries_when_the_disk_fills(client, token, put, data_folder, monkeypatch):
    data = picture(1)
    with monkeypatch.context() as patched:
        patched.setattr(photos, "LEFT_FOR_ENTRIES_BYTES", shutil.disk_usage(data_folder).free + 1_000_000_000)
        assert "what is left is for entries" in error(put(data), 507, "disk_for_entries")
        assert list((data_folder / "photos").iterdir()) == []
        body = {"version": "0.1.0", "device": entry(1)["by"], "strips": {STRIP: {"cursor": 0, "entries": [entry(1)]}}}
        assert client.post("/api/sync", json=body, headers=token).get_json()["strips"][STRIP]["refused"] == []
    assert put(data).status_code == 200


def test_a_full_disk_keeps_no_half_picture(client, put, data_folder):
    data = picture(1)
    with full_at(len(data) // 2):
        assert "disk is full. Nothing was lost" in error(put(data), 507, "disk_full")
    assert list((data_folder / "photos").iterdir()) == []
    assert put(data).status_code == 200
    assert client.get(f"/api/photos/{sha256_of(data)}").data == data
