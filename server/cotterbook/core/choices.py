"""The lists that forms offer, and the limits that forms keep to."""

from typing import Any

from . import kinds, limits, things
from .figures import GRAMS_IN, NEWTON_METRES_IN
from .find_docs import to_be_spoken
from .ordinary_parts import ORDINARY_PARTS
from .place_cautions import PLACE_CAUTIONS
from .readings import MATURITY_FRACTION
from .settings_rules import READS
from .unit_factors import FACTORS

# What a form calls a list, and the field of a thing or of a kind of entry whose choices it holds.
OF_THINGS = {
    "places": ("part", "place"),
    "sides": ("part", "side"),
    "came_in": ("part", "came_in"),
    "outcomes": ("part", "outcome"),
    "carried": ("part", "carried"),
    "heads": ("group", "head"),
    "into": ("group", "into"),
    "conditions": ("group", "torque_condition"),
    "finishes": ("group", "finish"),
    "patterns": ("group", "pattern"),
    "tool_types": ("tool", "tool_type"),
    "machine_states": ("machine", "standard_state"),
    "item_kinds": ("item", "what"),
    "new_each_time": ("group", "replace_each_time"),
    "self_locking_nuts": ("strip", "self_locking_nuts"),
    "before_what": ("item", "before"),
    "gone": ("part", "gone"),
    "why_it_waits": ("wait", "why"),
    "adjusted": ("setting", "adjusted"),
    "measured_in": ("setting", "measured_in"),
    "counted": ("setting", "counted"),
    "inwards_is": ("setting", "inwards_is"),
}
OF_KINDS = {"fluids": ("weigh", "fluid"), "against": ("scale_check", "against")}


def _choices_of(table: Any, where: Any) -> Any:
    return [field[3] for field in table[where[0]] if field[0] == where[1]][0]


def choices() -> dict[str, Any]:
    """Every list a form offers, by its name; "limits" are numbers."""
    found = {name: _choices_of(things.THINGS, OF_THINGS[name]) for name in OF_THINGS}
    found.update({name: _choices_of(kinds.KINDS, OF_KINDS[name]) for name in OF_KINDS})
    found.update(
        bases=limits.BASES,
        weighed_as=limits.WEIGHED_AS,
        maturities=sorted(MATURITY_FRACTION, key=lambda maturity: MATURITY_FRACTION[maturity]),
        mass_units=[unit for unit in ("g", "kg", "lb", "oz") if unit in GRAMS_IN],
        torque_units=[unit for unit in ("N.m", "kgf.m", "lbf.ft", "lbf.in") if unit in NEWTON_METRES_IN],
        distance_units=limits.DISTANCE_UNITS,
        pressure_units=[unit for unit in ("kPa", "bar", "psi") if unit in FACTORS["pressure"]],
        reads=READS,
        fastener_places=limits.PLACES_OF_FASTENERS,
        ordinary_parts=[
            {"name": name, "place": place, "side": side, "pieces": pieces}
            for name, place, side, pieces in ORDINARY_PARTS
        ],
        place_cautions=PLACE_CAUTIONS,
        found_by=to_be_spoken(),
        limits={
            "photo_bytes_in": limits.PHOTO_BYTES_IN,
            "photo_bytes_kept": limits.PHOTO_BYTES_KEPT,
            "text": limits.TEXT_CHARACTERS,
            "entries_a_request": limits.ENTRIES_A_REQUEST,
            "request_bytes": limits.REQUEST_BYTES,
            "entries_a_strip": limits.ENTRIES_A_STRIP,
        },
    )
    return found
