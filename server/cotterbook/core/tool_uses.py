"""How often each torque wrench was used: the cycles that end a calibration as a year does (ISO 6789-1)."""

from typing import Any

from .days import day_of, read_day
from .ordering import in_order
from .strip import Strip
from .thing import Thing, key_of


class Uses:
    """The tightenings of one wrench in order, and how many fasteners they were up to each of them."""

    __slots__ = ("entries", "_up_to")

    def __init__(self, entries: list[dict[str, Any]]):
        self.entries = in_order(entries, key_of)
        self._up_to = [0]
        for entry in self.entries:
            self._up_to.append(self._up_to[-1] + entry["count"])

    def since(self, date: Any, before: Any = None) -> int:
        """Fasteners tightened from a day on (YYYY-MM-DD; from the first one on for None), before an (at, id) if given.

        The day of the calibration counts: which of its uses came before it nobody wrote down.
        """
        day = read_day(date)

        def is_earlier(entry: dict[str, Any]) -> bool:
            return bool(day_of(entry["at"]) < day)

        def comes_before(entry: dict[str, Any]) -> bool:
            return bool(key_of(entry) < before)

        begins = 0 if day is None else self._first_without(is_earlier)
        ends = len(self.entries) if before is None else self._first_without(comes_before)
        return max(0, self._up_to[ends] - self._up_to[begins])

    def by_day(self) -> list[list[Any]]:
        """[day as YYYY-MM-DD, fasteners tightened on it], for `since_in` to join with those of other strip-downs."""
        found: list[list[Any]] = []
        for entry in self.entries:
            day = "%04d-%02d-%02d" % day_of(entry["at"])
            if not found or found[-1][0] != day:
                found.append([day, 0])
            found[-1][1] += entry["count"]
        return found

    def _first_without(self, holds: Any) -> int:
        """The place of the first entry for which something no longer holds, that holds for all up to there."""
        low, high = 0, len(self.entries)
        while low < high:
            middle = (low + high) // 2
            if holds(self.entries[middle]):
                low = middle + 1
            else:
                high = middle
        return low


NO_USES = Uses([])


def since_in(days: list[list[Any]], date: Any) -> int:
    """As `Uses.since` of days as `Uses.by_day` has them, of however many strip-downs."""
    return sum([count for day, count in days if date is None or day >= date])


def tightenings(strip: Strip) -> list[dict[str, Any]]:
    """All tightenings of a strip-down that count, a group at a time."""
    return [entry for group in strip.of_type("group") for entry in group.of_kind("tighten")]


def uses_of_tools(strip: Strip) -> dict[str, Uses]:
    """The uses of each wrench with a card, by its id."""
    found: dict[str, list[dict[str, Any]]] = {}
    for entry in tightenings(strip):
        if entry.get("with_tool"):
            found.setdefault(entry["with_tool"], []).append(entry)
    return {tool: Uses(found[tool]) for tool in found}


def uses_without_a_card(strip: Strip) -> dict[str, Uses]:
    """The tightenings whose wrench was only named, by the name as it was typed."""
    found: dict[str, list[dict[str, Any]]] = {}
    for entry in tightenings(strip):
        if entry.get("tool") and not entry.get("with_tool"):
            found.setdefault(entry["tool"], []).append(entry)
    return {name: Uses(found[name]) for name in found}


def calibrated_as_of(tool: Thing, at_ms: Any) -> Any:
    """The date of the last calibration that was known to lie before a moment; None when none did.

    A calibration since then proves nothing of the tightenings before it, so the date written before it counts.
    """
    now, field = tool.values.get("calibrated_on"), tool.fields.get("calibrated_on")
    if now is None or at_ms is None or field is None:
        return None
    today = day_of(at_ms)
    if read_day(now) <= today:
        return now
    dates = [writer["values"]["calibrated_on"] for writer in field.writers]
    before = sorted([date for date in dates if date is not None and read_day(date) <= today])
    return before[-1] if before else None
