"""The entries that say when work began and ended, folded into spells of work."""

from typing import Any

from .ordering import in_order
from .thing import key_of


def spells_of(works: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """Spells in order: {"spell", "begins": entry, "ends": entry or None, "people"}, of entries of `work` in order.

    The first beginning of a spell is its beginning, the last end its end. An end whose beginning is not here is kept
    aside: nobody can say when that spell began.
    """
    found: dict[str, dict[str, Any]] = {}
    for entry in works:
        if entry["act"] == "begins":
            found.setdefault(entry["spell"], {"spell": entry["spell"], "begins": entry, "ends": None, "people": []})
        if entry["spell"] in found:
            spell = found[entry["spell"]]
            spell["people"] += [name for name in entry.get("people") or () if name not in spell["people"]]
            if entry["act"] == "ends":
                spell["ends"] = entry
    return in_order(found.values(), lambda spell: key_of(spell["begins"]))
