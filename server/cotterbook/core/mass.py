"""What each part changes: the lines of the mass statement.

A line is made of signed terms, each an `Amount`: what came off, less; what went on, more; and the fasteners
that were on the scale with either and are not off, or not new, with it ("given back").
"""

from typing import Any

from .amounts import Amount, together
from .words import say


class Line:
    """One part in the mass statement; masses in grams, `change` negative when the machine lost.

    `change` is since the machine came in, `standard_change` against the standard
    machine, `spell_change` since the spell began: amounts, or None where something
    is not known. `off` and `on` are the masses as weighed, or None. `back` holds the
    fasteners that were weighed along and count nowhere (`GivenBack`), or None; `along`
    the signs of the counted masses that were weighed with fasteners, -1 off, 1 on.
    """

    __slots__ = (
        "off", "on", "change", "standard_change", "spell_change", "counted", "reason", "unweighed", "basis", "back",
        "along",
    )  # fmt: skip

    def __init__(self) -> None:
        self.off: Any = None
        self.on: Any = None
        self.change: Any = NOTHING
        self.standard_change: Any = NOTHING
        self.spell_change: Any = NOTHING
        self.counted = False
        self.reason: Any = None
        self.unweighed = False
        self.basis: list[str] = []
        self.back: Any = None
        self.along: tuple[float, ...] = ()


NOTHING = Amount(0.0)


class GivenBack:
    """Fasteners weighed along that the machine has not lost, or not gained.

    `count` of them, of which the mass of `known` is known; `amount` is what those weigh,
    signed as it is added to the line.
    """

    __slots__ = ("count", "known", "amount")

    def __init__(self, count: int, known: int, amount: Amount):
        self.count, self.known, self.amount = count, known, amount


def line(part: dict[str, Any], masses: dict[str, Any], before: Any, fasteners: Any = None) -> Line:
    """The line of one part.

    `part` holds the values of its fields, `masses` what `readings.state_masses`
    gave, `before` the values of "off" and "outcome_done" when the spell began (None
    without a spell). `fasteners(then)` gives the part's groups as
    (on the machine, elsewhere but to come back, mass of one or None), as they are
    now or, with `then`, when the spell began.
    """
    out = Line()
    out.off, out.on = masses.get("taken_off"), _going_on(part, masses) or masses.get("after_cut")
    if out.on is out.off:
        out.off = None
    now = _change(part, masses)
    out.along = _along(now)
    if fasteners is not None and len(out.along) == 1:
        out.back = _give_back(part, now, fasteners(False))
    out.change, out.counted, out.reason, out.basis = now["pair"], now["counted"], now["reason"], now["basis"]
    if not out.basis:
        # What is known of a part is worth seeing, also where it does not count.
        out.basis = sorted(set(each.basis for each in (out.off, out.on) if each is not None))
    out.unweighed = now["pair"] is None
    if before is None:
        out.spell_change = now["pair"]
    else:
        then = _change(dict(part, off=before.get("off"), outcome_done=before.get("outcome_done")), masses)
        if fasteners is not None and len(_along(then)) == 1:
            _give_back(part, then, fasteners(True))
        out.spell_change = _difference(now, then)
    out.standard_change = _against_standard(part, now, out.off)
    if out.standard_change is None:
        out.unweighed = True
    return out


def _sum_of(terms: list[tuple[float, Any]]) -> Any:
    """Signed masses together; None when one is not known."""
    if not terms:
        return NOTHING
    for _, mass in terms:
        if mass is None:
            return None
    return together([mass if sign == 1.0 else mass.times(sign) for sign, mass in terms])


def _along(change: dict[str, Any]) -> tuple[float, ...]:
    """Which ways fasteners weighed along are in a change: -1 they left with it, 1 they came with it.

    Where both what came off and what went on had fasteners on the scale, they are
    taken to be the same ones, and nothing is left to give back.
    """
    if not change["counted"]:
        return ()
    return tuple(sorted(set([sign for sign, mass in change["terms"] if mass.with_fasteners])))


def _give_back(part: dict[str, Any], change: dict[str, Any], groups: Any) -> Any:
    """Adds to a change the fasteners weighed along that stay on the machine, or were on it before.

    What came off with its fasteners: those of them that are on the machine again
    are given back. What went on, or was weighed after a cut, with the machine's own
    fasteners where they had not been weighed as they came off: those are taken out
    again. A part that is cut goes back on, and so do its fasteners that are in a bag.
    Fasteners of what is new to the machine, or was missing, are new with it.
    """
    if part.get("came_in") in ("missing", "new"):
        return None
    sign, count, known, amounts = -_along(change)[0], 0, 0, []
    for on, to_come, each in groups:
        here = max(0, on) + (max(0, to_come) if outcome_of(part) == "cut_down" else 0)
        count += here
        if here and each is not None:
            known += here
            amounts.append(each.times(here))
    if not count:
        return None
    # Signs as of a term, so that the same fasteners in `now` and `then` cancel by their cause.
    back = together(amounts).times(sign)
    change["terms"] = change["terms"] + [(1.0, back)]
    change["pair"] = together([change["pair"], back])
    return GivenBack(count, known, back)


