"""Sheets as Chromium prints them: the PDF of one, its pages' text in its places, and their pixels."""

import io
import unicodedata
from typing import Any

import pypdfium2
import pytest
from playwright.sync_api import expect
from pypdf import PdfReader

from screens import open_screen

SHEETS = ("back", "buy", "keys", "build", "charts", "standard")
# ISO 216 A4, 210 mm × 297 mm, and ASME Y14.1 size A, 8.5 in × 11 in, in points of 1/72 in.
POINTS = {"a4": (210 / 25.4 * 72, 297 / 25.4 * 72), "letter": (8.5 * 72, 11 * 72)}
PAPERS = {"a4": "A4, 210 × 297 mm", "letter": "Letter, 8.5 × 11 in"}
# The margins that sheets.css gives each page, in points; at the foot stands the page's number.
SIDE, FOOT = 12 / 25.4 * 72, 15 / 25.4 * 72
DRAWN = """() => [...document.querySelectorAll('.prints li')].every((each) =>
  each.querySelector('img')?.complete || each.querySelector('.blank')?.textContent)"""
# What a renderer may round a margin by.
NEARLY = 1.0


def show(page: Any, strip: str, sheet: str, paper: str) -> None:
    """The sheet on the screen, on this paper, with all its pictures."""
    open_screen(page, f"#/strip/{strip}/sheets/{sheet}")
    page.get_by_label(PAPERS[paper]).check()
    expect(page.locator(f".paper.on_{paper}")).to_be_visible()
    # Each picture is there, or that it is not at hand: none is still to come.
    page.wait_for_function(DRAWN)


def printed(page: Any) -> bytes:
    """What the print button would make of the page as it stands; the size of its paper is the page's own word."""
    return page.pdf(prefer_css_page_size=True, print_background=True)


def plain(text: str) -> str:
    """Text without regard to where its lines break, nor to letters that a font joins."""
    return " ".join(unicodedata.normalize("NFKC", text).replace("\u2068", "").replace("\u2069", "").split())


def pages_of(pdf: bytes) -> list[str]:
    """The text of each page, top to bottom."""
    return [plain(page.extract_text()) for page in PdfReader(io.BytesIO(pdf)).pages]


def sizes_of(pdf: bytes) -> list[tuple[float, float]]:
    """Each page's width and height in points."""
    return [(float(page.mediabox.width), float(page.mediabox.height)) for page in PdfReader(io.BytesIO(pdf)).pages]


def inked(pdf: bytes, index: int) -> tuple[float, float, float, float]:
    """From where to where a page is not white, in points from its left and its top: (left, top, right, bottom)."""
    image = pypdfium2.PdfDocument(pdf)[index].render(scale=2).to_pil().convert("L")
    left, top, right, bottom = image.point(lambda shade: 255 if shade < 200 else 0).getbbox()
    return left / 2, top / 2, right / 2, bottom / 2


def is_colourless(pdf: bytes) -> bool:
    """Whether every pixel of every page is black, white or a grey between, to the rounding of a picture's codec."""
    for page in pypdfium2.PdfDocument(pdf):
        bands = page.render(scale=1.5).to_pil().convert("YCbCr").split()[1:]
        if any(abs(end - 128) > 2 for band in bands for end in band.getextrema()):
            return False
    return True


def check_pages(pdf: bytes, paper: str, title: str) -> list[str]:
    """That each page has the paper's size, its head, its number, its margins and no colour; the text of all."""
    texts, sizes = pages_of(pdf), sizes_of(pdf)
    for index, (text, size) in enumerate(zip(texts, sizes, strict=True)):
        assert size == pytest.approx(POINTS[paper], abs=0.5)
        assert text.count(title) >= 1
        assert f"{index + 1} / {len(texts)}" in text
        left, top, right, bottom = inked(pdf, index)
        assert left >= SIDE - NEARLY and top >= SIDE - NEARLY
        assert right <= size[0] - SIDE + NEARLY and bottom <= size[1] - FOOT / 4
    assert is_colourless(pdf)
    return texts
