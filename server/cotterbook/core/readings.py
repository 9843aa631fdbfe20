"""Looks at a scale and other figures of a mass: what each says, and what it is uncertain by.

Causes of uncertainty, each a standard uncertainty in grams:

- "step:<reading>" the step of the scale, "range:<reading>" a figure that wandered;
- "given:<reading>" a half width that somebody wrote;
- "document:", "worked_out:", "maturity:<reading>" where nothing was said about how good the figure is;
- "scatter:<first look>" of several looks at the same pieces, with their degrees of freedom;
- "pieces:<first look>" pieces that were not weighed, taken as equal;
- "gain:<scale>" the scale shows too much or too little by the same part of what lies on it, at every look;
- "zero:<scale>" it shows the same too much or too little at every look, also when empty;
- "tare:<reading>" the step of the look at the empty container;
- "litres:<reading>" and "density:<fluid>" of drained fluids.

The gain goes with the net figure: of a container's mass, both looks are off by the
same. The zero counts once for each thing put on the scale, and cancels where a
tare is taken off, since both looks were off by it.
"""

from typing import Any

from .amounts import ROOT_3, Amount, together
from .fluids import fluid_amount
from .limits import BASES

# Pieces of a kind are taken to weigh the same within 2 % (common practice, no source).
PIECE_DIFFERENCE = 0.02
# Growth by maturity, used as half widths (ECSS heritage categories: 5, 10 and 20 %).
MATURITY_FRACTION = {"known": 0.05, "similar": 0.10, "guess": 0.20}
# A figure in a document or worked out, with nothing said about how good it is (common practice, no source).
DOCUMENT_FRACTION = 0.005
WORKED_OUT_FRACTION = 0.10


class Mass(Amount):
    """The mass of all pieces of a part in one state: an amount with its basis and the readings it is from.

    `pieces` is how many of them the readings hold, `with_fasteners` whether their fasteners were weighed along.
    """

    __slots__ = ("basis", "used", "pieces", "with_fasteners")

    def __init__(self, amount: Amount, basis: str, readings: list[dict[str, Any]], pieces: int):
        super().__init__(amount.grams, amount.causes)
        self.basis, self.pieces = basis, pieces
        self.used = tuple(sorted([reading["id"] for reading in readings]))
        self.with_fasteners = any([reading.get("with_fasteners") for reading in readings])


def no_scale(scale: str) -> Any:
    """No scale is known."""
    return None


def one_look(reading: dict[str, Any], scale_of: Any = no_scale) -> Amount:
    """A single reading, in grams.

    `scale_of(id)` gives the fields of a scale that has a card, or None. A digital
    step delta is a rectangle: delta / (2 sqrt 3) (GUM F.2.2.1). A range read by eye
    is its middle with half its width over sqrt 3 (EURACHEM QUAM, app. E).
    """
    own = _own(reading, scale_of)
    _add_scale(own, reading, scale_of)
    return own


def _own(reading: dict[str, Any], scale_of: Any) -> Amount:
    """What the look is by itself, the scale's gain and zero apart."""
    look = reading["id"] if "id" in reading else ""
    if reading.get("litres") is not None:
        return fluid_amount(reading["fluid"], reading["litres"], reading.get("plus_minus_litres"), look)
    tare = reading.get("tare_grams")
    if reading.get("low_grams") is not None:
        low, high = reading["low_grams"], reading["high_grams"]
        found = Amount((low + high) / 2.0, {"range:" + look: ((high - low) / 2.0 / ROOT_3, None)})
        empty = step_of(reading, scale_of) or high - low
    else:
        found = Amount(reading["grams"], _spread(reading, look, scale_of))
        empty = step_of(reading, scale_of)
    if tare is not None:
        found.grams -= tare
        if empty:
            found.causes["tare:" + look] = (empty / 2.0 / ROOT_3, None)
    return found


def _spread(reading: dict[str, Any], look: str, scale_of: Any) -> dict[str, Any]:
    step, half_width, basis = step_of(reading, scale_of), reading.get("plus_minus_grams"), reading["basis"]
    causes: dict[str, Any] = {}
    if half_width is not None:
        causes["given:" + look] = (half_width / ROOT_3, None)
    if step is not None and basis in ("weighed", "document"):
        causes["step:" + look] = (step / 2.0 / ROOT_3, None)
    if not causes:
        name = "maturity:" if basis == "estimated" else basis + ":"
        causes[name + look] = (_fraction(reading) * reading["grams"] / ROOT_3, None)
    return causes


def step_of(reading: dict[str, Any], scale_of: Any) -> Any:
    """The step a reading was read to, in grams: its own or its scale's as the card has it now, the wider of them.

    So a card that is put right later puts right what was weighed by it.
    """
    step = reading.get("step_grams")
    scale = scale_of(reading["on_scale"]) if "on_scale" in reading and reading["basis"] == "weighed" else None
    of_scale = scale.get("step_grams") if scale is not None else None
    return of_scale if step is None else step if of_scale is None else max(step, of_scale)


