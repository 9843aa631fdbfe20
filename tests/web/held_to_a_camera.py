"""Printed pages as pictures, and as a phone's camera sees them."""

from io import BytesIO
from typing import Any

import pypdfium2
from PIL import Image

POINTS_AN_INCH, MILLIMETRES_AN_INCH = 72, 25.4


def print_pages(page: Any, dots_an_inch: int = 300) -> list[Image.Image]:
    """What the page prints, as grey pictures."""
    printed = pypdfium2.PdfDocument(page.pdf(prefer_css_page_size=True))
    scale = dots_an_inch / POINTS_AN_INCH
    return [printed[n].render(scale=scale).to_pil().convert("L") for n in range(len(printed))]


def millimetres(pixels: float, dots_an_inch: int = 300) -> float:
    return pixels / dots_an_inch * MILLIMETRES_AN_INCH


def photographed(picture: Image.Image) -> Image.Image:
    """As a phone sees it, held askew in poor light: four corners moved, unsharp, grey on grey, noisy, and a JPEG."""
    wide, high = picture.size
    canvas = Image.new("L", (wide * 5 // 4, high * 5 // 4), 150)
    of_wide, of_high = (-0.12, -0.02, 1.20, 1.10), (-0.10, 1.14, 1.04, -0.22)
    corners = [each for x, y in zip(of_wide, of_high, strict=True) for each in (x * wide, y * high)]
    askew = picture.transform(canvas.size, Image.Transform.QUAD, corners, Image.Resampling.BICUBIC, fillcolor=150)
    dim = askew.point(lambda light: 40 + light * 0.6)
    noise = Image.effect_noise(dim.size, 28)
    held = BytesIO()
    Image.blend(dim, noise, 0.16).resize((dim.width // 2, dim.height // 2), Image.Resampling.BILINEAR).save(
        held, "JPEG", quality=60
    )
    return Image.open(held)
