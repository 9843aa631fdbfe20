"""The page to send: made on a phone without a network, opened elsewhere, where it asks for nothing and runs nothing."""

import io
import json
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import expect
from pypdf import PdfReader

from cotterbook.core.share_page import share_view
from one_part import act, phone_with_one_part
from pages_to_send import HOSTILE, LOG, folded, hostile_log, page_of
from screens import PICK, STRETCH, open_screen

# WCAG 2.2 AA and axe's own good practice.
RULES = {"runOnly": ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]}
ALL = ("names", "number", "costs", "notes")
POINTS = {"A4": (595.3, 841.9), "Letter": (612, 792)}


@pytest.fixture
def phone(chromium: Any, module_server: Any) -> Iterator[Any]:
    """A fresh phone with one part, by Ann: (page, strip, part)."""
    with phone_with_one_part(chromium, module_server) as phone:
        yield phone


def unfold(page: Any, strip: str) -> None:
    open_screen(page, f"#/strip/{strip}/handover")
    page.get_by_text("A page to send").click()
    expect(page.get_by_role("button", name="Make the page")).to_be_visible()


def make(page: Any, folder: Path) -> Path:
    page.get_by_role("button", name="Make the page").click()
    with page.expect_download() as download:
        page.get_by_role("link", name="Save it").click()
    path = folder / download.value.suggested_filename
    download.value.save_as(path)
    assert re.fullmatch(r"cotterbook-share-\d{4}-\d\d-\d\d\.html", path.name)
    return path


def opened(chromium: Any, path: Path, **options: Any) -> tuple[Any, list[str]]:
    """The file in a fresh browser with its scripts on; whatever it asks for, says or opens goes into the list."""
    context = chromium.unpaired.new_context(**options)
    page, heard = context.new_page(), []
    page.on("request", lambda request: heard.append(request.url))
    page.on("dialog", lambda dialog: (heard.append(dialog.message), dialog.dismiss()))
    page.on("console", lambda said: heard.append(said.text))
    page.on("popup", lambda popup: heard.append(popup.url))
    page.goto(path.as_uri())
    page.wait_for_load_state("networkidle")
    return page, heard


def only_itself(heard: list[str], path: Path) -> None:
    assert [each for each in heard if not each.startswith("data:image/jpeg;base64,")] == [path.as_uri()]


def test_it_is_made_on_the_phone_without_a_network_as_it_is_chosen(phone: Any, chromium: Any, tmp_path: Path) -> None:
    page, strip, part = phone
    values = {"name": "Ann’s caliper bracket", "note": "Brought by Ann.", "outcome": "stays_off"}
    act(phone, "change", thing=part, type="part", values=values)
    page.evaluate("() => navigator.serviceWorker.ready.then(() => true)")
    page.context.set_offline(True)
    unfold(page, strip)
    path = make(page, tmp_path)
    text = path.read_text("utf-8")
    assert "person 1’s caliper bracket" in text and "Ann" not in text and "Brought by" not in text
    seen, heard = opened(chromium, path, viewport={"width": 360, "height": 740})
    expect(seen.locator("h1")).to_have_text("Test hack")
    only_itself(heard, path)
    seen.context.close()
    page.get_by_label("Notes, reasons, words under pictures").check()
    expect(page.get_by_text("Notes are left out with the names")).to_be_visible()
    page.get_by_label("Names of people").check()
    text = make(page, tmp_path).read_text("utf-8")
    assert "Ann’s caliper bracket" in text and "Brought by Ann." in text and "person 1" not in text


