"""Whether one end of the machine has become lighter or heavier by more than what is not known.

Only what the springs carry counts: what turns with a wheel or moves with it leaves preload and sag as they are.
"""

from typing import Any

from .amounts import added_up
from .mass import outcome_of
from .ordinary_masses import ordinary_mass
from .part_names import in_english
from .places import USUAL
from .strip import Strip
from .thing import Thing

# Ahead of the first third of the wheelbase is the front, behind the second the rear (common practice, no source).
FRONT_UNTIL, REAR_FROM = 1.0 / 3.0, 2.0 / 3.0
# Less than this at one end is not worth a spanner at the preload (common practice, no source).
LEAST_GRAMS = 1_000.0


def end_of(values: dict[str, Any]) -> Any:
    """At which end, "front" or "rear", a part with these values sits on the springs; None in between or on none."""
    usual = USUAL.get(values.get("place") or "")
    if usual is None or (values.get("carried") or usual[2] or "sprung") != "sprung":
        return None
    return "front" if usual[0] < FRONT_UNTIL else "rear" if usual[0] > REAR_FROM else None


def end_change(strip: Strip, parts: list[Thing]) -> Any:
    """The change of these parts since the machine came in, as an amount, where it surely is one; else None.

    A part without a mass may weigh anything up to the most that such parts do, so it widens what is not known only
    towards the side that it went: what came off without being weighed can not make up for what is gone.
    """
    weighed, lighter, heavier = [], 0.0, 0.0
    for part in parts:
        change, values = strip.line(part.id).change, part.values
        if change is not None:
            weighed.append(change)
            continue
        usual, outcome = ordinary_mass(in_english(values.get("name")), values.get("place")), outcome_of(values)
        most = usual["high"] * (values.get("pieces") or 1) if usual is not None else 0.0
        lighter += 0.0 if outcome == "added" else most
        heavier += most if outcome in ("added", "swapped") else 0.0
    found = added_up(weighed)
    surely_lighter = found.grams + found.expanded + heavier < -LEAST_GRAMS
    surely_heavier = found.grams - found.expanded - lighter > LEAST_GRAMS
    return found if surely_lighter or surely_heavier else None