def _result(terms: list[tuple[float, Any]], reason: Any = None) -> dict[str, Any]:
    pair = _sum_of(terms)
    basis = sorted(set([mass.basis for _, mass in terms if mass is not None]))
    if pair is None:
        reason = say("Not weighed yet.")
    return {"terms": terms, "pair": pair, "counted": bool(terms) and pair is not None, "reason": reason, "basis": basis}


def outcome_of(part: dict[str, Any]) -> Any:
    """The outcome decided for a part; one that is new to the machine can only be added."""
    return part.get("outcome") or ("added" if part.get("came_in") == "new" else None)


def is_done(part: dict[str, Any]) -> bool:
    """Whether the outcome is done: said so, or seen from the part being off or on."""
    if part.get("outcome") == "stays_off":
        return bool(part.get("off"))
    return bool(part.get("outcome_done"))


def is_off(values: dict[str, Any]) -> bool:
    """Whether the machine is now without the part: off, it was there to come off, and nothing took its place."""
    return (
        bool(values.get("off"))
        and values.get("came_in") not in ("missing", "new")
        and not (values.get("outcome") == "swapped" and values.get("outcome_done"))
    )


def _going_on(part: dict[str, Any], masses: dict[str, Any]) -> Any:
    # What is new to the machine has one mass, however the reading was called.
    one_mass = masses.get("taken_off") if outcome_of(part) == "added" and part.get("came_in") != "missing" else None
    return masses.get("going_on") or one_mass


def _change(part: dict[str, Any], masses: dict[str, Any]) -> dict[str, Any]:
    """What the part changes since the machine came in, as signed masses and in words."""
    off, done = bool(part.get("off")), bool(part.get("outcome_done"))
    outcome = outcome_of(part)
    taken_off, going_on = masses.get("taken_off"), _going_on(part, masses)
    was_there = part.get("came_in") not in ("missing", "new")
    if not was_there and outcome not in ("added", "swapped"):
        gone = part.get("came_in") == "missing"
        text = "Already missing when the machine came in." if gone else "New, and not on the machine: not counted."
        return _result([], say(text))
    if outcome == "goes_back":
        return _result([], say("Goes back on: not counted.") if off else say("Back on: not counted."))
    if outcome == "moved":
        return _result([], say("Moved: its mass stays on the machine."))
    if outcome == "cut_down":
        return _cut(masses, done)
    if outcome == "added":
        return _result([(1.0, going_on)]) if done else _result([], say("Not on yet: not counted."))
    # A replacement can only be on where the old part is off, whatever the log says of that.
    terms = [(-1.0, taken_off)] if (off or outcome == "swapped" and done) and was_there else []
    if outcome == "swapped" and (off or done):
        if done:
            return _result(terms + [(1.0, going_on)])
        return _result(terms, say("The replacement is not on yet: only what came off is counted."))
    if not off:
        still_on = say("Still on: not counted yet.") if outcome else say("On the machine: not counted.")
        return _result([], still_on)
    return _result(terms, None if outcome else say("Not decided yet: counted as staying off."))


def _cut(masses: dict[str, Any], done: bool) -> dict[str, Any]:
    if not done:
        return _result([], say("Not cut yet: not counted."))
    if masses.get("offcut") is not None:
        return _result([(-1.0, masses["offcut"])])
    return _result([(1.0, masses.get("after_cut")), (-1.0, masses.get("taken_off"))])


def _difference(now: dict[str, Any], then: dict[str, Any]) -> Any:
    """Now less then, where what is in both leaves nothing and no uncertainty."""
    terms = [term for term in now["terms"] if term not in then["terms"]]
    terms += [(-sign, mass) for sign, mass in then["terms"] if (sign, mass) not in now["terms"]]
    return _sum_of(terms)


def _against_standard(part: dict[str, Any], now: dict[str, Any], own: Any) -> Any:
    """The change since it came in, and what set the machine apart from standard before that."""
    if part.get("came_in") == "missing":
        return _sum_of(now["terms"] + [(-1.0, own)])
    if part.get("came_in") == "accessory":
        rest = [term for term in now["terms"] if term != (-1.0, own)]
        return _sum_of(rest + ([(1.0, own)] if len(rest) == len(now["terms"]) else []))
    return now["pair"]
