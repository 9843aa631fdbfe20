"""Sums of masses against the general-purpose package `uncertainties`, on random readings.

There each thing that nobody knows is one variable: the gain of a scale, its zero, the step at one look, the density of
one fluid. What two readings share is the same variable in both, and the package works out the correlations itself.
"""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from uncertainties import ufloat

from cotterbook.core.amounts import together
from cotterbook.core.fluids import DENSITIES
from cotterbook.core.readings import PIECE_DIFFERENCE, looks_together, of_pieces, one_look
from cotterbook.core.strip import Strip
from cotterbook.core.views import exact_view
from vectors.cases import FIRST_AT, identifier

SCALES = ("kitchen", "luggage", "bench")
ROOT_3 = math.sqrt(3.0)

grams = st.integers(2, 40_000).map(lambda tenths: tenths / 10.0)
half_widths = st.integers(0, 50).map(lambda tenths: tenths / 10.0)


def about(value, standard):
    """A variable of the package; what is known for sure is a number there."""
    return ufloat(value, standard) if standard > 0.0 else value


@st.composite
def cards(draw):
    """The card of each scale: step, gain, zero."""
    return {
        name: {
            "step_grams": draw(st.sampled_from([0.1, 1.0, 5.0])),
            "gain_percent": draw(half_widths),
            "zero_grams": draw(half_widths),
        }
        for name in SCALES
    }


@st.composite
def readings(draw, number):
    """A reading of any kind, with the fields an entry has."""
    reading = {"id": f"look {number}", "pieces": 1, "weighed_as": "taken_off"}
    kind = draw(st.sampled_from(["scale", "tare", "range", "estimate", "fluid"]))
    if kind == "fluid":
        return reading | {
            "basis": "worked_out",
            "fluid": draw(st.sampled_from(sorted(DENSITIES))),
            "litres": draw(st.integers(1, 200)) / 10.0,
            "plus_minus_litres": draw(st.integers(1, 10)) / 10.0,
        }
    if kind == "estimate":
        return reading | {"basis": "estimated", "maturity": "similar", "grams": draw(grams)}
    reading |= {"basis": "weighed", "on_scale": draw(st.sampled_from(SCALES))}
    if kind == "range":
        low = draw(grams)
        return reading | {"low_grams": low, "high_grams": low + 0.1 + draw(half_widths)}
    reading["grams"] = draw(grams)
    return reading | ({"tare_grams": reading["grams"] * draw(st.integers(1, 9)) / 10.0} if kind == "tare" else {})


lists = st.integers(1, 6).flatmap(lambda many: st.tuples(*[readings(number) for number in range(many)]))


class Unknown:
    """What nobody knows, each thing once; all of it is zero, give or take."""

    def __init__(self):
        self.variables = {}

    def within(self, name, half_width):
        """A rectangle of this half width, as the one variable of that name."""
        return self.variables.setdefault(name, about(0.0, half_width / ROOT_3))

    def mass(self, reading, cards):
        """What lay on the scale, as the physics of a look says."""
        look = reading["id"]
        if "litres" in reading:
            low, high, _ = DENSITIES[reading["fluid"]]
            density = (low + high) / 2.0 + self.within("density " + reading["fluid"], (high - low) / 2.0)
            return (reading["litres"] + self.within("litres " + look, reading["plus_minus_litres"])) * density
        if reading["basis"] == "estimated":
            return reading["grams"] + self.within("estimate " + look, 0.10 * reading["grams"])
        name, card = reading["on_scale"], cards[reading["on_scale"]]
        zero, half_step = self.within("zero " + name, card["zero_grams"]), card["step_grams"] / 2.0
        if "low_grams" in reading:
            low, high = reading["low_grams"], reading["high_grams"]
            shown = (low + high) / 2.0 + self.within("range " + look, (high - low) / 2.0)
        else:
            shown = reading["grams"] + self.within("step " + look, half_step)
        net = shown + zero
        if "tare_grams" in reading:
            net -= reading["tare_grams"] + self.within("tare " + look, half_step) + zero
        return net * (1.0 + self.within("gain " + name, card["gain_percent"] / 100.0))


@given(lists, cards(), st.data())
@settings(max_examples=200, deadline=None)
def test_signed_sums_of_readings_with_shared_gain_zero_and_density(looks, cards, data):
    signs = data.draw(st.lists(st.sampled_from([-1.0, 1.0, 2.0]), min_size=len(looks), max_size=len(looks)))
    ours = together([one_look(look, cards.get).times(sign) for look, sign in zip(looks, signs, strict=True)])
    unknown = Unknown()
    theirs = sum(sign * unknown.mass(look, cards) for look, sign in zip(looks, signs, strict=True))
    assert ours.grams == pytest.approx(theirs.nominal_value, abs=1e-6)
    assert ours.standard == pytest.approx(theirs.std_dev, rel=1e-9, abs=1e-6)


