"""A phone was told of entries that the PC has no more: all phones begin anew, and the owner hears of it."""

import sys
from collections.abc import Callable, Mapping

from .concerns import Concerns
from .core.words import say, spoken
from .devices import HAND, DeviceBook, gate
from .errors import Problem
from .store import Last, Store

GONE = (
    "A phone knows of entries that the PC had, and has no more: its data are older than they were, or a part of them is"
    " gone. Every phone sends once more what it holds. For what no phone has take in daily copies from before that:"
    " cotterbook import FILE.")
# A device makes all phones begin anew once within this. Others notice a further loss by themselves, and what one makes
# up keeps nobody from sending.
ONCE_WITHIN_MS = 3_600_000


class LessThanTold:
    """Over a store and the book of devices: what follows where a phone was told of more than the store has."""

    def __init__(self, store: Store, book: DeviceBook | None, concerns: Concerns, clock: Callable[[], int]) -> None:
        self._store, self._book, self._concerns, self._clock = store, book, concerns, clock
        # When a device last made all begin anew, in ms since 1970.
        self._renewed: dict[str, int] = {}

    def is_so(self, told: Mapping[str, Last]) -> bool:
        """Whether the store has less than `told`, the last entry of each strip-down that a phone heard of.

        Numbers are given in order and never again, so whoever has the last entry that a phone was told of, under its
        number, has all that it was told of; and whoever has it not may have given its number to another. What the
        store cannot look up now is asked the next time.
        """
        try:
            places = self._store.places([last.id for last in told.values()]) if told else {}
        except Problem:
            return False
        return any(places.get(last.id) != (strip, last.number) for strip, last in told.items())

    def begin_anew(self, identity: str) -> str:
        """The identity by which every phone sends all once more; or this one does alone, by the same identity: it may
        only look on and brings nothing, or it made all begin anew already."""
        device, now = gate.device(), self._clock()
        if not device.may(HAND) or now - self._renewed.get(device.id, -ONCE_WITHIN_MS) < ONCE_WITHIN_MS:
            return identity
        self._renewed[device.id] = now
        renewed = self._store.begin_anew(identity)
        self._concerns.note("gone", say(GONE))
        if self._book:
            self._book.audit.write("begun_anew", now, device=device.id)
        print(f"cotterbook: {spoken(say(GONE))}", file=sys.stderr, flush=True)
        return renewed


def lasts_of(store: Store) -> dict[str, Last]:
    """The last entry of each strip-down, for phones to keep; none where they cannot be looked up now."""
    try:
        return store.lasts()
    except Problem:
        return {}
