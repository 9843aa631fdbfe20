"""What the screens show of spells of work: the one that runs, what is asked before it ends, and the time to date."""

from typing import Any

from .counting import asked
from .spell_time import MINUTE_MS, about_minutes, by_part
from .spells import began_ms, is_left_open, last_written_ms, lasted_ms
from .stops import ruled_out
from .strip import Strip


def spells_view(strip: Strip, arguments: dict[str, Any]) -> dict[str, Any]:
    """{"running" or None, "asked": differences, "minutes" to date, "spells": how many}; `now_ms` is the phone's clock.

    "running" is {"spell", "since_ms", "people", "minutes", "left_open", "last_written_ms"}.
    """
    now, last = arguments.get("now_ms"), strip.last_spell()
    runs = last is not None and last["ends"] is None
    return {
        "running": _running(strip, last, now) if runs else None,
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
        "minutes": minutes_of(lasted_ms(spell, now)),
        "left_open": left_open,
        "last_written_ms": last_written_ms(strip, spell, now) if left_open else None,
    }


def to_date(strip: Strip, now_ms: Any) -> int:
    """Whole minutes of all spells together, the one that runs up to now."""
    return minutes_of(sum([lasted_ms(spell, now_ms) for spell in strip.spells()]))


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
