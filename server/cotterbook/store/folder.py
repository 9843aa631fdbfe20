"""The folder of a store, read beside the process that writes it.

Nothing is locked, made or changed. Journals only ever grow, and take their place whole; so do pictures. What is
read is what was on the disk at one moment; a line that is being written just then is not yet acknowledged.
"""

from pathlib import Path
from typing import Any

from ..core.values import is_id
from ..errors import Problem
from .contract import Page
from .disk import disk_problems
from .gaps import Gaps
from .identity import gaps_beside
from .journal import Journal, parse
from .paging import page_of
from .photos import hashes_in, read_picture
from .salvage import journal_names, journal_of, read_what_is_left


class FolderReader:
    """What can be read of a store's folder, as each strip-down stood when it was first asked for.

    Raises Problem "no_such_folder", "newer_format" or "disk_trouble".
    """

    def __init__(self, folder: Path) -> None:
        self._folder, self._strips, self._photos = folder, folder / "strips", folder / "photos"
        self._last: tuple[str, Journal] | None = None
        # What was found wrong with files that were read, as sentences for people.
        self.reports: list[dict[str, Any]] = []
        # Files of which lines can't be read.
        self.damaged_files: list[str] = []
        if not self._strips.is_dir():
            raise Problem("no_such_folder", folder=str(folder))

    def strips(self) -> dict[str, int]:
        """Each strip-down held, with the highest number it has given."""
        with disk_problems():
            names = journal_names(self._strips)
        return {name: self._journal(name).next_number - 1 for name in names if is_id(name)}

    def _journal(self, strip: str) -> Journal:
        # One at a time: a reader goes through strip-downs one after the other.
        if self._last is None or self._last[0] != strip:
            with disk_problems():
                path = journal_of(self._strips, strip)
                self._last = strip, parse(read_what_is_left(path).data, path)
            if self._last[1].damaged_lines and path.name not in self.damaged_files:
                self.damaged_files.append(path.name)
            self.reports.extend(each for each in self._last[1].reports if each not in self.reports)
        return self._last[1]

    def read(self, strip: str, after: int, entries: int, size: int) -> Page:
        """Entries numbered above `after`; see the contract."""
        if not is_id(strip):
            raise ValueError("not an identifier")
        journal = self._journal(strip)
        return page_of(journal.documents.get, after, journal.next_number - 1, entries, size)

    def gaps(self) -> Gaps:
        """Which entries are gone and not back, also where nobody opened the folder since."""
        return gaps_beside(self._folder, self.strips)

    def photos(self) -> list[str]:
        """The hash of every picture held, in order."""
        return hashes_in(self._photos)

    def get_photo(self, sha256: str) -> bytes | None:
        """The picture's bytes, or None. Raises Problem "picture_closed", which names the file."""
        return read_picture(self._photos, sha256)
