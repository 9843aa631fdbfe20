"""What each part weighed, how well that is known, and what it changes: the mass statement."""

import math
from typing import Any

from .kinds import BASES
from .words import say

# A rectangle of half width a has the standard uncertainty a / sqrt(3) (GUM 4.3.7).
ROOT_3 = math.sqrt(3.0)
# Pieces of a kind are taken to weigh the same within 2 % (common practice, no source).
PIECE_DIFFERENCE = 0.02
# Growth by maturity, used as half widths (ECSS heritage categories: 5, 10 and 20 %).
MATURITY_FRACTION = {"known": 0.05, "similar": 0.10, "guess": 0.20}
# A figure in a document or worked out, with nothing said about how good it is (common practice, no source).
DOCUMENT_FRACTION = 0.005
WORKED_OUT_FRACTION = 0.10


class Mass:
    """A mass in grams with its standard uncertainty, its basis, and the readings it is from."""

    __slots__ = ("grams", "standard", "basis", "used", "pieces")

    def __init__(self, grams: float, standard: float, basis: str = "", used: Any = (), pieces: int = 0):
        self.grams, self.standard, self.basis = grams, standard, basis
        self.used, self.pieces = used, pieces


def quadrature(standards: list[float]) -> float:
    """Independent standard uncertainties together (GUM 5.1.2)."""
    return math.sqrt(sum(u * u for u in standards))


def one_look(reading: dict[str, Any]) -> tuple[float, float]:
    """A single reading as (grams, standard uncertainty in grams).

    A digital step delta is a rectangle: delta / (2 sqrt 3) (GUM F.2.2.1). A range
    read by eye is its middle with half its width over sqrt 3 (EURACHEM QUAM, app. E).
    """
    if reading.get("low_grams") is not None:
        low, high = reading["low_grams"], reading["high_grams"]
        return (low + high) / 2.0, (high - low) / 2.0 / ROOT_3
    grams, step, half_width = reading["grams"], reading.get("step_grams"), reading.get("plus_minus_grams")
    parts = []
    if half_width is not None:
        parts.append(half_width / ROOT_3)
    if step is not None and reading["basis"] in ("weighed", "document"):
        parts.append(step / 2.0 / ROOT_3)
    if not parts:
        parts.append(_fraction(reading) * grams / ROOT_3)
    return grams, quadrature(parts)


def _fraction(reading: dict[str, Any]) -> float:
    if reading["basis"] == "estimated":
        return MATURITY_FRACTION[reading["maturity"]]
    return DOCUMENT_FRACTION if reading["basis"] == "document" else WORKED_OUT_FRACTION


def looks_together(looks: list[dict[str, Any]]) -> tuple[float, float]:
    """Several looks at the same pieces: their mean, and its standard uncertainty.

    The scatter of the mean is s / sqrt(n) (GUM 4.2.3); the step of the scale is the
    same at each look and does not shrink.
    """
    pairs = [one_look(look) for look in looks]
    n = len(pairs)
    mean = sum(grams for grams, _ in pairs) / n
    resolution = max(standard for _, standard in pairs)
    if n == 1:
        return mean, resolution
    variance = sum((grams - mean) ** 2 for grams, _ in pairs) / (n - 1)
    return mean, quadrature([resolution, math.sqrt(variance / n)])


def of_pieces(readings: list[dict[str, Any]], pieces: int) -> Any:
    """The mass of all `pieces` from the readings of one state of a part, or None without any.

    The best basis there is counts alone: weighed, else a document, else worked out,
    else estimated (of the last three the latest). Readings of different pieces add;
    pieces not on the scale are assumed equal to those that were. A reading with the
    fasteners counts only where there is none without.
    """
    for basis in BASES:
        of_basis = _without_fasteners([reading for reading in readings if reading["basis"] == basis])
        if of_basis:
            return _total(of_basis if basis == "weighed" else _latest(of_basis), pieces, basis)
    return None


def _latest(readings: list[dict[str, Any]]) -> list[dict[str, Any]]:
    # A figure for one piece does not add to a figure for both: only the newest speaks.
    return [{key: value for key, value in readings[-1].items() if key != "again"}]


def _first_look(reading: dict[str, Any], by_id: dict[str, dict[str, Any]]) -> str:
    """The id that looks at the same pieces share, also where the first of them is struck."""
    first = reading["id"]
    for _ in range(len(by_id)):
        again = by_id[first].get("again") if first in by_id else None
        if again is None:
            break
        first = again
    return str(first)


