"""The commands that carry data: copies, bundles, and from one store into another."""

import argparse
import contextlib
import sys
from datetime import datetime
from pathlib import Path
from typing import Any

from .bundles import Contents, take_in, write_bundle
from .copies import make_copy, restore
from .copies.making import FOLDER as COPIES
from .copies.making import new_path, pooled_photo
from .copies.restoring import Restored
from .core.share_page import OPTIONS
from .core.words import spoken
from .devices import DeviceBook
from .devices.audit import Audit
from .devices.decisions import Decisions
from .devices.routes import now_ms
from .errors import Problem
from .exports import folded, write_share_file, write_tables
from .moving import move
from .stopping import Stopping
from .store import Store
from .store.contract import Data
from .store.gaps import told_of, without_notes_settled
from .store.opening import is_address, open_store, reading
from .store.ours import check_ours
from .telling import tell

# As many files are named one by one.
NAMED_FILES = 5


def run_backup(folder: Path, url: str | None, to: Path | None) -> int:
    """Make a copy of everything; the program may serve it at the same time."""
    goal = to or folder / COPIES
    path = new_path(goal, "cotterbook", datetime.now())
    with reading(folder, url) as reader:
        gone = _gone(reader, folder, url is None)
        try:
            goal.mkdir(parents=True, exist_ok=True)
        except OSError as error:
            raise Problem("no_folder_for_copy", folder=str(goal), what=error.strerror or str(error)) from error
        contents = make_copy(reader, path)
    for report in (*reader.reports, *gone):
        print(f"cotterbook: {spoken(report)}", file=sys.stderr)
    tell(f"{path}: {held(contents)}. It was read back and is whole. Keep one on another disk too.")
    _tell_left_out(contents)
    return 0


def run_restore(folder: Path, bundle: Path) -> int:
    """Go back to a copy, whole or not at all."""
    check_ours(folder)
    check_file(bundle)
    restored = restore(folder, bundle, datetime.now(), Decisions(Audit(folder)))
    try:
        # Not by the book of devices: the data have changed, whether or not its list can be read.
        Audit(folder).write("restored", now_ms())
    finally:
        _tell_restored(folder, bundle, restored)
    return 0


def check_file(bundle: Path) -> None:
    """Raise Problem "is_a_folder" or "no_such_file"."""
    if bundle.is_dir():
        raise Problem("is_a_folder", file=str(bundle))
    if not bundle.is_file():
        raise Problem("no_such_file", file=str(bundle))


def _tell_restored(folder: Path, bundle: Path, restored: Restored) -> None:
    tell(f"{folder} holds what {bundle} holds: {held(restored.contents)}.")
    before = restored.before
    if before.copy:
        tell(f"What was there before is copied in {before.copy}, and moved to {restored.aside}.")
    if before.damaged_files:
        tell(f"Files with lines that can't be read, which are not in that copy: {', '.join(before.damaged_files)}. They"
              " were moved as they were.")
    if before.left_out:
        tell("Pictures among it that are damaged or may not be read, and are not in that copy:"
              f" {before.left_out}. They were moved as they were.")
    if before.no_copy_of:
        tell("What was there before is damaged, or a newer Cotterbook wrote it: no bundle could be made of it. Its"
              f" files were moved to {restored.aside}, byte for byte. That folder is the copy: keep it.")
    if restored.missing_photos:
        tell(f"Pictures that are in no copy: {len(restored.missing_photos)}. Phones that have them send them again.")
    tell("Phones send all that they hold once more: what was written since the copy and is still on one comes back.")


def run_export(folder: Path, url: str | None, bundle: Path, strips: list[str] | None) -> int:
    """Make a bundle of the store's strip-downs; the program may serve them at the same time."""
    if bundle.is_dir():
        raise Problem("is_a_folder", file=str(bundle))
    with reading(folder, url) as reader:
        gone = _gone(reader, folder, url is None)
        contents = write_bundle(reader, bundle, strips)
    for report in (*reader.reports, *gone):
        print(f"cotterbook: {spoken(report)}", file=sys.stderr)
    tell(f"{bundle}: {held(contents)}. It was read back and is whole.")
    if missing := len(contents.missing_photos) - len(contents.damaged_photos) - len(contents.closed_photos):
        print(f"Pictures that are not on this computer and not in the bundle: {missing}. The"
              " phones that took them still have them.", file=sys.stderr)
    _tell_left_out(contents)
    return 0


def _gone(data: Data, folder: Path, in_folder: bool) -> list[dict[str, Any]]:
    """What is told of entries that are gone, asked before the data are read. Where it can't be, a bundle is made all
    the same: the file that says it is not in one."""
    with contextlib.suppress(Problem):
        if gaps := data.gaps():
            return told_of(gaps, _names(folder), in_folder)
    return []


def run_tables(folder: Path, url: str | None, strip: str, into: Path) -> int:
    """Write a strip-down's tables into a folder; the program may serve it at the same time."""
    with reading(folder, url) as reader:
        found = folded(reader, strip)
    for report in reader.reports:
        print(f"cotterbook: {spoken(report)}", file=sys.stderr)
    paths = write_tables(found, into)
    tell(f"{into}: {', '.join(path.name for path in paths)}.")
    if found.not_understood:
        print("cotterbook: Entries that a newer version wrote, or that can't be read here, and that are in no table:"
              f" {len(found.not_understood)}.", file=sys.stderr)
    return 0


