"""What is published of a machine: its mass, its share on the rear wheel, the height of its centre, and how well."""

from typing import Any

from .amounts import Amount
from .fluids import fluid_amount
from .quantities import within
from .readings import DOCUMENT_FRACTION
from .weigh_in import RUNNING_ORDER

# How well published figures are known, where they say nothing of it (common practice, no source).
PERCENT_PUBLISHED = 0.5
UP_PUBLISHED = 20.0


def published(machine: Any, name: str, half_width: float) -> Any:
    """A published figure of the machine as an amount within `half_width`, or None."""
    value = machine.values.get(name) if machine is not None else None
    return None if value is None else within(value, half_width, name)


def published_up(machine: Any) -> Any:
    """The published height of the centre of mass as an amount in millimetres, within 20 mm, or None."""
    return published(machine, "standard_up_millimetres", UP_PUBLISHED)


def published_mass(machine: Any) -> Any:
    """The published standard mass as an amount, within 0.5 % of it (common practice, no source), or None."""
    value = machine.values.get("standard_grams") if machine is not None else None
    return None if value is None else within(value, DOCUMENT_FRACTION * value, "standard_grams")


def published_fuel(machine: Any) -> Any:
    """The fuel in the published mass: none when dry, 90 % to all of the tank in running order, None when not known."""
    values = machine.values if machine is not None else {}
    state, tank = values.get("standard_state"), values.get("tank_litres")
    if state == "dry":
        return Amount(0.0)
    if state != "running_order" or tank is None:
        return None
    return fluid_amount("petrol", (1.0 + RUNNING_ORDER) / 2.0 * tank, (1.0 - RUNNING_ORDER) / 2.0 * tank, "published")
