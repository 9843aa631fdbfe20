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
from .store.contract import Store
from .store.photos import LEFT_FOR_ENTRIES_BYTES
from .trust.certificates import Certificate, clock_behind, now_utc

Sentence = dict[str, Any]
LITTLE_ROOM_BYTES = 1_000_000_000
# The shop's own certificate is renewed a month before its end: what has a fortnight left was not.
LITTLE_TIME = timedelta(days=14)


class Concerns:
    """What the owner should know; any thread may note and ask.

    `certificate` is what the pages are served with, or None without TLS.
    """

    def __init__(self, store: Store, folder: Path, certificate: Certificate | None = None) -> None:
        self._store, self._folder, self._certificate = store, folder, certificate
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
        return [*self._store.reports, *noted, *self._wanted(), *self._room(), *self._time(now_utc())]

    def _wanted(self) -> list[Sentence]:
        count = len(self._store.wanted_photos())
        return [say(
            "Pictures that the PC’s disk spoiled: {count}. A phone that still has them sends them again by itself. For"
            " the others take in the newest copy on the PC: cotterbook import FILE.", count=count)] if count else []

    def _room(self) -> list[Sentence]:
        try:
            free = shutil.disk_usage(self._folder).free
        except OSError as error:
            text = "The PC’s folder can’t be looked at: {what}. Look at the disk of the PC."
            return [say(text, what=str(error.strerror))]
        if free >= LITTLE_ROOM_BYTES:
            return []
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
        return [say(
            "The PC’s certificate holds until {day}. Phones can’t reach the PC afterwards; what they hold stays on"
            " them. Stop Cotterbook on the PC and start it again, with a new certificate if it is your own.",
            day=f"{self._certificate.not_valid_after_utc:%Y-%m-%d}")]