def _add_scale(found: Amount, reading: dict[str, Any], scale_of: Any) -> None:
    """The gain and the zero of the scale that was looked at, where it has a card."""
    scale = scale_of(reading["on_scale"]) if "on_scale" in reading and reading["basis"] == "weighed" else None
    if scale is None:
        return
    gain, zero = scale.get("gain_percent"), scale.get("zero_grams")
    if gain:
        found.causes["gain:" + reading["on_scale"]] = (gain / 100.0 * found.grams / ROOT_3, None)
    if zero and reading.get("tare_grams") is None:
        found.causes["zero:" + reading["on_scale"]] = (zero / ROOT_3, None)


def _fraction(reading: dict[str, Any]) -> float:
    if reading["basis"] == "estimated":
        return MATURITY_FRACTION[reading["maturity"]]
    return DOCUMENT_FRACTION if reading["basis"] == "document" else WORKED_OUT_FRACTION


def looks_together(looks: list[dict[str, Any]], scale_of: Any = no_scale) -> Amount:
    """Several looks at the same pieces: their mean.

    The scatter of the mean is s / sqrt(n), with n - 1 degrees of freedom (GUM 4.2.3);
    the step of the scale is the same at each look and does not shrink, and the gain
    and zero of each scale count by its part of the looks.
    """
    if len(looks) == 1:
        return one_look(looks[0], scale_of)
    n, own = len(looks), [_own(look, scale_of) for look in looks]
    mean = sum([each.grams for each in own]) / n
    variance = sum([(each.grams - mean) ** 2 for each in own]) / (n - 1)
    coarsest = own[0]
    for each in own:
        if each.standard > coarsest.standard:
            coarsest = each
    of_scales = []
    for index in range(n):
        of_scale = Amount(own[index].grams)
        _add_scale(of_scale, looks[index], scale_of)
        of_scales.append(of_scale.times(1.0 / n))
    causes = dict(together(of_scales).causes)
    causes.update(coarsest.causes)
    if variance > 0.0:
        causes["scatter:" + looks[0]["id"]] = ((variance / n) ** 0.5, n - 1)
    return Amount(mean, causes)


def of_pieces(readings: list[dict[str, Any]], pieces: int, scale_of: Any = no_scale) -> Any:
    """The mass of all `pieces` from the readings of one state of a part, or None without any.

    The best basis there is counts alone: weighed, else a document, else worked out,
    else estimated (of the last three the latest, but of litres all). Readings of
    different pieces add; pieces not on the scale are assumed equal to those that
    were. A reading with the fasteners counts only where there is none without.
    """
    for basis in BASES:
        of_basis = [reading for reading in readings if reading["basis"] == basis]
        if of_basis:
            bare = [reading for reading in of_basis if not reading.get("with_fasteners")]
            # A part with and without its bolts is two different masses; without is the part's own.
            return _total(_speaking(bare or of_basis, basis), pieces, basis, scale_of)
    return None


def _speaking(readings: list[dict[str, Any]], basis: str) -> list[dict[str, Any]]:
    """Of readings on one basis, those that count."""
    if basis == "weighed":
        return readings
    if readings[-1].get("litres") is not None:
        return [reading for reading in readings if reading.get("litres") is not None]
    # A figure for one piece does not add to a figure for both: only the newest speaks.
    return [{key: value for key, value in readings[-1].items() if key != "again"}]


def first_look(reading: dict[str, Any], by_id: dict[str, dict[str, Any]]) -> str:
    """The id that looks at the same pieces share, also where the first of them is struck."""
    first = reading["id"]
    for _ in range(len(by_id)):
        again = by_id[first].get("again") if first in by_id else None
        if again is None:
            break
        first = again
    return str(first)


def _total(readings: list[dict[str, Any]], pieces: int, basis: str, scale_of: Any) -> Mass:
    if len(readings) == 1:
        looks = [readings]
    else:
        by_first: dict[str, list[dict[str, Any]]] = {}
        by_id = {reading["id"]: reading for reading in readings}
        for reading in readings:
            by_first.setdefault(first_look(reading, by_id), []).append(reading)
        looks = [by_first[first] for first in sorted(by_first)]
    weighed = together([looks_together(each, scale_of) for each in looks])
    on_scale = sum([each[0]["pieces"] for each in looks])
    if on_scale == pieces:
        return Mass(weighed, basis, readings, on_scale)
    found = weighed.times(pieces / on_scale)
    if pieces > on_scale:
        one_assumed = PIECE_DIFFERENCE * weighed.grams / on_scale / ROOT_3
        found.causes["pieces:" + looks[0][0]["id"]] = ((pieces - on_scale) ** 0.5 * one_assumed, None)
    return Mass(found, basis, readings, on_scale)


def state_masses(readings: list[dict[str, Any]], pieces: int, scale_of: Any = no_scale) -> dict[str, Any]:
    """The mass of each state a part was weighed in: taken_off, going_on, after_cut, offcut."""
    if len(readings) == 1:
        return {readings[0]["weighed_as"]: of_pieces(readings, pieces, scale_of)}
    found: dict[str, list[dict[str, Any]]] = {}
    for reading in readings:
        found.setdefault(reading["weighed_as"], []).append(reading)
    return {state: of_pieces(found[state], pieces, scale_of) for state in found}
