"""Taking a bundle in: all of it is checked before anything of it is kept."""

import errno
import hashlib
import struct
import zipfile
import zlib
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any, NamedTuple

from .. import photos, sync
from ..bodies import strict_json
from ..core.entries import check
from ..core.limits import ENTRIES_A_REQUEST, ENTRIES_A_STRIP, ENTRY_BYTES, STRIPS
from ..core.words import spoken
from ..devices.decisions import Decisions
from ..errors import Problem
from ..store import Store
from ..store.contract import Entry, canonical
from ..store.paging import pages_of
from . import layout
from .members import Members

# What Python's zip reader raises at bytes that are no zip file, or no longer one.
DAMAGE = (zipfile.BadZipFile, zlib.error, EOFError, struct.error, NotImplementedError, ValueError)


class Contents(NamedTuple):
    """What a bundle holds: the number of entries by strip-down, its pictures, and those that were not to be had.

    Who makes a bundle learns which of the latter are damaged where they lie, and which files of them may not be read;
    the bundle itself does not say so.
    """

    entries: dict[str, int]
    photos: list[str]
    missing_photos: list[str]
    damaged_photos: tuple[str, ...] = ()
    closed_photos: tuple[str, ...] = ()


def verify(path: Path) -> Contents:
    """Read all of a bundle and hold it against its manifest, byte by byte.

    Raises Problem "no_bundle", "bundle_newer", "bundle_damaged" or "bundle_too_big".
    """
    with _opened(path) as members:
        counts = {}
        for strip in members.strips:
            counts[strip] = sum(1 for _ in _lines(members, layout.entries_name(strip)))
        for sha256 in members.photos:
            _picture_bytes(members, sha256)
        return Contents(counts, members.photos, members.missing_photos)


def named_photos(path: Path) -> set[str]:
    """Every picture that a bundle names, in it or not; its manifest alone is read. Raises what `verify` does."""
    with _opened(path) as members:
        return {*members.photos, *members.missing_photos}


def _check(members: Members) -> Contents:
    """Check a bundle as `verify` does, and each entry and picture by the rules that hold for a phone's."""
    seen: dict[str, bytes] = {}
    counts = {strip: sum(1 for _ in _entries(members, strip, seen)) for strip in members.strips}
    for sha256 in members.photos:
        _photo(members, sha256)
    return Contents(counts, members.photos, members.missing_photos)


def take_in(store: Store, path: Path, decisions: Decisions | None = None) -> tuple[Contents, int]:
    """Keep everything of a bundle that the store lacks; what the bundle holds, and how many entries were new.

    What an owner decided is noted in the `decisions`: it is taken again after a way back, whoever brings it.

    Raises what `verify` does, and Problem "bundle_entry", "bundle_picture", "bundle_differs", "bundle_no_room" or
    "no_room_for_strips"; nothing is kept then. Where others write to the store meanwhile, Problem "import_overtaken"
    says that a part of it is kept.
    """
    with _opened(path) as members:
        contents = _check(members)
        _check_room(store, contents)
        new = sum(_new_entries(store, members, strip) for strip in members.strips)
        for sha256 in members.photos:
            photos.receive(store, sha256, _photo(members, sha256))
        for strip in members.strips:
            for page in _pages(_entries(members, strip, {})):
                for refused in sync.receive(store, strip, page, decisions=decisions):
                    raise Problem("import_overtaken", file=path.name, what=spoken(refused))
    return contents, new


def _opened(path: Path) -> Members:
    with _damage_is(Problem("no_bundle", file=path.name)):
        return Members(path)


@contextmanager
def _damage_is(problem: Problem) -> Iterator[None]:
    """Turn what the zip reader raises at damaged bytes into this problem."""
    try:
        yield
    except DAMAGE:
        raise problem from None
    except OSError as error:
        if error.errno == errno.EINVAL:  # a place in front of the file's beginning
            raise problem from None
        raise Problem("bundle_unreadable", what=error.strerror or str(error), **problem.values) from error


