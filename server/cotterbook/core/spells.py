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


def open_spells(strip: Strip) -> list[dict[str, Any]]:
    """The spells that nobody has ended, newest first: two phones that were apart may each have begun one."""
    return [spell for spell in reversed(strip.spells()) if spell["ends"] is None]


def running_spell(strip: Strip) -> Any:
    """The newest spell that nobody has ended, or None."""
    found = open_spells(strip)
    return found[0] if found else None


def until_ms(spell: dict[str, Any], now_ms: Any) -> Any:
    """Up to when a spell counts: its end, or now, but no longer than LONGEST_MS without an end; None: now is not said.

    Nobody knows when a spell ended whose end was forgotten, so its time must not grow with every day.
    """
    end = ended_ms(spell)
    return end if end is not None or now_ms is None else min(now_ms, began_ms(spell) + LONGEST_MS)


def lasted_ms(spell: dict[str, Any], now_ms: Any) -> int:
    """How long it took, or takes as far as it counts; 0 where the clocks of two phones would make it less."""
    until = until_ms(spell, now_ms)
    return 0 if until is None else max(0, until - began_ms(spell))


def runs_ms(spell: dict[str, Any], now_ms: Any) -> int:
    """How long ago a spell began that has no end, whether that counts or not."""
    return 0 if now_ms is None else max(0, now_ms - began_ms(spell))


def is_left_open(spell: dict[str, Any], now_ms: Any) -> bool:
    """Whether a spell runs for so long that its end was most likely forgotten."""
    return spell["ends"] is None and runs_ms(spell, now_ms) > LONGEST_MS


def last_written_ms(strip: Strip, spell: dict[str, Any], now_ms: int) -> int:
    """When something was written down last, since a spell began and up to now.

    What came more than LONGEST_MS after it began was hardly part of it, and counts only where there is nothing else.
    """
    begin = began_ms(spell)
    times = [time for time in [wall_clock_ms(entry) for entry in strip.entries] if begin < time <= now_ms]
    return max([begin] + ([time for time in times if time <= begin + LONGEST_MS] or times))
