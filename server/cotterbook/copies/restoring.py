"""Going back to a copy: what is there now is copied and moved aside first, and nothing of it is deleted.

Where it is damaged or of a newer format, so that no copy can be made of it, its files are moved aside all the same,
byte for byte: rot in what is there now is the very reason to go back.

The new data are made whole beside the old, and then change places with them (`store/changing_places.py`); where a crash
comes between, it is finished by whatever opens the folder next. The store begins a new identity: phones then send all
that they hold once more, so what was written since the copy and is still on a phone comes back.
"""

import contextlib
import shutil
from datetime import datetime
from pathlib import Path
from typing import NamedTuple

from ..bundles import Contents, take_in
from ..devices.decisions import Decisions
from ..errors import Problem
from ..store import TinyStore
from ..store.changing_places import ASIDE, NEW, change_places, finish_changing, is_changing
from ..store.disk import disk_problems, is_unreadable
from ..store.folder import FolderReader
from ..store.gaps import Gaps
from ..store.holder import Holder
from ..store.identity import kept_gaps
from .making import FOLDER, make_copy, new_path, pooled_photo

# What is wrong with the present data themselves, and not with the disk that a copy of them goes to.
NO_COPY_OF = ("newer_format", "bundle_damaged", "bundle_too_big", "no_bundle")


class Before(NamedTuple):
    """The copy of what was there before: None of nothing, and of what no copy can be made of.

    `left_out` is the number of pictures that are not in it: damaged, or not to be read.
    """

    copy: Path | None = None
    left_out: int = 0
    no_copy_of: bool = False
    damaged_files: tuple[str, ...] = ()


class Restored(NamedTuple):
    """What is there now, the copy of what was before and where that was moved, and pictures that are in no copy."""

    contents: Contents
    before: Before
    aside: Path
    missing_photos: list[str]


def restore(folder: Path, bundle: Path, now: datetime, decisions: Decisions | None = None) -> Restored:
    """Let a data folder hold what a copy holds, and only that. What an owner decided is noted in the `decisions`.

    Raises what `take_in` does, "folder_held", "no_such_file" or a disk's problem; the data are as they were then.
    """
    if not bundle.is_file():
        raise Problem("no_such_file", file=str(bundle))
    holder = Holder(folder)
    try:
        finish_changing(folder)
        with disk_problems():
            shutil.rmtree(folder / NEW, ignore_errors=True)
        contents, missing = _make_new(folder, bundle, decisions)
        aside = new_path(folder, ASIDE, now, "")
        try:
            before = _copy_of_now(folder, now)
            change_places(folder, aside)
        except BaseException:
            _leave_nothing_behind(folder, aside)
            raise
    finally:
        holder.release()
    return Restored(contents, before, aside, missing)


def _make_new(folder: Path, bundle: Path, decisions: Decisions | None) -> tuple[Contents, list[str]]:
    """The copy's data beside the old ones; pictures that are not in the bundle come from beside it or from here."""
    store = TinyStore(folder / NEW)
    try:
        contents, _ = take_in(store, bundle, decisions)
        # A copy need not hold all that was lost: phones, or the owner, say when it is back.
        gaps = _gaps_of_now(folder)
        store.change_gaps(lambda _: gaps)
        missing = []
        for sha256 in contents.missing_photos:
            data = pooled_photo(sha256, bundle.parent, folder)
            if data is None:
                missing.append(sha256)
            else:
                store.put_photo(sha256, data)
    except BaseException:
        store.close()
        shutil.rmtree(folder / NEW, ignore_errors=True)
        raise
    store.close()
    return contents, missing


def _gaps_of_now(folder: Path) -> Gaps:
    try:
        return FolderReader(folder).gaps()
    except Problem as problem:
        if problem.code in (*NO_COPY_OF, "no_such_folder") or _is_unreadable(problem):
            return kept_gaps(folder)
        raise


def _copy_of_now(folder: Path, now: datetime) -> Before:
    if not (folder / "strips").is_dir():
        return Before()
    path = new_path(folder / FOLDER, "before-restore", now)
    try:
        reader = FolderReader(folder)
        if not any(reader.strips().values()):
            return Before()
        made = make_copy(reader, path)
        left_out = len(made.damaged_photos) + len(made.closed_photos)
        return Before(path, left_out, damaged_files=tuple(reader.damaged_files))
    except Problem as problem:
        if problem.code in NO_COPY_OF or _is_unreadable(problem):
            return Before(no_copy_of=True)
        raise


def _is_unreadable(problem: Problem) -> bool:
    """Whether the disk can't read what is there now; where a copy can't be written, that is another matter."""
    error = problem.__cause__
    return problem.code == "disk_trouble" and isinstance(error, OSError) and is_unreadable(error)


def _leave_nothing_behind(folder: Path, aside: Path) -> None:
    """Where it ended before the mark was there, nothing was moved: what was made for moving goes."""
    if not is_changing(folder):
        shutil.rmtree(folder / NEW, ignore_errors=True)
        with contextlib.suppress(OSError):
            aside.rmdir()
