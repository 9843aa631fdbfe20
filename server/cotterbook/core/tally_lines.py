"""The lines of a sum, as the tally check takes them: masses, the figures they are from, and what is not in.

The sums: "spell" since this spell began, "came_in" since the machine came in,
"standard" against the standard machine, all three as changes of the machine; "off"
the parts that are off now, as they lie there.
"""

import math
from typing import Any

from .amounts import Amount, added_up
from .figures import GRAMS_IN, last_place, plain_number, read_figure, shown_amount
from .mass import outcome_of
from .readings import first_look
from .strip import Strip
from .thing import Thing
from .words import say

SUMS = ("spell", "came_in", "standard", "off")
# What a change can be made of; of each state its mass with its sign. What is put back in a spell is the reverse.
_MADE_OF = (
    (("taken_off", -1.0),),
    (("going_on", 1.0),),
    (("taken_off", -1.0), ("going_on", 1.0)),
    (("taken_off", -1.0), ("after_cut", 1.0)),
    (("offcut", -1.0),),
)
CLOSE = 1e-6


def amount_of(strip: Strip, which: str, part: Thing) -> Any:
    """What a part adds to a sum: an amount, 0 g where it is not in it, None where its mass is not known."""
    line = strip.line(part.id)
    if which == "off":
        return line.off if part.values.get("off") else Amount(0.0)
    return {"spell": line.spell_change, "came_in": line.change, "standard": line.standard_change}[which]


def sum_of(strip: Strip, which: str) -> Any:
    """The sum as an amount, or None for that of a spell without one."""
    if which != "off":
        return strip.sums()[which]
    return added_up([amount_of(strip, which, part) for part in strip.of_type("part")])


def lines_of(strip: Strip, which: str, own: bool = False) -> list[dict[str, Any]]:
    """The lines of a sum as `tally.explain` takes them, with what is not counted in it but has a mass.

    `own`: whether the figures are those of somebody else, so that what is brought in
    has its own uncertainty. Beside what `explain` reads, a line has "name", "side" and,
    where not counted, "reason"; "states" says what each of its terms is.
    """
    found: list[dict[str, Any]] = []
    for part in strip.of_type("part"):
        amount = amount_of(strip, which, part)
        made = _made_of(strip, part, amount)
        named = {"key": part.id, "name": part.values.get("name") or "", "side": part.values.get("side")}
        if amount is not None and abs(amount.grams) > CLOSE:
            found.append(_counted(strip, part, amount, made, named))
        for missing in _not_in(strip, which, part, made):
            line: dict[str, Any] = {
                "grams": missing.grams,
                "plus_minus": missing.expanded if own else 0.0,
                "counted": False,
            }
            line.update(named)
            line["reason"] = _reason(strip, which, part)
            found.append(line)
    return found


def rounding_of(amounts: list[Any]) -> float:
    """How far, in g, a sum of these as they are shown, rounded, may lie from theirs: 2 standard uncertainties."""
    variance = 0.0
    for amount in amounts:
        if amount is not None and abs(amount.grams) > CLOSE:
            shown = shown_amount(amount)
            variance += (10.0 ** last_place(shown) * GRAMS_IN[shown["unit"]]) ** 2 / 12.0
    return 2.0 * math.sqrt(variance)


def _counted(strip: Strip, part: Thing, amount: Amount, made: Any, named: dict[str, Any]) -> dict[str, Any]:
    masses, back = strip.masses(part.id), strip.line(part.id).back
    terms, states, figures = [], [], []
    for state, sign in made or ():
        mass = back.amount if state == "fasteners" else masses[state]
        terms.append(sign * mass.grams)
        states.append(state)
        if state != "fasteners":
            figures += _figures(strip, part, mass, sign)
    line = {"grams": amount.grams, "pieces": part.values.get("pieces") or 1, "counted": True}
    line.update(named)
    line.update(terms=terms, states=states, figures=figures)
    return line


def _made_of(strip: Strip, part: Thing, amount: Any) -> Any:
    """Of which masses the amount is made, ((state, sign), ...), or None where that is not to be seen."""
    if amount is None or abs(amount.grams) <= CLOSE:
        return ()
    masses, back = strip.masses(part.id), strip.line(part.id).back
    for turn in (1.0, -1.0):
        for made in _MADE_OF:
            if any(masses.get(state) is None for state, _ in made):
                continue
            grams = sum([turn * sign * masses[state].grams for state, sign in made])
            signed = tuple([(state, turn * sign) for state, sign in made])
            if abs(grams - amount.grams) < CLOSE:
                return signed
            for along in (1.0, -1.0) if back is not None else ():
                if abs(grams + along * back.amount.grams - amount.grams) < CLOSE:
                    return signed + (("fasteners", along),)
    return None


def _figures(strip: Strip, part: Thing, mass: Any, sign: float) -> list[dict[str, Any]]:
    """The figures that a mass was read from, and what a gram more of each adds to the sum."""
    entries = [strip.entries[used] for used in mass.used]
    by_id = {entry["id"]: entry for entry in entries}
    looks: dict[str, int] = {}
    for entry in entries:
        first = first_look(entry, by_id)
        looks[first] = looks.get(first, 0) + 1
    times = sign * (part.values.get("pieces") or 1) / mass.pieces
    found = []
    for entry in entries:
        if entry.get("grams"):
            text, unit = _as_read(entry)
            found.append({"text": text, "unit": unit, "times": times / looks[first_look(entry, by_id)]})
    return found


def _as_read(entry: dict[str, Any]) -> tuple[str, str]:
    """The figure and its unit as they were typed, or in grams where what was typed says something else."""
    words = (entry.get("as_read") or "").split(" ")
    text, unit = " ".join(words[:-1]), words[-1]
    read = read_figure(text)
    if unit in GRAMS_IN and read is not None and abs(read[0] * GRAMS_IN[unit] - entry["grams"]) < CLOSE:
        return text, unit
    return plain_number(entry["grams"]), "g"


def _not_in(strip: Strip, which: str, part: Thing, made: Any) -> list[Amount]:
    """What could be counted of a part and is not in the sum: each a way to count it by mistake."""
    masses = strip.masses(part.id)
    off, on, cut = masses.get("taken_off"), masses.get("going_on"), masses.get("after_cut")
    if which == "off":
        return [off] if off is not None and not part.values.get("off") else []
    if outcome_of(part.values) == "added":
        off, on = None, on or off
    if made is None:
        return []
    states = [state for state, _ in made]
    found = []
    if not states:
        if off is not None:
            found.append(off.times(-1.0))
        if off is not None and on is not None:
            found.append(added_up([off.times(-1.0), on]))
        if off is not None and cut is not None:
            found.append(added_up([off.times(-1.0), cut]))
    if on is not None and not any([masses.get(state) is on for state in states]):
        found.append(on)
    return [each for each in found if abs(each.grams) > CLOSE]


def _reason(strip: Strip, which: str, part: Thing) -> Any:
    if which == "off":
        return say("It is not off now.")
    line = strip.line(part.id)
    if line.reason is not None:
        return line.reason
    return say("Not changed in this spell.") if which == "spell" else say("It does not count in this sum.")
