"""What the sheet of keys and tools shows: what the way back still takes to turn, by key, and at which torques."""

from typing import Any

from . import torque
from .figures import plain_number
from .keys import HEADS_OF
from .named_keys import read_key
from .ordering import in_order
from .shown_torque import settable
from .strip import Strip
from .thing import Thing
from .threads import read_thread
from .torque_tool import out_of_range
from .views_fasteners import usual_key
from .views_group import named
from .way_back import is_on_the_way_back
from .words import say

# Kinds of key as they lie in a box: hexagons from outside and inside, then the rest; last what does not say.
KINDS = ("outside", "inside", "hexalobular", "hexalobular_outside", "cross", "slot", None)
COMPOUND = "Locking compound, for {n}: which one the manual says."
OIL = "Oil for threads, for {n}."
ANGLE = "Something to measure the angle with, for {n}."
PAINT = "Paint to mark what is tight, for {n}."


def keys_view(strip: Strip, arguments: dict[str, Any]) -> dict[str, Any]:
    """{"keys": [{"kind", "size", "count", "for": [{"count", "what", "part"}]}], "unknown": [{"count", "what", "part",
    "usual": the usual key in words, or None}], "fasteners": how many are to be turned, "torque": None or {"low",
    "high"}, "wrenches": [{"name", "low", "high", "reaches", "of"}], "beyond": [{"count", "what",
    "part", "low", "high"}], "without": fasteners without a torque, "also": sentences}. `_turned` says what counts.
    """
    turned = [each for each in _all(strip) if each["count"] > 0]
    known = [each for each in turned if each["key"] is not None]
    tightened = [each for each in turned if each["tightened"]]
    asked = [each for each in tightened if each["low"] is not None]
    wrenches = [tool for tool in strip.of_type("tool") if not tool.values.get("put_away")]
    return {
        "keys": _by_key(known),
        "unknown": [dict(_line(each), usual=each["usual"]) for each in turned if each["key"] is None],
        "fasteners": sum([each["count"] for each in turned]),
        "torque": _range(asked),
        "wrenches": [_wrench(tool, asked) for tool in wrenches],
        "beyond": [_beyond(each) for each in asked if not any([_reaches(tool, each) for tool in wrenches])],
        "without": sum([each["count"] for each in tightened if each["low"] is None]),
        "also": _also(turned),
    }


def _all(strip: Strip) -> list[dict[str, Any]]:
    parts = [part for part in strip.of_type("part") if is_on_the_way_back(strip, part)]
    return [_turned(strip, part, group) for part in parts for group in strip.groups_of(part.id)]


def _turned(strip: Strip, part: Thing, group: Thing) -> dict[str, Any]:
    """A group with how many of it a key must still turn, its key, and the least and greatest torque in N.m it asks for.

    Those that are out or loose; all of them where they are tight and yet lack a torque that counts.
    """
    values, ledger, spec = group.values, strip.ledger(group.id), torque.specification(group.values)
    count = ledger.out + (ledger.loose if ledger.is_tightened else 0)
    if count == 0 and "torque" in strip.needs(group.id):
        count = ledger.count
    written, locking = read_key(values.get("key")), values.get("prevailing_newton_metres") or 0.0
    thread = read_thread(values.get("thread"))
    return {
        "part": part.values.get("name") or "",
        "what": named(values),
        "count": count,
        "tightened": ledger.is_tightened,
        "key": values.get("key") or None,
        "kind": None if written is None else written.kind or _kind_of(values.get("head")),
        "size": None if written is None else written.size,
        "system": None if written is None else written.system,
        "usual": None if thread is None else usual_key(thread, values.get("head"), ""),
        "low": None if spec is None else min([spec["low"]] + spec["steps"]) + locking,
        "high": None if spec is None else max([spec["high"]] + spec["steps"]) + locking,
        "condition": values.get("torque_condition"),
        "angle": spec is not None and bool(spec["angle_degrees"]),
    }


def _kind_of(head: Any) -> Any:
    """The kind of key that a head takes, where a key is written down by its size alone."""
    found = [kind for kind in KINDS if kind is not None and head in HEADS_OF[kind]]
    return found[0] if found else None


def _by_key(turned: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """Rows by kind and size; what was not understood last, by what was written."""
    rows: dict[Any, dict[str, Any]] = {}
    for each in turned:
        size = each["size"]
        key = (each["kind"], each["system"], None if size is None else round(size, 2), None)
        if size is None:
            key = (None, None, None, each["key"])
        if key not in rows:
            order = (KINDS.index(key[0]), size is None, size or 0.0, each["key"])
            rows[key] = {"kind": key[0], "size": _called(each), "count": 0, "for": [], "order": order}
        rows[key]["count"] += each["count"]
        rows[key]["for"].append(_line(each))
    found = in_order(rows.values(), lambda row: row["order"])
    return [{name: row[name] for name in ("kind", "size", "count", "for")} for row in found]


def _called(each: dict[str, Any]) -> str:
    """A width across flats in millimetres as it is called; any other key as it was written."""
    if each["system"] == "metric" and each["size"] is not None:
        return plain_number(each["size"]) + " mm"
    return str(each["key"])


def _line(each: dict[str, Any]) -> dict[str, Any]:
    return {name: each[name] for name in ("count", "what", "part")}


def _range(asked: list[dict[str, Any]]) -> Any:
    if not asked:
        return None
    low, high = min([each["low"] for each in asked]), max([each["high"] for each in asked])
    return {"low": settable(low), "high": settable(high)}


def _reaches(tool: Thing, each: dict[str, Any]) -> bool:
    """Whether a wrench whose marks are written down reaches all that a group asks for."""
    values = tool.values
    if values.get("low_newton_metres") is None or values.get("high_newton_metres") is None:
        return False
    return out_of_range(values, each["low"]) is None and out_of_range(values, each["high"]) is None


def _wrench(tool: Thing, asked: list[dict[str, Any]]) -> dict[str, Any]:
    low, high = tool.values.get("low_newton_metres"), tool.values.get("high_newton_metres")
    return {
        "name": tool.values.get("name") or "",
        "low": None if low is None else settable(low),
        "high": None if high is None else settable(high),
        "reaches": len([each for each in asked if _reaches(tool, each)]),
        "of": len(asked),
    }


def _beyond(each: dict[str, Any]) -> dict[str, Any]:
    return dict(_line(each), low=settable(each["low"]), high=settable(each["high"]))


def _also(turned: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """What else is needed beside keys: compound, oil, an angle, paint; each with for how many fasteners."""
    wanted = (
        (COMPOUND, [each for each in turned if each["condition"] == "locking_compound"]),
        (OIL, [each for each in turned if each["condition"] == "oiled"]),
        (ANGLE, [each for each in turned if each["angle"]]),
        (PAINT, [each for each in turned if each["tightened"]]),
    )
    return [say(text, n=sum([each["count"] for each in some])) for text, some in wanted if some]
