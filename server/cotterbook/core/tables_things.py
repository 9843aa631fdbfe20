"""The tables of what there is: parts, and groups of fasteners."""

from typing import Any

from . import mass
from .fastener_mass import fastener_amount
from .fasteners import title
from .strip import Strip
from .tables import WHOSE, column, columns, disputed, known, of_fields, pair, whose
from .thing import Thing
from .views_group import bag_label

PART_FIELDS = (
    ("place", "Place on the machine", ""),
    ("pieces", "Pieces", ""),
    ("came_in", "How the machine came in", ""),
    ("off", "Off now", ""),
    ("outcome", "What becomes of it", ""),
)
PART_MORE = (
    ("replacement", "Swapped for what", ""),
    ("kept", "Where it is kept", ""),
    ("gone", "Why it can’t come back", ""),
    ("along_millimetres", "Behind the front axle", "mm"),
    ("up_millimetres", "Above the ground", "mm"),
    ("carried", "What carries it", ""),
    ("note", "Note", ""),
)
MASSES = (
    ("taken_off", "Mass as taken off"),
    ("going_on", "Mass going on"),
    ("after_cut", "Mass after the cut"),
    ("offcut", "Mass of the offcut"),
)
PARTS = columns(
    WHOSE,
    of_fields("part", PART_FIELDS),
    column("outcome_done", "That is done", "yes_no"),
    *[known(state, name, "g") for state, name in MASSES],
    column("bag", "Bag"),
    of_fields("part", PART_MORE),
    column("disputed", "Two values written apart", "fields"),
    column("id", "Identifier")
)  # fmt: skip

GROUP_FIELDS = (
    ("thread", "Thread", ""),
    ("size", "Size of a pin, washer or clip", ""),
    ("length_millimetres", "Length", "mm"),
    ("head", "Head", ""),
    ("key", "Key or spanner", ""),
    ("grade", "Grade on the head", ""),
    ("finish", "Finish", ""),
    ("washers", "Washers", ""),
    ("sits", "Where it sits", ""),
    ("into", "Screws into", ""),
    ("torque_low_newton_metres", "Torque from the manual", "N·m"),
    ("torque_high_newton_metres", "Up to, where the manual gives a range", "N·m"),
    ("torque_tolerance_newton_metres", "Tolerance, ±", "N·m"),
    ("torque_angle_degrees", "Then by angle", "°"),
    ("torque_condition", "Threads", ""),
    ("torque_page", "Manual and page", ""),
    ("prevailing_newton_metres", "Prevailing torque", "N·m"),
    ("replace_each_time", "New each time", ""),
    ("note", "Note", ""),
)
# Where fasteners can be besides the machine, as `fasteners` has it.
PLACES = (
    ("bag", "In bags"),
    ("spares", "In spares"),
    ("scrapped", "Scrapped"),
    ("lost", "Lost"),
    ("stock", "New, not on yet"),
)
FASTENERS = columns(
    WHOSE,
    column("called", "Fasteners"),
    column("count", "How many", "number"),
    column("on", "On the machine", "number"),
    *[column(place, name, "number") for place, name in PLACES],
    column("bags", "Bags"),
    column("tight", "Tight", "number"),
    column("marked", "Marked", "number"),
    column("checked", "Looked at by another person", "number"),
    column("needs", "Still needs", "words"),
    of_fields("group", GROUP_FIELDS),
    known("grams_each", "Mass of one", "g"),
    column("disputed", "Two values written apart", "fields"),
    column("id", "Identifier")
)  # fmt: skip


def _values(thing: Thing, fields: Any) -> list[Any]:
    return [thing.values.get(field) for field, _, _ in fields]


def part_rows(strip: Strip) -> list[list[Any]]:
    """A row for each part that is not struck."""
    return [_part_row(strip, part) for part in strip.of_type("part")]


def _part_row(strip: Strip, part: Thing) -> list[Any]:
    masses, row = strip.masses(part.id), whose(part) + _values(part, PART_FIELDS)
    row.append(mass.is_done(part.values))
    for state, _ in MASSES:
        row += pair(masses.get(state))
    row.append(bag_label(strip, part.values.get("bag")))
    return row + _values(part, PART_MORE) + [disputed(part), part.id]


def fastener_rows(strip: Strip) -> list[list[Any]]:
    """A row for each group of fasteners that is not struck, nor of a part that is."""
    return [_group_row(strip, group) for group in strip.of_type("group")]


def _group_row(strip: Strip, group: Thing) -> list[Any]:
    values, ledger = group.values, strip.ledger(group.id)
    elsewhere = ledger.elsewhere() + ledger.in_stock()
    labels = [bag_label(strip, bag) for where, bag, _ in elsewhere if where == "bag"]
    row = whose(strip.thing(values.get("part") or ""))
    row += [title(values), ledger.count, ledger.on]
    row += [sum([count for where, _, count in elsewhere if where == place]) for place, _ in PLACES]
    row.append(", ".join([label for label in labels if label]))
    row += [ledger.tight, ledger.marked, ledger.check.checked, strip.needs(group.id)]
    row += _values(group, GROUP_FIELDS)
    return row + pair(fastener_amount(group.id, values)) + [disputed(group), group.id]
