"""Pictures on the phone: small, upright, free of what the camera wrote, and kept before anything is said."""

import base64
import hashlib
import io
import re
from random import Random

import pytest
from PIL import Image

from web.phone import Phone, entry, uuid

ROTATED_90 = 6  # EXIF orientation: turn clockwise by a quarter to see it upright
ORIENTATION, GPS = 0x0112, 0x8825


@pytest.fixture
def phone(chromium, module_server):
    phone = Phone(chromium, module_server.url)
    yield phone
    phone.close()


def picture(width, height, orientation=None, kind="JPEG"):
    """A picture with a red left edge as it is stored, the rest blue."""
    image = Image.new("RGB", (width, height), "blue")
    image.paste("red", (0, 0, width // 4, height))
    exif = Image.Exif()
    if orientation:
        exif[ORIENTATION] = orientation
        exif[GPS] = {1: "N", 2: (51.0, 28.0, 38.0)}
    out = io.BytesIO()
    image.save(out, kind, exif=exif)
    return out.getvalue()


SHRINK = """(() => {
    const bytes = Uint8Array.from(atob(a), (c) => c.charCodeAt(0));
    return m.photos.shrink(new File([bytes], "picture"));
})()"""
KEPT = """const photo = await m.log.photo(a);
    let text = ""; for (const byte of new Uint8Array(photo.bytes)) text += String.fromCharCode(byte);
    return {...photo, bytes: btoa(text)};"""


def shrink(tab, content):
    """The answer of `shrink` and the picture that then lies on the phone."""
    answer = tab.run(f"return {SHRINK}", base64.b64encode(content).decode())
    kept = tab.run(KEPT, answer["sha256"])
    return answer, kept | {"bytes": base64.b64decode(kept["bytes"])}


@pytest.mark.parametrize(
    ("size", "orientation", "expected"),
    [
        ((4000, 3000), None, (2000, 1500)),
        ((3000, 4000), None, (1500, 2000)),
        ((4000, 3000), ROTATED_90, (1500, 2000)),
        ((640, 480), ROTATED_90, (480, 640)),
        ((9000, 30), None, (2000, 7)),
    ],
)
def test_at_most_2000_px_upright_and_without_the_cameras_notes(phone, size, orientation, expected):
    tab = phone.tab()
    answer, kept = shrink(tab, picture(*size, orientation))
    assert tab.run("return m.log.photoState(a)", answer["sha256"]) == "unsent"
    image = Image.open(io.BytesIO(kept["bytes"]))
    assert image.format == "JPEG" and image.size == (answer["width"], answer["height"]) == expected
    assert not image.getexif() and kept["type"] == "image/jpeg"
    assert hashlib.sha256(kept["bytes"]).hexdigest() == answer["sha256"]
    assert len(kept["bytes"]) == answer["bytes"]
    # Stored red on the left; turned by a quarter, the red is on top.
    width, height = expected
    red, blue = ((width // 2, 2), (2, height - 3)) if orientation else ((2, height // 2), (width - 3, height // 2))
    for spot, colour in ((red, 0), (blue, 2)):
        shown = image.getpixel(spot)
        assert shown[colour] > 200 and shown[2 - colour] < 60


def test_noise_that_compresses_badly_is_kept_within_its_limit(phone):
    image = Image.frombytes("RGB", (2400, 2400), Random(3).randbytes(2400 * 2400 * 3))
    out = io.BytesIO()
    image.save(out, "JPEG", quality=80)
    assert len(out.getvalue()) < 15_000_000
    answer, kept = shrink(phone.tab(), out.getvalue())
    assert 500_000 < len(kept["bytes"]) <= 2_000_000
    assert max(answer["width"], answer["height"]) <= 2000


def test_a_transparent_png_becomes_white_where_nothing_is(phone):
    out = io.BytesIO()
    Image.new("RGBA", (50, 50), (0, 0, 0, 0)).save(out, "PNG")
    _, kept = shrink(phone.tab(), out.getvalue())
    assert min(Image.open(io.BytesIO(kept["bytes"])).getpixel((25, 25))) > 250


def test_what_is_no_picture_is_refused(phone):
    tab = phone.tab()
    failure = tab.fails(SHRINK, base64.b64encode(b"a page of a manual").decode())
    assert failure["name"] == "PhotoRefused" and "no picture" in failure["text"]
    cut_off = picture(400, 300)[:200]
    assert tab.fails(SHRINK, base64.b64encode(cut_off).decode())["name"] == "PhotoRefused"
    assert tab.run("return m.log.unsentPhotos(10)") == []


def test_a_picture_over_15_mb_is_refused(phone):
    tab = phone.tab()
    failure = tab.fails("m.photos.shrink(new Blob([new Uint8Array(15_000_001)]))")
    assert failure["name"] == "PhotoRefused" and failure["values"] == {"limit": 15}
    assert tab.fails("m.photos.shrink(new Blob([new Uint8Array(15_000_000)]))")["values"] == {}


def test_a_full_phone_says_that_the_picture_was_not_kept(phone):
    tab = phone.tab()
    phone.quota(tab, 100_000)
    image = Image.frombytes("RGB", (800, 800), Random(4).randbytes(800 * 800 * 3))
    out = io.BytesIO()
    image.save(out, "JPEG")
    failure = tab.fails(SHRINK, base64.b64encode(out.getvalue()).decode())
    assert failure["name"] == "PhotoRefused" and "not taken in" in failure["text"] and "entries only" in failure["text"]
    assert tab.run("return m.log.unsentPhotos(10)") == []


def test_without_offscreen_canvas_the_pages_own_canvas_serves(phone):
    tab = phone.tab(before=lambda page: page.add_init_script("delete globalThis.OffscreenCanvas"))
    answer, kept = shrink(tab, picture(3000, 2000))
    assert Image.open(io.BytesIO(kept["bytes"])).size == (2000, 1333) == (answer["width"], answer["height"])


def test_a_picture_is_shown_from_the_phone_and_else_from_the_pc(phone):
    tab = phone.tab()
    answer, _ = shrink(tab, picture(640, 480))
    url = tab.run("return m.photos.pictureUrl(a)", answer["sha256"])
    assert url.startswith("blob:")
    assert tab.run("const i = new Image(); i.src = a; await i.decode(); return i.naturalWidth", url) == 640
    assert tab.run("return m.photos.pictureUrl(a)", "0" * 64) == "/api/photos/" + "0" * 64


def photo_entry(number):
    envelope = {key: value for key, value in entry(number).items() if key not in ("type", "values")}
    return envelope | {"id": uuid(70_000 + number), "kind": "photo", "media_type": "image/jpeg"}


def name_it(tab, *answers):
    """Entries that name these pictures: without one a picture is not sent."""
    entries = [
        photo_entry(n) | answer for n, answer in enumerate(answers)
    ]
    tab.run("await m.log.addEntries(a)", entries)


def test_pictures_go_to_the_pc_and_the_same_one_only_once(phone, chromium):
    tab = phone.tab()
    puts = []
    phone.context.on("request", lambda r: puts.append(r.url) if r.method == "PUT" else None)
    answers = [shrink(tab, picture(300 + n, 200))[0] for n in range(6)]
    shrink(tab, picture(300, 200))
    tab.run("await m.sync.sendNow()")
    assert puts == [] and tab.run("return m.log.counts()")["unsent_photos"] == 0, "no entry names them yet"
    name_it(tab, *answers)
    assert tab.run("return m.log.counts()")["unsent_photos"] == 6
    tab.run("await m.sync.sendNow()")
    assert tab.run("return m.log.counts()") == {"unsent": 0, "refused": 0, "unsent_photos": 0}
    assert len(puts) == len(set(puts)) == 6
    other = Phone(chromium, phone.url)
    address = f"/api/photos/{answers[2]['sha256']}"
    fetched = other.tab().run("return (await (await fetch(a)).arrayBuffer()).byteLength", address)
    other.close()
    assert fetched == answers[2]["bytes"]


def test_a_picture_that_the_pc_refuses_is_told_and_does_not_stop_the_others(phone):
    tab = phone.tab()
    good, _ = shrink(tab, picture(300, 200))
    wrong = tab.run(
        """const bytes = new TextEncoder().encode("no picture at all").buffer;
        const digest = new Uint8Array(await crypto.subtle.digest("SHA-256", bytes));
        const sha256 = Array.from(digest, (b) => b.toString(16).padStart(2, "0")).join("");
        await m.log.addPhoto({sha256, bytes, type: "image/jpeg", width: 1, height: 1});
        return {sha256, bytes: bytes.byteLength, width: 1, height: 1};"""
    )
    name_it(tab, good, wrong)
    tab.run("await m.sync.sendNow()")
    shown = tab.run("return m.sync.snapshot()")
    assert [each["problem"]["code"] for each in shown["refused_photos"]] == ["not_a_picture"]
    assert tab.run("return m.log.photoState(a)", good["sha256"]) == "sent"
    assert shown["phase"] == "idle"


def test_pictures_that_do_not_get_through_hold_up_no_others(phone):
    """The two that come first by their hash break off each time, as on a network too slow for them."""
    tab = phone.tab()
    # Of other sizes than in the tests before: what the PC has already goes across without being sent.
    answers = sorted((shrink(tab, picture(500 + n, 210))[0] for n in range(7)), key=lambda each: each["sha256"])
    slow = [each["sha256"] for each in answers[:2]]
    # Before they are named: from then on they may go by themselves.
    phone.context.route(re.compile("/api/photos/(" + "|".join(slow) + ")$"), lambda route: route.abort())
    name_it(tab, *answers)
    for _ in range(3):
        tab.run("await m.sync.sendNow()")
    assert tab.run("return m.log.unsentPhotos(9)") == slow
    assert tab.run("return m.sync.snapshot().phase") == "away"
    # They are tried again, each in its turn, and go when they can.
    phone.context.unroute_all()
    tab.run("await m.sync.sendNow()")
    assert tab.run("return m.log.counts()")["unsent_photos"] == 0


def test_a_picture_about_which_the_pc_fails_holds_up_no_others(phone):
    """Whatever is asked together with it fails too, as with a fault in one row of the PC's database."""
    tab = phone.tab()
    answers = sorted((shrink(tab, picture(600 + n, 210))[0] for n in range(9)), key=lambda each: each["sha256"])
    bad = answers[1]["sha256"]

    def fail(route):
        if bad not in route.request.post_data:
            route.continue_()
            return
        error = {"code": "database_trouble", "text": "PostgreSQL reports a fault.", "values": {}}
        route.fulfill(status=500, json={"error": error})

    phone.context.route("**/api/photos/missing", fail)
    name_it(tab, *answers)
    for _ in range(8):
        tab.run("await m.sync.sendNow()")
    assert tab.run("return m.log.unsentPhotos(9)") == [bad]
    assert tab.run("return m.sync.snapshot().message.text") == "PostgreSQL reports a fault."
    phone.context.unroute_all()
    tab.run("await m.sync.sendNow()")
    assert tab.run("return m.log.counts()")["unsent_photos"] == 0


def test_a_picture_that_nobody_names_is_dropped_but_not_while_a_form_may_still_take_it(phone):
    tab = phone.tab()
    given_up, in_a_draft, saved = (shrink(tab, picture(300 + n, 200))[0] for n in range(3))
    name_it(tab, saved)
    tab.run("await m.log.putDraft('form', {photos: [a]})", in_a_draft)
    hashes = [each["sha256"] for each in (given_up, in_a_draft, saved)]
    kept = "return Promise.all(a.map(async (each) => Boolean(await m.log.photo(each))))"
    tab.run("await m.log.dropUnnamedPhotos()")
    assert tab.run(kept, hashes) == [True] * 3, "a new one may be on its way into a form"
    tab.run("await m.log.dropUnnamedPhotos(a)", hashes)
    assert tab.run(kept, hashes) == [False, True, True]
    # A form given up long ago is tidied away at a start.
    tab.run("await m.log.deleteDraft('form'); const now = Date.now(); Date.now = () => now + 2 * 3_600_000;")
    tab.run("await m.shop.ready()")
    tab.until("!(await m.log.photo(a))", in_a_draft["sha256"])
    assert tab.run(kept, hashes) == [False, False, True]


def test_a_picture_that_fails_while_it_is_made_small_is_told(phone):
    broken = "OffscreenCanvas.prototype.convertToBlob = async () => { throw new DOMException('no memory'); }"
    tab = phone.tab(before=lambda page: page.add_init_script(broken))
    failure = tab.fails(SHRINK, base64.b64encode(picture(300, 200)).decode())
    assert failure["name"] == "PhotoRefused" and "could not be made smaller" in failure["text"]
