"""The kinds of entry and what each must hold: the one rule set of phone and PC.

An entry is a flat JSON object that never changes once it is written. `check`
says what is wrong with one, all of it at once; an entry without problems may
be stored. The tables below are the rules; `check` only reads them.
"""

import json
from typing import Any

from .figures import plain_number, shown_grams
from .values import CHECKS
from .values import is_id as is_id
from .words import problem

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

# A field: (name, type, needed, bounds), where the bounds of
#   text     are its longest   names   longest list, longest name
#   integer  lowest, highest   number  lowest, highest (lowest excluded when 0)
#   choice   the choices       id, boolean, hash and map   None
GRAMS_OF_A_PART = (0, 500_000)
GRAMS_OF_A_MACHINE = (0, 2_000_000)
NEWTON_METRES = (0, 2_000)

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
        ("torque_low_newton_metres", "number", False, NEWTON_METRES),
        ("torque_high_newton_metres", "number", False, NEWTON_METRES),
        ("torque_angle_degrees", "number", False, (0, 1_080)),
        ("torque_condition", "choice", False, ("dry", "oiled", "locking_compound")),
        ("torque_as_written", "text", False, 120),
        ("torque_page", "text", False, 120),
    ),
    "bag": (
        ("label", "text", True, 40),
        ("kept", "text", False, 120),
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
    ),
    "tighten": (
        ("group", "id", True, None),
        ("count", "integer", True, (1, 500)),
        ("newton_metres", "number", True, NEWTON_METRES),
        ("angle_degrees", "number", False, (0, 1_080)),
        ("tool", "text", False, 120),
        ("as_read", "text", False, 80),
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
        ("rear_grams", "number", True, GRAMS_OF_A_MACHINE),
        ("step_grams", "number", True, (0, 10_000)),
        ("fuel_litres", "number", False, (0, 100)),
        ("note", "text", False, TEXT_CHARACTERS),
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

def wall_clock_ms(entry_id: str) -> int:
    """The writing device's own clock, in ms since 1970, as its UUIDv7 carries it.

    `at` orders entries and may run ahead of a slow clock; this is the time to show.
    """
    return int(entry_id[:8] + entry_id[9:13], 16)


def _compact(entry: Any) -> str:
    return json.dumps(entry, separators=(",", ":"), ensure_ascii=False)


def _compact_on_the_phone(entry: Any) -> str:
    # The phone's json has no such switch, and never escapes what is not ASCII.
    return json.dumps(entry, separators=(",", ":"))


COMPACT = _compact
try:
    COMPACT("")
except TypeError:
    COMPACT = _compact_on_the_phone


def size_in_bytes(entry: dict[str, Any]) -> int:
    """Bytes of the entry as compact UTF-8 JSON."""
    return len(COMPACT(entry).encode())


def check(entry: Any) -> list[dict[str, Any]]:
    """What is wrong with an entry: a list of problems, empty when it may be stored.

    Each problem is {"code", "field", "text", "values"}. An entry of a kind not
    known here is checked in its envelope and size alone, so that it can be kept.
    """
    if not isinstance(entry, dict):
        return [problem("not_an_object", "", "An entry must be an object with named fields.")]
    problems = _check_fields(entry, ENVELOPE, "") + _check_size(entry)
    return problems if problems else check_kind(entry)


def check_kind(entry: dict[str, Any]) -> list[dict[str, Any]]:
    """The part of `check` that a kind asks for; none for a kind not known here."""
    kind = entry["kind"]
    if kind not in KINDS:
        return []
    problems = _check_fields(entry, KINDS[kind], "") + _unknown(entry, KIND_NAMES[kind], "")
    return problems if problems else _check_whole(entry)


def _check_size(entry: dict[str, Any]) -> list[dict[str, Any]]:
    try:
        if size_in_bytes(entry) > ENTRY_BYTES:
            return [problem("too_big", "", "The entry is longer than {limit} bytes.", limit=ENTRY_BYTES)]
    except (ValueError, TypeError, UnicodeError):
        return [problem("not_json", "", "The entry holds something that is no text, number or list.")]
    return []


def check_thing(thing_type: str, values: dict[str, Any], new: bool) -> list[dict[str, Any]]:
    """Problems of the values of a thing; a `new` thing needs all its needed fields."""
    fields = THINGS[thing_type]
    present = fields if new else tuple(f for f in fields if f[0] in values)
    return _check_fields(values, present, "values.") + _unknown(values, THING_NAMES[thing_type], "values.")


def _unknown(record: dict[str, Any], names: Any, prefix: str) -> list[dict[str, Any]]:
    return [
        problem("unknown_field", prefix + str(name), "The field {name} is not known here.", name=str(name)[:40])
        for name in sorted(name for name in record if name not in names)
    ]


def _check_fields(record: dict[str, Any], fields: Any, prefix: str) -> list[dict[str, Any]]:
    found = []
    for field in fields:
        name, value = field[0], record.get(field[0])
        if value is None:
            if field[2]:
                found.append(problem("missing", prefix + name, "This is missing."))
            continue
        wrong = CHECKS[field[1]](value, field[3])
        if wrong:
            found.append(_with_unit(problem(wrong[0], prefix + name, wrong[1], **wrong[2]), name, field[3]))
    return found


def _with_unit(found: dict[str, Any], name: str, bounds: Any) -> dict[str, Any]:
    """A limit of a mass or a torque said with its unit; any other problem as it is."""
    if found["code"] == "out_of_range" and (name.endswith("_grams") or name == "grams"):
        text, most = "A mass here is more than 0 and at most {most}.", shown_grams(bounds[1], 0.0)
    elif found["code"] == "out_of_range" and name.endswith("newton_metres"):
        text = "A torque here is more than 0 and at most {most}."
        most = {"value": plain_number(bounds[1]), "plus_minus": None, "unit": "N.m"}
    else:
        return found
    return dict(found, text=text, values={"most": most})


def _names_of(fields: Any) -> Any:
    return frozenset(field[0] for field in fields)


KIND_NAMES = {kind: _names_of(KINDS[kind]) | _names_of(ENVELOPE) for kind in KINDS}
THING_NAMES = {thing: _names_of(THINGS[thing]) for thing in THINGS}


def _check_whole(entry: dict[str, Any]) -> list[dict[str, Any]]:
    """Rules that join several fields, once each field is right by itself."""
    rule = WHOLE.get(entry["kind"])
    return rule(entry) if rule else []


def _set(entry: dict[str, Any]) -> list[dict[str, Any]]:
    if not entry["values"]:
        return [problem("missing", "values", "The entry sets nothing.")]
    found = check_thing(entry["type"], entry["values"], False)
    for name, heads in sorted((entry.get("saw") or {}).items()):
        if not isinstance(heads, list) or len(heads) > 20 or not all(is_id(head) for head in heads):
            found.append(problem("not_an_id", "saw." + name[:40], "This is no identifier."))
    low, high = entry["values"].get("torque_low_newton_metres"), entry["values"].get("torque_high_newton_metres")
    if not found and low is not None and high is not None and low > high:
        found.append(problem("range_reversed", "values.torque_low_newton_metres", "The range begins above its end."))
    return found


def _move(entry: dict[str, Any]) -> list[dict[str, Any]]:
    found = []
    for side in ("from", "to"):
        # Without a bag named, "bag" is: out, and in no bag yet.
        if entry[side] != "bag" and entry.get(side + "_bag") is not None:
            found.append(problem("which_bag", side + "_bag", "Name a bag only for what is in a bag."))
    if not found and entry["from"] == entry["to"] and entry.get("from_bag") == entry.get("to_bag"):
        found.append(problem("goes_nowhere", "to", "The fasteners would stay where they are."))
    if entry["to"] == "stock":
        found.append(problem("not_a_choice", "to", "Nothing goes back to new stock; put it in spares."))
    return found


def _weigh(entry: dict[str, Any]) -> list[dict[str, Any]]:
    grams, low, high = entry.get("grams"), entry.get("low_grams"), entry.get("high_grams")
    if (grams is None) == (low is None and high is None) or (low is None) != (high is None):
        return [problem("figure_or_range", "grams", "Give one figure, or a range from a to b.")]
    if low is not None and low >= high:
        return [problem("range_reversed", "low_grams", "The range begins above its end.")]
    if entry["basis"] == "weighed" and grams is not None and entry.get("step_grams") is None:
        return [problem("missing", "step_grams", "Give the step of the scale.")]
    if entry["basis"] == "document" and entry.get("source") is None:
        return [problem("missing", "source", "Say which document the figure is from.")]
    if entry["basis"] == "estimated" and grams is not None and entry.get("maturity") is None:
        return [problem("missing", "maturity", "Say how well the estimate is known.")]
    return []


WHOLE = {"set": _set, "move": _move, "weigh": _weigh}
