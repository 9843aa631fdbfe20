"""JPEG pictures, clean ones and such as carry more, written by Pillow and put together by the standard.

Segments that Pillow does not write are built by hand after ITU-T T.81 | ISO/IEC 10918-1, Annex B (markers, B.1.1.3 and
B.1.1.4) and ITU-T T.871, 10 (JFIF and its thumbnail).
"""

import io
import struct
from random import Random
from typing import Any

from PIL import Image, ImageCms

GPS = 0x8825
SIDE = 40


def segment(marker: int, body: bytes) -> bytes:
    """A marker with its length and what belongs to it (B.1.1.4)."""
    return struct.pack(">BBH", 0xFF, marker, len(body) + 2) + body


def image(mode: str = "RGB", seed: int = 1) -> Image.Image:
    """Random dots, whose codes hold many bytes 0xFF."""
    bands = len(Image.new(mode, (1, 1)).getbands())
    return Image.frombytes(mode, (SIDE, SIDE), Random(seed).randbytes(SIDE * SIDE * bands))


def jpeg(mode: str = "RGB", seed: int = 1, **options: Any) -> bytes:
    """Random dots as Pillow writes them."""
    out = io.BytesIO()
    image(mode, seed).save(out, "JPEG", **options)
    return out.getvalue()


def after_soi(data: bytes, more: bytes) -> bytes:
    return data[:2] + more + data[2:]


def after_jfif(data: bytes, more: bytes) -> bytes:
    """Behind the head of JFIF, which Pillow writes as 18 bytes behind SOI."""
    assert data[2:11] == b"\xff\xe0\0\x10JFIF\0"
    return data[:20] + more + data[20:]


def before_scan(data: bytes, more: bytes, number: int = 0) -> bytes:
    """In front of a scan's marker; in Pillow's own segments that pair of bytes does not stand by chance in these."""
    at = -1
    for _ in range(number + 1):
        at = data.index(b"\xff\xda", at + 1)
    return data[:at] + more + data[at:]


def with_thumbnail(data: bytes) -> bytes:
    """The head of JFIF with a thumbnail of 2 by 1 pixels in it (T.871, 10.1)."""
    head = data[6:18]
    return data[:2] + segment(0xE0, head + b"\2\1" + b"\xff\0\0" * 2) + data[20:]


def exif() -> Image.Exif:
    made = Image.Exif()
    made[GPS] = {1: "N", 2: (51.0, 28.0, 38.0)}
    return made


def multi_picture() -> bytes:
    """A picture with a second behind it (CIPA DC-007), as Pillow writes it."""
    out = io.BytesIO()
    image().save(out, "MPO", save_all=True, append_images=[image(seed=2)])
    return out.getvalue()


SRGB = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()


def large_profile(length: int) -> bytes:
    """A profile that is longer than one segment; its first field is its length (ICC.1, 7.2.2)."""
    return struct.pack(">I", length) + SRGB[4:] + Random(3).randbytes(length - len(SRGB))


