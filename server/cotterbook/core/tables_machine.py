"""The table of the whole machine on scales: every weighing, struck ones too, with why."""

from typing import Any

from .entries import wall_clock_ms
from .filing import WEIGH_INS
from .quantities import quotient
from .strip import Strip
from .tables import column, columns, known, pair, struck_why
from .tables_records import STRUCK, WHEN_AND_WHO
from .weigh_in import FUEL_BY_EYE, WeighIn

WEIGH_IN = columns(
    WHEN_AND_WHO,
    known("front", "On the front wheel, as the scale showed it", "g"),
    known("rear", "On the rear wheel, as the scale showed it", "g"),
    known("total", "Mass of the machine, without the rider", "g"),
    known("rear_share", "Share on the rear wheel", "%"),
    column("rider", "Rider", "number", "g"),
    known("fuel", "Fuel in the tank", "l"),
    column("step", "Step of the scale", "number", "g"),
    column("front_scale", "Scale of the front wheel"),
    column("rear_scale", "Scale of the rear wheel"),
    column("higher", "Front wheel higher than the rear one by", "number", "mm"),
    column("raised", "Rear wheel raised by, in a lift test", "number", "mm"),
    column("note", "Note"),
    STRUCK
)  # fmt: skip


def weigh_in_rows(strip: Strip) -> list[list[Any]]:
    """A row for each weighing of the whole machine, in their own order."""
    return [_row(strip, entry) for entry in strip.filed(WEIGH_INS) if entry["kind"] == "weigh_in"]


def _row(strip: Strip, entry: dict[str, Any]) -> list[Any]:
    weighing = WeighIn(entry, strip.scale)
    level = weighing.has_level_loads and weighing.rider is None
    share = quotient(weighing.rear, weighing.total).times(100.0) if level else None
    row = [wall_clock_ms(entry["id"]), entry["who"]]
    row += pair(weighing.front) + pair(weighing.rear) + pair(weighing.total) + pair(share)
    row.append(entry.get("rider_grams"))
    litres, spread = entry.get("fuel_litres"), entry.get("plus_minus_litres")
    row += [litres, None if litres is None else FUEL_BY_EYE if spread is None else spread]
    row.append(entry["step_grams"])
    row += [_scale(strip, entry.get("front_scale")), _scale(strip, entry.get("rear_scale"))]
    row += [entry.get("front_higher_millimetres"), entry.get("rear_raised_millimetres"), entry.get("note")]
    return row + [struck_why(strip, entry), entry["id"]]


def _scale(strip: Strip, scale: Any) -> Any:
    card = strip.scale(scale) if scale else None
    return None if card is None else card.get("name")
