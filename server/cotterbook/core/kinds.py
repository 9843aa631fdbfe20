"""The kinds of entry and the types of thing, with the fields of each and their limits.

These tables are the rules; `entries.check` reads them.
"""

ENTRY_BYTES = 8_192
TEXT_CHARACTERS = 2_000
ENTRIES_A_REQUEST = 1_000
REQUEST_BYTES = 1_000_000
ENTRIES_A_STRIP = 200_000
PHOTO_BYTES_IN = 15_000_000
PHOTO_BYTES_KEPT = 2_000_000
# 2020-01-01 and 2100-01-01 in ms: a clock outside them is set wrong, not early.
CLOCK_LOW_MS = 1_577_836_800_000
CLOCK_HIGH_MS = 4_102_444_800_000

# fmt: off
PLACES_OF_FASTENERS = ("machine", "bag", "spares", "scrapped", "lost", "stock")
PLACES_ON_MACHINE = (
    "front_wheel", "fork", "front_brake", "front_end", "handlebar", "tank", "seat",
    "side", "engine", "intake", "exhaust", "cooling", "electrics", "frame", "footrests",
    "swing_arm", "rear_brake", "rear_wheel", "tail", "luggage", "other",
)
OUTCOMES = ("stays_off", "swapped", "cut_down", "moved", "goes_back", "added")
BASES = ("weighed", "document", "worked_out", "estimated")
WEIGHED_AS = ("taken_off", "going_on", "after_cut", "offcut")
FLUIDS = ("petrol", "engine_oil", "fork_oil", "coolant", "brake_fluid", "water")
PATTERNS = ("pair", "cross", "star", "spiral", "ring", "row")
STATES_OF_A_MACHINE = ("as_it_stands", "running_order", "dry")

# A field: (name, type, needed, bounds), where the bounds of
#   text     are its longest   names   longest list, longest name
#   integer  lowest, highest   number  lowest, highest (0 and what is next to nothing excluded)
#   measure  lowest, highest, both of them included
#   numbers  longest list, lowest, highest (lowest excluded)
#   choice   the choices       id, boolean, hash, date and map   None
GRAMS_OF_A_PART = (0, 500_000)
GRAMS_OF_A_MACHINE = (0, 2_000_000)
NEWTON_METRES = (0, 2_000)
# What a manual may ask for: less would be shown as nothing (the least is common practice, no source).
NEWTON_METRES_ASKED = (0.01, 2_000)
GAIN_PERCENT = (0, 20)
# Behind the front axle and above the ground; in front of the axle is negative.
MILLIMETRES_ALONG = (-1_500, 4_000)
MILLIMETRES_UP = (0, 2_500)

