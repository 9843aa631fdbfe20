"""What the screen of the count shows, and what the screens show of a stop."""

from typing import Any

from .counting import FIGURES, count_lines, differences
from .entries import wall_clock_ms
from .kept_aside import not_all_read
from .ordering import in_order
from .stops import open_stops, ruled_out, stops
from .strip import Strip
from .thing import Thing, key_of
from .views_cautions import closed_view
from .views_group import bag_label

MOST_STOPS = 3


def count_view(strip: Strip, arguments: dict[str, Any]) -> dict[str, Any]:
    """All fasteners by thread and length, and every difference.

    {"figures": sums of all, "lines": [{"called", "figures", "groups": [{"group", "part", "name", "side", "count",
    "figures", "places"}]}], "differences": [{"code", "part", "group", "n", "text", "ruled_out"}], "stops",
    "not_all_read": the sentence that there may be more to it, or None}.
    """
    lines, out = count_lines(strip), ruled_out(strip)
    return {
        "figures": {name: sum([line["figures"][name] for line in lines]) for name in FIGURES},
        "lines": [_line_view(strip, line) for line in lines],
        "differences": [dict(each, ruled_out=each["group"] in out) for each in differences(strip)],
        "stops": [stop_view(strip, each) for each in stops(strip)],
        "not_all_read": not_all_read(strip),
    }


def _line_view(strip: Strip, line: dict[str, Any]) -> dict[str, Any]:
    groups = [_group_view(strip, group, counted) for group, counted in line["groups"]]
    return {"key": line["key"], "called": line["called"], "figures": line["figures"], "groups": groups}


def _group_view(strip: Strip, group: Thing, counted: dict[str, int]) -> dict[str, Any]:
    part, ledger = strip.thing(group.values.get("part") or ""), strip.ledger(group.id)
    values = part.values if part is not None else {}
    return {
        "group": group.id,
        "part": group.values.get("part"),
        "name": values.get("name") or "",
        "side": values.get("side"),
        "sits": group.values.get("sits"),
        "count": ledger.count,
        "figures": counted,
        "places": [
            {"where": where, "bag": bag or None, "label": bag_label(strip, bag), "count": count}
            for where, bag, count in ledger.elsewhere()
        ],
    }


def stop_view(strip: Strip, each: dict[str, Any]) -> dict[str, Any]:
    """A stop of `stops` as shown: open, or ruled out with who, when and how; what was said when a spell ended."""
    closed_by = each["closed_by"]
    return {
        "rule": each["rule"],
        "part": each["part"],
        "group": each["group"],
        "sentence": each["sentence"],
        "struck": not strip.counts_at_all(strip.thing(each["group"])),
        "open": closed_by is None,
        "again": closed_by is None and each["was_closed"],
        "closed": None if closed_by is None else closed_view(closed_by),
        "said": _said_of(strip, each),
    }


def _said_of(strip: Strip, each: dict[str, Any]) -> Any:
    """The last word on what was missing at the end of a spell, since that was lost; or None."""
    ends = [spell["ends"] for spell in strip.spells() if spell["ends"] is not None]
    said = [entry for entry in ends if entry.get("missing") and list(key_of(entry)) > each["latest"]]
    if not said:
        return None
    last = in_order(said, key_of)[-1]
    return {"text": last["missing"], "who": last["who"], "at_ms": wall_clock_ms(last["id"])}


def stops_in_short(strip: Strip) -> dict[str, Any]:
    """The open stops for every screen: how many, and the first few in words."""
    found = open_stops(strip)
    return {"count": len(found), "first": [each["sentence"] for each in found[:MOST_STOPS]]}
