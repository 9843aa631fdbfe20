"""What the screen of masses shows: the statement line by line, its sums, and what their uncertainty is made of."""

from typing import Any

from . import mass
from .amounts import Amount, added_up
from .figures import shown_amount, shown_in_pounds_too
from .loose_mass import fasteners_beside
from .made_of import made_of
from .strip import Strip
from .thing import Thing
from .views_reading import reading_view
from .words import say


def sums_view(strip: Strip) -> dict[str, Any]:
    """The three sums as shown, never mixed."""
    sums = strip.sums()
    return {
        "spell": shown_in_pounds_too(sums["spell"]),
        "came_in": shown_in_pounds_too(sums["came_in"]),
        "standard": shown_in_pounds_too(sums["standard"]),
        "unweighed": sums["unweighed"],
    }


def statement_view(strip: Strip, arguments: dict[str, Any]) -> dict[str, Any]:
    """The mass statement: a line a part, the three sums, and what they rest on."""
    in_spell = strip.last_spell() is not None

    def made_of(part: Thing) -> list[Any]:
        return [part, strip.line(part.id), strip.masses(part.id), in_spell]

    lines = strip.kept.rows("lines", strip.of_type("part"), made_of, lambda part: _line_view(strip, part, in_spell))
    notes = [
        say("Uncertainties are expanded ones, k = 2, and more where they rest on few readings."),
        say("A piece of a pair that was not weighed is taken as equal within 2 %."),
    ]
    notes += _fastener_notes(strip)
    unweighed = len([each for each in lines if each["change"] is None or each["standard_change"] is None])
    if unweighed:
        notes.insert(0, say("Parts not weighed, so not in the sums: {n}.", n=unweighed))
    return {"lines": lines, "sums": sums_view(strip), "notes": notes}


def _line_view(strip: Strip, part: Thing, in_spell: bool) -> dict[str, Any]:
    line, values = strip.line(part.id), part.values
    spell = line.spell_change
    return {
        "part": part.id,
        "name": values.get("name") or "",
        "side": values.get("side"),
        "pieces": values.get("pieces") or 1,
        "off": shown_amount(line.off),
        "on": shown_amount(line.on),
        "change": shown_amount(line.change),
        "standard_change": shown_amount(line.standard_change),
        "basis": line.basis,
        "counted": line.counted,
        "reason": line.reason,
        "why": why_counted(values, line, strip.masses(part.id)),
        "notes": given_back_notes(line),
        "in_spell": in_spell and spell is not None and spell.grams != 0.0,
        "outcome": mass.outcome_of(values),
        "outcome_done": mass.is_done(values),
    }


def why_counted(values: dict[str, Any], line: mass.Line, masses: dict[str, Any]) -> list[dict[str, Any]]:
    """Why a line counts since the machine came in, or does not, and what is said against the standard machine."""
    why = [line.reason if line.reason is not None else _counted_as(values, masses)]
    if values.get("came_in") == "missing":
        why.append(say("Against the standard machine it was missing from the start, and counts there."))
    if values.get("came_in") == "accessory":
        why.append(say("An accessory: the standard machine has none, so against it only what is still on counts."))
    return why


def _counted_as(values: dict[str, Any], masses: dict[str, Any]) -> dict[str, Any]:
    """How a part counts whose outcome is done."""
    outcome, was_there = mass.outcome_of(values), values.get("came_in") not in ("missing", "new")
    if outcome == "cut_down":
        by_offcut = masses.get("offcut") is not None
        return say("Cut: the offcut counts." if by_offcut else "Cut: what it weighs now, less what it weighed before.")
    if outcome == "swapped" and was_there:
        return say("Swapped: what went on, less what came off.")
    if outcome in ("swapped", "added"):
        return say("Put on: counts in full.")
    return say("Stays off: what came off counts.")