def parts_of_a_profile(profile: bytes, numbers: list[tuple[int, int]]) -> bytes:
    """A profile's parts under these numbers (ICC.1, Annex B.4)."""
    step = -(-len(profile) // len(numbers))
    return b"".join(segment(0xE2, b"ICC_PROFILE\0" + bytes(numbered) + profile[at * step : (at + 1) * step])
                    for at, numbered in enumerate(numbers))


def fill(data: bytes) -> bytes:
    """A byte that only fills in front of the scan's marker (B.1.1.2)."""
    return before_scan(data, b"\xff")


def restarts() -> bytes:
    return jpeg(restart_marker_blocks=1)


def filled_restarts() -> bytes:
    """The same in front of a restart marker."""
    data = restarts()
    at = data.index(b"\xff\xd0", data.index(b"\xff\xda"))
    return data[:at] + b"\xff\xff" + data[at:]


ADOBE = b"Adobe\0\x64\0\0\0\0\1"
JFIF = b"JFIF\0\1\1\0\0\1\0\1\0\0"

# name -> the picture; what its picture does not need, by the standard's names
CLEAN = {
    "as Pillow writes it": jpeg(),
    "grey": jpeg("L"),
    "CMYK": jpeg("CMYK"),
    "RGB by Adobe's transform": jpeg(keep_rgb=True),
    "progressive": jpeg(progressive=True),
    "grey progressive": jpeg("L", progressive=True),
    "restart markers": restarts(),
    "progressive with restart markers": jpeg(progressive=True, restart_marker_rows=1),
    "colours at full size": jpeg(subsampling=0, quality=95),
    "tables of its own": jpeg(optimize=True),
    "a density": jpeg(dpi=(300, 300)),
    "a profile": jpeg(icc_profile=SRGB),
    "a profile in three parts": jpeg(icc_profile=large_profile(150_000)),
    "without JFIF": jpeg()[:2] + jpeg()[20:],
    "a table twice": before_scan(jpeg(), segment(0xDD, b"\0\0") * 3),
}
MORE = {
    "Exif with a place": (jpeg(exif=exif()), "APP1"),
    "XMP": (jpeg(xmp=b"<x:xmpmeta xmlns:x='adobe:ns:meta/'/>"), "APP1"),
    "a comment": (jpeg(comment=b"the blue shed"), "COM"),
    "an empty comment": (after_jfif(jpeg(), segment(0xFE, b"")), "COM"),
    "a comment between scans": (before_scan(jpeg(progressive=True), segment(0xFE, b"shed"), 2), "COM"),
    "Exif between scans": (before_scan(jpeg(progressive=True), segment(0xE1, b"Exif\0\0shed"), 2), "APP1"),
    "a comment behind the scan": (jpeg()[:-2] + segment(0xFE, b"shed") + b"\xff\xd9", "COM"),
    "a transform behind the scan": (jpeg()[:-2] + segment(0xEE, ADOBE) + b"\xff\xd9", "APP14"),
    "a thumbnail in JFIF": (with_thumbnail(jpeg()), "APP0"),
    "a thumbnail in JFXX": (after_jfif(jpeg(), segment(0xE0, b"JFXX\0\x13\1\1\xff\0\0")), "APP0"),
    "bytes in JFIF's head": (jpeg()[:2] + segment(0xE0, JFIF + b"shed") + jpeg()[20:], "APP0"),
    "a size without a thumbnail": (jpeg()[:2] + segment(0xE0, JFIF[:-2] + b"\2\1") + jpeg()[20:], "APP0"),
    "JFIF twice": (after_jfif(jpeg(), segment(0xE0, JFIF)), "APP0"),
    "JFIF cut short": (after_jfif(jpeg(), segment(0xE0, JFIF[:7])), "APP0"),
    "IPTC": (after_jfif(jpeg(), segment(0xED, b"Photoshop 3.0\0shed")), "APP13"),
    "bytes behind Adobe's transform": (after_soi(jpeg("CMYK"), b"").replace(
        segment(0xEE, jpeg("CMYK")[6:18]), segment(0xEE, jpeg("CMYK")[6:18] + b"shed")), "APP14"),
    "a profile that is none": (jpeg(icc_profile=b"the blue shed"), "APP2"),
    "a profile that lacks a part": (after_jfif(jpeg(), parts_of_a_profile(SRGB, [(1, 3), (3, 3)])), "APP2"),
    "a profile in another order": (after_jfif(jpeg(), parts_of_a_profile(SRGB, [(2, 2), (1, 2)])), "APP2"),
    "a profile with a part too many": (after_jfif(jpeg(icc_profile=None), parts_of_a_profile(
        SRGB, [(1, 1)]) + parts_of_a_profile(b"shed", [(2, 2)])), "APP2"),
    "a profile longer than it says": (jpeg(icc_profile=SRGB + b"shed"), "APP2"),
    "bytes behind the end": (jpeg() + b"the blue shed", "bytes behind EOI"),
    "nothing but zeros behind the end": (jpeg() + b"\0", "bytes behind EOI"),
    "a second picture behind it": (jpeg() + jpeg(seed=2), "bytes behind EOI"),
    "several pictures": (multi_picture(), "APP2, bytes behind EOI"),
    "a byte that only fills": (fill(jpeg()), "fill bytes"),
    "bytes that only fill in a scan": (filled_restarts(), "fill bytes"),
    "all at once": (after_jfif(jpeg(comment=b"shed", exif=exif()), segment(0xEF, b"x")) + b"x",
                    "APP15, APP1, COM, bytes behind EOI"),
}
# Bytes that do not follow the syntax, or that no browser draws.
NONE = {
    "nothing": b"",
    "text": b"the blue shed",
    "its first marker": b"\xff\xd8\xff",
    "its end cut off": jpeg()[:-1],
    "an end without a scan": b"\xff\xd8\xff\xd9",
    "bytes between segments": after_jfif(jpeg(), b"shed"),
    "a zero between segments": after_jfif(jpeg(), b"\0"),
    "a segment longer than the file": jpeg()[:20] + b"\xff\xe1\xff\xff" + jpeg()[20:],
    "a length below two": after_jfif(jpeg(), b"\xff\xe1\0\1"),
    "arithmetic codes": jpeg().replace(b"\xff\xc0", b"\xff\xc9"),
    "lossless": jpeg().replace(b"\xff\xc0", b"\xff\xc3"),
    "two frames": before_scan(jpeg(), segment(0xC0, jpeg()[jpeg().index(b"\xff\xc0") + 4 :][:15])),
    "no frame": jpeg().replace(b"\xff\xc0", b"\xff\xfe"),
    "two of Adobe's transforms": after_soi(jpeg(), segment(0xEE, ADOBE) * 2),
    "a second SOI": after_jfif(jpeg(), b"\xff\xd8"),
    "a restart marker between segments": after_jfif(jpeg(), b"\xff\xd0"),
    "a number of lines behind the scan": jpeg()[:-2] + segment(0xDC, b"\0\x28") + b"\xff\xd9",
    "a thousand comments": after_jfif(jpeg(), segment(0xFE, b"") * 1_000),
    "a hundred scans and one": jpeg("L")[:-2] + jpeg("L")[jpeg("L").index(b"\xff\xda") : -2] * 100 + b"\xff\xd9",
}
