"""What the screen of open items shows: all that stands between the machine and its next ride, as far as is recorded."""

from typing import Any

from .cure import cures_view
from .kept_aside import not_all_read
from .limits import BEFORE_WHAT
from .open_items import cautions
from .ordering import in_order
from .stops import last_values, stops, used_again
from .strip import Strip
from .thing import key_of
from .to_do import items_of
from .views_back import back_view
from .views_cautions import caution_view, closed_view
from .views_count import stop_view
from .views_group import named
from .views_part import item_view
from .views_retorque import open_retorques
from .words import say

NOTHING_OPEN = "Nothing is open in this record. The machine’s manual and your own eyes come last."


def open_items_view(strip: Strip, arguments: dict[str, Any]) -> dict[str, Any]:
    """What is open, by before what it is to be done and by part, and what is done.

    {"stops": what comes before all else, "groups": [{"before", "count", "parts": [{"part" (None: the machine),
    "struck", "name", "side", "place", "needs", "used_again", "cautions", "items", "retorque", "waits"}]}], "cautions":
    all that follow, open or closed, "done": items closed, newest first, "open": how many lines and stops are open,
    "not_all_read": the sentence that more may be open, "nothing": the one for none}. "needs" are codes of what the way
    back still lacks; they belong to it and are closed by it alone. "retorque" are sentences on what is due anew, closed
    by tightening it, "waits" on compound that still cures, which ends by itself. Of a part that is struck, what people
    wrote down for it is open all the same.
    """
    shown = [caution_view(each) for each in cautions(strip)]
    again = [stop_view(strip, each) for each in used_again(strip) if each["closed_by"] is None]
    items = [item_view(strip, item) for item in items_of(strip, None)]
    stopping = [stop_view(strip, each) for each in stops(strip) if each["closed_by"] is None]
    lines = _back_lines(strip) + _waiting_lines(strip, arguments.get("now_ms"))
    lines += [("used_again", BEFORE_WHAT[0], each["part"], each) for each in again]
    lines += [("cautions", each["before"], each["part"], each) for each in shown if each["open"]]
    lines += [("items", each["before"], each["part"], each) for each in items if not each["closed"]]
    groups = [_group(strip, before, [line for line in lines if line[1] == before]) for before in BEFORE_WHAT]
    return {
        "stops": stopping,
        "groups": groups,
        "cautions": shown,
        "done": _done(strip),
        "open": len(lines) + len(stopping),
        "not_all_read": not_all_read(strip),
        "nothing": None if lines or stopping or strip.not_understood else say(NOTHING_OPEN),
    }


def _back_lines(strip: Strip) -> list[Any]:
    """What the way back still lacks, as lines of (what, before what, part, what is shown)."""
    parts = back_view(strip, {})["parts"]
    return [("needs", BEFORE_WHAT[0], part["part"], need) for part in parts for need in part["needs"]]


def _waiting_lines(strip: Strip, now_ms: Any) -> list[Any]:
    """Retorques that are due and compound that still cures, as `_back_lines` gives what is lacking."""
    found = [("retorque", BEFORE_WHAT[0], part, sentence) for part, sentence in open_retorques(strip, now_ms)]
    cures = cures_view(strip, {"now_ms": now_ms})["cures"]
    for group in [each for each in strip.of_type("group") if each.id in cures]:
        if cures[group.id]["state"] != "cured":
            text = say("{what}: {left}", what=named(group.values), left=cures[group.id]["text"])
            found.append(("waits", BEFORE_WHAT[0], group.values.get("part"), text))
    return found


def _group(strip: Strip, before: str, lines: list[Any]) -> dict[str, Any]:
    found: dict[Any, dict[str, Any]] = {}
    for what, _, part, line in lines:
        # What a part that is not in this log yet was to get belongs to the machine.
        thing = strip.thing(part) if part else None
        known = part if thing is not None and thing.type == "part" else None
        if known not in found:
            found[known] = _of_part(strip, known, thing)
        found[known][what].append(line)
    order = [None] + [part.id for part in strip.of_type("part") + strip.struck_of_type("part")]
    return {"before": before, "count": len(lines), "parts": [found[part] for part in order if part in found]}


def _of_part(strip: Strip, part: Any, thing: Any) -> dict[str, Any]:
    values = last_values(strip, thing) if part is not None else {}
    return {
        "part": part,
        "struck": part is not None and not thing.alive,
        "name": values.get("name") or "",
        "side": values.get("side"),
        "place": values.get("place"),
        "pieces": values.get("pieces") or 1,
        "retorque": [],
        "waits": [],
        "needs": [],
        "used_again": [],
        "cautions": [],
        "items": [],
    }


def _done(strip: Strip) -> list[dict[str, Any]]:
    """Items that are closed, those of cautions too, newest first."""
    closed = [item for item in strip.of_type("item") if item.values.get("closed")]
    closed = in_order(closed, lambda item: key_of(item.fields["closed"].heads[-1]), reverse=True)
    return [dict(item_view(strip, item), rule=item.values.get("rule"), closing=closed_view(item)) for item in closed]
