"""What the screen for buying shows."""

from typing import Any

from .entries import wall_clock_ms
from .replaced import new_each_time, new_ones, policy
from .shopping import shopping_lines
from .stops import used_again
from .strip import Strip
from .thing import Thing
from .to_do import items_of
from .views_group import fields_view, named
from .views_part import item_view


def buy_view(strip: Strip, arguments: dict[str, Any]) -> dict[str, Any]:
    """{"lines": [{"kind", "called", "to_buy", "at_hand", "groups": [{"group", "part", "name", "side", "to_buy",
    "at_hand", "suggested", "basis"}]}], "to_buy": how many in all, "items": what people wrote down to buy,
    "used_again": [{"part", "name", "called", "n", "why", "who", "at_ms"}], "policy", "fields": of the strip-down}."""
    lines = shopping_lines(strip)
    own = strip.thing(strip.id)
    return {
        "lines": [_line_view(line) for line in lines],
        "to_buy": sum([line["to_buy"] for line in lines]),
        "items": [item_view(strip, i) for i in items_of(strip, None) if i.values.get("what") == "buy" and _is_open(i)],
        "used_again": _used_again(strip),
        "policy": policy(strip),
        "fields": {name: field for name, field in fields_view(own).items() if name == "self_locking_nuts"},
    }


def _is_open(item: Thing) -> bool:
    return not item.values.get("closed")


def _line_view(line: dict[str, Any]) -> dict[str, Any]:
    found = {name: line[name] for name in ("kind", "called", "to_buy", "at_hand")}
    found["groups"] = [
        {
            "group": group.id,
            "part": part.id,
            "name": part.values.get("name") or "",
            "side": part.values.get("side"),
            "to_buy": wanted["to_buy"],
            "at_hand": wanted["at_hand"],
            "suggested": wanted["new"] is not None and wanted["new"]["suggested"],
            "basis": None if wanted["new"] is None else wanted["new"]["basis"],
        }
        for part, group, wanted in line["groups"]
    ]
    return found


def _used_again(strip: Strip) -> list[dict[str, Any]]:
    """Fasteners that are new each time and were used again all the same, with the reason that somebody gave."""
    found = []
    answers = {each["group"]: each["closed_by"] for each in used_again(strip) if each["closed_by"] is not None}
    for part in strip.of_type("part"):
        for group in strip.groups_of(part.id):
            if new_each_time(strip, group) is None:
                continue
            ones = new_ones(group)
            line = {"part": part.id, "name": part.values.get("name") or "", "called": named(group.values)}
            if ones.reasoned:
                move = ones.last_reason
                found.append(dict(line, n=ones.reasoned, why=move["used_again_why"], **_by(move)))
            if group.id in answers:
                item = answers[group.id]
                by = _by(item.fields["closed"].heads[-1])
                found.append(dict(line, n=ones.used, why=item.values["closed_how"], **by))
    return found


def _by(entry: dict[str, Any]) -> dict[str, Any]:
    return {"who": entry["who"], "at_ms": wall_clock_ms(entry["id"])}
