"""The limits that entries, requests and pictures keep to; the choices that fields offer; how large figures may be."""

from typing import Any

ENTRY_BYTES = 8_192
# Lists and objects within an entry's own fields: less than what a request or a line of a bundle may hold in all.
ENTRY_DEPTH = 8
# Entries that an entry names as the last ones its phone knew: so many phones can have worked on one group apart.
SEEN_LAST = 20
TEXT_CHARACTERS = 2_000
ENTRIES_A_REQUEST = 1_000
# How many entries one list of `saw` names.
SEEN_A_LIST = 20
REQUEST_BYTES = 1_000_000
ENTRIES_A_STRIP = 200_000
STRIPS = 2_000
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
# Why a part waits for another on the way back.
WHY_IT_WAITS = ("behind", "reached", "hangs_on", "loom", "other")
DISTANCE_UNITS = ("km", "mi")
NEW_EACH_TIME = (
    "cotter_pin", "safety_wire", "crush_washer", "stretch_bolt", "circlip", "self_locking_nut", "other",
    "may_be_used_again",
)
BEFORE_WHAT = ("riding", "next_spell", "some_day")
STATES_OF_A_MACHINE = ("as_it_stands", "running_order", "dry")
ADJUSTED = (
    "preload", "compression_damping", "rebound_damping", "lever", "handlebar", "chain_slack", "lamp_aim",
    "tyre_pressure", "idle", "other",
)
# What a setting is read in: the field that holds it, its type and bounds, as in `things`.
READ_IN: tuple[tuple[str, str, Any], ...] = (
    ("clicks", "integer", (0, 200)),
    ("turns", "measure", (0, 100)),
    ("steps", "integer", (0, 50)),
    ("millimetres", "measure", (-1_000, 2_000)),
    ("kilopascals", "measure", (0, 2_000)),
    ("revolutions_per_minute", "integer", (0, 20_000)),
    ("degrees", "measure", (-180, 180)),
    ("percent", "measure", (-100, 100)),
    ("in_words", "text", 400),
)
# fmt: on

# Lowest and highest: as the bounds of a field in `kinds`.
GRAMS_OF_A_PART = (0, 500_000)
GRAMS_OF_A_MACHINE = (0, 2_000_000)
NEWTON_METRES = (0, 2_000)
# What a manual may ask for: less would be shown as nothing (the least is common practice, no source).
NEWTON_METRES_ASKED = (0.01, 2_000)
GAIN_PERCENT = (0, 20)
# What an odometer may show.
KILOMETRES = (0, 3_000_000)
# Behind the front axle and above the ground; in front of the axle is negative.
MILLIMETRES_ALONG = (-1_500, 4_000)
MILLIMETRES_UP = (0, 2_500)
