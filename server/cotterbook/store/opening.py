"""Which store it is: the folder's own, or the database that an address names. Nobody else tells them apart."""

import contextlib
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

from ..errors import Problem
from .changing_places import finish_unheld
from .contract import Data, Store
from .folder import FolderReader
from .holder import Holder, make_folder
from .ours import check_ours, is_ours
from .tinydb_store import TinyStore

if TYPE_CHECKING:
    from .postgres import PostgresStore

SCHEMES = ("postgresql://", "postgres://")


def is_address(text: str) -> bool:
    """Whether this is a database's address and no folder's name."""
    return text.startswith(SCHEMES)


def open_store(folder: Path, url: str | None = None) -> Store:
    """The store at the address, or the folder's own.

    Raises Problem "store_url", "no_driver", "foreign_folder", "folder_held", "folder_unusable" and what the store
    raises.
    """
    if url is not None:
        return _postgres(url)
    check_ours(folder)
    return TinyStore(folder)


@contextlib.contextmanager
def reading(folder: Path, url: str | None = None, alone: bool = False) -> Iterator[Data]:
    """What can be read of the store, also while other processes write to it.

    `alone`: a folder is held meanwhile, so that nobody does. Raises what `open_store` does, and "no_such_folder".
    """
    if url is not None:
        with contextlib.closing(_postgres(url, reads=True)) as store:
            yield store
        return
    if is_ours(folder):
        finish_unheld(folder)
    reader = FolderReader(folder)
    holder = Holder(folder) if alone else None
    try:
        yield reader
    finally:
        if holder:
            holder.release()


def check_store(folder: Path, url: str | None = None) -> str:
    """Whether the store can be opened and the folder can be used; where the data are, in words without a password.

    Raises what `open_store` does, before anything is served.
    """
    check_ours(folder)
    if url is None:
        Holder(folder).release()
        return str(folder)
    make_folder(folder)
    with contextlib.closing(_postgres(url)) as store:
        return store.shown


def _postgres(url: str, reads: bool = False) -> "PostgresStore":
    if not is_address(url):
        raise Problem("store_url")
    try:
        from .postgres import PostgresStore  # Its driver is not installed with every copy of the program.
    except ImportError:
        raise Problem("no_driver") from None
    return PostgresStore(url, reads=reads)
