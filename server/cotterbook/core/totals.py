"""Sums and counts over a whole strip-down, kept up to date thing by thing.

A new entry touches one thing or two, so only their share is worked out anew: what a
thing adds to the counts is taken off and put on again, and the masses are summed in
blocks of parts, of which only those with a part that changed are summed again. What
a block's sum is uncertain by is kept as few causes, so that the sum of the blocks
costs the same however many parts there are.
"""

from typing import Any

from .amounts import added_up, merged, together
from .astray import still_lost
from .mass import is_off
from .things import THINGS

BLOCKS = 64
COUNTS = ("parts", "off", "fasteners", "fasteners_out", "fasteners_lost", "items_open", "disputes")
SUMS = ("spell", "came_in", "standard")


class Totals:
    """The totals of one strip-down; the strip says what went stale, and is asked for what it holds now."""

    def __init__(self) -> None:
        self._stale: set[str] = set()
        self._shares: dict[str, Any] = {}
        self._counts: dict[str, int] = {name: 0 for name in COUNTS}
        self._parts: list[dict[str, bool]] = [{} for _ in range(BLOCKS)]
        self._sums: list[Any] = [None for _ in range(BLOCKS)]

    def stale(self, thing: str) -> None:
        """What this thing adds to the totals may have changed."""
        self._stale.add(thing)

    def all_stale(self) -> None:
        """What every thing adds may have changed."""
        self._stale.update(self._shares)
        self._sums = [None for _ in range(BLOCKS)]

    def counts(self, strip: Any) -> dict[str, int]:
        """How many parts, parts off, fasteners, fasteners out and lost, open items and disputes there are.

        Of what is struck only the lost fasteners are among them, and things to do.
        """
        self._refresh(strip)
        return dict(self._counts)

    def sums(self, strip: Any) -> dict[str, Any]:
        """The three sums, an amount each, and how many parts lack a mass they need."""
        self._refresh(strip)
        for block in range(BLOCKS):
            if self._sums[block] is None:
                self._sums[block] = _block_sum(strip, sorted(self._parts[block]), "block:" + str(block))
        found = {name: together([block[name] for block in self._sums]) for name in SUMS}
        return dict(found, unweighed=sum([block["unweighed"] for block in self._sums]))

    def _refresh(self, strip: Any) -> None:
        while self._stale:
            thing = self._stale.pop()
            found = strip.thing(thing)
            share = _share(strip, found)
            self._add(self._shares.get(thing), -1)
            self._add(share, 1)
            self._shares[thing] = share
            block = _block_of(thing)
            if share is not None and share.get("parts"):
                self._parts[block][thing] = True
                self._sums[block] = None
            elif self._parts[block].pop(thing, None):
                self._sums[block] = None

    def _add(self, share: Any, times: int) -> None:
        for name in share or ():
            self._counts[name] += times * share[name]


def _block_of(thing: str) -> int:
    """Which block a thing's id falls in, the same on every runtime."""
    return sum([ord(character) for character in thing[-4:]]) % BLOCKS


def _share(strip: Any, thing: Any) -> Any:
    """What a thing adds to the counts; None for nothing."""
    if thing is None or thing.type not in THINGS:
        return None
    if not strip.counts_at_all(thing):
        # That a part was written down by mistake finds no fastener that was lost of it.
        return {"fasteners_lost": still_lost(strip, thing)} if thing.type == "group" else None
    share = {"disputes": 1 if any([thing.fields[name].disputed for name in thing.fields]) else 0}
    if thing.type == "part":
        share.update(parts=1, off=1 if is_off(thing.values) else 0)
    elif thing.type == "group":
        ledger = strip.ledger(thing.id)
        share.update(fasteners=ledger.count, fasteners_out=ledger.out, fasteners_lost=still_lost(strip, thing))
    elif thing.type == "item":
        # Whether a caution is open hangs on its part as well: `open_items` counts those, `to_do` what is left of them.
        share.update(items_open=0 if thing.values.get("closed") or thing.values.get("rule") else 1)
    return share


def _block_sum(strip: Any, parts: list[str], name: str) -> dict[str, Any]:
    lines = [strip.line(part) for part in parts]
    return {
        "spell": merged(added_up([line.spell_change for line in lines]), name),
        "came_in": merged(added_up([line.change for line in lines]), name),
        "standard": merged(added_up([line.standard_change for line in lines]), name),
        "unweighed": len([line for line in lines if line.unweighed]),
    }
