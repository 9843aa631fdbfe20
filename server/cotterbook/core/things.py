"""The types of thing, with the fields of each and their limits: the rules that `entries.check` reads for "set"."""

from .limits import (
    ADJUSTED,
    BEFORE_WHAT,
    DISTANCE_UNITS,
    GAIN_PERCENT,
    GRAMS_OF_A_MACHINE,
    MILLIMETRES_ALONG,
    MILLIMETRES_UP,
    NEW_EACH_TIME,
    NEWTON_METRES,
    NEWTON_METRES_ASKED,
    OUTCOMES,
    PATTERNS,
    PLACES_ON_MACHINE,
    READ_IN,
    STATES_OF_A_MACHINE,
    TEXT_CHARACTERS,
    WHY_IT_WAITS,
)

# fmt: off
# A field: (name, type, needed, bounds), where the bounds of
#   text     are its longest   names   longest list, longest name
#   integer  lowest, highest   number  lowest, highest (0 and what is next to nothing excluded)
#   measure  lowest, highest, both of them included
#   numbers  longest list, lowest, highest (lowest excluded)
#   integers longest list, lowest, highest; no number twice
#   choice   the choices       id, boolean, hash, date and map   None
THINGS = {
    "strip": (
        ("name", "text", True, 120),
        ("machine", "id", False, None),
        ("aim_grams", "number", False, GRAMS_OF_A_MACHINE),
        ("self_locking_nuts", "choice", False, ("new_each_time", "while_they_drag")),
        # What this work is to cost and to take, beside what it is to weigh.
        ("budget", "number", False, (0, 1_000_000)),
        ("budget_currency", "text", False, 3),
        ("planned_hours", "number", False, (0, 10_000)),
        ("note", "text", False, TEXT_CHARACTERS),
    ),
    "machine": (
        ("name", "text", True, 120),
        # Of its frame or its plate.
        ("number", "text", False, 40),
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
        ("paint_gone", "boolean", False, None),
        # Where it is while it is off: a shelf, a box, a person.
        ("kept", "text", False, 120),
        # Why it can never come back.
        ("gone", "choice", False, ("sold", "given_away", "scrapped", "lost")),
        # On the way back it comes right after this part; after the strip-down's own id it is the first of all.
        ("back_after", "id", False, None),
        # Why it went on before what it waits for.
        ("early_why", "text", False, 400),
        # What of a map it was foreseen as.
        ("foreseen", "id", False, None),
    ),
    # A part that a map of this kind of machine foresees; its fasteners follow at the end of this table.
    "foreseen": (
        ("name", "text", True, 120),
        ("place", "choice", False, PLACES_ON_MACHINE),
        ("side", "choice", False, ("left", "right", "both", "middle")),
        ("pieces", "integer", False, (1, 200)),
        # The kind of machine, as the map calls it.
        ("map", "text", False, 120),
        ("turn", "integer", False, (1, 100_000)),
        # What one piece weighed on each machine that the map knows.
        ("ordinary_grams", "numbers", False, (100, 0, 500_000)),
        ("about_minutes", "integer", False, (0, 100_000)),
        # This machine has no such part.
        ("dropped", "boolean", False, None),
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
        ("washers", "text", False, 60),
        # To be tightened anew after that, as the manual or the shop wants it.
        ("retorque_kilometres", "number", False, (0, 100_000)),
        ("retorque_unit", "choice", False, DISTANCE_UNITS),
        ("retorque_days", "integer", False, (1, 3_650)),
        ("retorque_heat_cycles", "integer", False, (1, 1_000)),
        ("retorque_once", "boolean", False, None),
        ("retorque_from", "text", False, 120),
        # From the product's own sheet; none are shipped.
        ("locking_compound", "text", False, 120),
        ("cure_hours", "number", False, (0, 1_000)),
        ("cure_from", "text", False, 120),
        # Of a pin, a washer or a clip, which have no thread.
        ("size", "text", False, 40),
        ("replace_each_time", "choice", False, NEW_EACH_TIME),
    ),
    "bag": (
        ("label", "text", True, 40),
        ("kept", "text", False, 120),
    ),
    # On the way back a part waits for another, which goes on first.
    "wait": (
        ("part", "id", True, None),
        ("first", "id", True, None),
        ("why", "choice", True, WHY_IT_WAITS),
        ("note", "text", False, 400),
        ("dropped", "boolean", False, None),
    ),
    # A fastener of a group, shown where it sits on a picture.
    "pin": (
        ("photo", "id", True, None),
        ("group", "id", True, None),
        ("across_permille", "integer", True, (0, 1_000)),
        ("down_permille", "integer", True, (0, 1_000)),
        ("dropped", "boolean", False, None),
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
        ("for_whom", "text", False, 60),
        ("before", "choice", False, BEFORE_WHAT),
        ("due_on", "date", False, None),
        ("cost", "number", False, (0, 1_000_000)),
        ("currency", "text", False, 3),
        # What it came to, once it was done; it may have been given.
        ("paid", "measure", False, (0, 1_000_000)),
        # The rule of `follows` that it closes or plans, where it is a caution's; that of `stops`, where it has a group.
        ("rule", "text", False, 40),
        # The fasteners that it is about, where it is about some.
        ("group", "id", False, None),
    ),
    "setting": (
        ("adjusted", "choice", True, ADJUSTED),
        ("name", "text", False, 120),
        ("place", "choice", False, PLACES_ON_MACHINE),
        ("side", "choice", False, ("left", "right", "both", "middle")),
        ("part", "id", False, None),
        # The field that holds how it stands; "as_found_" and that field, how it was when the machine came in.
        ("measured_in", "choice", True, tuple(row[0] for row in READ_IN)),
        ("counted", "choice", False, ("out_from_in", "in_from_out")),
        ("inwards_is", "choice", False, ("harder", "softer")),
        ("read_how", "text", False, 120),
        ("as_found_unknown", "boolean", False, None),
        ("why", "text", False, 400),
        ("how_to_undo", "text", False, 400),
        ("note", "text", False, TEXT_CHARACTERS),
    )
    + tuple((name, kind, False, bounds) for name, kind, bounds in READ_IN)
    + tuple(("as_found_" + name, kind, False, bounds) for name, kind, bounds in READ_IN),
}

# What a map says of like fasteners, of the fields of a group.
OF_FORESEEN_FASTENERS = (
    "count", "thread", "length_millimetres", "head", "key", "grade", "sits", "into", "washers", "size", "finish",
    "pattern", "replace_each_time", "outside_engine", "torque_low_newton_metres", "torque_high_newton_metres",
    "torque_angle_degrees", "torque_condition", "torque_as_written", "torque_page", "torque_tolerance_newton_metres",
    "torque_steps_newton_metres", "prevailing_newton_metres",
)
THINGS["foreseen_group"] = (("foreseen", "id", True, None),) + tuple(
    [field for field in THINGS["group"] if field[0] in OF_FORESEEN_FASTENERS]
)
