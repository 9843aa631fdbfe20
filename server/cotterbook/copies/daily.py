"""A copy a day, by itself, while the program serves; the oldest go when there are more than wanted."""

import contextlib
import re
import shutil
import sys
import threading
from datetime import datetime
from pathlib import Path

from ..bundles import named_photos
from ..concerns import Concerns
from ..core.words import say
from ..errors import Problem
from ..store.contract import Store
from ..store.disk import disk_problems
from ..store.gaps import are_lost
from ..store.photos import LEFT_FOR_ENTRIES_BYTES
from .making import FOLDER, PHOTOS, keep_photos, make_light_copy, pooled_photo

NAME = re.compile(r"daily-\d{4}-\d{2}-\d{2}\.zip")
LOOK_SECONDS = 900


def _name(day: datetime) -> str:
    return f"daily-{day:%Y-%m-%d}.zip"


class DailyCopies:
    """The daily copies of a data folder, `keep` of them; with 0 none is made and none goes.

    The oldest go in the order in which they were made, whatever the clock said then; never the one made just now.
    While entries in the store are damaged or gone none goes either: the older ones may have them; and none is made
    where the disk is nearly full. A picture that the disk spoiled in the store, or lost, is taken back from beside the
    copies, where it is whole there.
    """

    def __init__(self, store: Store, folder: Path, keep: int, concerns: Concerns) -> None:
        self._store, self._photos, self._folder, self._keep = store, folder / "photos", folder / FOLDER, keep
        self._concerns = concerns
        self._wanted: set[str] = set()
        self._stop = threading.Event()
        self._thread = threading.Thread(target=self._run, name="daily-copies", daemon=True)

    def start(self) -> None:
        """Begin, in a thread of its own; the first look is at once."""
        if self._keep:
            self._thread.start()

    def close(self) -> None:
        """Make no more. A copy on its way is finished first, or left without a name."""
        self._stop.set()
        if self._thread.is_alive():
            self._thread.join(timeout=1)

    def _run(self) -> None:
        while True:
            self.try_once(datetime.now())
            if self._stop.wait(LOOK_SECONDS):
                return

    def try_once(self, now: datetime) -> None:
        """Look, and say to the terminal and to the owner where no copy could be made."""
        try:
            self.look(now)
        except Problem as problem:
            print(f"cotterbook: no copy was made today: {problem}", file=sys.stderr, flush=True)
            self._concerns.note("copies", say(
                "No copy of the data was made on {day} ({what}). What is kept is kept; look at the PC’s disk and at the"
                " folder copies in its data. It is tried again every {minutes} minutes.", day=f"{now:%Y-%m-%d}",
                what=problem.values.get("what", problem.code.replace("_", " ")), minutes=LOOK_SECONDS // 60))
        else:
            self._concerns.note("copies", None)

    def look(self, now: datetime) -> Path | None:
        """Mend pictures, and make today's copy if there is none yet and there is something to copy; the oldest go."""
        self._mend_photos()
        path = self._folder / _name(now)
        self._note_dates(path.name)
        if path.exists() or not any(self._store.strips().values()):
            return None
        lacks_entries = self._lacks_entries()
        if lacks_entries:
            self._check_room(path)
        make_light_copy(self._store, path, self._photos)
        if lacks_entries or self._lacks_entries():
            return path
        with disk_problems():
            copies = self._in_order_of_making(path.name)
            for old in copies[: -self._keep]:
                old.unlink()
            if len(copies) > self._keep:
                self._drop_unnamed()
        return path

    def _lacks_entries(self) -> bool:
        """Whether older copies may hold what the store has no more; where it cannot be asked, they may."""
        try:
            return self._store.damaged or are_lost(self._store.gaps())
        except Problem:
            return True

    def _check_room(self, path: Path) -> None:
        """As long as none goes they grow without end: what room entries need they leave. Raises a Problem."""
        with disk_problems():
            free = shutil.disk_usage(self._folder.parent).free
        if free < LEFT_FOR_ENTRIES_BYTES:
            raise Problem(
                "bundle_not_written", file=str(path),
                what="the disk is nearly full, and as long as entries are damaged or gone no older copy goes")

    def _in_order_of_making(self, today: str) -> list[Path]:
        """The daily copies, the one made last at the end.

        All were made before now, so one that is dated later was made by another clock, before those of this one.
        """
        copies = [each for each in self._folder.iterdir() if NAME.fullmatch(each.name)]
        return sorted(copies, key=lambda each: (each.name <= today, each.name))

    def _note_dates(self, today: str) -> None:
        """Tell the owner of copies that are dated after today: as long as there are, the clock is or was wrong."""
        ahead = []
        if self._folder.is_dir():
            with disk_problems():
                ahead = [each.name for each in self._in_order_of_making(today) if each.name > today]
        self._concerns.note("dates", say(
            "Copies of the data that are dated after today: {count}, up to {last}. The PC’s clock stands at {day}: it"
            " is behind, or was ahead once. Set it. They count as the oldest, and go first.",
            count=len(ahead), last=ahead[-1], day=today[6:16]) if ahead else None)

    def _mend_photos(self) -> None:
        """Give the store back what it wants and the copies have whole, and the copies what the store got again."""
        # Where the store or the disk refuses, the pictures are still wanted, and the owner hears of that and of a disk
        # that is full. A copy of the entries is made all the same, and one picture holds up no other.
        with contextlib.suppress(Problem):
            for sha256 in self._store.awaited_photos():
                with contextlib.suppress(Problem):
                    data = pooled_photo(sha256, self._folder)
                    if data is not None:
                        self._store.put_photo(sha256, data)
            wanted = set(self._store.wanted_photos())
            if came := self._wanted - wanted:
                keep_photos(self._store, sorted(came), self._folder, self._photos)
            self._wanted = wanted

    def _drop_unnamed(self) -> None:
        """Let a kept picture go that neither the store has or wants nor any copy names.

        No entry is ever rubbed out, so this is the rare case.
        """
        known = {*self._store.photos(), *self._store.wanted_photos()}
        unknown = [each for each in (self._folder / PHOTOS).glob("*.jpg") if each.stem not in known]
        if not unknown:
            return
        try:
            named = set().union(*map(named_photos, self._folder.glob("*.zip")))
        except Problem:
            return  # what a copy names that cannot be read now may be read again
        for picture in unknown:
            if picture.stem not in named:
                picture.unlink()
