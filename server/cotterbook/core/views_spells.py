"""What the screens show of spells of work: those that run, what is asked before it ends, and the time to date."""

from typing import Any

from .counting import asked
from .spell_time import MINUTE_MS, about_minutes, by_part
from .spells import HOUR_MS, LONGEST_MS, began_ms, is_left_open, last_written_ms, lasted_ms, open_spells, runs_ms
from .stops import ruled_out
from .strip import Strip
from .words import say


def spells_view(strip: Strip, arguments: dict[str, Any]) -> dict[str, Any]:
    """{"running" or None, "open", "asked": differences, "minutes" to date, "spells": how many}; `now_ms`: the clock.

    "open" is every spell without an end, newest first, and "running" the first of them: {"spell", "since_ms",
    "people", "minutes" since it began, "left_open", "last_written_ms"}.
    """
    now = arguments.get("now_ms")
    still = [_running(strip, spell, now) for spell in open_spells(strip)]
    return {
        "running": still[0] if still else None,
        "open": still,
        "asked": asked(strip, ruled_out(strip)),
        "minutes": to_date(strip, now),
        "spells": len(strip.spells()),
    }


def _running(strip: Strip, spell: dict[str, Any], now: Any) -> dict[str, Any]:
    left_open = is_left_open(spell, now)
    return {
        "spell": spell["spell"],
        "since_ms": began_ms(spell),
        "people": spell["people"],
        "minutes": minutes_of(runs_ms(spell, now)),
        "left_open": left_open,
        "last_written_ms": last_written_ms(strip, spell, now) if left_open else None,
    }


def to_date(strip: Strip, now_ms: Any) -> int:
    """Whole minutes of all spells together; one that runs up to now, but never longer than a spell can be."""
    return minutes_of(sum([lasted_ms(spell, now_ms) for spell in strip.spells()]))


def no_end_notice(strip: Strip, now_ms: Any) -> Any:
    """What is to be said beside a time to date in which spells count whose end was forgotten; None without one."""
    count = len([spell for spell in open_spells(strip) if is_left_open(spell, now_ms)])
    if not count:
        return None
    hours = LONGEST_MS // HOUR_MS
    if count == 1:
        return say("One spell was never ended and counts {hours} h: end it under What is off.", hours=hours)
    return say(
        "{n} spells were never ended and count {hours} h each: end them under What is off.", n=count, hours=hours
    )


def minutes_of(ms: int) -> int:
    """So many ms as whole minutes."""
    return int(ms / MINUTE_MS + 0.5)


def time_view(strip: Strip, arguments: dict[str, Any]) -> dict[str, Any]:
    """How long was worked on each part in all spells, most first, as far as the record shows it."""
    return {"parts": time_lines(strip, strip.spells(), arguments.get("now_ms"))}


def time_lines(strip: Strip, spells: list[dict[str, Any]], now_ms: Any) -> list[dict[str, Any]]:
    """[{"part" (None: no part), "name", "about_minutes"}], most first; 0 stands for less than five minutes."""
    found = []
    for part, ms in by_part(strip, spells, now_ms):
        name = strip.thing(part).values.get("name") if part else None
        found.append({"part": part, "name": name or "", "about_minutes": about_minutes(ms)})
    return found