def given_back_notes(line: mass.Line) -> list[dict[str, Any]]:
    """What a line says of the fasteners that were weighed along."""
    if line.along == (-1.0, 1.0):
        return [say("Weighed with fasteners as it came off and as it went on: taken to be the same ones.")]
    back, found = line.back, []
    if back is None:
        return [say("Its fasteners are in this mass.")] if line.along else []
    if back.known:
        text = "Weighed with its fasteners, of which {n} are on the machine again: {mass} given back."
        if back.amount.grams < 0.0:
            text = "Weighed with {n} of the machine’s own fasteners: {mass} taken out again."
        size = back.amount.times(-1.0 if back.amount.grams < 0.0 else 1.0)
        found.append(say(text, n=back.known, mass=shown_amount(size)))
    if back.known < back.count:
        text = "Fasteners of unknown mass, not given back: {n}. Weigh one, or write its thread, length and head."
        found.append(say(text, n=back.count - back.known))
    return found


def _fastener_notes(strip: Strip) -> list[dict[str, Any]]:
    found, beside = [], fasteners_beside(strip)
    off, added = beside["off"], beside["added"]
    if off.known:
        text = "Fasteners off and weighed with no part: about {mass} more off, not in these sums."
        found.append(say(text, mass=shown_amount(off.amount)))
    if off.known < off.count:
        text = "Fasteners off and weighed with no part, of unknown mass: {n}. Not in these sums."
        found.append(say(text, n=off.count - off.known))
    if added.known:
        text = "New fasteners on and weighed with no part: about {mass} more on, not in these sums."
        found.append(say(text, mass=shown_amount(added.amount)))
    if added.known < added.count:
        text = "New fasteners on and weighed with no part, of unknown mass: {n}. Not in these sums."
        found.append(say(text, n=added.count - added.known))
    return found


def made_of_view(strip: Strip, arguments: dict[str, Any]) -> Any:
    """What an uncertainty is made of, its largest causes first: of a part's line, or of a sum.

    `part` names the part; without it `sum` is "came_in" (the default), "spell" or "standard".
    {"causes": [{"what", "plus_minus", "percent"}], "few": sentence or None, "readings": of a part, those that its
    masses rest on}, or None where there is no such part.
    """
    if arguments.get("part") is None:
        return _made_of(strip, _sum_with_causes(strip, arguments.get("sum") or "came_in"), [])
    part = strip.thing(arguments["part"])
    if part is None or part.type != "part":
        return None
    line = strip.line(part.id)
    # What does not count is known to some uncertainty all the same.
    shown = line.change if line.change is not None and line.change.causes else line.off or line.on
    masses = strip.masses(part.id)
    used = [entry for state in masses if masses[state] is not None for entry in masses[state].used]
    readings = [reading_view(strip, entry, used) for entry in part.of_kind("weigh") if entry["id"] in used]
    return _made_of(strip, shown, readings)


def _sum_with_causes(strip: Strip, name: Any) -> Any:
    """A sum anew from its lines.

    `strip.sums` is kept up to date in blocks of parts whose own causes are merged into one,
    so that a new entry costs the same in a long log; which cause is how large is gone from it.
    This is asked for when somebody unfolds it, and no oftener.
    """
    lines = [strip.line(part.id) for part in strip.of_type("part")]
    if name == "spell":
        return added_up([line.spell_change for line in lines]) if strip.last_spell() is not None else None
    if name in ("came_in", "standard"):
        return added_up([line.change if name == "came_in" else line.standard_change for line in lines])
    return None


def _made_of(strip: Strip, amount: Any, readings: list[dict[str, Any]]) -> dict[str, Any]:
    few = None
    if amount is None:
        amount = Amount(0.0)
    if amount.factor > 2.0:
        freedom = int(amount.freedom * (1.0 + 1e-9))
        text = (
            "The causes are for k = 2. They rest on few readings ({freedom} effective degrees of freedom), so the "
            "whole is for k = {k}. Weigh it again, and it is known better."
        )
        few = say(text, freedom=freedom, k=amount.factor)
    return {"causes": made_of(strip, amount), "few": few, "readings": readings}
