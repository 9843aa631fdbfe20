"""The page for handing over to the next evening or the next person: read in a minute, so each list is short."""

from typing import Any

from .counting import asked
from .entries import wall_clock_ms
from .going_on import is_on
from .kept_aside import not_all_read
from .open_items import before_of
from .spells import began_ms, ended_ms, lasted_ms
from .stops import open_stops, ruled_out
from .strip import Strip
from .thing import Thing, key_of
from .to_do import items_of
from .views_back import back_view
from .views_group import bag_label, named
from .views_part import now_of
from .views_settings import adjusted_since
from .views_spells import minutes_of, no_end_notice, time_lines, to_date

# So many lines of each list; how many more there are is said.
MOST = 5
NEXT_PARTS = 3


def handover_view(strip: Strip, arguments: dict[str, Any]) -> dict[str, Any]:
    """The last spell, or the one that runs; `now_ms` is the phone's clock. Each list is {"lines", "more"}.

    {"spell": {"from_ms", "to_ms", "people", "minutes"} or None, "next" and "missing_said": {"text", "who", "at_ms"} or
    None, "not_all_read": the sentence that more may be open, or None, "stops", "came_off", "went_on" and "adjusted":
    since the spell began, "half_done": loose or unmarked, "missing", "bags", "before_next": items, "undecided": how
    many parts, "next_parts", "time": of the spell, "minutes" and "spells" to date, "no_end": a sentence or None}.
    """
    now, spell = arguments.get("now_ms"), strip.last_spell()
    came_off, went_on = _since(strip, spell)
    next_parts = [_short(part) for part in back_view(strip, {})["parts"] if not part["on"]]
    return {
        "spell": None if spell is None else _spell(spell, now),
        "next": _said(strip, "next"),
        "missing_said": _said(strip, "missing"),
        "not_all_read": not_all_read(strip),
        "stops": _few([each["sentence"] for each in open_stops(strip)]),
        "came_off": _few(came_off),
        "went_on": _few(went_on),
        "adjusted": _few(adjusted_since(strip, None if spell is None else key_of(spell["begins"]))),
        "half_done": _few(_half_done(strip)),
        "missing": _few([each for each in asked(strip, ruled_out(strip)) if each["code"] != "lost"]),
        "bags": _few(_bags(strip)),
        "before_next": _few(_before_next(strip)),
        "undecided": len([part for part in strip.of_type("part") if part.values.get("off") and _open(part)]),
        "next_parts": {"lines": next_parts[:NEXT_PARTS], "more": max(0, len(next_parts) - NEXT_PARTS)},
        "time": _few([] if spell is None else time_lines(strip, [spell], now)),
        "minutes": to_date(strip, now),
        "spells": len(strip.spells()),
        "no_end": no_end_notice(strip, now),
    }


def _few(lines: list[Any]) -> dict[str, Any]:
    return {"lines": lines[:MOST], "more": max(0, len(lines) - MOST)}


def _spell(spell: dict[str, Any], now: Any) -> dict[str, Any]:
    return {
        "from_ms": began_ms(spell),
        "to_ms": ended_ms(spell),
        "people": spell["people"],
        "minutes": minutes_of(lasted_ms(spell, now)),
    }


def _said(strip: Strip, what: str) -> Any:
    """What was said at the end of the last spell that ended, unless one has begun since."""
    spell = strip.last_spell()
    ends = None if spell is None else spell["ends"]
    if ends is None or not ends.get(what):
        return None
    return {"text": ends[what], "who": ends["who"], "at_ms": wall_clock_ms(ends["id"])}


def _short(part: dict[str, Any]) -> dict[str, Any]:
    return {"part": part["part"], "name": part["name"], "side": part["side"]}


def _open(part: Thing) -> bool:
    return not part.values.get("outcome")


def _since(strip: Strip, spell: Any) -> tuple[list[Any], list[Any]]:
    """(came off, went on) since a spell began; of everything where there was none yet."""
    off, on = [], []
    for part in strip.of_type("part"):
        values = part.values
        standing = {} if spell is None else strip.standing_before(part, key_of(spell["begins"]))
        before = dict(values, off=standing.get("off"), outcome_done=standing.get("outcome_done"))
        line = {"part": part.id, "name": values.get("name") or "", "side": values.get("side")}
        if values.get("off") and not before["off"]:
            off.append(dict(line, bag=bag_label(strip, values.get("bag"))))
        if is_on(values) and not is_on(before):
            on.append(line)
    return off, on


def _half_done(strip: Strip) -> list[dict[str, Any]]:
    found = []
    for group in strip.of_type("group"):
        ledger, part = strip.ledger(group.id), strip.thing(group.values.get("part") or "")
        unmarked = ledger.tight - ledger.marked
        if part is not None and ledger.is_tightened and (ledger.loose or unmarked):
            line = {"part": part.id, "name": part.values.get("name") or "", "called": named(group.values)}
            found.append(dict(line, loose=ledger.loose, unmarked=unmarked))
    return found


def _bags(strip: Strip) -> list[dict[str, Any]]:
    """Bags with something in them, and how many fasteners that is."""
    counts: dict[str, int] = {}
    for group in strip.of_type("group"):
        for where, bag, count in strip.ledger(group.id).elsewhere():
            if where == "bag" and bag and count > 0:
                counts[bag] = counts.get(bag, 0) + count
    full = [bag for bag in strip.of_type("bag") if counts.get(bag.id)]
    return [{"label": b.values.get("label"), "kept": b.values.get("kept"), "count": counts[b.id]} for b in full]


def _before_next(strip: Strip) -> list[dict[str, Any]]:
    items = [item for item in items_of(strip, None) if not item.values.get("closed")]
    names = ("what", "text", "for_whom", "due_on")
    found = [item for item in items if before_of(item.values) == "next_spell"]
    return [dict({name: item.values.get(name) for name in names}, now=now_of(strip, item)) for item in found]
