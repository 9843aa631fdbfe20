"""New data in the place of a folder's old ones: a mark is written, and then three names change their places.

Where a crash comes between, whoever opens the folder next finishes it first, before anything is read or written there:
with half of the names changed it would hold the data of neither.
"""

import contextlib
import json
import os
import shutil
from datetime import datetime
from pathlib import Path

from .disk import disk_problems, free_path, read_or_nothing, sync_folder, write_whole
from .holder import Holder

NEW, MARK, ASIDE = "restoring", "restoring.json", "replaced"
NAMES = ("strips", "photos", "identity")


def change_places(folder: Path, aside: Path) -> None:
    """Put what is in NEW into the folder's place, and what was there into a new folder `aside`, which lies in it too.

    The folder is held. Raises a disk's problem; where that comes before the mark, nothing has moved.
    """
    with disk_problems():
        aside.mkdir(mode=0o700)
        write_whole(folder / MARK, json.dumps({"aside": aside.name}).encode())
    finish_changing(folder)


def is_changing(folder: Path) -> bool:
    """Whether the mark is there."""
    with disk_problems():
        return (folder / MARK).exists()


def finish_changing(folder: Path) -> None:
    """Where the mark is there, do what is left of it. The folder is held. Raises a disk's problem."""
    if not is_changing(folder):
        return
    aside = _aside(folder)
    with disk_problems():
        aside.mkdir(mode=0o700, exist_ok=True)
        (folder / NEW).mkdir(mode=0o700, exist_ok=True)
        for name in NAMES:
            new = folder / NEW / name
            # Where the new one is gone from its first place, both have moved already.
            if new.exists():
                if (folder / name).exists():
                    os.replace(folder / name, _free(aside / name))
                os.replace(new, folder / name)
        for each in (folder, aside, folder / NEW):
            sync_folder(each)
        (folder / MARK).unlink()
        shutil.rmtree(folder / NEW, ignore_errors=True)
        with contextlib.suppress(OSError):
            aside.rmdir()  # where nothing was moved into it
        sync_folder(folder)


def finish_unheld(folder: Path) -> None:
    """Do the same where nobody holds the folder. Raises what Holder does too: then somebody is at it."""
    if not is_changing(folder):
        return
    holder = Holder(folder)
    try:
        finish_changing(folder)
    finally:
        holder.release()


def _aside(folder: Path) -> Path:
    """Where what was there before goes, as the mark says; of a mark that cannot be read, the last that was made."""
    with contextlib.suppress(ValueError, KeyError, TypeError), disk_problems():
        name = str(json.loads(read_or_nothing(folder / MARK))["aside"])
        if name.startswith(ASIDE) and (folder / name).is_dir():
            return folder / name
    made = [each for each in folder.glob(ASIDE + "-*") if each.is_dir()]
    # The name holds the moment only to the second.
    if made:
        return max(made, key=lambda each: each.stat().st_mtime_ns)
    return _free(folder / f"{ASIDE}-{datetime.now():%Y-%m-%d-%H%M%S}")


def _free(path: Path) -> Path:
    """The path, or one beside it where something is there already."""
    return free_path(lambda number: path if number == 1 else path.with_name(f"{path.name}-{number}"))
