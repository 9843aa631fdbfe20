"""The whole machine on scales, as somebody writes it down."""

from typing import Any

from .acts_part import existing
from .fluids import DENSITIES
from .maker import Maker, given
from .shown_balance import shown_litres
from .standing import machine_of
from .strip import Strip
from .weigh_in import FUEL_BY_EYE


def weigh_in(strip: Strip, form: dict[str, Any], make: Maker) -> dict[str, Any]:
    """A weighing: `front`, `rear`, `step` and `rider` in `unit`, on scales with or without a card.

    `fuel_litres` give or take `plus_minus_litres`; `front_higher` says by how much the
    front wheel stood higher (the rear one, when negative), `rear_raised` by how much
    the rear axle was lifted for a lift test, which alone does without the rear.
    """
    unit = form.get("unit") or "kg"
    scales = {name: _scale(strip, form, make, name) for name in ("front_scale", "rear_scale")}
    if given(form, "front") is None:
        make.refuse("missing", "front", "Give what the scale under the front wheel shows.")
    raised = make.figure(form, "rear_raised", "", "length")
    if given(form, "rear") is None and raised is None:
        make.refuse("missing", "rear", "Give what the scale under the rear wheel shows.")
    fuel = make.figure(form, "fuel_litres", "", "volume")
    _check_tank(strip, make, fuel)
    front, rear, rider = [make.figure(form, name, "", "mass", unit) for name in ("front", "rear", "rider")]
    spread = make.figure(form, "plus_minus_litres", "", "volume")
    if front is not None and rear is not None:
        _check_something_left(make, front + rear - (rider or 0.0), fuel, FUEL_BY_EYE if spread is None else spread)
    make.entry(
        "weigh_in",
        "",
        front_grams=front,
        rear_grams=rear,
        step_grams=_step(form, make, scales, unit),
        front_scale=None if scales["front_scale"] is None else scales["front_scale"].id,
        rear_scale=None if scales["rear_scale"] is None else scales["rear_scale"].id,
        fuel_litres=fuel,
        plus_minus_litres=spread,
        rider_grams=rider,
        front_higher_millimetres=make.figure(form, "front_higher", "", "length", "", True),
        rear_raised_millimetres=raised,
        note=given(form, "note"),
    )
    return make.done()


def _scale(strip: Strip, form: dict[str, Any], make: Maker, name: str) -> Any:
    scale = given(form, name)
    return None if scale is None else existing(strip, make, scale, "scale", name)


def _step(form: dict[str, Any], make: Maker, scales: dict[str, Any], unit: str) -> Any:
    """The step as typed; else the widest of the cards' or, where an end has none, of the last digits typed."""
    typed = make.figure(form, "step", "", "mass", unit)
    if typed is not None:
        return typed
    steps = []
    for end in ("front", "rear"):
        card = scales[end + "_scale"]
        step = None if card is None else card.values.get("step_grams")
        steps.append(make.resolution(form, end, "", "mass", unit) if step is None else step)
    known = [step for step in steps if step is not None]
    # Without a figure that can be read there is no step; the reason given for the figure is enough.
    return max(known) if known else 1.0


def _check_tank(strip: Strip, make: Maker, litres: Any) -> None:
    machine = machine_of(strip)
    tank = machine.values.get("tank_litres") if machine is not None else None
    if litres is not None and tank is not None and litres > tank:
        text = "That is more than the tank of this machine holds: {tank}."
        make.refuse("out_of_range", "fuel_litres", text, tank=shown_litres(tank, 0.0))


def _check_something_left(make: Maker, left: float, litres: Any, spread: float) -> None:
    """Refuses fuel that leaves nothing for the machine: none weighs less than nothing."""
    if litres is not None and 0.0 < left <= (litres - spread) * DENSITIES["petrol"][0]:
        text = "So much fuel weighs as much as the scales show, or more: nothing is left."
        make.refuse("out_of_range", "fuel_litres", text)


WEIGH_IN_ACTS = {"weigh_in": weigh_in}