def run_share(folder: Path, url: str | None, chosen: argparse.Namespace) -> int:
    """Write a strip-down's page to send; the program may serve it at the same time."""
    options = {name: getattr(chosen, name) for name, _ in OPTIONS}
    with reading(folder, url) as reader:
        found = folded(reader, chosen.strip)
        write_share_file(found, reader, options, now_ms(), chosen.page)
    for report in reader.reports:
        print(f"cotterbook: {spoken(report)}", file=sys.stderr)
    tell(f"{chosen.page}: one page to send. Read it over before you do: whoever gets it can read all of it.")
    if options["notes"] and not options["names"]:
        print("cotterbook: Notes are left out with the names: nobody can tell which names stand in them.",
              file=sys.stderr)
    return 0


def _tell_left_out(contents: Contents) -> None:
    if contents.damaged_photos:
        print(f"cotterbook: Pictures that are damaged on this computer and not in the bundle:"
              f" {len(contents.damaged_photos)}. The phones that took them may still have them.", file=sys.stderr)
    if closed := contents.closed_photos:
        more = f" and {len(closed) - NAMED_FILES} more" if len(closed) > NAMED_FILES else ""
        print(f"cotterbook: Pictures that you may not read on this computer, and that are not in the bundle:"
              f" {len(closed)} ({', '.join(closed[:NAMED_FILES])}{more}). They are as they were. Give yourself the"
              " right to read them, then make another bundle.", file=sys.stderr)


def run_import(folder: Path, url: str | None, bundle: Path) -> int:
    """Take a bundle in, whole or not at all."""
    check_file(bundle)
    store = open_store(folder, url)
    try:
        contents, new = take_in(store, bundle, Decisions(Audit(folder)))
        beside, missing = _take_beside(store, bundle, contents)
        _settle_notes(store)
        for said in (*store.reports, *told_of(store.gaps(), _names(folder), store.in_folder)):
            print(f"cotterbook: {spoken(said)}", file=sys.stderr)
    finally:
        store.close()
    tell(f"{bundle}: {held(contents)}. New here: entries {new}.")
    if beside:
        tell(f"Pictures that the copies in {bundle.absolute().parent} share, taken in too: {beside}.")
    if missing:
        tell(f"Pictures that are not in it and not here: {missing}. Phones that have them send them.")
    return 0


def _settle_notes(store: Store) -> None:
    """What a device that looks on was known to hold may be here now."""
    if gaps := store.gaps():
        places = store.places([each.id for each in gaps if each.id])
        store.change_gaps(lambda now: without_notes_settled(now, places))


def _names(folder: Path) -> dict[str, str]:
    """What the list of devices calls them; where it can't be read, that is said when it is served."""
    with contextlib.suppress(Problem):
        if folder.is_dir():  # what is in a database may be asked without one
            return DeviceBook(folder).names()
    return {}


def _take_beside(store: Store, bundle: Path, contents: Contents) -> tuple[int, int]:
    """Take in what a daily copy leaves in the folder beside it; how many pictures, and how many are nowhere.

    Raises Problem "picture_closed" for one of those that may not be read; the others are taken in.
    """
    lacking = store.missing_photos(contents.missing_photos)
    found, closed = 0, None
    for sha256 in lacking:
        try:
            data = pooled_photo(sha256, bundle.absolute().parent)
        except Problem as problem:
            if problem.code != "picture_closed":
                raise
            closed = problem
            continue
        if data is not None:
            store.put_photo(sha256, data)
            found += 1
    if closed:
        raise closed
    return found, len(lacking) - found


def run_move(folder: Path, url: str | None, to: str) -> int:
    """Carry the store's entries and pictures into another one, and say what was read back there."""
    goal = Path() if is_address(to) else Path(to).expanduser().absolute()
    if url is None and goal.resolve() == folder.resolve():
        raise Problem("move_onto_itself")
    try:
        with Stopping() as stopping, reading(folder, url, alone=True) as source:
            with contextlib.closing(open_store(goal, to if is_address(to) else None)) as target:
                carried = move(source, target, lambda strip: tell(f"{strip} is there"), stopping.look)
    except KeyboardInterrupt:
        # A script must not take this for done.
        raise Problem("move_interrupted") from None
    for report in (*source.reports, *target.reports):
        print(f"cotterbook: {spoken(report)}", file=sys.stderr)
    for strip, (count, sha256) in carried.entries.items():
        tell(f"{strip}: entries {count}, SHA-256 {sha256}")
    for sha256 in carried.damaged_photos:
        print(f"cotterbook: The picture {sha256} was damaged where it was and is not carried. The phone that took it"
              " may still have it.", file=sys.stderr)
    total = sum(count for count, _ in carried.entries.values())
    tell(f"Carried to {target.shown}: strip-downs {len(carried.entries)}, entries {total}, pictures"
          f" {len(carried.photos)}. All of it was read back there and is the same. Phones send what they hold once"
          " more, for it is another store.")
    return 0


def held(contents: Contents) -> str:
    """What a bundle holds, in words."""
    entries = sum(contents.entries.values())
    return f"strip-downs {len(contents.entries)}, entries {entries}, pictures {len(contents.photos)}"
