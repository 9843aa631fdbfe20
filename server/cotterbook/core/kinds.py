"""The kinds of entry, with the fields of each and their limits: the rules that `entries.check` reads.

What a field's row holds is said in `things`.
"""

from .limits import (
    BASES,
    CLOCK_HIGH_MS,
    CLOCK_LOW_MS,
    FLUIDS,
    GRAMS_OF_A_MACHINE,
    GRAMS_OF_A_PART,
    KILOMETRES,
    NEWTON_METRES,
    PATTERNS,
    PHOTO_BYTES_KEPT,
    PLACES_OF_FASTENERS,
    SEEN_LAST,
    TEXT_CHARACTERS,
    WEIGHED_AS,
)
from .things import THINGS

# Of an entry about fasteners of a group: the last ones about them that its phone knew; none of an older program.
LAST = ("seen_last", "ids", False, SEEN_LAST)

# fmt: off
KINDS = {
    "set": (
        ("thing", "id", True, None),
        ("type", "choice", True, tuple(THINGS)),
        ("values", "map", True, None),
        ("saw", "map", False, None),
    ),
    "move": (
        ("group", "id", True, None),
        ("count", "integer", True, (1, 500)),
        ("from", "choice", True, PLACES_OF_FASTENERS),
        ("to", "choice", True, PLACES_OF_FASTENERS),
        ("from_bag", "id", False, None),
        ("to_bag", "id", False, None),
        # Why fasteners that are new each time go in used.
        ("used_again_why", "text", False, 400),
        LAST,
    ),
    "weigh": (
        ("part", "id", True, None),
        ("weighed_as", "choice", True, WEIGHED_AS),
        ("pieces", "integer", True, (1, 200)),
        ("basis", "choice", True, BASES),
        ("grams", "number", False, GRAMS_OF_A_PART),
        ("low_grams", "number", False, GRAMS_OF_A_PART),
        ("high_grams", "number", False, GRAMS_OF_A_PART),
        ("step_grams", "number", False, (0, 10_000)),
        ("plus_minus_grams", "number", False, (0, 500_000)),
        ("maturity", "choice", False, ("known", "similar", "guess")),
        ("with_fasteners", "boolean", False, None),
        ("again", "id", False, None),
        ("scale", "text", False, 120),
        ("source", "text", False, 400),
        ("as_read", "text", False, 80),
        ("on_scale", "id", False, None),
        ("tare_grams", "number", False, GRAMS_OF_A_PART),
        ("fluid", "choice", False, FLUIDS),
        ("litres", "number", False, (0, 100)),
        ("plus_minus_litres", "number", False, (0, 100)),
    ),
    "scale_check": (
        ("scale", "id", True, None),
        ("against", "choice", True, ("reference_weight", "better_scale", "water", "coin", "other_thing")),
        ("known_grams", "number", True, GRAMS_OF_A_MACHINE),
        ("known_plus_minus_grams", "number", False, (0, 10_000)),
        ("grams", "number", True, GRAMS_OF_A_MACHINE),
        ("step_grams", "number", True, (0, 10_000)),
        ("note", "text", False, 400),
    ),
    "tighten": (
        ("group", "id", True, None),
        ("count", "integer", True, (1, 500)),
        ("newton_metres", "number", True, NEWTON_METRES),
        ("angle_degrees", "number", False, (0, 1_080)),
        ("tool", "text", False, 120),
        ("as_read", "text", False, 80),
        ("with_tool", "id", False, None),
        ("setting_newton_metres", "number", False, NEWTON_METRES),
        ("lever_millimetres", "number", False, (0, 3_000)),
        ("adapter_millimetres", "number", False, (0, 1_000)),
        ("adapter_degrees", "measure", False, (0, 180)),
        # Of these alone; 0 for none, whatever is written down for the group.
        ("prevailing_newton_metres", "measure", False, (0, 500)),
        ("prevailing_expanded_newton_metres", "measure", False, NEWTON_METRES),
        ("expanded_newton_metres", "number", False, NEWTON_METRES),
        ("step", "integer", False, (1, 5)),
        # Which fasteners of the drawn order, as their places in it are counted, in the order they were tightened.
        ("positions", "integers", False, (500, 1, 500)),
        ("pattern", "choice", False, PATTERNS),
        # The tightening anew that the manual or the shop wants after some days, distance or heat cycles.
        ("retorque", "boolean", False, None),
        LAST,
    ),
    "witness": (
        ("group", "id", True, None),
        ("count", "integer", True, (1, 500)),
        LAST,
    ),
    # Another person's look at what is tight and marked; who looked is in the envelope.
    "second_check": (
        ("group", "id", True, None),
        ("count", "integer", True, (1, 500)),
        ("looked_at", "text", True, 400),
        ("found", "choice", True, ("right", "not_right")),
        LAST,
    ),
    # The owner's decision to do without what a group would want.
    "waive": (
        ("group", "id", True, None),
        ("what", "choice", True, ("second_check",)),
        ("why", "text", True, 400),
        LAST,
    ),
    "photo": (
        ("thing", "id", True, None),
        ("sha256", "hash", True, None),
        ("media_type", "choice", True, ("image/jpeg",)),
        ("bytes", "integer", True, (1, PHOTO_BYTES_KEPT)),
        ("width", "integer", True, (1, 10_000)),
        ("height", "integer", True, (1, 10_000)),
        ("caption", "text", False, 400),
    ),
    "work": (
        ("spell", "id", True, None),
        ("act", "choice", True, ("begins", "ends")),
        ("people", "names", False, (12, 60)),
        # Of one that ends: when it did, where that was forgotten; what was said of what is missing; what comes next.
        ("ended_at_ms", "integer", False, (CLOCK_LOW_MS, CLOCK_HIGH_MS)),
        ("missing", "text", False, 400),
        ("next", "text", False, 400),
    ),
    "weigh_in": (
        ("front_grams", "number", True, GRAMS_OF_A_MACHINE),
        # Only a lift test, with the rear wheel raised, does without the rear.
        ("rear_grams", "number", False, GRAMS_OF_A_MACHINE),
        ("step_grams", "number", True, (0, 10_000)),
        ("fuel_litres", "measure", False, (0, 100)),
        ("note", "text", False, TEXT_CHARACTERS),
        ("front_scale", "id", False, None),
        ("rear_scale", "id", False, None),
        ("plus_minus_litres", "measure", False, (0, 100)),
        ("rider_grams", "number", False, GRAMS_OF_A_PART),
        # By how much the front wheel stands higher than the rear one while weighed.
        ("front_higher_millimetres", "measure", False, (-1_000, 1_000)),
        ("rear_raised_millimetres", "number", False, (0, 1_000)),
    ),
    # The machine's odometer as it was read, and how often it was run hot and cold again.
    "machine_use": (
        ("machine", "id", True, None),
        ("kilometres", "measure", False, KILOMETRES),
        ("heat_cycles", "integer", False, (0, 1_000_000)),
        ("as_read", "text", False, 80),
        # The odometer was changed, or set back: what it shows is less than before, and right.
        ("counts_anew", "boolean", False, None),
    ),
    "strike": (
        ("entry", "id", True, None),
        ("why", "text", True, 400),
    ),
}

ENVELOPE = (
    ("id", "id", True, None),
    ("strip", "id", True, None),
    ("kind", "text", True, 40),
    ("at", "integer", True, (CLOCK_LOW_MS, CLOCK_HIGH_MS)),
    ("by", "id", True, None),
    ("who", "text", True, 60),
)
