"""Rules that join several fields of one kind of entry, once each field is right by itself."""

from typing import Any

from .words import problem


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
    grams, low, high, litres = (entry.get(name) for name in ("grams", "low_grams", "high_grams", "litres"))
    if litres is not None:
        return _drained(entry)
    if entry.get("fluid") is not None or entry.get("plus_minus_litres") is not None:
        return [problem("missing", "litres", "Say how many litres.")]
    if (grams is None) == (low is None and high is None) or (low is None) != (high is None):
        return [problem("figure_or_range", "grams", "Give one figure, or a range from a to b.")]
    if low is not None and low >= high:
        return [problem("range_reversed", "low_grams", "The range begins above its end.")]
    if entry.get("tare_grams") is not None and entry["tare_grams"] >= (grams if grams is not None else low):
        return [problem("tare_too_heavy", "tare_grams", "The empty container weighs as much as the full one.")]
    if entry["basis"] == "weighed" and grams is not None and entry.get("step_grams") is None:
        return [problem("missing", "step_grams", "Give the step of the scale.")]
    if entry["basis"] == "document" and entry.get("source") is None:
        return [problem("missing", "source", "Say which document the figure is from.")]
    if entry["basis"] == "estimated" and grams is not None and entry.get("maturity") is None:
        return [problem("missing", "maturity", "Say how well the estimate is known.")]
    return []


def _drained(entry: dict[str, Any]) -> list[dict[str, Any]]:
    """A fluid by its litres: its mass is worked out from its density, so it has no figure in grams of its own."""
    if any(entry.get(name) is not None for name in ("grams", "low_grams", "high_grams")):
        return [problem("figure_or_range", "grams", "Give the mass or the litres, not both.")]
    if entry.get("fluid") is None:
        return [problem("missing", "fluid", "Say which fluid it was.")]
    if entry["basis"] != "worked_out":
        return [problem("not_a_choice", "basis", "A mass from litres is worked out.")]
    return []


def _tighten(entry: dict[str, Any]) -> list[dict[str, Any]]:
    positions = entry.get("positions")
    if positions is None:
        return []
    if entry.get("pattern") is None:
        return [problem("missing", "pattern", "Say in which order these places are counted.")]
    if len(positions) != entry["count"]:
        text = "As many places as were tightened are wanted: {n}."
        return [problem("not_that_many", "positions", text, n=entry["count"])]
    return []


def _machine_use(entry: dict[str, Any]) -> list[dict[str, Any]]:
    if entry.get("kilometres") is None and entry.get("heat_cycles") is None:
        return [problem("missing", "kilometres", "Give what the odometer shows, or the count of heat cycles.")]
    return []


def _weigh_in(entry: dict[str, Any]) -> list[dict[str, Any]]:
    if entry.get("rear_grams") is None and entry.get("rear_raised_millimetres") is None:
        return [problem("missing", "rear_grams", "This is missing.")]
    if entry.get("plus_minus_litres") is not None and entry.get("fuel_litres") is None:
        return [problem("missing", "fuel_litres", "Say how many litres.")]
    shown = entry["front_grams"] + (entry.get("rear_grams") or 0.0)
    if (entry.get("rider_grams") or 0.0) >= shown:
        return [problem("out_of_range", "rider_grams", "That is as much as the scales showed for both together.")]
    return []


def _work(entry: dict[str, Any]) -> list[dict[str, Any]]:
    of_the_end = [name for name in ("ended_at_ms", "missing", "next") if entry.get(name) is not None]
    if entry["act"] == "begins" and of_the_end:
        return [problem("only_at_the_end", of_the_end[0], "This is said when a spell ends.")]
    return []


WHOLE = {
    "move": _move,
    "weigh": _weigh,
    "tighten": _tighten,
    "weigh_in": _weigh_in,
    "machine_use": _machine_use,
    "work": _work,
}
