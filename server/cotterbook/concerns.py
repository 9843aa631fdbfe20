"""What is wrong with the PC and its folder while it serves: for the owner, whose phone hears of it at each sync.

On the terminal each is said once, when it is found; a terminal is seldom looked at. On the phone each stands as long
as it is so.
"""

import shutil
import threading
from datetime import datetime, timedelta
from pathlib import Path
from typing import Any

from .core.words import say
from .devices import DeviceBook
from .errors import TEXT, Problem
from .store.contract import Store
from .store.gaps import told_of
from .store.journal import SETTLED
from .store.photos import LEFT_FOR_ENTRIES_BYTES, is_there, picture_path
from .trust import Authority
from .trust.certificates import Certificate, clock_behind, now_utc

Sentence = dict[str, Any]
LITTLE_ROOM_BYTES = 1_000_000_000
# The shop's own certificate is renewed a month before its end: what has a fortnight left was not.
LITTLE_TIME = timedelta(days=14)


class Concerns:
    """What the owner should know; any thread may note and ask.

    `certificate` is what the pages are served with, or None without TLS; `authority` is what made it, or None where it
    is the owner's own. `book` names devices, or there is none.
    """

    def __init__(
        self, store: Store, folder: Path, certificate: Certificate | None = None, authority: Authority | None = None,
        book: DeviceBook | None = None,
    ) -> None:
        self._book = book
        self._store, self._folder, self._certificate, self._authority = store, folder, certificate, authority
        self._lock = threading.Lock()
        self._noted: dict[str, Sentence] = {}

    def note(self, about: str, sentence: Sentence | None) -> None:
        """Keep what is to be known of something, in the place of what was; None when it is well again."""
        with self._lock:
            self._noted.pop(about, None)
            if sentence:
                self._noted[about] = sentence

    def now(self) -> list[Sentence]:
        """Everything that is so at this moment."""
        with self._lock:
            noted = list(self._noted.values())
        reports = [each for each in self._store.reports if each["text"] not in SETTLED]
        return [*reports, *self._gone(), *noted, *self._wanted(), *self._room(), *self._time(now_utc())]

    def _gone(self) -> list[Sentence]:
        try:
            return told_of(self._store.gaps(), self._book.names() if self._book else {}, self._store.in_folder)
        except Problem:  # what is wrong is told where entries are asked for
            return []

    def _wanted(self) -> list[Sentence]:
        try:
            wanted = self._store.wanted_photos()
        except Problem as problem:  # entries are told of all the same
            return [say("The PC can’t look at its pictures: {what}", what=say(TEXT[problem.code], **problem.values))]
        # What the daily copies have whole was taken back from beside them.
        if self._store.in_folder:
            return self._wanted_in_folder(wanted)
        if not wanted:
            return []
        return [say(
            "Pictures that the disk of PostgreSQL spoiled: {count}. A phone that still has them sends them again by"
            " itself, and what the daily copies have whole is taken from there. For the others take in a file that"
            " cotterbook backup or export made: cotterbook import FILE --store URL. A picture that nobody has any more"
            " stands here until its row has another name, as PostgreSQL may be able to delete it no more: UPDATE"
            " cotterbook.pictures SET sha256 = 'given-up' || substr(sha256, 9) WHERE damaged.", count=len(wanted))]

    def _wanted_in_folder(self, wanted: list[str]) -> list[Sentence]:
        told = []
        # What is spoiled was put aside; what may not be read is where it was.
        paths = [picture_path(self._folder / "photos", sha256) for sha256 in wanted]
        if closed := [path.name for path in paths if is_there(path)]:
            told.append(say(
                "Pictures that Cotterbook may not read in the folder photos of the data: {count}, the first of them"
                " {file}. They are as they were. Give Cotterbook on the PC the right to read them; a phone that still"
                " has them sends them again by itself, and what the daily copies have whole is taken from there.",
                count=len(closed), file=closed[0]))
        if spoiled := len(wanted) - len(closed):
            told.append(say(
                "Pictures that the PC’s disk spoiled: {count}. A phone that still has them sends them again by itself,"
                " and what the daily copies have whole is taken from there. For the others stop Cotterbook and take in"
                " a file that cotterbook backup or export made: cotterbook import FILE. A picture that nobody has any"
                " more stands here until its file, which ends in .damaged, is moved out of the folder photos in the"
                " data.", count=spoiled))
        return told

    def _room(self) -> list[Sentence]:
        try:
            free = shutil.disk_usage(self._folder).free
        except OSError as error:
            text = "The PC’s folder can’t be looked at: {what}. Look at the disk of the PC."
            return [say(text, what=str(error.strerror))]
        if free >= LITTLE_ROOM_BYTES:
            return []
        if not self._store.in_folder:
            return [say(
                "The PC’s disk has {free} MB left. Copies, keys and the list of devices are kept there; entries and"
                " pictures are in PostgreSQL. Make room there.", free=free // 1_000_000)]
        return [say(
            "The PC’s disk has {free} MB left. With less than {limit} MB it takes no more pictures; entries go on while"
            " there is room. Make room there.", free=free // 1_000_000, limit=LEFT_FOR_ENTRIES_BYTES // 1_000_000)]

    def _time(self, now: datetime) -> list[Sentence]:
        if self._certificate is None:
            return []
        if days := clock_behind(self._certificate, now):
            text = "The PC’s clock stands at {now}, before its certificate begins ({begin}). Set the clock of the PC."
            return [say(text, now=days["now"], begin=days["begin"])]
        if self._certificate.not_valid_after_utc - now > LITTLE_TIME:
            return []
        day = f"{self._certificate.not_valid_after_utc:%Y-%m-%d}"
        if self._authority is None:
            return [say(
                "The PC’s certificate holds until {day}. Phones can’t reach the PC afterwards; what they hold stays on"
                " them. It is your own: start Cotterbook on the PC with a new one.", day=day)]
        if self._authority.can_renew:
            return [say(
                "The PC’s certificate holds until {day}. Phones can’t reach the PC afterwards; what they hold stays on"
                " them. Stop Cotterbook on the PC and start it again: it makes a new one.", day=day)]
        return [say(
            "The PC’s certificate holds until {day}. Phones can’t reach the PC afterwards; what they hold stays on"
            " them. The key that renews it is gone: move the folder trust away from the data and start Cotterbook"
            " again. Every phone then fetches and trusts a new certificate.", day=day)]
