"""The files of a bundle as a zip file: their names, lengths and hashes are held against the manifest."""

import hashlib
import zipfile
from collections.abc import Iterator
from pathlib import Path
from types import TracebackType
from typing import Any

from ..bodies import strict_json
from ..core.values import is_id
from ..errors import Problem
from ..store.photos import is_hash
from . import layout

PIECE = 1 << 16
ENCRYPTED = 0x1
PACKED_AS = (zipfile.ZIP_STORED, zipfile.ZIP_DEFLATED)


class Members:
    """An open bundle whose names and lengths are in order; what is in its files is checked as it is read.

    Raises Problem "no_bundle", "bundle_newer", "bundle_damaged" or "bundle_too_big", and what zipfile does.
    """

    def __init__(self, path: Path) -> None:
        self._zip = zipfile.ZipFile(path)
        try:
            self._infos = self._listed(path)
            manifest = self._manifest(path)
            self._files: dict[str, Any] = manifest["files"]
            self._hold_against_the_list()
        except BaseException:
            self._zip.close()
            raise
        self.strips = sorted(found[1] for name in self._files if (found := layout.ENTRIES.fullmatch(name)))
        self.photos = sorted(found[1] for name in self._files if (found := layout.PHOTO.fullmatch(name)))
        self.missing_photos: list[str] = manifest["missing_photos"]

    def __enter__(self) -> "Members":
        return self

    def __exit__(self, kind: type[BaseException] | None, error: BaseException | None, at: TracebackType | None) -> None:
        self._zip.close()

    def _listed(self, path: Path) -> dict[str, zipfile.ZipInfo]:
        """The zip file's own list: no name that is not ours, none twice, nothing that bursts."""
        infos = self._zip.infolist()
        if len(infos) > layout.FILES or sum(info.file_size for info in infos) > layout.BYTES:
            raise Problem("bundle_too_big", file=path.name)
        found: dict[str, zipfile.ZipInfo] = {}
        for info in infos:
            most = layout.most_bytes(info.orig_filename)
            if not most or info.orig_filename in found:
                raise Problem("no_bundle", file=path.name)
            if info.flag_bits & ENCRYPTED or info.compress_type not in PACKED_AS:
                raise Problem("bundle_damaged", file=info.filename)
            if info.file_size > most or info.file_size > layout.TIMES_PACKED * (info.compress_size + PIECE):
                raise Problem("bundle_too_big", file=info.filename)
            found[info.filename] = info
        return found

    def _manifest(self, path: Path) -> dict[str, Any]:
        if layout.MANIFEST not in self._infos:
            raise Problem("no_bundle", file=path.name)
        try:
            manifest = strict_json(b"".join(self._read(layout.MANIFEST)))
        except Problem:
            raise Problem("bundle_damaged", file=layout.MANIFEST) from None
        if manifest.get("format") != layout.FORMAT:
            raise Problem("no_bundle", file=path.name)
        if manifest.get("version") != layout.VERSION:
            raise Problem("bundle_newer", file=path.name)
        missing = manifest.get("missing_photos")
        files = manifest.get("files")
        if not isinstance(files, dict) or not isinstance(missing, list) or not all(map(is_hash, missing)):
            raise Problem("bundle_damaged", file=layout.MANIFEST)
        return manifest

    def _hold_against_the_list(self) -> None:
        """Whether the manifest names all files that there are, and no others, with their lengths."""
        for name in sorted(set(self._files) ^ (set(self._infos) - {layout.MANIFEST})):
            raise Problem("bundle_damaged", file=name[:100])
        for name, told in self._files.items():
            found = layout.ENTRIES.fullmatch(name)
            if found and not is_id(found[1]):
                raise Problem("bundle_damaged", file=name)
            if not isinstance(told, dict) or told.get("bytes") != self._infos[name].file_size:
                raise Problem("bundle_damaged", file=name)

    def pieces(self, name: str) -> Iterator[bytes]:
        """The bytes of a file, in order. Raises Problem "bundle_damaged" at its end when they are not as told."""
        digest = hashlib.sha256()
        for piece in self._read(name):
            digest.update(piece)
            yield piece
        if digest.hexdigest() != self._files[name].get("sha256"):
            raise Problem("bundle_damaged", file=name)

    def _read(self, name: str) -> Iterator[bytes]:
        with self._zip.open(self._infos[name]) as member:
            while piece := member.read(PIECE):
                yield piece
