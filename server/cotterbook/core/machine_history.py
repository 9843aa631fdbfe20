"""A machine over years: the chapters of its strip-downs joined, what was done in order, and two days compared."""

from typing import Any

from .chapter import change_of
from .chart_axis import is_sure
from .figures import shown_amount
from .ordering import in_order
from .second_check import same_name
from .settings import alike
from .words import Refused, problem

KINDS = ("weighed", "spell", "setting", "torque")


def history(arguments: dict[str, Any]) -> dict[str, Any]:
    """{"phases": chapters newest first without their events, "events": newest first, "counts": of each of KINDS, "due":
    retorques that are due by any chapter, each with its "strip", "compared": None or as `compared`} of `chapters`, as
    `chapter_view` has them.
    """
    chapters = arguments.get("chapters")
    if not isinstance(chapters, list) or not chapters:
        raise Refused([problem("no_such_strip", "", "No strip-down of this machine is on this phone.")])
    ordered = in_order(chapters, lambda each: (each["begun_at"], each["strip"]))
    events = [dict(event, strip=each["strip"], chapter=each["name"]) for each in ordered for event in each["events"]]
    phases = [{name: each[name] for name in each if name not in ("events", "between", "due")} for each in ordered]
    phases.reverse()
    return {
        "phases": phases,
        "counts": {kind: len([each for each in events if each["what"] == kind]) for kind in KINDS},
        "events": in_order(events, lambda each: each["at_ms"], True),
        "due": _due(ordered),
        "compared": compared(ordered, arguments["days"]) if arguments.get("days") else None,
    }


def _due(ordered: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """What is to be tightened anew, newest chapter first; not what a later chapter tightened of a part of that name."""
    found: list[dict[str, Any]] = []
    done: list[Any] = []
    for chapter in reversed(ordered):
        found += [dict(each, strip=chapter["strip"]) for each in chapter["due"] if _whose(each) not in done]
        done += [_whose(event) for event in chapter["events"] if event["what"] == "torque" and event["part"]]
    return found


def _whose(row: dict[str, Any]) -> Any:
    return [same_name(row["part"]), row["side"]]


def compared(ordered: list[dict[str, Any]], days: list[int]) -> dict[str, Any]:
    """What lies between two days, from end to end: {"change", "sure", "unweighed", "parts", "settings", "torques",
    "weighed", "begins_later"}.

    Parts and settings have "from", "to", and "since": the name of the strip-down with whose beginning "from" holds,
    where that began after the first day and no log before it says more; None where it holds on the first day. "sure":
    whether the change is beyond its uncertainty; "torques": tightenings in between, newest first; "begins_later": no
    strip-down had begun on the first day, which then stands for the machine as it came in.
    """
    # Of today all counts, also what a phone with a clock ahead wrote.
    begun = [each for each in ordered if each["begun_at"] <= days[1] or each["between"]["to_now"]]
    to_now = [each for each in begun if each["between"]["to_now"] and days[0] < days[1]]
    last = max([days[1]] + [event["at_ms"] for each in to_now for event in each["events"]])
    change = change_of([each["between"] for each in begun])
    events = [event for each in begun for event in each["events"] if event["what"] == "torque"]
    return {
        "change": shown_amount(change),
        "sure": is_sure(change),
        "unweighed": sum([each["between"]["unweighed"] for each in begun]),
        "parts": _parts(begun, days[0]),
        "settings": _settings(begun, days[0]),
        "torques": in_order([e for e in events if days[0] < e["at_ms"] <= last], lambda each: each["at_ms"], True),
        "weighed": [_last([each["between"]["weighed"][end] for each in begun]) for end in (0, 1)],
        "begins_later": not ordered or ordered[0]["begun_at"] > days[0],
    }


def _last(weighings: list[Any]) -> Any:
    found = [each for each in weighings if each is not None]
    return found[-1] if found else None


def _since(begun: list[dict[str, Any]], chapter: dict[str, Any], first_day: int) -> Any:
    """The name of a chapter that begins after the first day, and after another that had already begun; else None."""
    return chapter["name"] if chapter is not begun[0] and chapter["begun_at"] > first_day else None


def _parts(begun: list[dict[str, Any]], first_day: int) -> list[dict[str, Any]]:
    """Parts that stand otherwise, matched by name and side from chapter to chapter: the first "from", the last "to"."""
    found: list[dict[str, Any]] = []
    for chapter in begun:
        for row in chapter["between"]["parts"]:
            # A part of that name in the same chapter is another part.
            same = [each for each in found if each["key"] == row["key"] and each["strip"] != chapter["strip"]]
            if same:
                same[0].update({"to": row["to"], "name": row["name"], "strip": chapter["strip"]})
            else:
                found.append(dict(row, strip=chapter["strip"], since=_since(begun, chapter, first_day)))
    return [each for each in found if each["from"] != each["to"] and not _is_back(each)]


def _is_back(row: dict[str, Any]) -> bool:
    """Whether a part came off in one chapter and went on in another, where it was missing at first and is added."""
    return bool(row["from"] == "on" and row["to"] == "added")


def _settings(begun: list[dict[str, Any]], first_day: int) -> list[dict[str, Any]]:
    """Settings that stand otherwise; on the first day the last chapter begun by then counts, else the next."""
    found: list[dict[str, Any]] = []
    for chapter in begun:
        for row in chapter["between"]["settings"]:
            same, since = [each for each in found if each["key"] == row["key"]], _since(begun, chapter, first_day)
            if not same:
                found.append(dict(row, since=since))
                continue
            one = same[0]
            if chapter["begun_at"] <= first_day or one["values"][0] is None:
                one.update({"from": row["from"], "values": [row["values"][0], one["values"][1]], "since": since})
            one.update({"to": row["to"], "values": [one["values"][0], row["values"][1]]})
    return [each for each in found if not alike(each["key"][-1], each["values"][0], each["values"][1])]