@given(st.lists(grams, min_size=2, max_size=5), cards())
@settings(max_examples=100, deadline=None)
def test_the_mean_of_looks_on_one_scale_keeps_its_gain_and_step_whole(figures, cards):
    """The step is one unknown for all looks, since a still scale rounds the same way each time; scatter shrinks."""
    card = cards["bench"]
    looks = [
        {"id": str(n), "basis": "weighed", "grams": each, "pieces": 1, "on_scale": "bench"}
        for n, each in enumerate(figures)
    ]
    ours = looks_together(looks, cards.get)
    mean = sum(figures) / len(figures)
    scatter = math.sqrt(sum((each - mean) ** 2 for each in figures) / (len(figures) - 1) / len(figures))
    gain = about(1.0, card["gain_percent"] / 100.0 / ROOT_3)
    zero, step = about(0.0, card["zero_grams"] / ROOT_3), about(0.0, card["step_grams"] / 2.0 / ROOT_3)
    theirs = (mean + about(0.0, scatter)) * gain + zero + step
    assert ours.grams == pytest.approx(theirs.nominal_value)
    assert ours.standard == pytest.approx(theirs.std_dev, rel=1e-9)


@given(grams, st.integers(1, 6), st.integers(1, 6))
def test_pieces_not_weighed_are_equal_but_each_by_itself(figure, on_scale, pieces):
    """Each piece that was not on the scale is the mean of those that were, within 2 % of its own."""
    look = {"id": "a", "basis": "weighed", "grams": figure, "step_grams": 0.0, "pieces": on_scale}
    ours = of_pieces([look], pieces)
    each = figure / on_scale
    others = [about(each, PIECE_DIFFERENCE * each / ROOT_3) for _ in range(max(0, pieces - on_scale))]
    theirs = each * min(pieces, on_scale) + sum(others) + ufloat(0.0, 1e-12)
    assert ours.grams == pytest.approx(theirs.nominal_value)
    assert ours.standard == pytest.approx(theirs.std_dev, rel=1e-9, abs=1e-9)


def strip_of(parts, cards):
    """A strip-down of the parts: (outcome, outcome_done, readings) each, and the scales with their cards."""
    found = []

    def entry(**fields):
        n = len(found)
        stamp = {"strip": identifier("@strip"), "at": FIRST_AT + n, "by": identifier("@phone"), "who": "Ann"}
        found.append(stamp | {"id": identifier(f"@entry {n}", FIRST_AT + n)} | fields)

    for name in cards:
        # What is nought is left out, as it is when it is typed.
        card = {"name": name} | {field: cards[name][field] for field in cards[name] if cards[name][field] > 0.0}
        entry(kind="set", thing=identifier("@" + name), type="scale", values=card)
    for n, (values, looks) in enumerate(parts):
        part = identifier(f"@part {n}")
        entry(kind="set", thing=part, type="part", values={"name": f"Part {n}", "off": True} | values)
        for look in looks:
            scale = {}
            if "on_scale" in look:
                step = {"step_grams": cards[look["on_scale"]]["step_grams"]} if "grams" in look else {}
                scale = {"on_scale": identifier("@" + look["on_scale"])} | step
            fields = {key: look[key] for key in look if key != "id"} | scale
            entry(kind="weigh", part=part, **fields)
    strip = Strip(identifier("@strip"))
    strip.add(found)
    assert not strip.not_understood
    return strip


@given(st.lists(st.tuples(readings("off"), readings("on")), min_size=1, max_size=5), cards())
@settings(max_examples=80, deadline=None)
def test_the_sum_of_a_strip_down_of_swaps(pairs, cards):
    """A swap is on less off; through the whole log, with every scale's gain shared by all that it weighed."""
    parts, unknown, theirs = [], Unknown(), 0.0
    for n, (off, on) in enumerate(pairs):
        on = on | {"weighed_as": "going_on"}
        parts.append(({"outcome": "swapped", "outcome_done": True}, [off, on]))
        for sign, look in ((-1.0, off), (1.0, on)):
            theirs += sign * unknown.mass(look | {"id": f"{n} {look['id']}"}, cards)
    total, standard = exact_view(strip_of(parts, cards), {})["came_in"]
    assert total == pytest.approx(theirs.nominal_value, abs=1e-6)
    assert standard == pytest.approx(theirs.std_dev, rel=1e-9, abs=1e-6)