def test_the_phone_and_the_pc_make_the_same_page(chromium: Any, demo_server: Any, tmp_path: Path) -> None:
    """The same text from the phone's Python and the PC's; the pictures are each made small by itself."""
    context = chromium.new_context(viewport={"width": 360, "height": 740})
    page = context.new_page()
    page.goto(demo_server.url + "/")
    expect(page.locator(".lines .line")).to_have_count(1, timeout=60_000)
    strip = page.evaluate(PICK)["strip"]
    unfold(page, strip)
    made = make(page, tmp_path).read_text("utf-8")
    for name in ("Names of people", "Costs", "Notes, reasons, words under pictures"):
        page.get_by_label(name).check()
    page.get_by_label("Number of its frame or plate").check()
    told = make(page, tmp_path).read_text("utf-8")
    asked = "&".join(f"{name}=yes" for name in ALL)
    least = page.request.get(f"{demo_server.url}/api/exports/{strip}/share.html").text()
    most = page.request.get(f"{demo_server.url}/api/exports/{strip}/share.html?{asked}").text()

    def bare(text: str) -> str:
        return re.sub(r"Made on [^.]*\.", "", re.sub(r"base64,[A-Za-z0-9+/=]+", "", text))

    assert "data:image/jpeg;base64," in made and bare(made) == bare(least) and bare(told) == bare(most)
    # In another language too, by the words that the phone hands over.
    open_screen(page, "#/")
    page.get_by_role("radio", name="Deutsch").click()
    expect(page.locator("html")).to_have_attribute("lang", "de-DE")
    language = page.evaluate("async () => (await import('/words.js')).handedLanguage()")
    view = "async ([strip, more]) => (await import('/shop.js')).view(strip, 'share_page', more)"
    pieces = page.evaluate(view, [strip, {"language": language, "now_ms": 1}])["pieces"]
    phone_s = "".join(each for each in pieces if isinstance(each, str))
    pc_s = share_view(folded(LOG), {"language": language, "now_ms": 1})["pieces"]
    assert phone_s == "".join(each for each in pc_s if isinstance(each, str))
    assert language["decimal"] == "," and 'lang="de-DE"' in phone_s and "Drehmomente" in phone_s
    context.close()


@pytest.fixture(scope="module")
def pages(tmp_path_factory: pytest.TempPathFactory, chromium: Any, module_server: Any) -> dict[str, Path]:
    """Pages by name: of the demo with every text hostile, and of long names, each with all in it that can be."""
    folder = tmp_path_factory.mktemp("pages")
    whole = {name: True for name in (*ALL, "pictures")}
    made = {"hostile": page_of(folded(hostile_log()), **whole), "hostile_unnamed": page_of(folded(hostile_log()))}
    context = chromium.new_context()
    page = context.new_page()
    page.goto(module_server.url + "/")
    expect(page.locator("h1")).to_be_visible()
    strip = page.evaluate(STRETCH)["strip"]
    entries = "async (strip) => (await (await import('/log.js')).entriesOf(strip)).map((row) => row.entry)"
    log = page.evaluate(entries, strip)
    context.close()
    made["long"] = page_of(folded(json.loads(json.dumps(log))), **whole)
    for name, text in made.items():
        whole_text = text.replace("data:,", "data:image/gif;base64,R0lGODlhAQABAAAAACw=")
        (folder / f"{name}.html").write_text(whole_text, "utf-8")
    return {name: folder / f"{name}.html" for name in made}


@pytest.mark.parametrize("name", ["hostile", "hostile_unnamed"])
def test_no_text_of_anybody_runs_or_asks_for_anything(chromium: Any, pages: dict[str, Path], name: str) -> None:
    page, heard = opened(chromium, pages[name])
    assert [each for each in heard if not each.startswith("data:")] == [pages[name].as_uri()]
    assert page.evaluate("document.querySelectorAll('script, a, iframe, object, embed, form, link, base').length") == 0
    if name == "hostile":
        text = page.evaluate("document.body.textContent")
        assert all(each[:40] in text for each in HOSTILE[:3])
    page.context.close()


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("width", [360, 1280])
@pytest.mark.parametrize("name", ["long", "hostile"])
def test_axe_finds_nothing_and_nothing_sticks_out(
    chromium: Any, pages: dict[str, Path], name: str, width: int, scheme: str
) -> None:
    # Axe is a script of the test's own, which the page's policy stops like any other.
    page, _ = opened(chromium, pages[name], viewport={"width": width, "height": 800}, color_scheme=scheme,
                     bypass_csp=True)  # fmt: skip
    assert page.evaluate("document.documentElement.scrollWidth") <= width
    found = Axe().run(page, options=RULES).response["violations"]
    assert [(each["id"], each["nodes"][0]["html"]) for each in found] == []
    page.context.close()


@pytest.mark.parametrize("paper", POINTS)
def test_it_prints_on_the_paper_there_is(chromium: Any, pages: dict[str, Path], paper: str) -> None:
    page, _ = opened(chromium, pages["long"], color_scheme="dark")
    pdf = PdfReader(io.BytesIO(page.pdf(format=paper)))
    for each in pdf.pages:
        assert (float(each.mediabox.width), float(each.mediabox.height)) == pytest.approx(POINTS[paper], abs=1)
    words = " ".join("".join(each.extract_text() for each in pdf.pages).split())
    assert "Change against the standard machine" in words and "Made with Cotterbook." in words
    page.context.close()
