"""A strip-down of a store, folded by the core as a phone folds it."""

from ..core.strip import Strip
from ..errors import Problem
from ..store.contract import Readable
from ..store.paging import pages_of


def folded(source: Readable, strip: str) -> Strip:
    """The strip-down as all its entries that the store can read make it. Raises Problem "no_strip_to_export"."""
    if strip not in source.strips():
        raise Problem("no_strip_to_export")
    found = Strip(strip)
    for entries in pages_of(source, strip):
        found.add(entries)
    return found
