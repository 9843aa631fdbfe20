"""What the screen of a group's record shows: every entry in words, what still counts, and why the group stands so."""

from typing import Any

from . import torque
from .entries import wall_clock_ms
from .figures import plain_number
from .group_needs import two_counts, wants_again
from .group_record import record_of, struck_of
from .order_kept import Rounds, numbers_of, order_of
from .ordering import in_order
from .strip import Strip
from .thing import Thing, key_of
from .tightening import doubts
from .tool_uses import uses_of_tools
from .typed_quantities import last_unit
from .views_group import bag_label, group_view
from .views_part import last_name
from .words import say


def record_view(strip: Strip, arguments: dict[str, Any]) -> Any:
    """The record of one group, newest first; None when it is not in the log.

    {"called", "count", "part", "part_name", "state": as `group_view` has it, "why": sentences on how it stands,
    "lines"}; a line has "text", "facts", "effects" and "notes" in words, who and when, "tightening" as judged,
    "counts", "ended" and "struck".
    """
    group = strip.thing(arguments["group"]) if isinstance(arguments.get("group"), str) else None
    if group is None or group.type != "group":
        return None
    part = strip.thing(group.values.get("part") or "")
    uses = uses_of_tools(strip)
    state = group_view(strip, group, uses)
    lines = [_line_view(strip, group, line, uses) for line in record_of(strip, group)["lines"]]
    lines += [_struck_view(strip, group, entry) for entry in struck_of(strip, group)]
    lines = in_order(lines, lambda line: line["key"], reverse=True)
    return {
        "group": group.id,
        "part": None if part is None else part.id,
        "part_name": "" if part is None else last_name(strip, part),
        "alive": group.alive and (part is None or part.alive),
        "called": state["called"],
        "count": state["count"],
        "state": state,
        "why": why(strip, group),
        "lines": lines,
    }


def why(strip: Strip, group: Thing) -> list[dict[str, Any]]:
    """Why a group stands as it does, in words: what each thing that it still needs comes from."""
    ledger, needs = strip.ledger(group.id), strip.needs(group.id)
    found = []
    if ledger.untouched:
        found.append(say("{n} stayed as they came: nothing is written of them.", n=ledger.untouched))
    if ledger.on < ledger.count:
        found.append(say("{n} of {count} are not on the machine.", n=ledger.count - ledger.on, count=ledger.count))
    if ledger.on > ledger.count:
        found.append(say("{n} more are on the machine than there are.", n=ledger.on - ledger.count))
    counts = two_counts(group)
    if counts:
        text = "Two people wrote apart how many there are: {counts}. Settle which is right."
        found.append(say(text, counts=", ".join([str(each) for each in counts])))
    if ledger.is_tightened and ledger.loose:
        found.append(say("{n} are in and not tightened since.", n=ledger.loose))
    if any([torque.is_wrong(entry, group.values) for entry in ledger.applied]):
        found.append(say("A tightening that still counts is outside the specification."))
    if any([torque.is_not_turned(entry, group.values) for entry in ledger.applied]):
        found.append(say("A tightening that still counts lacks the turn that the manual wants."))
    if wants_again(ledger.in_doubt, group.values):
        text = "{who} tightened these apart, not as the manual wants it, and it may be the last that some got. "
        text = text + "Tighten all again."
        found.append(say(text, who=ledger.in_doubt[-1]["who"]))
    if ledger.is_tightened and ledger.tight > ledger.marked:
        found.append(say("{n} are tight and carry no mark made since.", n=ledger.tight - ledger.marked))
    if ledger.not_right:
        text = "{n} were found not right. Take them out and put them in again, or let another person look."
        found.append(say(text, n=ledger.not_right))
    if "second_check" in needs:
        left = ledger.loose + ledger.tight - ledger.check.checked
        found.append(say("{n} were not looked at by another person as they are now.", n=left))
    if not needs:
        found.append(say("Nothing more is wanted of these in the record."))
    return found


def _line_view(strip: Strip, group: Thing, line: dict[str, Any], uses: Any) -> dict[str, Any]:
    entry, at_ms = line["entry"], wall_clock_ms(line["entry"]["id"])
    found, facts = None, []
    if entry["kind"] == "tighten":
        spec = torque.of_step(torque.specification(group.values), entry.get("step"))
        found = torque.record(entry, spec, at_ms, doubts(strip, entry, at_ms, uses))
        facts = _facts(strip, group, entry, found)
    ended = line["ended"]
    return {
        "key": list(key_of(entry)),
        "entry": entry["id"],
        "kind": entry["kind"],
        "who": entry["who"],
        "at_ms": at_ms,
        "text": told(strip, entry, found),
        "facts": facts,
        "tightening": found,
        "effects": _effects(line),
        "after": line["after"],
        "count": strip.ledger(group.id).count,
        "counts": line["counts"],
        "why": line["why"],
        "ended": None if ended is None else {"who": ended["who"], "at_ms": wall_clock_ms(ended["id"])},
        "notes": line["notes"],
        "struck": None,
    }


def _struck_view(strip: Strip, group: Thing, entry: dict[str, Any]) -> dict[str, Any]:
    strike = strip.striker(entry["id"])
    spec, at_ms = torque.specification(group.values), wall_clock_ms(entry["id"])
    found = torque.record(entry, torque.of_step(spec, entry.get("step")), at_ms) if entry["kind"] == "tighten" else None
    return {
        "key": list(key_of(entry)),
        "entry": entry["id"],
        "kind": entry["kind"],
        "who": entry["who"],
        "at_ms": at_ms,
        "text": told(strip, entry, found),
        "facts": [] if found is None else _facts(strip, group, entry, found),
        "tightening": None,
        "effects": [],
        "after": None,
        "count": None,
        "counts": None if found is None else False,
        "why": None,
        "ended": None,
        "notes": [],
        "struck": {"who": strike["who"], "why": strike["why"], "at_ms": wall_clock_ms(strike["id"])},
    }


