"""One strip-down as a chapter of its machine's history: what was planned and done, and what lies between two days."""

from typing import Any

from . import mass, torque
from .amounts import Amount, added_up
from .days import MS_A_DAY
from .entries import wall_clock_ms
from .fields import value_before
from .figures import shown_amount
from .plan_kept import costs_by_part, plan_kept
from .second_check import same_name
from .settings import alike, settings_of, standing, unit_of
from .settings_rules import setting_shown
from .spells import began_ms, ended_ms
from .standing import weighings_of
from .strip import Strip
from .thing import Thing, key_of
from .tightening import doubts
from .tool_uses import uses_of_tools
from .views_group import named
from .views_retorque import retorques
from .words import Refused, problem

SETTING_NAMES = ("adjusted", "name", "place", "side")
# For these, once done, the part's place on the machine is filled by something else, or it is there otherwise.
TELLING = ("swapped", "added", "cut_down", "moved")


def chapter_view(strip: Strip, arguments: dict[str, Any]) -> dict[str, Any]:
    """{"strip", "name", "machine", "machine_name", "begun_at", "from_ms", "to_ms", "spells", "disputes", "plan": as
    `plan_kept`, "costs": as `costs_by_part`, "events": as below, "due": retorques that are due, "between": None or as
    `_between`}.

    `now_ms` is the clock; `days`, two ends of days in ms, or None. Events are {"what": "weighed", "spell", "setting" or
    "torque", "at_ms", "who", …}, in no order. `machine_history.history` joins the chapters of a machine.
    """
    own = strip.thing(strip.id)
    machine = strip.thing(own.values.get("machine") or "") if own is not None else None
    now, days = arguments.get("now_ms"), arguments.get("days")
    latest = [wall_clock_ms(entry["id"]) for entry in strip.entries.values()]
    return {
        "strip": strip.id,
        "name": own.values.get("name") or "" if own is not None else "",
        "machine": None if machine is None else machine.id,
        "machine_name": None if machine is None else machine.values.get("name") or "",
        "begun_at": own.first["at"] if own is not None else 0,
        "from_ms": min(latest) if latest else None,
        "to_ms": max(latest) if latest else None,
        "spells": len(strip.spells()),
        "disputes": strip.counts()["disputes"],
        "plan": plan_kept(strip, now),
        "costs": costs_by_part(strip),
        "events": _weighings(strip) + _spells(strip) + _settings(strip) + _torques(strip),
        "due": [_due(each) for each in retorques(strip, now) if each["state"] == "due"],
        "between": None if days is None else _between(strip, _ends(days, now)),
    }


def _weighings(strip: Strip) -> list[dict[str, Any]]:
    found = []
    for each in weighings_of(strip):
        if each.total is not None:
            row = {"what": "weighed", "at_ms": wall_clock_ms(each.entry["id"]), "who": each.entry["who"]}
            found.append(dict(row, total=shown_amount(each.total)))
    return found


def _spells(strip: Strip) -> list[dict[str, Any]]:
    """What the machine changed in each spell; the first one takes what was written before it along."""
    spells, parts, found = strip.spells(), strip.of_type("part"), []
    for n, spell in enumerate(spells):
        begins = None if n == 0 else key_of(spell["begins"])
        ends = None if n + 1 == len(spells) else key_of(spells[n + 1]["begins"])
        changes = [strip.change_between(part.id, begins, ends) for part in parts]
        row = {"what": "spell", "at_ms": began_ms(spell), "to_ms": ended_ms(spell), "who": ", ".join(spell["people"])}
        row.update(change=shown_amount(added_up(changes)), unweighed=len([each for each in changes if each is None]))
        found.append(row)
    return found


def _settings(strip: Strip) -> list[dict[str, Any]]:
    found = []
    for setting in settings_of(strip):
        unit = unit_of(setting)
        field, before = setting.fields.get(unit), standing(strip, setting).found
        for entry in field.writers if field is not None else ():
            value = entry["values"][unit]
            if value is not None and not alike(unit, before, value):
                row = {"what": "setting", "at_ms": wall_clock_ms(entry["id"]), "who": entry["who"]}
                row.update(_named(setting))
                row.update({"from": setting_shown(unit, before), "to": setting_shown(unit, value)})
                found.append(row)
            before = value
    return found


def _named(setting: Thing) -> dict[str, Any]:
    return {name: setting.values.get(name) for name in SETTING_NAMES}


