"""A phone was told of entries that the PC has no more: all phones begin anew, and the owner hears of it until all is
back or he gives it up."""

import contextlib
import sys
from collections.abc import Callable, Mapping
from typing import NamedTuple

from flask import Blueprint, Response, jsonify

from .bodies import read_json
from .core.words import spoken
from .devices import HAND, OWNER, Device, DeviceBook, gate
from .errors import Problem
from .store import Last, Store
from .store.gaps import Gap, Gaps, told_of, with_gap, without_notes_settled, without_those_back

# A device makes all phones begin anew once within this. Others notice a further loss by themselves, and what one makes
# up keeps nobody from sending.
ONCE_WITHIN_MS = 3_600_000


class Told(NamedTuple):
    """What a phone was told of a strip-down: its last entry, and whether the phone has read as far as that."""

    last: Last
    read_all: bool


class LessThanTold:
    """Over a store and the book of devices: what follows where a phone was told of more than the store has."""

    def __init__(self, store: Store, book: DeviceBook | None, clock: Callable[[], int]) -> None:
        self._store, self._book, self._clock = store, book, clock
        # When a device last made all begin anew, in ms since 1970.
        self._renewed: dict[str, int] = {}

    def missing(self, told: Mapping[str, Told]) -> dict[str, Told]:
        """Of `told`, what a phone heard of each strip-down, that of which the store has less.

        Numbers are given in order and never again, so whoever has the last entry that a phone was told of, under its
        number, has all that it was told of; and whoever has it not may have given its number to another. What the
        store cannot look up now is asked the next time.
        """
        places = self._places(told)
        return {
            strip: each for strip, each in told.items()
            if places is not None and places.get(each.last.id) != (strip, each.last.number)}

    def _places(self, told: Mapping[str, Told]) -> dict[str, tuple[str, int]] | None:
        try:
            return self._store.places([each.last.id for each in told.values()]) if told else {}
        except Problem:
            return None

    def begin_anew(self, identity: str, missing: Mapping[str, Told]) -> str:
        """The identity by which every phone sends all once more; or this one does alone, by the same identity: it may
        only look on and brings nothing, or it made all begin anew already."""
        device, now = gate.device(), self._clock()
        self._note(identity, missing, device, now)
        if not device.may(HAND) or now - self._renewed.get(device.id, -ONCE_WITHIN_MS) < ONCE_WITHIN_MS:
            return identity
        self._renewed[device.id] = now
        renewed = self._store.begin_anew(identity)
        self._record("begun_anew", device)
        for said in told_of(self._store.gaps(), {}, self._store.in_folder):
            print(f"cotterbook: {spoken(said)}", file=sys.stderr, flush=True)
        return renewed

    def learn_more(self, of: str, told: Mapping[str, Told]) -> None:
        """A phone comes that knew the data by the identity `of`: where entries of these are gone, it may tell how many,
        and that it holds them all. Where the data took another identity by themselves, as a copy of those that it knew,
        it alone can tell that entries are gone. One that only looks on sends none: that it knew more is noted."""
        device = gate.device()
        known = {each.strip: each.id for each in self._store.gaps() if each.of == of and not each.looker_on}
        if not known and device.may(HAND) and not self._store.is_former(of):
            return
        places = self._places(told)
        # A last entry that is here and is not the gap's own may have got its number since the data were set back, and
        # says nothing of what had it before. Where the store noticed by itself nobody wrote in between.
        lost = {
            strip: each for strip, each in told.items()
            if places is not None and each.last.id not in places or known.get(strip) in ("", each.last.id)}
        self._note(of, lost, device, self._clock())

    def _note(self, of: str, lost: Mapping[str, Told], device: Device, now: int) -> None:
        if device.may(HAND):
            found = [
                Gap(of, strip, each.last.number, each.last.id, now, (device.id,) if each.read_all else ())
                for strip, each in sorted(lost.items())]
        else:
            places = self._places(lost)
            found = [
                Gap("", strip, each.last.number, each.last.id, now, (), device.id)
                for strip, each in sorted(lost.items()) if places is not None and each.last.id not in places]

        def change(gaps: Gaps) -> Gaps:
            for gap in found:
                gaps = with_gap(gaps, gap)
            return gaps

        if found:
            self._store.change_gaps(change)

    def look_whether_back(self, all_sent: bool) -> None:
        """At an exchange: where the phone has nothing unsent, what it held of what was gone is back. What cannot be
        looked up or kept now is looked at the next time."""
        device = gate.device()
        filled = device.id if all_sent and device.may(HAND) else ""

        def change(now: Gaps) -> Gaps:
            return without_notes_settled(without_those_back(now, filled, places), places)

        with contextlib.suppress(Problem):
            gaps = self._store.gaps()
            if not any(filled in each.holders or each.looker_on for each in gaps):
                return
            places = self._store.places([each.id for each in gaps if each.id])
            if change(gaps) != gaps:
                self._store.change_gaps(change)
                self._record("entries_back", device)

    def give_up(self, noticed_ms: int) -> None:
        """An owner says that no more will come of what was noticed up to this moment. Raises Problem "not_allowed"."""
        by = gate.need(OWNER)
        self._store.change_gaps(lambda gaps: tuple(each for each in gaps if each.noticed_ms > noticed_ms))
        self._record("given_up", by)

    def _record(self, event: str, device: Device) -> None:
        if self._book:
            self._book.audit.write(event, self._clock(), device=device.id)


def make_blueprint(less: LessThanTold) -> Blueprint:
    """The route by which an owner gives up what is gone."""
    blueprint = Blueprint("gone", __name__, url_prefix="/api/gone")

    @blueprint.post("/given_up")
    def given_up() -> Response:
        gate.need(OWNER)
        noticed_ms = read_json().get("noticed_ms")
        if not isinstance(noticed_ms, int) or isinstance(noticed_ms, bool):
            raise Problem("bad_request", what="the field noticed_ms")
        less.give_up(noticed_ms)
        return jsonify()

    return blueprint


def lasts_of(store: Store) -> dict[str, Last]:
    """The last entry of each strip-down, for phones to keep; none where they cannot be looked up now."""
    try:
        return store.lasts()
    except Problem:
        return {}
