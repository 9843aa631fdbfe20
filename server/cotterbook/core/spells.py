"""Spells of work: when each began and ended, how long it took, and those whose end was forgotten."""

from typing import Any

from .entries import wall_clock_ms
from .strip import Strip

HOUR_MS = 3_600_000
# Nobody works at one stretch for longer; a spell that runs on was left open (common practice, no source).
LONGEST_MS = 16 * HOUR_MS


def began_ms(spell: dict[str, Any]) -> int:
    """When a spell of `Strip.spells` began, in ms since 1970, by the clock of the phone that began it."""
    return wall_clock_ms(spell["begins"]["id"])


def ended_ms(spell: dict[str, Any]) -> Any:
    """When it ended: as a person said afterwards, or when it was written; None while it runs."""
    ends = spell["ends"]
    return None if ends is None else ends.get("ended_at_ms") or wall_clock_ms(ends["id"])


def lasted_ms(spell: dict[str, Any], now_ms: Any) -> int:
    """How long it took, or takes up to now; 0 where the clocks of two phones would make it less, or now is not said."""
    end = ended_ms(spell)
    until = now_ms if end is None else end
    return 0 if until is None else max(0, until - began_ms(spell))


def is_left_open(spell: dict[str, Any], now_ms: Any) -> bool:
    """Whether a spell runs for so long that its end was most likely forgotten."""
    return spell["ends"] is None and lasted_ms(spell, now_ms) > LONGEST_MS


def last_written_ms(strip: Strip, spell: dict[str, Any], now_ms: int) -> int:
    """When something was written down last, since a spell began and up to now."""
    begin = began_ms(spell)
    times = [wall_clock_ms(entry) for entry in strip.entries]
    return max([begin] + [time for time in times if begin <= time <= now_ms])
