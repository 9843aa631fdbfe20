"""What a store does. Whoever keeps entries and pictures keeps these promises.

1. `append` and `put_photo` return only when what they accepted is on disk.
   When they raise, nothing of that call is acknowledged and later calls work.
2. Entries of a strip-down are numbered from 1 upwards in the order of their
   acceptance; a number is given once and never to another entry. Numbers may
   have gaps.
3. The same entry twice is one entry. An id used before with other content is
   refused, in this strip-down or any other.
4. An id or a hash that is not well formed raises ValueError before it touches
   the disk.
5. All methods may be called from several threads at once.
6. `identity` stays the same as long as the numbers mean the same entries. A
   store that was begun anew, filled from a copy, or found damaged has another one:
   cursors of the one before say nothing there, and what phones take for sent
   may be missing. Where the store itself cannot see it, as of a whole older
   copy, a phone does: it was told the `lasts`, and asks for their `places`.
   A store that takes another by itself because it was filled from a copy knows
   the one before (`is_former`), for the phones that were told by that.
7. What was found to be gone is kept as `gaps`, beside the identity and for
   every process over the same data, until somebody changes them.
"""

import json
from collections.abc import Iterable, Sequence
from typing import Any, NamedTuple, Protocol

from .gaps import Change, Gaps
from .photos import is_hash

Entry = dict[str, Any]


class Appended(NamedTuple):
    """The number of each accepted entry by its id, and a problem with "id" for each refused one."""

    accepted: dict[str, int]
    refused: list[dict[str, Any]]


class Last(NamedTuple):
    """The entry of the highest number in a strip-down: whoever has it there has every one of a lower number too."""

    number: int
    id: str


class Page(NamedTuple):
    """Entries in the order of their numbers, the number read up to, and whether there are more."""

    entries: list[Entry]
    cursor: int
    more: bool


class Readable(Protocol):
    """What can be read of a store.

    `reports` are sentences for people: what was found wrong and what was done about it.
    """

    reports: list[dict[str, Any]]

    def strips(self) -> dict[str, int]:
        """Each strip-down held, with the highest number it has given."""

    def read(self, strip: str, after: int, entries: int, size: int) -> Page:
        """Entries numbered above `after`: at most `entries` and about `size` bytes, but one at least.

        A strip-down that is not held has none. An `after` above the highest
        number given means the store is older than the reader: reading begins anew.
        """

    def photos(self) -> list[str]:
        """The hash of every picture held, in order."""

    def get_photo(self, sha256: str) -> bytes | None:
        """The picture's bytes, or None. What is only read raises Problem "picture_closed" for a file that this program
        may not read; a store wants that one again."""


class Data(Readable, Protocol):
    """What can be read of a store, and what is known to be missing there."""

    def gaps(self) -> Gaps:
        """Which entries the data had, as far as was found, that are gone and not back."""


class Store(Data, Protocol):
    """The contract. What each method promises stands at the top of this module.

    `shown` says where the data are, for people; no password is in it. `in_folder` says whether they are files of the
    data folder.
    """

    shown: str
    in_folder: bool

    @property
    def damaged(self) -> bool:
        """Whether entries that were kept cannot be read any more."""

    @property
    def identity(self) -> str:
        """The UUID (RFC 9562) that this store got when it was begun, as this process last saw it."""

    def identity_now(self) -> str:
        """The same as it is at this moment: another process over the same data may have begun anew."""

    def begin_anew(self, known: str) -> str:
        """Take another identity in the place of `known`, because entries are gone; the one that holds then.

        Where it is not `known` any more, somebody else did so already.
        """

    def is_former(self, identity: str) -> bool:
        """Whether the data were known by this identity where they were copied from, and took another by themselves as a
        copy: what a phone was told by that one and is not here, the copy did not hold."""

    def change_gaps(self, change: Change) -> None:
        """Keep what `change` makes of the gaps as they are then; nobody else changes them meanwhile."""

    def append(self, strip: str, entries: Sequence[Entry]) -> Appended:
        """Keep checked entries of one strip-down."""

    def held(self, ids: Sequence[str]) -> dict[str, Entry]:
        """What the store has under these identifiers, in whichever strip-down, by identifier."""

    def places(self, ids: Sequence[str]) -> dict[str, tuple[str, int]]:
        """The strip-down and the number of each of these entries that the store has, by identifier."""

    def lasts(self) -> dict[str, Last]:
        """The last entry of each strip-down, of those that can be read. The cost does not grow with the log."""

    def missing_photos(self, hashes: Iterable[str]) -> list[str]:
        """Which of these pictures the store does not hold, in the order asked."""

    def wanted_photos(self) -> list[str]:
        """The hash of every picture that was kept, is damaged and did not come again yet, in order."""

    def awaited_photos(self) -> list[str]:
        """The hash of every picture that a phone should send if it has it, in order: the wanted ones, and those that an
        entry names and that are not held. Most of these are on their way; one that was held and is gone is told from
        them by nobody but the phone that sent it.

        The cost does not grow with the log. A picture that went without the store's doing is known as such from the
        next time that the store is opened or asked for it.
        """

    def put_photo(self, sha256: str, data: bytes) -> None:
        """Keep a checked picture under its hash."""

    def close(self) -> None:
        """Let go of everything held. A second call does nothing."""


def named_pictures(entries: Iterable[Entry]) -> list[str]:
    """The hash of every picture that these entries name, each once and in order."""
    named = (entry.get("sha256") for entry in entries if entry["kind"] == "photo")
    return sorted({sha256 for sha256 in named if isinstance(sha256, str) and is_hash(sha256)})


def canonical(entry: Entry) -> str:
    """The entry as text that is equal for equal content, whoever wrote its JSON.

    >>> canonical({"b": 1.0, "a": [True]}) == canonical({"a": [True], "b": 1})
    True
    """
    return json.dumps(_plain(entry), sort_keys=True, separators=(",", ":"))


def _plain(value: Any) -> Any:
    """JavaScript writes 1.0 as 1, so both are one number here."""
    if isinstance(value, float) and value.is_integer():
        return int(value)
    if isinstance(value, list):
        return [_plain(each) for each in value]
    if isinstance(value, dict):
        return {name: _plain(each) for name, each in value.items()}
    return value