def told(strip: Strip, entry: dict[str, Any], found: Any) -> dict[str, Any]:
    """What an entry did, as a sentence; `found` is the record of a tightening."""
    kind = entry["kind"]
    if kind == "move":
        places = {"n": entry["count"], "from": _place(strip, entry, "from"), "to": _place(strip, entry, "to")}
        if entry["to"] == "machine":
            return say("{n} put in, from: {from}", **places)
        if entry["from"] == "machine":
            return say("{n} came out, to: {to}", **places)
        return say("{n} moved, from: {from}, to: {to}", **places)
    if kind == "tighten":
        text = "{n} tightened anew, as a retorque: {value}" if entry.get("retorque") else "{n} tightened: {value}"
        return say(text, n=entry["count"], value=found["shown"])
    if kind == "witness":
        return say("{n} marked", n=entry["count"])
    if kind == "second_check":
        right = "{n} looked at and found right: {looked_at}"
        text = right if entry["found"] == "right" else "{n} looked at and found not right: {looked_at}"
        return say(text, n=entry["count"], looked_at=entry["looked_at"])
    if kind == "waive":
        return say("No second check, as decided: {why}", why=entry["why"])
    return say("The part was off, or another is in its place. Nothing says where these went: taken as out, in no bag.")


def _place(strip: Strip, entry: dict[str, Any], end: str) -> dict[str, Any]:
    label = bag_label(strip, entry.get(end + "_bag"))
    return say("bag {label}", label=label) if label else {"label": entry[end]}


def _facts(strip: Strip, group: Thing, entry: dict[str, Any], found: dict[str, Any]) -> list[dict[str, Any]]:
    facts = []
    steps = len(group.values.get("torque_steps_newton_metres") or ())
    if entry.get("step"):
        facts.append(say("Step {step} of {last}.", step=entry["step"], last=max(steps + 1, entry["step"])))
    numbers = numbers_of(entry, strip.ledger(group.id).count)
    if numbers:
        facts.append(say("In the order: number {numbers}.", numbers=numbers))
    facts += _tool_facts(entry, found)
    if entry.get("angle_degrees"):
        facts.append(say("Turned by {degrees}°.", degrees=plain_number(entry["angle_degrees"])))
    if found["prevailing"]:
        text = "{prevailing} of it for the locking nut, {clamping} tighten it."
        facts.append(say(text, prevailing=found["prevailing"], clamping=found["clamping"]))
    # What was typed in N.m stands in the sentence already.
    if entry.get("as_read") and last_unit(entry["as_read"], "torque") != "N.m":
        facts.append(say("As it was typed: {typed}.", typed=entry["as_read"]))
    return facts


def _tool_facts(entry: dict[str, Any], found: dict[str, Any]) -> list[dict[str, Any]]:
    facts = []
    if found["tool"] and found["setting"]:
        facts.append(say("Wrench: {tool}, set to {setting}.", tool=found["tool"], setting=found["setting"]))
    elif found["tool"]:
        facts.append(say("Wrench: {tool}.", tool=found["tool"]))
    elif found["setting"]:
        facts.append(say("Wrench not named, set to {setting}.", setting=found["setting"]))
    else:
        facts.append(say("Wrench not named."))
    if entry.get("adapter_millimetres"):
        values = {"adapter": plain_number(entry["adapter_millimetres"])}
        if not entry.get("lever_millimetres"):
            facts.append(say("Adapter {adapter} mm.", **values))
        else:
            values["lever"] = plain_number(entry["lever_millimetres"])
            values["degrees"] = plain_number(entry.get("adapter_degrees") or 0.0)
            facts.append(say("Adapter {adapter} mm at {degrees}°, lever {lever} mm.", **values))
    return facts


def _effects(line: dict[str, Any]) -> list[dict[str, Any]]:
    """What an entry undid, in words; what it added is in its own sentence."""
    found = []
    for name, text in UNDONE:
        lost = -line["change"][name]
        if lost > 0:
            found.append(say(text, n=lost))
    return found


def turns_view(strip: Strip, arguments: dict[str, Any]) -> dict[str, Any]:
    """{"turns": [{"number", "place", "had"}], "next": the place to come, None when all had it, "begun"} of a step.

    For the order that the group has now; no turns where it has none, or one that does not fit.
    """
    group = strip.thing(arguments["group"]) if isinstance(arguments.get("group"), str) else None
    view: dict[str, Any] = {"turns": [], "next": None, "begun": False}
    if group is None or group.type != "group":
        return view
    ledger, entries = strip.handling(group)
    rounds, pattern = Rounds(), group.values.get("pattern")
    for entry in entries:
        rounds.take(entry, ledger)
        ledger.take(entry)
    places = order_of({"pattern": pattern}, ledger.count)
    had = rounds.had(arguments.get("step") or ledger.steps + 1) if rounds.pattern == pattern else []
    view["turns"] = [{"number": n + 1, "place": place, "had": place in had} for n, place in enumerate(places)]
    left = [place for place in places if place not in had]
    return dict(view, next=left[0] if left else None, begun=bool(places) and rounds.begun)


UNDONE = (
    ("tight", "Tight no more: {n}."),
    ("marked", "The mark counts no more on {n}."),
    ("checked", "Not looked at any more: {n}."),
)
