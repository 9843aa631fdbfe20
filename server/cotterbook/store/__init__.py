"""Where entries and pictures are kept. `contract` says what a store does; nothing outside knows which it is."""

from .contract import Appended, Entry, Last, Page, Store
from .tinydb_store import TinyStore

__all__ = ["Appended", "Entry", "Last", "Page", "Store", "TinyStore"]
