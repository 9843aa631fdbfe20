"""The program made as short as it goes for the wire, kept between one start and the next.

Brotli at its best takes five seconds of a PC for it; so what was made is kept in
the user's cache folder, under the hash of what it was made from. What lies there
is believed only where it unpacks to just that, and where nothing can be kept it
is made anew each time.
"""

import contextlib
import os
import tempfile
from pathlib import Path

import brotli
from platformdirs import user_cache_path

BEST_QUALITY = 11
# So many versions of the program. Beyond it the half that was not asked for longest goes.
MOST_KEPT = 8


def cache_folder() -> Path:
    """Where what was made is kept; it need not be there."""
    return user_cache_path("cotterbook", appauthor=False) / "brotli"


def made_short(data: bytes, sha256: str, folder: Path) -> bytes:
    """These bytes as Brotli (RFC 7932), from the folder if they lie there whole, else made and put there.

    `sha256` is the hash of `data`, in hexadecimal digits.
    """
    path = folder / f"{sha256}.br"
    kept = _kept(path, data)
    if kept is not None:
        return kept
    made = bytes(brotli.compress(data, quality=BEST_QUALITY))
    # Without room or leave to write, the next start makes it anew.
    with contextlib.suppress(OSError):
        _keep(path, made)
    return made


def _kept(path: Path, data: bytes) -> bytes | None:
    try:
        kept = path.read_bytes()
        if not _unpacks_to(kept, data):
            return None
        os.utime(path)
    except (OSError, brotli.error):
        return None
    return kept


def _unpacks_to(kept: bytes, data: bytes) -> bool:
    """Whether it unpacks to just these bytes; unpacking ends where it grows beyond them."""
    unpacking, at = brotli.Decompressor(), 0
    for begin in range(0, len(kept), 4096):
        piece = unpacking.process(kept[begin : begin + 4096])
        if data[at : at + len(piece)] != piece:
            return False
        at += len(piece)
    return at == len(data) and unpacking.is_finished()


def _keep(path: Path, made: bytes) -> None:
    folder = path.parent
    folder.mkdir(parents=True, exist_ok=True)
    with tempfile.NamedTemporaryFile(dir=folder, delete=False) as beside:
        try:
            beside.write(made)
            beside.close()
            os.replace(beside.name, path)
        except OSError:
            Path(beside.name).unlink(missing_ok=True)
            raise
    _drop_the_old(folder)


def _drop_the_old(folder: Path) -> None:
    with os.scandir(folder) as found:
        by_use = sorted((each.stat().st_mtime, each.path) for each in found)
    if len(by_use) > MOST_KEPT:
        for _, path in by_use[: len(by_use) // 2]:
            Path(path).unlink(missing_ok=True)
