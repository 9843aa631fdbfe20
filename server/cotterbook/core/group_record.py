"""The whole record of a group of fasteners: what each entry did to it, what still counts, and why the rest does not.

After 14 CFR 43.9, for records of work on aircraft: what was done, when it was completed, by whom. The group's state is
what these lines add up to, and nothing else.
"""

from typing import Any

from .apart import HANDLING, line_words
from .came_off_with import PART_BACK, PART_OFF, PART_SWAPPED
from .entries import wall_clock_ms
from .fasteners import Ledger
from .order_kept import Rounds
from .ordering import in_order
from .strip import Strip
from .thing import Thing, key_of
from .words import say

COUNTED = ("on", "untouched", "loose", "tight", "marked", "checked")
# Two phones that tighten the same fasteners closer together than this may have written down one tightening twice
# (common practice, no source).
AT_ONCE_MS = 3_600_000

TOOK_NOTHING = "None was on the machine then, so it holds nothing. Somebody had taken them out: tighten them again."
HOLDS_NONE = "It holds none: they were out or loose, which was not known then. Tighten them again."
TWO_PHONES = (
    "{who} had tightened these on another phone less than an hour before. The later one counts. "
    "If it was one and the same, strike one of them."
)


# A clock that is behind by less is as good as right (common practice, no source).
BEHIND_MS = 60_000
BEHIND = "Clocks differ: what stands before this in the log says a later time. Set the clocks of both phones."


def standing(ledger: Ledger) -> dict[str, int]:
    """The ledger's counts, by their names in `COUNTED`."""
    return {
        "on": ledger.on,
        "untouched": ledger.untouched,
        "loose": ledger.loose,
        "tight": ledger.tight,
        "marked": ledger.marked,
        "checked": ledger.check.checked,
    }


def record_of(strip: Strip, group: Thing) -> dict[str, Any]:
    """{"begins": counts before the first entry, "lines": one for each entry that counts, in order}.

    A line has its "entry", the "change" it made to each count and what they were "after" it, "notes" in words, and of a
    tightening to the last step: whether it "counts", or the entry that "ended" it, and "why" in words.
    """
    ledger, entries = strip.handling(group)
    begins, rounds = standing(ledger), Rounds()
    lines: list[dict[str, Any]] = []
    latest = 0
    by_id: dict[str, dict[str, Any]] = {}
    for entry in entries:
        before, held = standing(ledger), ledger.applied
        if entry["kind"] in (PART_OFF, PART_SWAPPED, PART_BACK):
            ledger.take(entry)
            if standing(ledger) != before:
                lines.append(_left_on(entry, before, ledger, held, by_id))
            continue
        at_ms = wall_clock_ms(entry["id"])
        notes = [say(BEHIND)] if at_ms < latest - BEHIND_MS else []
        latest = max(latest, at_ms)
        notes += _notes(entry, ledger, held) + rounds.take(entry, ledger)
        ledger.take(entry)
        notes += [] if ledger.note is None else [line_words(ledger.note)]
        after, holds = standing(ledger), [each["id"] for each in ledger.applied]
        change = {name: after[name] - before[name] for name in COUNTED}
        line: dict[str, Any] = {
            "entry": entry,
            "change": change,
            "after": after,
            "notes": notes,
            "ended": None,
            "why": None,
        }
        line["counts"] = entry["id"] in holds if _is_last_step(entry, ledger) else None
        for each in held:
            if each["id"] not in holds:
                by_id[each["id"]].update(counts=False, ended=entry, why=_why_over(entry, ledger.steps))
        if line["counts"] is False:
            line["why"] = say(TOOK_NOTHING if ledger.note is None else HOLDS_NONE)
        lines.append(line)
        by_id[entry["id"]] = line
    return {"begins": begins, "lines": lines}


def _left_on(
    entry: dict[str, Any], before: dict[str, int], ledger: Ledger, held: list[dict[str, Any]], by_id: dict[str, Any]
) -> dict[str, Any]:
    """The line of fasteners that came off with their part, of which nothing was written."""
    after, holds = standing(ledger), [each["id"] for each in ledger.applied]
    for each in [each for each in held if each["id"] not in holds]:
        by_id[each["id"]].update(counts=False, ended=entry, why=say("It counts no more: they came off with the part."))
    change = {name: after[name] - before[name] for name in COUNTED}
    line: dict[str, Any] = {"entry": entry, "change": change, "after": after, "notes": [], "ended": None}
    return dict(line, why=None, counts=None)


def _is_last_step(entry: dict[str, Any], ledger: Ledger) -> bool:
    return entry["kind"] == "tighten" and (entry.get("step") or ledger.steps + 1) > ledger.steps


def _why_over(cause: dict[str, Any], steps: int) -> dict[str, Any]:
    if cause["kind"] == "move":
        return say("It counts no more: they came off again.")
    if cause["kind"] == "second_check":
        return say("It counts no more: they were found not right.")
    if (cause.get("step") or steps + 1) <= steps:
        return say("It counts no more: they were tightened again, step {step}.", step=cause["step"])
    return say("It counts no more: they were tightened again.")


def _notes(entry: dict[str, Any], ledger: Ledger, held: list[dict[str, Any]]) -> list[dict[str, Any]]:
    if entry["kind"] != "tighten" or not held:
        return []
    places, at_ms = set(entry.get("positions") or ()), wall_clock_ms(entry["id"])
    others = [
        each
        for each in held
        if each["by"] != entry["by"]
        and abs(wall_clock_ms(each["id"]) - at_ms) < AT_ONCE_MS
        and (not places or not each.get("positions") or places & set(each["positions"]))
    ]
    # What was loose still may have been meant.
    return [say(TWO_PHONES, who=others[-1]["who"])] if others and entry["count"] > ledger.loose else []


def struck_of(strip: Strip, group: Thing) -> list[dict[str, Any]]:
    """The entries about a group's fasteners that were struck, in order."""
    filed = [entry for entry in strip.filed(group.id) if entry["kind"] in HANDLING]
    return in_order([entry for entry in filed if strip.is_struck(entry["id"])], key_of)
