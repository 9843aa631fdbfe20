"""Axle heights taken by tape, and what their uncertainty does to the height of the centre of mass."""

import math
import random

import pytest
from uncertainties import ufloat, umath

from cotterbook.core.amounts import Amount
from cotterbook.core.balance import above_ground, height_above_axles
from cotterbook.core.places import AXLE, machine_measures
from cotterbook.core.quantities import minus


class Machine:
    """A machine of which only these values are known."""

    def __init__(self, **values: float):
        self.values = values


def own(value: float, standard: float, cause: str) -> Amount:
    return Amount(value, {cause: (standard, None)})


def test_a_measured_axle_is_known_as_a_rectangle_of_5_mm_either_way() -> None:
    """GUM 4.3.7: a half width a gives a / sqrt(3). The 5 mm: common practice, no source."""
    measures = machine_measures(Machine(front_axle_millimetres=300.0))
    assert measures["front_axle"].standard == pytest.approx(AXLE / math.sqrt(3.0)) == pytest.approx(2.8868, abs=1e-4)
    assert measures["rear_axle"] is None


@pytest.mark.parametrize("seed", range(25))
def test_the_height_above_the_ground_agrees_with_a_general_library(seed: int) -> None:
    """Against `uncertainties`: a lift test with its own scatter in everything, both axles among it."""
    print("seed", seed)
    shop = random.Random(seed)
    sizes = {
        "total": (shop.uniform(120_000, 320_000), 200.0), "front": (shop.uniform(58_000, 62_000), 100.0),
        "lifted": (shop.uniform(66_000, 80_000), 100.0), "raised": (shop.uniform(250, 600), 3.0),
        "base": (shop.uniform(1_300, 1_600), 3.0), "front_axle": (shop.uniform(280, 330), 3.0),
        "rear_axle": (shop.uniform(280, 330), 3.0), "along": (shop.uniform(500, 900), 2.0),
    }  # fmt: skip
    ours = {name: own(*sizes[name], name) for name in sizes}
    theirs = {name: ufloat(*sizes[name]) for name in sizes}
    larger = minus(ours["rear_axle"], ours["front_axle"])
    above = height_above_axles(ours["total"], ours["front"], ours["lifted"], ours["raised"], ours["base"], larger)
    found = above_ground(above, ours["along"], ours["front_axle"], ours["rear_axle"], ours["base"])
    # The same by the drawing: the line of the axles, its slope before and after, and a plumb line from the centre.
    rise = theirs["rear_axle"] - theirs["front_axle"]
    length = umath.sqrt(theirs["base"] ** 2 + rise**2)
    tangents = umath.tan(umath.asin((theirs["raised"] + rise) / length)) - umath.tan(umath.asin(rise / length))
    wanted = length * (theirs["lifted"] - theirs["front"]) / (theirs["total"] * tangents)
    assert above.grams == pytest.approx(wanted.nominal_value, rel=1e-9)
    assert above.standard == pytest.approx(wanted.std_dev, rel=1e-7)
    slope = rise / theirs["base"]
    up = theirs["front_axle"] + theirs["along"] * slope + wanted * umath.sqrt(1 + slope**2)
    assert found.grams == pytest.approx(up.nominal_value, rel=1e-9)
    assert found.standard == pytest.approx(up.std_dev, rel=1e-7)


def test_axles_that_are_known_worse_leave_the_height_known_worse() -> None:
    def height(axle: float) -> float:
        front, rear = own(300.0, axle, "front"), own(310.0, axle, "rear")
        figures = (200_000.0, 96_000.0, 104_000.0, 500.0, 1_450.0)
        above = height_above_axles(*[Amount(each) for each in figures], minus(rear, front))
        return above_ground(above, Amount(754.0), front, rear, Amount(1_450.0)).standard

    assert height(0.0) == pytest.approx(0.0, abs=1e-12)
    assert 0.0 < height(1.0) < height(3.0) < height(9.0)
