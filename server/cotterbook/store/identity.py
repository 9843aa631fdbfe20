"""The file beside the journals that says which data these are, and how far they went.

Its first line is the identity, its second the damage that was known when that was given, its third the highest number
of each strip-down when somebody last looked: at the opening, at the closing and when a strip-down was new. The third
is only ever written after the entries themselves, so that what is found to be less is gone. It is no more than a
help: what went since nobody looked, phones tell. The fourth line is there while entries are gone, and says which.
"""

import contextlib
import json
import uuid
from collections.abc import Callable, Mapping
from pathlib import Path

from ..core.values import is_id
from ..errors import Problem
from .disk import disk_problems, read_or_nothing, write_whole
from .gaps import UNKNOWN, Change, Gap, Gaps, gaps_as_text, gaps_in, now_ms, with_gap
from .ours import IDENTITY, foreign, identity_in


class IdentityFile:
    """The identity of a folder's data. Raises a disk's problem, and Problem "foreign_folder" for a file of another.

    `damage` is what is damaged in the journals, in a line that differs when something else is. By another identity
    phones send all that they hold once more, and so bring back what was lost here.
    """

    def __init__(
        self, folder: Path, damage: str, given: Mapping[str, int], readable: Mapping[str, int]
    ) -> None:
        """The highest number of each journal that it has `given`, as far as it can be told, and that is `readable`."""
        self._path, self._damage = folder / IDENTITY, damage
        with disk_problems():
            data = read_or_nothing(self._path)
        kept = identity_in(data)
        # Without a journal beside it a file that says something else is not ours to write over. Of one that a power cut
        # left without its bytes some disks keep the length, in zeros.
        if kept is None and not given and data.strip(b"\0 \r\n"):
            raise foreign(folder, IDENTITY)
        _, known_damage, self._noted, _ = _lines_in(data)
        # Which entries are gone and not back.
        self.gaps = _gaps_in(data)
        self.identity = kept or ""
        found = _with_those_found(self.gaps, self.identity, self._noted, given)
        if kept is None or known_damage.strip() != damage or found != self.gaps:
            self._write(str(uuid.uuid4()), _line(readable), found)
        else:
            self.note(readable)

    def begin_anew(self, known: str) -> str:
        """Take another identity in the place of `known`; see the contract."""
        if self.identity == known:
            self._write(str(uuid.uuid4()), self._noted, self.gaps)
        return self.identity

    def change_gaps(self, change: Change) -> None:
        """Keep others in the place of the gaps; see the contract."""
        if (changed := change(self.gaps)) != self.gaps:
            self._write(self.identity, self._noted, changed)

    def note(self, readable: Mapping[str, int]) -> None:
        """Keep how far each strip-down goes. Where the disk refuses, what was noted before stays."""
        if _line(readable) != self._noted:
            with contextlib.suppress(Problem):
                self._write(self.identity, _line(readable), self.gaps)

    def _write(self, identity: str, noted: str, gaps: Gaps) -> None:
        lines = [identity, self._damage, noted, gaps_as_text(gaps)]
        with disk_problems():
            write_whole(self._path, "\n".join(lines if gaps else lines[:3]).encode())
        self.identity, self._noted, self.gaps = identity, noted, gaps


def gaps_beside(folder: Path, given: Callable[[], Mapping[str, int]]) -> Gaps:
    """The gaps of a folder's data, as whoever opens it next will know them, read beside whoever holds it.

    `given` reads the highest numbers, once it is known what they were. Raises a disk's problem, and what that does.
    """
    data = _read(folder)
    return _with_those_found(_gaps_in(data), identity_in(data) or "", _lines_in(data)[2], given())


def kept_gaps(folder: Path) -> Gaps:
    """The gaps that were found before, where the data themselves can't be read. Raises a disk's problem."""
    return _gaps_in(_read(folder))


def _read(folder: Path) -> bytes:
    with disk_problems():
        return read_or_nothing(folder / IDENTITY)


def _lines_in(data: bytes) -> list[str]:
    """The four lines, empty where there are fewer."""
    return [*data.decode("ascii", "replace").split("\n"), "", "", ""][:4]


def _gaps_in(data: bytes) -> Gaps:
    """Which entries are gone and not back; also where a spoiled end of a line makes one of two, or moves them up."""
    _, _, noted, gaps = _lines_in(data)
    return gaps_in(gaps) or ((UNKNOWN,) if Gap._fields[-1] in noted else ())


def _with_those_found(gaps: Gaps, identity: str, noted: str, given: Mapping[str, int]) -> Gaps:
    """These gaps and one for each strip-down that has given less than was noted of it."""
    for strip, before in sorted(_numbers_in(noted).items()):
        if given.get(strip, 0) < before:
            gaps = with_gap(gaps, Gap(identity, strip, before, "", now_ms()))
    return gaps


def _line(numbers: Mapping[str, int]) -> str:
    return json.dumps({strip: numbers[strip] for strip in sorted(numbers)}, separators=(",", ":"))


def _numbers_in(text: str) -> dict[str, int]:
    """What the line says, or nothing: it is a help."""
    with contextlib.suppress(ValueError):
        found = json.loads(text)
        if isinstance(found, dict) and all(is_id(strip) and isinstance(found[strip], int) for strip in found):
            return found
    return {}