def _without_fasteners(readings: list[dict[str, Any]]) -> list[dict[str, Any]]:
    # A part with and without its bolts is two different masses; without is the part's own.
    bare = [reading for reading in readings if not reading.get("with_fasteners")]
    return bare or readings


def _total(readings: list[dict[str, Any]], pieces: int, basis: str) -> Mass:
    by_first: dict[str, list[dict[str, Any]]] = {}
    by_id = {reading["id"]: reading for reading in readings}
    for reading in readings:
        by_first.setdefault(_first_look(reading, by_id), []).append(reading)
    grams, variance, on_scale = 0.0, 0.0, 0
    for first in sorted(by_first):
        mean, standard = looks_together(by_first[first])
        grams += mean
        variance += standard * standard
        on_scale += by_first[first][0]["pieces"]
    scale = pieces / on_scale
    assumed = max(0, pieces - on_scale)
    one_assumed = PIECE_DIFFERENCE * grams / on_scale / ROOT_3
    standard = math.sqrt(variance * scale * scale + assumed * one_assumed * one_assumed)
    return Mass(grams * scale, standard, basis, tuple(sorted(by_id)), on_scale)


class Line:
    """One part in the mass statement; masses in grams, `change` negative when the machine lost.

    `change` is since the machine came in, `standard_change` against the standard
    machine, `spell_change` since the spell began: pairs (grams, standard
    uncertainty), or None where nothing is known.
    """

    __slots__ = ("off", "on", "change", "standard_change", "spell_change", "counted", "reason", "unweighed", "basis")

    def __init__(self) -> None:
        self.off: Any = None
        self.on: Any = None
        self.change: Any = (0.0, 0.0)
        self.standard_change: Any = (0.0, 0.0)
        self.spell_change: Any = (0.0, 0.0)
        self.counted = False
        self.reason: Any = None
        self.unweighed = False
        self.basis: list[str] = []


def state_masses(readings: list[dict[str, Any]], pieces: int) -> dict[str, Any]:
    """The mass of each state a part was weighed in: taken_off, going_on, after_cut, offcut."""
    found: dict[str, list[dict[str, Any]]] = {}
    for reading in readings:
        found.setdefault(reading["weighed_as"], []).append(reading)
    return {state: of_pieces(found[state], pieces) for state in found}


def line(part: dict[str, Any], masses: dict[str, Any], before: dict[str, Any]) -> Line:
    """The line of one part.

    `part` holds the values of its fields, `masses` what `state_masses` gave, and
    `before` the values of "off" and "outcome_done" when the spell began.
    """
    out = Line()
    out.off, out.on = masses.get("taken_off"), _going_on(part, masses) or masses.get("after_cut")
    if out.on is out.off:
        out.off = None
    now = _change(part, masses)
    then = _change(dict(part, off=before.get("off"), outcome_done=before.get("outcome_done")), masses)
    out.change, out.counted, out.reason, out.basis = now["pair"], now["counted"], now["reason"], now["basis"]
    if not out.basis:
        # What is known of a part is worth seeing, also where it does not count.
        out.basis = sorted(set(each.basis for each in (out.off, out.on) if each is not None))
    out.unweighed = now["pair"] is None
    out.spell_change = _difference(now, then)
    out.standard_change = _against_standard(part, now, out.off)
    if out.standard_change is None:
        out.unweighed = True
    return out


def _sum_of(terms: list[tuple[float, Any]]) -> Any:
    """Signed masses together as (grams, standard uncertainty); None when one is not known."""
    if any(mass is None for _, mass in terms):
        return None
    return (sum(sign * mass.grams for sign, mass in terms), quadrature([mass.standard for _, mass in terms]))


def _result(terms: list[tuple[float, Any]], reason: Any = None) -> dict[str, Any]:
    pair = _sum_of(terms)
    basis = sorted(set(mass.basis for _, mass in terms if mass is not None))
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


def total(pairs: list[Any]) -> tuple[float, float]:
    """The sum of (grams, standard uncertainty) pairs; those not known are left out."""
    known = [pair for pair in pairs if pair is not None]
    return (sum(pair[0] for pair in known), quadrature([pair[1] for pair in known]))
