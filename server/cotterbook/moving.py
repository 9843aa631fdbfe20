"""Carrying everything of one store into another, and reading it back there before anybody relies on it."""

import hashlib
import itertools
from collections.abc import Callable, Iterable
from typing import NamedTuple

from .core.words import spoken
from .errors import Problem
from .store import Entry, Store
from .store.contract import Data, Readable, canonical
from .store.gaps import merged
from .store.paging import entries_of, pages_of


class Carried(NamedTuple):
    """How many entries and the SHA-256 over them by strip-down, the pictures, and those that were damaged before."""

    entries: dict[str, tuple[int, str]]
    photos: list[str]
    damaged_photos: list[str]


def move(
    source: Data,
    target: Store,
    tell: Callable[[str], None] = lambda _: None,
    look: Callable[[], None] = lambda: None,
) -> Carried:
    """Carry every entry and picture of `source` into `target`; what was carried.

    The target is empty, or holds the beginning of what an interrupted move carried. Entries get their numbers anew in
    the order of the old ones, which are the same ones unless lines of the source are damaged. The target keeps an
    identity of its own: the source stays as it was, and if somebody served it once more, one identity would stand for
    two stores whose numbers mean different entries (the contract's promise 6). What is known to be gone from the
    source is gone from the target too.

    `tell` is called with each strip-down once it is there, `look` before each page and picture, and raises what is to
    end it between two of them. Raises Problem "target_not_empty", "source_changed", "move_differs" or,
    for a picture that this program may not read, "picture_closed".
    """
    name, held, photos = target.shown, _held(source), source.photos()
    _check_begun(source, target, held, photos)
    gaps = source.gaps()
    target.change_gaps(lambda kept: merged(kept, gaps))
    for strip in held:
        for page in pages_of(source, strip):
            look()
            for refused in target.append(strip, page).refused:
                raise Problem("move_differs", target=name, what=spoken(refused))
        tell(strip)
    damaged = []
    for sha256 in photos:
        look()
        if not _carry_photo(source, target, sha256):
            damaged.append(sha256)
    if (_held(source), source.photos()) != (held, photos):
        raise Problem("source_changed", target=name)
    entries = {strip: _same_entries(source, target, strip) for strip in held}
    whole = [sha256 for sha256 in photos if sha256 not in set(damaged)]
    for sha256 in whole:
        look()
        _check_photo(target, sha256)
    if sorted(_held(target)) != sorted(held):
        raise Problem("move_differs", target=name, what=", ".join(sorted({*_held(target)} ^ {*held})))
    return Carried(entries, whole, damaged)


def _held(store: Readable) -> dict[str, int]:
    return {strip: last for strip, last in sorted(store.strips().items()) if last}


def _check_begun(source: Readable, target: Store, held: dict[str, int], photos: list[str]) -> None:
    """Whether all that the target holds is the beginning of the source; else it is somebody's own."""
    name, strips = target.shown, _held(target)
    if set(strips) - set(held) or set(target.photos()) - set(photos):
        raise Problem("target_not_empty", target=name)
    for strip in strips:
        for theirs, ours in itertools.zip_longest(entries_of(target, strip), entries_of(source, strip)):
            if theirs is None:
                break
            if ours is None or canonical(theirs) != canonical(ours):
                raise Problem("target_not_empty", target=name)


def _carry_photo(source: Readable, target: Store, sha256: str) -> bool:
    """Carry one picture; whether it was whole. A damaged one is not carried: its hash would be a lie."""
    if not target.missing_photos([sha256]):
        return True
    data = source.get_photo(sha256)
    if data is None or hashlib.sha256(data).hexdigest() != sha256:
        return False
    target.put_photo(sha256, data)
    return True


def _same_entries(source: Readable, target: Store, strip: str) -> tuple[int, str]:
    """The count and the hash of a strip-down's entries, read anew from both."""
    ours, theirs = digest(entries_of(source, strip)), digest(entries_of(target, strip))
    if ours != theirs:
        raise Problem("move_differs", target=target.shown, what=strip)
    return theirs


def digest(entries: Iterable[Entry]) -> tuple[int, str]:
    """How many entries there are, and the SHA-256 over their canonical JSON, a line each, in order."""
    count, found = 0, hashlib.sha256()
    for entry in entries:
        found.update(canonical(entry).encode() + b"\n")
        count += 1
    return count, found.hexdigest()


def _check_photo(target: Store, sha256: str) -> None:
    data = target.get_photo(sha256)
    if data is None or hashlib.sha256(data).hexdigest() != sha256:
        raise Problem("move_differs", target=target.shown, what=sha256)
