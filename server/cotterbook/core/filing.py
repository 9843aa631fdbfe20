"""The entries of a log, each filed under the thing it speaks of, and the strikes that hold against them."""

from typing import Any

from .entries import check_kind
from .kinds import KINDS
from .thing import key_of

SPELLS, WEIGH_INS = "spells", "weigh_ins"
SUBJECT_FIELD = {
    "set": "thing",
    "move": "group",
    "tighten": "group",
    "witness": "group",
    "second_check": "group",
    "waive": "group",
    "weigh": "part",
    "photo": "thing",
    "scale_check": "scale",
    "machine_use": "machine",
}


class Filing:
    """Entries by the thing they speak of, in the order (at, id), whatever order they came in."""

    def __init__(self, strip: str):
        self.id = strip
        self.entries: dict[str, dict[str, Any]] = {}
        self.not_understood: list[str] = []
        self.last_at = 0
        self._filed: dict[str, list[dict[str, Any]]] = {}
        self._strikes: dict[str, list[dict[str, Any]]] = {}
        # The parts that each scale weighed.
        self._weighed_on: dict[str, dict[str, bool]] = {}
        # The things that an entry spoke of since they were folded.
        self._stale: set[str] = set()

    def add(self, entries: list[dict[str, Any]]) -> None:
        """Takes entries in, in any order; those it has are passed over, those it can't read are kept aside."""
        for entry in entries:
            if entry["id"] in self.entries:
                continue
            self.entries[entry["id"]] = entry
            if entry["kind"] not in KINDS or check_kind(entry):
                self.not_understood.append(entry["id"])
                continue
            self.last_at = max(self.last_at, entry["at"])
            self._file(entry)

    def _file(self, entry: dict[str, Any]) -> None:
        if entry["kind"] == "strike":
            self._strikes.setdefault(entry["entry"], []).append(entry)
        else:
            _insert(self._filed.setdefault(self.subject(entry), []), entry)
            if "on_scale" in entry:
                self._weighed_on.setdefault(entry["on_scale"], {})[entry["part"]] = True
        self._mark_stale(entry)

    def _mark_stale(self, entry: dict[str, Any]) -> None:
        for _ in range(len(self.entries)):  # a strike of a strike of ... ends at a thing, or is a ring
            if entry["kind"] != "strike":
                self._stale.add(self.subject(entry))
                return
            if entry["entry"] not in self.entries or entry["entry"] in self.not_understood:
                return
            entry = self.entries[entry["entry"]]

    def subject(self, entry: dict[str, Any]) -> str:
        """The id of the thing an entry speaks of; spells and weigh-ins are kept in one list each."""
        kind = entry["kind"]
        if kind == "work":
            return SPELLS
        return WEIGH_INS if kind == "weigh_in" else str(entry[SUBJECT_FIELD[kind]])

    def striker(self, entry_id: str) -> Any:
        """The strike that holds against this entry, or None. A strike that is struck does not hold."""
        target = self.entries.get(entry_id)
        for strike in self._strikes.get(entry_id, ()):
            # Only a later entry can strike, so a chain of strikes always ends.
            if target is not None and key_of(strike) > key_of(target) and self.striker(strike["id"]) is None:
                return strike
        return None

    def filed(self, subject: str) -> list[dict[str, Any]]:
        """Every entry that speaks of a thing, struck ones too, in order."""
        return self._filed.get(subject, [])

    def strikes_of(self, entry_id: str) -> list[dict[str, Any]]:
        """Every strike of an entry, whether it holds or not."""
        return self._strikes.get(entry_id, [])

    def struck(self) -> list[str]:
        """Ids of all entries that are struck, in no order."""
        return [entry for entry in self._strikes if self.striker(entry) is not None]

    def is_struck(self, entry_id: str) -> bool:
        """Whether the entry was a mistake."""
        return entry_id in self._strikes and self.striker(entry_id) is not None


def _insert(entries: list[dict[str, Any]], entry: dict[str, Any]) -> None:
    """Puts the entry where its key belongs; the usual one, later than all, costs nothing to place."""
    low, high = 0, len(entries)
    if high == 0 or key_of(entries[-1]) < key_of(entry):
        entries.append(entry)
        return
    while low < high:
        middle = (low + high) // 2
        if key_of(entries[middle]) < key_of(entry):
            low = middle + 1
        else:
            high = middle
    entries.insert(low, entry)
