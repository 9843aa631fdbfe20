"""Whether a part is on the machine, or nobody knows, is to be on it in the end, and when it last came off."""

from typing import Any

from .mass import outcome_of
from .thing import Thing, key_of

# For these outcomes "on" means that the new thing is on, not that the old one is back.
NEW_THING = ("swapped", "added")


def is_on(values: dict[str, Any]) -> bool:
    """Whether the part, or what takes its place, is on the machine."""
    return bool(values.get("outcome_done")) if outcome_of(values) in NEW_THING else not values.get("off")


def is_disputed(part: Thing) -> bool:
    """Whether two people wrote apart whether it is on, or what takes its place, and nobody settled which it is."""
    field = part.fields.get("outcome_done" if outcome_of(part.values) in NEW_THING else "off")
    return field is not None and field.disputed and len(set([entry["by"] for entry in field.heads])) > 1


def goes_on(part: Thing) -> bool:
    """Whether the part, or what takes its place, is to be on the machine in the end."""
    outcome = outcome_of(part.values)
    return outcome != "stays_off" and (part.values.get("came_in") != "missing" or outcome == "added")


def came_off(part: Thing) -> Any:
    """(at, id) of the last time the part came off; of its first entry when it never did."""
    field = part.fields.get("off")
    offs = [entry for entry in field.writers if entry["values"]["off"]] if field is not None else []
    return key_of(offs[-1] if offs else part.first)
