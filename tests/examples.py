"""Small entries for tests of the PC's side."""

import hashlib
import io
import random
from typing import Any

from PIL import Image

AT_MS = 1_750_000_000_000


def identifier(number: int) -> str:
    """The UUIDv7 with this number; a larger one sorts later."""
    return f"01900000-0000-7000-8000-{number:012x}"


STRIP, OTHER_STRIP, DEVICE = identifier(0xA), identifier(0xB), identifier(0xC)


def entry(number: int, strip: str = STRIP, **fields: Any) -> dict[str, Any]:
    """A right entry: a note on the strip-down itself."""
    envelope = {"id": identifier(1000 + number), "strip": strip, "at": AT_MS + number, "by": DEVICE, "who": "Ann"}
    own = {"kind": "set", "thing": strip, "type": "strip", "values": {"note": f"note {number}"}}
    return {**envelope, **own, **fields}


def picture(seed: int, side: int = 24) -> bytes:
    """A small JPEG picture of random dots."""
    dots = random.Random(seed).randbytes(side * side * 3)
    file = io.BytesIO()
    Image.frombytes("RGB", (side, side), dots).save(file, "JPEG")
    return file.getvalue()


def photo_entry(number: int, data: bytes, strip: str = STRIP) -> dict[str, Any]:
    """A right entry that names a picture of the strip-down itself."""
    envelope = {name: entry(number, strip)[name] for name in ("id", "strip", "at", "by", "who")}
    named = {"sha256": hashlib.sha256(data).hexdigest(), "media_type": "image/jpeg", "bytes": len(data)}
    return {**envelope, "kind": "photo", "thing": strip, **named, "width": 24, "height": 24}