def _entries(members: Members, strip: str, seen: dict[str, bytes]) -> Iterator[Entry]:
    """The checked entries of a strip-down; `seen` holds a hash of each entry of the bundle by its id."""
    name = layout.entries_name(strip)
    for number, line in enumerate(_lines(members, name), 1):
        entry = _checked(name, number, line)
        if entry["strip"] != strip:
            raise Problem("bundle_entry", file=name, line=number, what="it belongs to another strip-down")
        own = hashlib.sha256(canonical(entry).encode()).digest()
        if seen.setdefault(entry["id"], own) != own:
            raise Problem("bundle_entry", file=name, line=number, what="its identifier stands for two entries")
        yield entry


def _checked(name: str, number: int, line: bytes) -> Entry:
    try:
        entry = strict_json(line)
    except Problem as problem:
        what = "it is no object of JSON." if problem.code == "bad_request" else str(problem)
        raise Problem("bundle_entry", file=name, line=number, what=what) from None
    for found in check(entry):
        raise Problem("bundle_entry", file=name, line=number, what=spoken(found))
    return entry


def _lines(members: Members, name: str) -> Iterator[bytes]:
    """The lines of a file, read piece by piece: it may be larger than this computer's memory."""
    rest = b""
    for piece in _pieces(members, name):
        *lines, rest = (rest + piece).split(b"\n")
        yield from lines
        # JSON may write a character of an entry with up to six bytes.
        if len(rest) > 6 * ENTRY_BYTES:
            break
    if rest:
        raise Problem("bundle_damaged", file=name)


def _pieces(members: Members, name: str) -> Iterator[bytes]:
    with _damage_is(Problem("bundle_damaged", file=name)):
        yield from members.pieces(name)


def _picture_bytes(members: Members, sha256: str) -> bytes:
    name = layout.photo_name(sha256)
    data = b"".join(_pieces(members, name))
    if hashlib.sha256(data).hexdigest() != sha256:
        raise Problem("bundle_damaged", file=name)
    return data


def _photo(members: Members, sha256: str) -> bytes:
    data = _picture_bytes(members, sha256)
    try:
        photos.check_picture(data)
    except Problem as problem:
        raise Problem("bundle_picture", file=layout.photo_name(sha256), what=str(problem)) from None
    return data


def _check_room(store: Store, contents: Contents) -> None:
    """Raise Problem "no_room_for_strips" where the store would hold more strip-downs than it takes."""
    new = {strip for strip, count in contents.entries.items() if count} - set(held := store.strips())
    if new and len(held) + len(new) > STRIPS:
        raise Problem("no_room_for_strips", limit=STRIPS)


def _new_entries(store: Store, members: Members, strip: str) -> int:
    """How many entries of a strip-down the store lacks. Raises Problem where they can't be kept beside its own."""
    name, line, new = layout.entries_name(strip), 0, set[str]()
    for page in _pages(_entries(members, strip, {})):
        held = store.held([entry["id"] for entry in page])
        for entry in page:
            line += 1
            found = held.get(entry["id"])
            if found is None:
                new.add(entry["id"])
            elif canonical(found) != canonical(entry):
                raise Problem("bundle_differs", file=name, line=line)
    # Numbers have gaps, so the highest is seldom too high, and then all are counted.
    if store.strips().get(strip, 0) + len(new) > ENTRIES_A_STRIP:
        if sum(map(len, pages_of(store, strip))) + len(new) > ENTRIES_A_STRIP:
            raise Problem("bundle_no_room", strip=strip, limit=ENTRIES_A_STRIP)
    return len(new)


def _pages(entries: Iterator[Entry]) -> Iterator[list[Any]]:
    page: list[Any] = []
    for entry in entries:
        page.append(entry)
        if len(page) == ENTRIES_A_REQUEST:
            yield page
            page = []
    if page:
        yield page
