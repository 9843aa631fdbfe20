"""Reading labels with a camera: Chromium is shown a film of printed sheets in the place of a camera's picture."""

import os
from collections.abc import Iterator
from io import BytesIO
from pathlib import Path
from typing import Any

import pytest
import segno
from PIL import Image
from playwright.sync_api import expect

from browsers import find_chromium
from held_to_a_camera import photographed, print_pages
from one_part import phone_with_one_part
from screens import open_screen

# What Chromium takes as a film: JPEG pictures, one after the other.
FILM_PICTURES, FILM_SIZE = 12, (640, 480)


class Camera:
    """A browser whose camera sees what it is shown."""

    def __init__(self, chromium: Any, film: Path) -> None:
        self.film = film
        self.shows(Image.new("L", FILM_SIZE, 120))
        options = ["--use-fake-device-for-media-stream", f"--use-file-for-fake-video-capture={film}"]
        options += ["--no-sandbox"] if getattr(os, "geteuid", lambda: 1)() == 0 else []
        launch = chromium.unpaired.browser_type.launch
        self.paired = type(chromium)(launch(executable_path=find_chromium(), args=options))

    def shows(self, picture: Image.Image) -> None:
        """From the next time that the camera is switched on."""
        by = min(FILM_SIZE[0] / picture.width, FILM_SIZE[1] / picture.height)
        small = picture.convert("L").resize((int(picture.width * by), int(picture.height * by)), Image.Resampling.BOX)
        seen, one = Image.new("L", FILM_SIZE, 110), BytesIO()
        seen.paste(small, ((FILM_SIZE[0] - small.width) // 2, (FILM_SIZE[1] - small.height) // 2))
        seen.convert("RGB").save(one, "JPEG", quality=92)
        self.film.write_bytes(one.getvalue() * FILM_PICTURES)


@pytest.fixture(scope="module")
def camera(chromium: Any, tmp_path_factory: Any) -> Iterator[Camera]:
    camera = Camera(chromium, tmp_path_factory.mktemp("camera") / "film.mjpeg")
    yield camera
    camera.paired.unpaired.close()


@pytest.fixture
def phone(camera: Camera, module_server: Any) -> Iterator[Any]:
    """A fresh phone with that camera, which its pages may use, and one part in bag 7: (page, strip, part)."""
    with phone_with_one_part(camera.paired, module_server, permissions=["camera"]) as phone:
        yield phone


def code_of(text: str) -> Image.Image:
    drawn = BytesIO()
    segno.make(text, micro=False).save(drawn, kind="png", scale=8, border=4)
    return Image.open(drawn)


def look(phone: Any) -> Any:
    page, strip, _ = phone
    open_screen(page, f"#/strip/{strip}/scan")
    page.get_by_role("button", name="Camera on").click()
    return page


def test_a_printed_label_held_askew_opens_its_bag(camera: Camera, phone: Any) -> None:
    page, strip, _ = phone
    open_screen(page, f"#/strip/{strip}/labels")
    page.get_by_label("Paper").select_option("roll_80")
    expect(page.locator(".tagpages[data-for='bags roll_80'] .tag")).to_have_count(1)
    camera.shows(photographed(print_pages(page)[0]))
    look(phone)
    expect(page.get_by_role("heading", level=1)).to_have_text("Bag 7")
    # The camera is off again.
    assert page.locator("video").count() == 0


def test_the_reader_is_there_offline(camera: Camera, phone: Any) -> None:
    page, strip, part = phone
    page.evaluate("() => navigator.serviceWorker.ready.then(() => true)")
    page.context.set_offline(True)
    camera.shows(code_of(page.url.split("#")[0] + f"#/strip/{strip}/part/{part}"))
    look(phone)
    expect(page.get_by_role("heading", level=1)).to_have_text("Caliper bracket")


@pytest.mark.parametrize(("text", "words"), [
    ("https://cotterbook-zz99.local:8351/#/strip/0199c82c-c000-7570-8500-d486795b7615/bag/7",
     "This label leads to another shop’s PC (cotterbook-zz99.local:8351). Nothing was opened."),
    ("https://example.org/", "This code is no label of a bag, box or part. Nothing was opened."),
    ("javascript:alert(1)//#/strip/x/bag/7", "This code is no label of a bag, box or part. Nothing was opened."),
    ("M8x25", "This code is no label of a bag, box or part. Nothing was opened."),
])  # fmt: skip
def test_a_code_that_is_none_of_ours_opens_nothing(camera: Camera, phone: Any, text: str, words: str) -> None:
    page, *_ = phone
    camera.shows(code_of(text))
    look(phone)
    expect(page.get_by_text(words)).to_be_visible()
    expect(page.get_by_role("heading", level=1)).to_have_text("Read a label")
    page.get_by_role("button", name="Camera off").click()
    expect(page.get_by_role("button", name="Camera on")).to_be_visible()


def test_a_camera_that_stops_by_itself_is_said_and_can_be_turned_on_again(camera: Camera, phone: Any) -> None:
    camera.shows(code_of("M8x25"))
    page = look(phone)
    expect(page.get_by_text("This code is no label")).to_be_visible()
    # As when it is pulled out: the browser ends the track and says so to it.
    page.locator("video").evaluate(
        """(video) => { const [track] = video.srcObject.getTracks();
        track.stop(); track.dispatchEvent(new Event("ended")); }"""
    )
    expect(page.get_by_text("The camera stopped by itself.")).to_be_visible()
    expect(page.locator("video")).to_have_count(0)
    page.get_by_role("button", name="Camera on").click()
    expect(page.locator("video")).to_be_visible()


def test_a_label_of_a_strip_down_that_is_not_on_this_phone_says_where_to_find_it(camera: Camera, phone: Any) -> None:
    page, *_ = phone
    camera.shows(code_of(page.url.split("#")[0] + "#/strip/0199c82c-c000-7570-8500-d486795b7615/bag/7"))
    look(phone)
    expect(page.get_by_role("alert")).to_contain_text("This strip-down is not in the log of this phone.")


def test_a_torn_code_is_looked_at_on_and_on_and_the_number_can_be_typed(camera: Camera, phone: Any) -> None:
    page, strip, _ = phone
    torn = code_of(page.url.split("#")[0] + f"#/strip/{strip}/bag/7")
    torn.paste(0, (0, 0, torn.width // 2, torn.height // 2))
    camera.shows(torn)
    look(phone)
    expect(page.get_by_text("Hold the code of a label before the camera.")).to_be_visible()
    page.wait_for_timeout(1500)
    page.get_by_label("What stands on the bag").fill("7")
    page.get_by_role("button", name="Open the bag").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("Bag 7")


def test_a_camera_that_may_not_be_used_is_said_with_what_to_do(camera: Camera, module_server: Any) -> None:
    with phone_with_one_part(camera.paired, module_server) as phone:
        page = look(phone)
        expect(page.get_by_text("The camera may not be used by this page.")).to_be_visible()
        expect(page.get_by_role("button", name="Camera on")).to_be_visible()


def test_a_device_without_a_camera_is_told_to_type(chromium: Any, module_server: Any) -> None:
    with phone_with_one_part(chromium, module_server, permissions=["camera"]) as phone:
        page = look(phone)
        expect(page.get_by_text("This device has no camera. Type what stands on the bag.")).to_be_visible()


def test_a_picture_that_the_browsers_own_reader_refuses_is_passed_over(camera: Camera, phone: Any) -> None:
    """Shape Detection API: `detect` rejects while no picture is there, or its service is busy. None is here: it is
    stood in for."""
    page, strip, _ = phone
    camera.shows(Image.new("L", FILM_SIZE, 120))
    open_screen(page, f"#/strip/{strip}/scan")
    page.evaluate("""(text) => {
        let asked = 0;
        self.BarcodeDetector = class {
            static async getSupportedFormats() { return ["qr_code"]; }
            async detect() {
                if (asked++ < 2) throw new DOMException("busy", "InvalidStateError");
                return [{rawValue: text}];
            }
        };
    }""", page.url.split("#")[0] + f"#/strip/{strip}/bag/7")  # fmt: skip
    page.get_by_role("button", name="Camera on").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("Bag 7")
