"""Fluids by their litres: what they weigh, from the range their density lies in."""

from typing import Any

from .amounts import ROOT_3, Amount
from .words import require

# Grams a litre, at about 15 to 20 C: lowest, highest, and where that is from. A litre is a
# thousandth of a cubic metre, so a density in kg/m3 is the same number.
DENSITIES = {
    "petrol": (720.0, 775.0, "EN 228:2012, at 15 °C"),
    "engine_oil": (840.0, 900.0, "from memory: motor oils at 15 °C"),
    "fork_oil": (820.0, 890.0, "from memory: hydraulic oils at 15 °C"),
    "coolant": (1040.0, 1100.0, "from memory: glycol with 40 to 70 % of water, at 20 °C"),
    "brake_fluid": (1020.0, 1080.0, "from memory: glycol ether fluids at 20 °C"),
    "water": (995.0, 1000.0, "from memory: water from 0 to 30 °C"),
}
# A jug read by eye, where nothing is said about how well (common practice, no source).
JUG_FRACTION = 0.05


def fluid_amount(fluid: str, litres: float, plus_minus_litres: Any, cause: str) -> Amount:
    """The mass of `litres` (0 to 100) of a fluid of the table.

    `plus_minus_litres` is the half width of what was read, None for 5 % of it;
    `cause` names the look at the jug. The density lies anywhere in its range, and
    is one cause for all of that fluid: "density:<fluid>".
    """
    require("litres", litres, 0.0, 100.0)
    low, high, _ = DENSITIES[fluid]
    middle, half_width = (low + high) / 2.0, (high - low) / 2.0
    read = JUG_FRACTION * litres if plus_minus_litres is None else require("plus_minus", plus_minus_litres, 0.0, 100.0)
    return Amount(
        litres * middle,
        {"litres:" + cause: (read * middle / ROOT_3, None), "density:" + fluid: (litres * half_width / ROOT_3, None)},
    )
