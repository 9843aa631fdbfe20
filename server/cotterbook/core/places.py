"""Where things sit on the machine: what was said, how well that is known, and where such parts usually sit."""

from typing import Any

from .amounts import Amount
from .quantities import within

# Half widths where nobody said otherwise, in millimetres (common practice, no source).
TAPPED = 50.0
# A tape held beside the axle and read by eye, with the tyres as they stand.
WHEELBASE = 5.0
AXLE = 5.0
TANK = 50.0
# A machine to draw before its measures are known (common practice, no source): wheelbase, axle heights.
USUAL_WHEELBASE, USUAL_AXLE = 1_450.0, 310.0

# Usual places of parts: how far back as a part of the wheelbase, and millimetres above the ground
# (common practice, no source). None: at the height of the axle. What usually carries such a part.
USUAL = {
    "front_wheel": (0.0, None, "rotating"),
    "fork": (0.1, 500.0, None),
    "front_brake": (0.04, None, "unsprung"),
    "front_end": (0.06, 840.0, "sprung"),
    "handlebar": (0.24, 1_020.0, "sprung"),
    "tank": (0.42, 820.0, "sprung"),
    "seat": (0.70, 800.0, "sprung"),
    "side": (0.62, 650.0, "sprung"),
    "engine": (0.46, 430.0, "sprung"),
    "intake": (0.56, 660.0, "sprung"),
    "exhaust": (0.66, 350.0, "sprung"),
    "cooling": (0.26, 560.0, "sprung"),
    "electrics": (0.62, 700.0, "sprung"),
    "frame": (0.50, 600.0, "sprung"),
    "footrests": (0.66, 340.0, "sprung"),
    "swing_arm": (0.84, 340.0, "unsprung"),
    "rear_brake": (0.96, None, "unsprung"),
    "rear_wheel": (1.0, None, "rotating"),
    "tail": (1.06, 800.0, "sprung"),
    "luggage": (0.96, 820.0, "sprung"),
}


def said_place(values: dict[str, Any], part: str, moved_to: bool = False) -> tuple[Any, Any]:
    """Where a part sits, or with `moved_to` where it went: (along, up), amounts or None where it was not said."""
    prefix = "to_" if moved_to else ""
    half_width = values.get("position_plus_minus_millimetres")
    spread = TAPPED if half_width is None else half_width
    return (
        _axis(values.get(prefix + "along_millimetres"), spread, "along:" + prefix + part),
        _axis(values.get(prefix + "up_millimetres"), spread, "up:" + prefix + part),
    )


def _axis(millimetres: Any, half_width: float, cause: str) -> Any:
    return None if millimetres is None else within(millimetres, half_width, cause)


def machine_measures(machine: Any) -> dict[str, Any]:
    """The machine's measures as amounts in millimetres, None where they were not said."""
    values = machine.values if machine is not None else {}
    half_widths = (
        ("wheelbase", WHEELBASE),
        ("front_axle", AXLE),
        ("rear_axle", AXLE),
        ("tank_along", TANK),
        ("tank_up", TANK),
    )
    return {name: _axis(values.get(name + "_millimetres"), half_width, name) for name, half_width in half_widths}


def usual_place(place: Any, measures: dict[str, Any]) -> Any:
    """Where a part of this place usually sits: {"along", "up", "carried"}, or None. To be confirmed, never taken."""
    if place not in USUAL:
        return None
    fraction, up, carried = USUAL[place]
    if up is None:
        up = _or(measures["front_axle"] if fraction < 0.5 else measures["rear_axle"], USUAL_AXLE)
    along = round(fraction * _or(measures["wheelbase"], USUAL_WHEELBASE))
    return {"along": along, "up": round(up), "carried": carried}


def _or(measure: Any, usual: float) -> float:
    return measure.grams if isinstance(measure, Amount) else usual
