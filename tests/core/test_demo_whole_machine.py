"""The demo's machine, predicted and weighed, against the package `uncertainties`, from the figures of the story."""

import json
import math
from pathlib import Path

import pytest
from uncertainties import ufloat

from cotterbook.core import phone

DEMO = Path(__file__).resolve().parents[2] / "demo_data"
LOG = [json.loads(line) for line in (DEMO / "entries.jsonl").read_text(encoding="utf-8").splitlines()]
SUM, EXPANDED = json.loads((DEMO / "expected_sums.json").read_text(encoding="utf-8"))["sums"]["came_in"]
ROOT_3 = math.sqrt(3)
# What the hanging scale weighed of the sum: centre stand, battery and guard bars off, subframe on.
ON_THE_HANGING_SCALE = -3620 - 4120 - 4140 + 6340


def view(name, **arguments):
    call = phone.start(lambda: pytest.fail("views make no ids"))
    strip = LOG[0]["strip"]
    call("load", json.dumps({"strip": strip, "entries": LOG}))
    return json.loads(call("view", json.dumps({"strip": strip, "view": name} | arguments)))["result"]


def step(grams):
    return ufloat(0, grams / 2 / ROOT_3)


def independent():
    """(predicted, weighed) with every shared cause one variable: both gains, and the density of petrol (EN 228)."""
    hanging, platform = ufloat(0, 0.005 / ROOT_3), ufloat(0, 0.004 / ROOT_3)
    petrol = ufloat(747.5, 27.5 / ROOT_3)
    own = math.sqrt((EXPANDED / 2) ** 2 - (ON_THE_HANGING_SCALE * 0.005 / ROOT_3) ** 2)
    changed = ufloat(SUM, own) + ON_THE_HANGING_SCALE * hanging
    beside = ufloat(412, 41.2 / ROOT_3) + 4280 * (1 + hanging) + step(20) + 395 + step(1)
    fuel = (ufloat(4, 0.3 / ROOT_3) - ufloat(6, 0.5 / ROOT_3)) * petrol
    came_in = 209_000 * (1 + platform) + step(500) + step(500)
    return came_in + changed - beside + fuel, 197_000 * (1 + platform) + step(500) + step(500)


def as_shown(shown):
    """(value, plus or minus, what one of the last digit is worth), in grams; noughts at the end tell nothing."""
    grams, spread = {"g": 1, "kg": 1000}[shown["unit"]], shown["plus_minus"]
    whole, _, decimals = spread.partition(".")
    places = len(decimals) if decimals else len(whole.rstrip("0")) - len(whole)
    return float(shown["value"]) * grams, float(spread) * grams, grams * 10.0**-places


def test_predicted_against_weighed():
    predicted, weighed = independent()
    found = view("weigh_in")["weighings"][1]
    prediction = found["predictions"][0]
    difference = weighed - predicted
    for shown, ours in (
        (prediction["expected"], predicted),
        (found["total"], weighed),
        (prediction["agreement"]["difference"], difference),
    ):
        value, spread, last_digit = as_shown(shown)
        assert value == pytest.approx(ours.n, abs=last_digit / 2 + 1e-6)
        assert spread == pytest.approx(2 * ours.s, abs=last_digit)
    assert prediction["agreement"]["agrees"] is (abs(difference.n) <= 2 * difference.s)
    assert float(prediction["agreement"]["number"]) == pytest.approx(abs(difference.n) / (2 * difference.s), abs=0.05)


def test_the_total_on_the_door_is_explained_by_the_slip_that_was_made():
    answer = view("tally", which="came_in", total="9,20", unit="kg")["answer"]
    assert answer["count"] == 1 and answer["taken_as_loss"]
    (slip,) = answer["sets"][0]["slips"]
    assert (slip["name"], slip["kind"]) == ("Centre stand", "counted_twice")
