"""Making a bundle: written beside its place, read back whole, and only then put there."""

import contextlib
import hashlib
import json
import os
import time
import zipfile
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from .. import VERSION as PROGRAM
from ..errors import Problem
from ..store.contract import Readable
from ..store.disk import TEMPORARY, sync_file, sync_folder
from ..store.paging import entries_of
from . import layout
from .reading import Contents, verify

# A zip file's own times say nothing here: the same data make the same bytes, but for the manifest.
NO_TIME = (1980, 1, 1, 0, 0, 0)


def write_bundle(source: Readable, path: Path, strips: Sequence[str] | None = None) -> Contents:
    """Put these strip-downs, or all, with their pictures into a new file at `path`; what it holds, as read back.

    A damaged picture, whose SHA-256 is no longer its name, is left out: its name would be a lie. So is one that this
    program may not read.

    Raises Problem "file_exists", "no_such_strip" or "bundle_not_written"; then there is no new file.
    """
    held = source.strips()
    chosen = sorted(held if strips is None else strips)
    for strip in chosen:
        if strip not in held:
            raise Problem("no_such_strip", strip=strip)
    if path.exists():
        raise Problem("file_exists", file=str(path))
    beside = path.with_name(path.name + TEMPORARY)
    try:
        damaged, closed = _write(source, beside, chosen)
        contents = verify(beside)._replace(damaged_photos=damaged, closed_photos=closed)
        os.replace(beside, path)
        sync_folder(path.absolute().parent)
    except OSError as error:
        raise Problem("bundle_not_written", file=str(path), what=error.strerror or str(error)) from error
    finally:
        with contextlib.suppress(OSError):
            beside.unlink(missing_ok=True)
    return contents


def _write(source: Readable, path: Path, strips: Sequence[str]) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Write the file; the pictures that are damaged in the store, and the files that may not be read: not in it."""
    files: dict[str, dict[str, Any]] = {}
    photos: dict[str, bool] = {}
    damaged, closed = [], []
    number = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_TRUNC | getattr(os, "O_BINARY", 0), 0o600)
    with os.fdopen(number, "wb") as file:
        with zipfile.ZipFile(file, "w") as packed:
            for strip in strips:
                files[layout.entries_name(strip)] = _write_entries(source, packed, strip, photos)
            for sha256 in sorted(photos):
                try:
                    data = source.get_photo(sha256)
                except Problem as problem:
                    if problem.code != "picture_closed":
                        raise
                    closed.append(problem.values["file"])
                    continue
                if data is None:
                    continue
                if hashlib.sha256(data).hexdigest() != sha256:
                    damaged.append(sha256)
                    continue
                photos[sha256] = True
                # A JPEG picture does not get any shorter.
                _put(packed, layout.photo_name(sha256), data, zipfile.ZIP_STORED)
                files[layout.photo_name(sha256)] = _described(len(data), sha256)
            manifest = {
                "format": layout.FORMAT, "version": layout.VERSION, "program": PROGRAM,
                "made_ms": time.time_ns() // 1_000_000, "files": files,
                "missing_photos": [sha256 for sha256 in sorted(photos) if not photos[sha256]],
            }
            _put(packed, layout.MANIFEST, json.dumps(manifest, indent=1).encode(), zipfile.ZIP_DEFLATED)
        file.flush()
        sync_file(file.fileno())
    return tuple(damaged), tuple(closed)


def _write_entries(source: Readable, packed: zipfile.ZipFile, strip: str, photos: dict[str, bool]) -> dict[str, Any]:
    """Write a strip-down's entries, noting the pictures that they speak of; the file's length and hash."""
    digest, length = hashlib.sha256(), 0
    info = zipfile.ZipInfo(layout.entries_name(strip), NO_TIME)
    info.compress_type = zipfile.ZIP_DEFLATED
    with packed.open(info, "w", force_zip64=True) as member:
        for entry in entries_of(source, strip):
            line = json.dumps(entry, ensure_ascii=False, separators=(",", ":")).encode() + b"\n"
            member.write(line)
            digest.update(line)
            length += len(line)
            if entry["kind"] == "photo" and "sha256" in entry:
                photos[entry["sha256"]] = False
    return _described(length, digest.hexdigest())


def _put(packed: zipfile.ZipFile, name: str, data: bytes, how: int) -> None:
    packed.writestr(zipfile.ZipInfo(name, NO_TIME), data, compress_type=how)


def _described(length: int, sha256: str) -> dict[str, Any]:
    return {"bytes": length, "sha256": sha256}
