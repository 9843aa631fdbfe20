"""Reading a log page by page, however a store holds its rows."""

from collections.abc import Callable, Iterator

from ..core.entries import size_in_bytes
from .contract import Entry, Page, Readable

PAGE_ENTRIES, PAGE_BYTES = 1_000, 4_000_000


def page_of(row: Callable[[int], Entry | None], after: int, last: int, entries: int, size: int) -> Page:
    """The rows numbered above `after`, up to `last`: at most `entries` and about `size` bytes, but one at least.

    `row` gives the entry of a number, or None where a number has none.
    """
    cursor, found = after, list[Entry]()
    while cursor < last and len(found) < entries and size > 0:
        cursor += 1
        each = row(cursor)
        if each is not None:
            found.append(each)
            size -= size_in_bytes(each)
    return Page(found, cursor, cursor < last)


def pages_of(source: Readable, strip: str) -> Iterator[list[Entry]]:
    """All entries of a strip-down in the order of their numbers, some at a time."""
    cursor, more = 0, True
    while more:
        page = source.read(strip, cursor, PAGE_ENTRIES, PAGE_BYTES)
        yield page.entries
        cursor, more = page.cursor, page.more


def entries_of(source: Readable, strip: str) -> Iterator[Entry]:
    """All entries of a strip-down in the order of their numbers."""
    for entries in pages_of(source, strip):
        yield from entries