def _torques(strip: Strip) -> list[dict[str, Any]]:
    """Every tightening that holds, or that is in doubt, of a group that is here."""
    uses, found = uses_of_tools(strip), []
    for part in strip.of_type("part"):
        for group in strip.groups_of(part.id):
            ledger, spec = strip.ledger(group.id), torque.specification(group.values)
            about = {"part": part.values.get("name") or "", "side": part.values.get("side")}
            about["called"] = named(group.values)
            for entry in ledger.applied + ledger.in_doubt:
                at_ms = wall_clock_ms(entry["id"])
                step = torque.of_step(spec, entry.get("step"))
                told = torque.record(entry, step, at_ms, doubts(strip, entry, at_ms, uses))
                row = {"what": "torque", "at_ms": at_ms, "who": entry["who"], "count": entry["count"]}
                row.update(about)
                row.update(shown=told["shown"], judged=told["judged"], retorque=bool(entry.get("retorque")))
                found.append(row)
    return found


def _due(each: dict[str, Any]) -> dict[str, Any]:
    return {"part": each["part_name"], "side": each["side"], "called": each["called"], "count": each["count"]}


def _ends(days: Any, now_ms: Any) -> list[Any]:
    """The two ends of days as places in the log, None for one that is now."""
    found: list[Any] = []
    for end in days if isinstance(days, list) and len(days) == 2 else [None, None]:
        if isinstance(end, bool) or not isinstance(end, int) or not isinstance(now_ms, int):
            raise Refused([problem("not_a_date", "day", "This must be a date as 2026-05-31.")])
        if end >= now_ms + MS_A_DAY:
            raise Refused([problem("not_a_date", "day", "That day is yet to come.")])
        # Of today all counts, also what a phone with a clock ahead wrote.
        found.append((end + 1, "") if end < now_ms else None)
    if days[0] > days[1]:
        raise Refused([problem("not_a_date", "day", "The second day must not come before the first.")])
    return found


def _between(strip: Strip, ends: list[Any]) -> dict[str, Any]:
    """{"grams", "standard", "factor" of the change, "unweighed", "parts", "settings", "weighed": at each end, "to_now":
    whether the second end is now}.

    "parts": {"key", "name", "side", "from", "to"} of those that stand otherwise; "settings": {"key", …, "from", "to"}
    of all, as values and as shown: which of them differ hangs on the other chapters.
    """
    parts = strip.of_type("part")
    now = (1 << 60, "")
    changes = [strip.change_between(part.id, ends[0] or now, ends[1]) for part in parts]
    change = added_up(changes)
    return {
        "grams": change.grams,
        "standard": change.standard,
        "factor": change.factor,
        "unweighed": len([each for each in changes if each is None]),
        "parts": [row for row in [_moved(part, ends) for part in parts] if row["from"] != row["to"]],
        "settings": [_set(strip, setting, ends) for setting in settings_of(strip)],
        "weighed": [_weighed(strip, end) for end in ends],
        "to_now": ends[1] is None,
    }


def _moved(part: Thing, ends: list[Any]) -> dict[str, Any]:
    name, side = part.values.get("name") or "", part.values.get("side")
    states = [_state(part, end) for end in ends]
    # Parts without a name are as good as never the same one.
    key = [same_name(name), side] if name else [part.id]
    return {"key": key, "name": name, "side": side, "from": states[0], "to": states[1]}


def _state(part: Thing, end: Any) -> str:
    """How a part stood: "on", "off" or one of TELLING."""
    values = part.values
    if end is not None:
        names = ("off", "outcome", "outcome_done")
        values = dict(values, **{name: value_before(part.fields.get(name), name, end) for name in names})
    outcome = mass.outcome_of(values)
    if outcome in TELLING and values.get("outcome_done"):
        return str(outcome)
    was_there = values.get("came_in") not in ("missing", "new")
    return "off" if values.get("off") or not was_there else "on"


def _set(strip: Strip, setting: Thing, ends: list[Any]) -> dict[str, Any]:
    unit = unit_of(setting)
    values = [standing(strip, setting, end).now for end in ends]
    key = [setting.values.get(name) for name in ("adjusted", "place", "side", "counted")]
    row = {"key": key + [same_name(setting.values.get("name")), unit], "values": values}
    row.update(_named(setting))
    row.update({"from": setting_shown(unit, values[0]), "to": setting_shown(unit, values[1])})
    return row


def _weighed(strip: Strip, end: Any) -> Any:
    """The last weighing of the whole machine until then: {"at_ms", "total"}, or None."""
    found = [each for each in weighings_of(strip) if each.total is not None and (end is None or each.key < end)]
    if not found:
        return None
    return {"at_ms": wall_clock_ms(found[-1].entry["id"]), "total": shown_amount(found[-1].total)}


def change_of(betweens: list[dict[str, Any]]) -> Amount:
    """The changes of several chapters together: their uncertainties added straight, for they may have one cause.

    Which of them it is (one scale weighed in all) is not known from chapter to chapter, so the correlation is taken as
    1, the largest that it can be (GUM 5.2.2, note 1). Their expanded uncertainties add; k = 2 gives the sum back.
    """
    spread = sum([each["standard"] * each["factor"] for each in betweens]) / 2.0
    return Amount(sum([each["grams"] for each in betweens]), {"chapters": (spread, None)} if spread > 0.0 else {})
