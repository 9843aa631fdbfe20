"""The tables of what was read: every weighing of a part and every tightening, struck ones too, with why."""

from typing import Any

from . import torque
from .entries import wall_clock_ms
from .fasteners import title
from .group_record import record_of, struck_of
from .kinds import KINDS
from .readings import one_look, step_of
from .strip import Strip
from .tables import CHOICE_KINDS, WHOSE, column, columns, known, pair, struck_why, whose
from .thing import Thing
from .tightening import doubts
from .tool_uses import uses_of_tools
from .views_part import last_name
from .words import say

READING_FIELDS = (
    ("weighed_as", "Weighed as", ""),
    ("basis", "Where the figure is from", ""),
    ("pieces", "Pieces on the scale", ""),
    ("with_fasteners", "With its fasteners", ""),
)
READING_MORE = (
    ("as_read", "As it was typed", ""),
    ("low_grams", "Wandered from", "g"),
    ("high_grams", "Wandered to", "g"),
    ("tare_grams", "Empty container", "g"),
    ("fluid", "Which fluid", ""),
    ("litres", "Litres", "l"),
    ("source", "Which document, which page", ""),
    ("maturity", "How well known", ""),
)


def _of_entry(kind: str, wanted: Any) -> list[Any]:
    kinds = {field[0]: field[1] for field in KINDS[kind]}
    return [(field, say(name), unit, CHOICE_KINDS.get(kinds[field], kinds[field])) for field, name, unit in wanted]


WHEN_AND_WHO = columns(column("at", "When", "moment", "UTC"), column("who", "Who"))
STRUCK = columns(column("struck", "Struck as a mistake, because"), column("id", "Identifier of the entry"))
READINGS = columns(
    WHOSE,
    WHEN_AND_WHO,
    known("mass", "Mass of these pieces", "g"),
    column("used", "The part’s mass rests on it", "yes_no"),
    _of_entry("weigh", READING_FIELDS),
    column("step", "Step of the scale", "number", "g"),
    column("scale", "Which scale"),
    _of_entry("weigh", READING_MORE),
    STRUCK
)  # fmt: skip
TORQUES = columns(
    WHOSE,
    column("called", "Fasteners"),
    WHEN_AND_WHO,
    column("count", "How many", "number"),
    column("step", "Which step", "number"),
    known("torque", "Torque", "N·m"),
    known("clamping", "Of it tightens, less the prevailing torque", "N·m"),
    column("setting", "Set on the wrench", "number", "N·m"),
    column("angle", "Turned by", "number", "°"),
    column("tool", "Wrench"),
    column("as_read", "As it was typed"),
    column("retorque", "As a retorque", "yes_no"),
    column("low", "Accepted from", "number", "N·m"),
    column("high", "Accepted to", "number", "N·m"),
    column("judged", "Against the specification", "word"),
    column("doubt", "In doubt, because", "sentence"),
    column("counts", "Still counts", "yes_no"),
    column("over", "Counts no more, because", "sentence"),
    STRUCK
)  # fmt: skip


def _named(strip: Strip, part: Any) -> list[Any]:
    """As `whose`; a part that is struck keeps its last name here."""
    cells = whose(part)
    return cells if part is None else [last_name(strip, part) or None] + cells[1:]


def reading_rows(strip: Strip) -> list[list[Any]]:
    """A row for each weighing of a part, a part at a time, in their own order; those of struck parts come last."""
    parts = strip.of_type("part") + strip.struck_of_type("part") + strip.of_type("")
    found = []
    for part in parts:
        weighings = [entry for entry in strip.filed(part.id) if entry["kind"] == "weigh"]
        if weighings:
            masses, named = strip.masses(part.id), _named(strip, part)
            used = [each for state in masses if masses[state] is not None for each in masses[state].used]
            used = used if part.alive else []
            found += [named + _reading_cells(strip, entry, entry["id"] in used) for entry in weighings]
    return found


def _reading_cells(strip: Strip, entry: dict[str, Any], used: bool) -> list[Any]:
    card = strip.scale(entry["on_scale"]) if entry.get("on_scale") else None
    row = [wall_clock_ms(entry["id"]), entry["who"]] + pair(one_look(entry, strip.scale)) + [used]
    row += [entry.get(field) for field, _, _ in READING_FIELDS]
    row += [step_of(entry, strip.scale), entry.get("scale") if card is None else card.get("name")]
    row += [entry.get(field) for field, _, _ in READING_MORE]
    return row + [struck_why(strip, entry), entry["id"]]


def torque_rows(strip: Strip) -> list[list[Any]]:
    """A row for each tightening, a group at a time, in their own order; those of struck groups come last."""
    found, uses = [], uses_of_tools(strip)
    for group in strip.of_type("group") + strip.struck_groups():
        named = _named(strip, strip.thing(group.values.get("part") or "")) + [title(group.values)]
        lines = record_of(strip, group)["lines"]
        stands = strip.counts_at_all(group)
        for line in lines:
            if line["entry"]["kind"] == "tighten":
                counts = line["counts"] if stands else False
                found.append(named + _torque_cells(strip, group, line["entry"], uses, counts, line["why"]))
        for entry in struck_of(strip, group):
            if entry["kind"] == "tighten":
                found.append(named + _torque_cells(strip, group, entry, uses, False, None))
    return found


def _torque_cells(strip: Strip, group: Thing, entry: dict[str, Any], uses: Any, counts: Any, over: Any) -> list[Any]:
    spec, at_ms = torque.of_step(torque.specification(group.values), entry.get("step")), wall_clock_ms(entry["id"])
    judged, _, reason = torque.judged(entry, spec, doubts(strip, entry, at_ms, uses))
    limits = {"low": None, "high": None} if spec is None else spec["limits"]
    kept = torque.held(entry, None if spec is None else spec["prevailing"])
    row = [at_ms, entry["who"], entry["count"], entry.get("step"), entry["newton_metres"], torque.expanded_of(entry)]
    row += list(torque.clamping(kept))
    tool = strip.thing(entry["with_tool"]) if entry.get("with_tool") else None
    name = entry.get("tool") or (None if tool is None else tool.values.get("name"))
    row += [entry.get("setting_newton_metres"), entry.get("angle_degrees"), name, entry.get("as_read")]
    row += [bool(entry.get("retorque")), limits["low"], limits["high"], judged, reason, counts, over]
    return row + [struck_why(strip, entry), entry["id"]]
