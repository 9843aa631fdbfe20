"""The page to send, as a file: the core's text with the pictures of a store put into it, made small."""

import base64
import contextlib
import io
import os
from collections.abc import Mapping
from pathlib import Path
from typing import IO

from PIL import Image

from ..core.language import ENGLISH, Language
from ..core.share_page import OPTIONS, options_of, share_page
from ..core.strip import Strip
from ..errors import Problem
from ..photos import DECODING
from ..store.contract import Readable
from ..store.disk import TEMPORARY, sync_file, sync_folder

SHARE = "share.html"
QUALITY = 80


def read_options(asked: Mapping[str, str]) -> dict[str, bool]:
    """What the page tells, of an address's "names=yes&pictures=no". Raises Problem "bad_request"."""
    known = dict(OPTIONS)
    for name, value in asked.items():
        if name not in known or value not in ("yes", "no"):
            raise Problem("bad_request", what="what the page is to tell")
    return {name: asked[name] == "yes" for name in asked}


def write_share(strip: Strip, source: Readable, options: Mapping[str, bool], now_ms: int, file: IO[bytes],
                language: Language = ENGLISH) -> None:  # fmt: skip
    """Write the page into a file. A picture that can't be read is said to be missing in its place."""
    page = share_page(strip, options_of(dict(options)), now_ms, language)
    for piece in page["pieces"]:
        if isinstance(piece, str):
            file.write(piece.encode())
            continue
        small = _small(source, piece["sha256"], page["picture_side"])
        if small is None:
            file.write(piece["instead"].encode())
        else:
            address = b"data:image/jpeg;base64," + base64.b64encode(small)
            file.write(piece["before"].encode() + address + piece["after"].encode())


def _small(source: Readable, sha256: str, side: int) -> bytes | None:
    """A picture made anew, so that nothing is in it but what is seen."""
    made = io.BytesIO()
    try:
        data = source.get_photo(sha256)
        if data is None:
            return None
        with DECODING, Image.open(io.BytesIO(data), formats=("JPEG",)) as image:
            image.thumbnail((side, side))
            plain = image.convert("RGB")
            # A comment would be written again: it may name who took the picture.
            plain.info.clear()
            plain.save(made, "JPEG", quality=QUALITY, optimize=True)
    except (Problem, OSError, SyntaxError, ValueError, Image.DecompressionBombWarning, Image.DecompressionBombError):
        return None
    return made.getvalue()


def write_share_file(
    strip: Strip, source: Readable, options: Mapping[str, bool], now_ms: int, path: Path
) -> None:
    """Write the page where there is no file yet, whole or not at all.

    Raises Problem "file_exists" or "page_not_written"; then there is no new file.
    """
    if os.path.lexists(path):
        raise Problem("file_exists", file=str(path))
    beside = path.with_name(path.name + TEMPORARY)
    try:
        number = os.open(beside, os.O_RDWR | os.O_CREAT | os.O_TRUNC | getattr(os, "O_BINARY", 0), 0o600)
        with os.fdopen(number, "w+b") as file:
            write_share(strip, source, options, now_ms, file)
            file.flush()
            sync_file(file.fileno())
        os.replace(beside, path)
        sync_folder(path.absolute().parent)
    except OSError as error:
        raise Problem("page_not_written", file=str(path), what=error.strerror or str(error)) from error
    finally:
        with contextlib.suppress(OSError):
            beside.unlink(missing_ok=True)
