"""Beginning and ending a spell of work. It is not ended in silence while something is missing.

What is missing is asked about, the answer is kept with the end of the spell, and what it was about stays open: the
habit of NAS 412 (from memory), by which hardware is accounted for before the place of work is left.
"""

from typing import Any

from .acts_count import answer
from .acts_part import put_about
from .counting import asked
from .maker import Maker, given, whole
from .spells import HOUR_MS, began_ms, is_left_open, open_spells, running_spell, runs_ms
from .stops import ruled_out, stops
from .strip import Strip
from .words import say, spoken

ASKS = "Not all fasteners are accounted for ({n}). Say what is known of it: that is kept, and it stays open."
LEFT_OPEN = "This spell has run for {hours} hours. Say when it ended."


def spell(strip: Strip, form: dict[str, Any], make: Maker) -> dict[str, Any]:
    """A spell of work begins or ends: `people` who are there; at the end also `ended_at_ms`, `missing` and `next`.

    Where several run, as phones that were apart may each have begun one, `spell` says which one ends; else the newest.
    """
    running = running_spell(strip)
    if form.get("act") == "begins":
        if running is not None:
            make.refuse("spell_runs", "act", "A spell of work is already running. End it first.")
        return _write(strip, form, make, strip.last_spell(), make.new_id())
    named = given(form, "spell")
    if named is not None:
        found = [each for each in open_spells(strip) if each["spell"] == named]
        running = found[0] if found else None
    if running is None:
        ended = "That spell of work has ended already."
        make.refuse("no_spell", "act", ended if named is not None else "No spell of work is running.")
        return _write(strip, form, make, strip.last_spell(), make.new_id())
    missing = asked(strip, ruled_out(strip))
    if missing and given(form, "missing") is None:
        make.refuse("something_missing", "missing", ASKS, n=len(missing))
    ended = _ended_at(form, make, running)
    said = {name: given(form, name) for name in ("missing", "next")}
    done = _write(strip, form, make, running, running["spell"], ended_at_ms=ended, **said)
    _keep_open(strip, make, missing, given(form, "missing"))
    return dict(done, entries=make.entries)


def _write(strip: Strip, form: dict[str, Any], make: Maker, last: Any, spell_id: str, **more: Any) -> dict[str, Any]:
    people = [name.strip() for name in form.get("people") or () if name.strip()]
    if last is not None:
        make.follow(last["ends"] or last["begins"])
    make.entry("work", "", spell=spell_id, act=form.get("act"), people=people or None, **more)
    return make.done(spell=spell_id)


def _ended_at(form: dict[str, Any], make: Maker, last: dict[str, Any]) -> Any:
    """When the spell ended, where a person says so; asked of one that was left open."""
    ended = whole(form, "ended_at_ms")
    if ended is None:
        if is_left_open(last, make.now):
            hours = int(runs_ms(last, make.now) // HOUR_MS)
            make.refuse("left_open", "ended_at_ms", LEFT_OPEN, hours=hours)
        return None
    if not isinstance(ended, int):
        return ended
    if ended > make.now:
        make.refuse("in_the_future", "ended_at_ms", "That is later than now.")
    if ended < began_ms(last):
        make.refuse("before_it_began", "ended_at_ms", "The spell began later than that.")
    return ended


def _keep_open(strip: Strip, make: Maker, missing: list[dict[str, Any]], said: Any) -> None:
    """What was missing at the end is an item for whoever comes next, unless one is open already."""
    stopping = {each["group"]: each for each in stops(strip)}
    open_of = [item.values.get("group") for item in strip.of_type("item") if not item.values.get("closed")]
    for each in missing:
        group = each["group"]
        if each["code"] == "lost":
            if not stopping[group]["items"]:
                answer(make, stopping[group], {"before": "riding"})
        elif group not in open_of:
            text = say("{difference} (said when the spell ended: {answer})", difference=each["text"], answer=said)
            about = {"part": each["part"], "group": group}
            put_about(make, "check", spoken(text), dict(about, before="next_spell"))
            open_of.append(group)


SPELL_ACTS = {"spell": spell}
