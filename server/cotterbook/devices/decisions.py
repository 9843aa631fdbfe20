"""What an owner decided and the PC once took, so that it is taken again after a way back to an older copy.

Whose decision it was is judged by the list when it first comes. Later that owner may be a hand, and phones send all
once more after a way back: what was accepted then is known by the hash of the whole entry, which nobody can make for
another one. It stands in the record of devices, which is in no copy and goes back with none.
"""

import hashlib
import threading

from ..store.contract import Entry, canonical
from .audit import Audit

EVENT = "decided"


class Decisions:
    """The decisions that stand in a record; any thread may note and ask."""

    def __init__(self, audit: Audit) -> None:
        self._audit, self._lock = audit, threading.Lock()
        self._known, self._length = set[str](), 0

    def is_known(self, entry: Entry) -> bool:
        """Whether this very entry was taken before."""
        own = _hash(entry)
        with self._lock:
            # Another process over the same folder may have taken it meanwhile.
            if own not in self._known and (length := self._audit.length()) != self._length:
                self._known = {str(each.get("entry")) for each in self._audit.read(EVENT)}
                self._length = length
            return own in self._known

    def note(self, entry: Entry, now_ms: int) -> None:
        """Keep that it was taken; on the disk when this returns. Raises a disk's problem."""
        if not self.is_known(entry):
            self._audit.write(EVENT, now_ms, device=entry["by"], entry=_hash(entry))


def _hash(entry: Entry) -> str:
    return hashlib.sha256(canonical(entry).encode()).hexdigest()
