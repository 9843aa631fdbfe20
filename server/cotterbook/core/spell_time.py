"""How long was worked on each part, as far as the record shows it.

Somebody works on a part and then writes it down: the time since the phone's entry before is taken to have gone into
what the next one speaks of. After a longer gap nobody knows what was done in it, so it counts for nothing. That, and
how long a gap may be, is common practice, no source; the figures are shown as "about" and in steps of five minutes.
"""

from typing import Any

from .entries import wall_clock_ms
from .ordering import in_order
from .spells import began_ms, until_ms
from .strip import Strip

MINUTE_MS = 60_000
LONGEST_GAP_MS = 20 * MINUTE_MS
STEP_MINUTES = 5


def by_part(strip: Strip, spells: list[dict[str, Any]], now_ms: Any) -> list[tuple[Any, int]]:
    """(part, ms) of work in these spells, most first; the part is None for what belongs to none.

    Phones count apart: where two people worked, the time of both counts. What was written while two spells ran, each
    begun on a phone of its own, counts once.
    """
    spans = [(began_ms(spell), until_ms(spell, now_ms)) for spell in spells]
    found: dict[Any, int] = {}
    for begin, end in _joined([span for span in spans if span[1] is not None and span[1] > span[0]]):
        for moments in _by_phone(strip, begin, end):
            before = begin
            for time, entry in moments:
                if 0 < time - before <= LONGEST_GAP_MS:
                    part = _part_of(strip, entry)
                    found[part] = found.get(part, 0) + time - before
                before = time
    return in_order([(part, found[part]) for part in found], lambda each: (-each[1], each[0] or ""))


def _joined(spans: list[tuple[int, int]]) -> list[tuple[int, int]]:
    """The same stretches of time, those that overlap as one."""
    found: list[tuple[int, int]] = []
    for begin, end in in_order(spans, lambda each: each):
        if found and begin < found[-1][1]:
            begin, end = found[-1][0], max(end, found.pop()[1])
        found.append((begin, end))
    return found


def _by_phone(strip: Strip, begin: int, end: int) -> list[list[Any]]:
    """The moments of a spell, each phone's in order: (ms, entry)."""
    phones: dict[str, list[Any]] = {}
    for name in strip.entries:
        time = wall_clock_ms(name)
        if begin < time <= end:
            phones.setdefault(strip.entries[name]["by"], []).append((time, name))
    return [[(time, strip.entries[name]) for time, name in in_order(phones[by], lambda each: each)] for by in phones]


def _part_of(strip: Strip, entry: dict[str, Any]) -> Any:
    """The id of the part that an entry speaks of, or None."""
    if entry["id"] in strip.not_understood:
        return None
    if entry["kind"] == "strike":
        struck = strip.entries.get(entry["entry"])
        return None if struck is None or struck["kind"] == "strike" else _part_of(strip, struck)
    thing = strip.thing(strip.subject(entry))
    if thing is not None and thing.type in ("group", "item"):
        thing = strip.thing(thing.values.get("part") or "")
    return thing.id if thing is not None and thing.type == "part" and thing.alive else None


def about_minutes(ms: int) -> int:
    """So many ms as minutes in steps of five; 0 stands for less than five."""
    minutes = ms / MINUTE_MS
    return 0 if minutes < STEP_MINUTES else int(minutes / STEP_MINUTES + 0.5) * STEP_MINUTES