THINGS = {
    "strip": (
        ("name", "text", True, 120),
        ("machine", "id", False, None),
        ("aim_grams", "number", False, GRAMS_OF_A_MACHINE),
        ("note", "text", False, TEXT_CHARACTERS),
    ),
    "machine": (
        ("name", "text", True, 120),
        ("standard_grams", "number", False, GRAMS_OF_A_MACHINE),
        ("standard_source", "text", False, 400),
        ("tank_litres", "number", False, (0, 100)),
        ("standard_state", "choice", False, STATES_OF_A_MACHINE),
        ("standard_rear_percent", "number", False, (0, 100)),
        ("standard_up_millimetres", "measure", False, MILLIMETRES_UP),
        ("wheelbase_millimetres", "number", False, (0, 3_000)),
        ("front_axle_millimetres", "number", False, (0, 600)),
        ("rear_axle_millimetres", "number", False, (0, 600)),
        ("tank_along_millimetres", "measure", False, MILLIMETRES_ALONG),
        ("tank_up_millimetres", "measure", False, MILLIMETRES_UP),
        ("note", "text", False, TEXT_CHARACTERS),
    ),
    "part": (
        ("name", "text", True, 120),
        ("place", "choice", False, PLACES_ON_MACHINE),
        ("side", "choice", False, ("left", "right", "both", "middle")),
        ("pieces", "integer", False, (1, 200)),
        ("came_in", "choice", False, ("fitted", "missing", "accessory", "new")),
        ("off", "boolean", False, None),
        ("outcome", "choice", False, OUTCOMES),
        ("outcome_done", "boolean", False, None),
        ("replacement", "text", False, 120),
        ("bag", "id", False, None),
        ("note", "text", False, TEXT_CHARACTERS),
        ("along_millimetres", "measure", False, MILLIMETRES_ALONG),
        ("up_millimetres", "measure", False, MILLIMETRES_UP),
        ("to_along_millimetres", "measure", False, MILLIMETRES_ALONG),
        ("to_up_millimetres", "measure", False, MILLIMETRES_UP),
        ("position_plus_minus_millimetres", "number", False, (0, 1_000)),
        ("carried", "choice", False, ("sprung", "unsprung", "rotating")),
    ),
    "group": (
        ("part", "id", True, None),
        ("count", "integer", True, (1, 500)),
        ("thread", "text", False, 40),
        ("length_millimetres", "number", False, (0, 1_000)),
        ("head", "choice", False, (
            "hex", "flange_hex", "socket_cap", "button", "countersunk", "hexalobular",
            "cross", "slot", "nut", "stud", "clip", "rivet", "pin", "other")),
        ("key", "text", False, 40),
        ("grade", "text", False, 20),
        ("sits", "text", False, 120),
        ("into", "choice", False, (
            "steel", "cast_aluminium", "wrought_aluminium", "magnesium",
            "brass_insert", "captive_nut", "loose_nut", "plastic", "other")),
        ("note", "text", False, TEXT_CHARACTERS),
        ("torque_low_newton_metres", "number", False, NEWTON_METRES_ASKED),
        ("torque_high_newton_metres", "number", False, NEWTON_METRES_ASKED),
        ("torque_angle_degrees", "number", False, (0, 1_080)),
        ("torque_condition", "choice", False, ("dry", "oiled", "locking_compound")),
        ("torque_as_written", "text", False, 120),
        ("torque_page", "text", False, 120),
        ("torque_tolerance_newton_metres", "number", False, NEWTON_METRES_ASKED),
        ("torque_steps_newton_metres", "numbers", False, (4, 0.01, 2_000)),
        ("prevailing_newton_metres", "number", False, (0.01, 500)),
        ("thread_confirmed", "boolean", False, None),
        ("finish", "choice", False, ("black", "zinc", "stainless", "coated", "chrome", "plain")),
        ("engagement_millimetres", "number", False, (0, 200)),
        ("outside_engine", "boolean", False, None),
        ("grams_each", "number", False, (0, 5_000)),
        ("pattern", "choice", False, PATTERNS),
    ),
    "bag": (
        ("label", "text", True, 40),
        ("kept", "text", False, 120),
    ),
    "scale": (
        ("name", "text", True, 120),
        ("step_grams", "number", False, (0, 10_000)),
        ("capacity_grams", "number", False, GRAMS_OF_A_MACHINE),
        ("gain_percent", "number", False, GAIN_PERCENT),
        ("zero_grams", "number", False, (0, 10_000)),
        ("calibrated_on", "date", False, None),
        ("certificate", "text", False, 120),
        ("note", "text", False, TEXT_CHARACTERS),
        ("put_away", "boolean", False, None),
    ),
    "tool": (
        ("name", "text", True, 120),
        ("tool_type", "choice", False, ("click", "slipping", "bar", "dial", "electronic", "screwdriver")),
        ("low_newton_metres", "number", False, NEWTON_METRES),
        ("high_newton_metres", "number", False, NEWTON_METRES),
        ("step_newton_metres", "number", False, (0, 100)),
        ("deviation_percent", "number", False, (0, 20)),
        ("lever_millimetres", "number", False, (0, 3_000)),
        ("calibrated_on", "date", False, None),
        ("certificate", "text", False, 120),
        ("note", "text", False, TEXT_CHARACTERS),
        ("put_away", "boolean", False, None),
    ),
    "item": (
        ("what", "choice", True, ("make", "move", "buy", "secure", "check", "decide")),
        ("text", "text", True, 400),
        ("part", "id", False, None),
        ("closed", "boolean", False, None),
        ("closed_how", "text", False, 400),
    ),
}

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
        ("prevailing_newton_metres", "number", False, (0, 500)),
        ("expanded_newton_metres", "number", False, NEWTON_METRES),
        ("step", "integer", False, (1, 5)),
    ),
    "witness": (
        ("group", "id", True, None),
        ("count", "integer", True, (1, 500)),
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
