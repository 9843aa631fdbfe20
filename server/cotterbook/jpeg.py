"""What a JPEG file carries beside its picture, by its markers (ITU-T T.81 | ISO/IEC 10918-1, Annex B).

Pillow decodes pictures, and steps over whatever stands between segments, between later scans and behind the end.

`webui/plain-jpeg.js` holds the same rule on the phone and takes that away; `tests/web/test_plain_jpeg.py` holds the
two equal.
"""

import re
from collections.abc import Iterator
from itertools import takewhile

SOI, EOI, SOS, COM = 0xD8, 0xD9, 0xDA, 0xFE
# Baseline, extended and progressive, by Huffman codes: no browser draws the others.
FRAMES = (0xC0, 0xC1, 0xC2)
TABLES = (0xC4, 0xDB, 0xDD)  # DHT, DQT, DRI
APP0, APP2, APP14, APP15 = 0xE0, 0xE2, 0xEE, 0xEF
FILL = 0xFF
# Each scan goes over all pixels once more. Progressive pictures have about ten (from memory).
SCANS = 100
# 255 parts of a profile, and tables before each scan: room for all that is right.
SEGMENTS = 1_000

# JFIF (ITU-T T.871, 10.1): version, unit, densities, and the width and height of a thumbnail that follows.
JFIF, JFIF_BYTES = b"JFIF\0", 14
# T.872, 6.5.3: version, two flags and the transform of colours.
ADOBE, ADOBE_BYTES = b"Adobe", 12
# ICC.1, Annex B.4: the number of this part, how many there are, the part; 7.2: the length first, "acsp" at 36.
ICC = b"ICC_PROFILE\0"
PROFILE_MARK, PROFILE_HEAD_BYTES = b"acsp", 128

# Within a scan's bytes 0xFF stands before 0 or a restart marker (B.1.1.5, B.2.1); anything else is the next marker.
SCAN_ENDS = re.compile(rb"\xff[^\x00\xd0-\xd7]")
NOT_FILL = re.compile(rb"[^\xff]")


class NoJpeg(ValueError):
    """The bytes do not follow the syntax."""


def more_than_the_picture(data: bytes) -> list[str]:
    """What a JPEG file carries that its picture does not need, each once, by the standard's names; mostly nothing.

    A picture needs its frame, its tables and scans, and of what applications add the head of JFIF, the transform of
    its colours (Adobe) and their profile (ICC). Raises NoJpeg at bytes that do not follow the syntax to the end of the
    picture; whether the scans decode is for Pillow to say. What a profile says in full, and bytes within a scan that
    its decoding does not reach, are not looked at.
    """
    before = takewhile(lambda segment: segment[0] != SOS, _segments(data))
    profile = _is_profile([body for marker, body in before if marker == APP2 and body.startswith(ICC)])
    heads, scanned = 0, False
    found: dict[str, None] = {}
    for marker, body in _segments(data):
        kept: bytes | None = body
        scanned = scanned or marker == SOS
        if APP0 <= marker <= APP15 and scanned:
            kept = None
        elif marker == APP0 and _is_head(body) and not heads:
            heads, kept = 1, body[: JFIF_BYTES - 2] + b"\0\0"
        elif marker == APP14 and _is_transform(body):
            kept = body[:ADOBE_BYTES]
        elif marker == APP2 and body.startswith(ICC):
            kept = body if profile else None
        elif APP0 <= marker <= APP15 or marker in (COM, FILL):
            kept = None
        elif marker == EOI:
            kept = b""
        if kept != body:
            found[_name(marker)] = None
    return list(found)


def _name(marker: int) -> str:
    if APP0 <= marker <= APP15:
        return f"APP{marker - APP0}"
    return {COM: "COM", FILL: "fill bytes", EOI: "bytes behind EOI"}[marker]


def _is_head(body: bytes) -> bool:
    return body.startswith(JFIF) and len(body) >= JFIF_BYTES


def _is_transform(body: bytes) -> bool:
    return body.startswith(ADOBE) and len(body) >= ADOBE_BYTES


def _is_profile(parts: list[bytes]) -> bool:
    """Whether these are all parts of one profile, in order, and as long as it says."""
    numbered = [part[len(ICC) : len(ICC) + 2] for part in parts]
    if len(parts) > 255 or numbered != [bytes((number, len(parts))) for number in range(1, len(parts) + 1)]:
        return False
    pieces = [part[len(ICC) + 2 :] for part in parts]
    if not pieces or len(pieces[0]) < PROFILE_HEAD_BYTES:
        return False
    return int.from_bytes(pieces[0][:4], "big") == sum(map(len, pieces)) and pieces[0][36:40] == PROFILE_MARK


def _segments(data: bytes) -> Iterator[tuple[int, bytes]]:
    """The markers of a file in order, each with what belongs to it.

    FILL stands for bytes that only fill; EOI has what comes behind it.
    """
    if data[:2] != bytes((0xFF, SOI)):
        raise NoJpeg("no SOI")
    at, frames, scans, transforms = 2, 0, 0, 0
    for _ in range(SEGMENTS):
        if data[at : at + 1] != b"\xff" or not (found := NOT_FILL.search(data, at)):
            raise NoJpeg("no marker")
        if found.start() > at + 1:
            yield FILL, b""
        at = found.start() + 1
        marker = data[at - 1]
        if marker == EOI:
            if not scans:
                raise NoJpeg("no scan")
            yield EOI, data[at:]
            return
        body = _body(data, at)
        at += 2 + len(body)
        frames += marker in FRAMES
        scans += marker == SOS
        transforms += marker == APP14 and not scans and _is_transform(body)
        if marker not in (*FRAMES, *TABLES, SOS, COM) and not APP0 <= marker <= APP15:
            raise NoJpeg("a marker that no picture of ours has")
        # Of two transforms decoders would take the last.
        if frames > 1 or scans > SCANS or (scans and not frames) or transforms > 1:
            raise NoJpeg("too many of a kind")
        yield marker, body
        if marker == SOS:
            at, filled = _scan_end(data, at)
            if filled:
                yield FILL, b""
    raise NoJpeg("too many segments")


def _body(data: bytes, at: int) -> bytes:
    length = int.from_bytes(data[at : at + 2], "big")
    if length < 2 or at + length > len(data):
        raise NoJpeg("cut off")
    return data[at + 2 : at + length]


def _scan_end(data: bytes, at: int) -> tuple[int, bool]:
    """Where the marker behind a scan's bytes stands, and whether bytes among them only fill."""
    filled = False
    while found := SCAN_ENDS.search(data, at):
        at = found.start()
        if data[at + 1] != FILL:
            return at, filled
        run = NOT_FILL.search(data, at)
        filled, at = True, run.start() - 1 if run else len(data)
    raise NoJpeg("no end of a scan")
