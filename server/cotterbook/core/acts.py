"""What a person does on a screen, turned into entries.

Each act takes the strip-down, the form and a Maker, and gives back what
`Maker.done` gives. An act builds entries and changes nothing itself.
"""

from typing import Any

from .acts_back import BACK_ACTS
from .acts_change import change
from .acts_count import COUNT_ACTS
from .acts_gear import GEAR_ACTS
from .acts_maps import MAP_ACTS
from .acts_open import OPEN_ACTS
from .acts_part import PART_ACTS, add_to_part, bag_of, existing
from .acts_retorque import RETORQUE_ACTS
from .acts_settings import SETTING_ACTS
from .acts_spell import SPELL_ACTS
from .acts_strike import STRIKE_ACTS
from .acts_tools import TOOL_ACTS
from .acts_torque import TORQUE_ACTS
from .acts_way_back import WAY_BACK_ACTS
from .acts_weigh_in import WEIGH_IN_ACTS
from .amounts import ROOT_3
from .fasteners import begins_in
from .maker import Maker, given, whole
from .readings import PIECE_DIFFERENCE
from .specification_table import TABLE_ACTS
from .strip import Strip

OTHER_SIDE = {"left": "right", "right": "left"}


def begin_strip(strip: Strip, form: dict[str, Any], make: Maker) -> dict[str, Any]:
    """A strip-down of a machine, new or known; `self_locking_nuts` is the shop's way with them, as in `things`."""
    machine = form.get("machine") or make.new_id()
    make.put(
        machine,
        "machine",
        {
            "name": given(form, "machine_name"),
            "standard_grams": make.figure(form, "standard", "", "mass", form.get("standard_unit") or "kg"),
            "standard_source": given(form, "standard_source"),
            "tank_litres": make.figure(form, "tank_litres", "", "volume"),
        },
        "",
    )
    if given(form, "machine_name") is None:
        make.refuse("missing", "machine_name", "Give the machine a name.")
    if given(form, "name") is None:
        make.refuse("missing", "name", "Give the strip-down a name.")
    nuts = given(form, "self_locking_nuts")
    make.put(strip.id, "strip", {"name": given(form, "name"), "machine": machine, "self_locking_nuts": nuts}, "")
    return make.done(strip=strip.id)


def take_off(strip: Strip, form: dict[str, Any], make: Maker) -> dict[str, Any]:
    """A part logged as it comes off (or as it goes on, when it is new to the machine)."""
    part = make.new_id()
    if given(form, "name") is None:
        make.refuse("missing", "name", "Give the part a name.")
    outcome = given(form, "outcome")
    came_in = given(form, "came_in") or ("new" if outcome == "added" else None)
    new = came_in in ("new", "missing")
    off = None if new else form.get("off") is not False
    bag = bag_of(strip, make, given(form, "bag_label"))
    make.put(
        part,
        "part",
        {
            "name": given(form, "name"),
            "place": given(form, "place"),
            "side": given(form, "side"),
            "pieces": whole(form, "pieces"),
            "came_in": came_in,
            "outcome": outcome,
            "outcome_done": form.get("outcome_done") if outcome else None,
            "replacement": given(form, "replacement"),
            "note": given(form, "note"),
            "off": off,
            "bag": bag,
            "foreseen": given(form, "foreseen"),
        },
        "",
    )
    return add_to_part(strip, dict(form, part=part), make, bag, bool(off))


def same_again(strip: Strip, form: dict[str, Any], make: Maker) -> dict[str, Any]:
    """The same part on the other side: its groups and its bag, its mass assumed equal."""
    source = existing(strip, make, form.get("part"), "part", "part")
    if source is None:
        return make.done()
    part, values = make.new_id(), source.values
    copied = {
        name: values.get(name)
        for name in ("name", "place", "pieces", "came_in", "off", "outcome", "outcome_done", "replacement", "bag")
    }
    make.put(part, "part", dict(copied, side=OTHER_SIDE.get(values.get("side"))), "")
    for group in strip.groups_of(source.id):
        copy = make.new_id()
        make.put(copy, "group", dict(group.values, part=part), "")
        out = [place for place in strip.ledger(group.id).elsewhere() if place[0] == "bag" and place[2] > 0]
        for _, bag, count in out:
            ends = {"from": begins_in(values), "to": "bag", "to_bag": bag or None}
            make.entry("move", "", group=copy, count=count, **ends)
    masses = strip.masses(source.id)
    for weighed_as in sorted(masses):
        _assume_equal(make, part, values, weighed_as, masses[weighed_as])
    return make.done(part=part)


def _assume_equal(make: Maker, part: str, values: dict[str, Any], weighed_as: str, mass: Any) -> None:
    if mass is None:
        return
    # A scale's gain is shared by both sides, and stays with the scale; a mass from two scales keeps it as its own.
    gains = [cause for cause in mass.causes if cause.startswith("gain:")]
    shared = gains[0] if len(gains) == 1 else None
    own = sum([mass.causes[cause][0] ** 2 for cause in mass.causes if cause != shared])
    # Half width: what the first side is known to, and what sides of a pair may differ by.
    half_width = ROOT_3 * (own + (PIECE_DIFFERENCE * mass.grams / ROOT_3) ** 2) ** 0.5
    make.entry(
        "weigh",
        "",
        part=part,
        weighed_as=weighed_as,
        pieces=values.get("pieces") or 1,
        basis="worked_out",
        grams=mass.grams,
        plus_minus_grams=half_width,
        on_scale=None if shared is None else shared[len("gain:") :],
        source="assumed equal to the other side",
    )


ACTS = dict(
    begin_strip=begin_strip,
    take_off=take_off,
    same_again=same_again,
    change=change,
    **STRIKE_ACTS,
    **SPELL_ACTS,
    **OPEN_ACTS,
    **COUNT_ACTS,
    **PART_ACTS,
    **SETTING_ACTS,
    **BACK_ACTS,
    **GEAR_ACTS,
    **TOOL_ACTS,
    **TORQUE_ACTS,
    **WAY_BACK_ACTS,
    **RETORQUE_ACTS,
    **WEIGH_IN_ACTS,
    **MAP_ACTS,
    **TABLE_ACTS,
)
