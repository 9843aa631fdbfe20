"""How the machine is adjusted: each setting as found and as it stands, now or at an earlier moment.

A setting stands at its last figure; before anybody wrote one, as it was found when the machine came in. That is said
of the past, so it counts from the beginning, whenever it was written down. At an earlier moment a setting stands by
the entries until then, in the order of the log; what was struck since was a mistake then too.
"""

from typing import Any

from .fields import Field, fold_fields
from .limits import ADJUSTED
from .ordering import in_order
from .settings_rules import AS_FOUND, SHOWN, rounded_value
from .strip import Strip
from .thing import Thing, key_of

# Usually set alike on both sides, unless the manual says otherwise (common practice, no source).
PAIRED = ("preload", "compression_damping", "rebound_damping")


class Standing:
    """How one setting stands.

    `unit` is the field that holds it. `now` and `found` are its value and the one it was found at, None while unknown;
    `entry` gave `now`, and is None while it stands as found. `disputed` and `found_disputed`: two wrote it blindly.
    """

    __slots__ = ("unit", "now", "found", "entry", "disputed", "found_disputed", "nobody_knows")

    def __init__(self, unit: str, field: Any, found: Any, nobody_knows: bool):
        self.unit = unit
        self.found = None if found is None else found.value
        self.found_disputed = found is not None and found.disputed
        written = field if field is not None and (field.disputed or field.value is not None) else None
        self.now = self.found if written is None else written.value
        self.entry = None if written is None else written.heads[-1]
        self.disputed = self.found_disputed if written is None else written.disputed
        self.nobody_knows = nobody_knows and self.found is None

    @property
    def changed(self) -> bool:
        """Whether it is known to stand otherwise than it was found."""
        return self.now is not None and self.found is not None and not alike(self.unit, self.now, self.found)


def unit_of(setting: Thing) -> str:
    """The field that holds how it stands; words, until its unit is in this log."""
    return str(setting.values.get("measured_in") or "in_words")


def standing(strip: Strip, setting: Thing, before: Any = None) -> Standing:
    """How a setting stands now, or stood just before an entry with this (at, id)."""
    unit = unit_of(setting)
    field = setting.fields.get(unit) if before is None else _field_before(strip, setting, unit, before)
    return Standing(unit, field, setting.fields.get(AS_FOUND + unit), bool(setting.values.get("as_found_unknown")))


def _field_before(strip: Strip, setting: Thing, unit: str, before: Any) -> Field | None:
    sets = [entry for entry in strip.filed(setting.id) if entry["kind"] == "set" and entry["type"] == "setting"]
    earlier = [entry for entry in sets if unit in entry["values"] and key_of(entry) < before]
    return fold_fields([dict(e, values={unit: e["values"][unit]}) for e in earlier], strip.is_struck).get(unit)


def alike(unit: str, one: Any, other: Any) -> bool:
    """Whether two values of a setting are the same, as fine as they are shown."""
    if one is None or other is None:
        return one is other
    return bool(rounded_value(unit, one) == rounded_value(unit, other)) if unit in SHOWN else bool(one == other)


def at_end_of(until_ms: int) -> tuple[int, str]:
    """The place in the log just after all entries until a moment, in ms since 1970."""
    return (until_ms + 1, "")


def settings_of(strip: Strip) -> list[Thing]:
    """All settings that are not struck, by what is adjusted, place, side, name, and their first entry."""
    found = strip.of_type("setting")
    return in_order(found, _place_in_list)


def _place_in_list(setting: Thing) -> Any:
    adjusted = setting.values.get("adjusted")
    names = [str(setting.values.get(name) or "") for name in ("place", "name", "side")]
    return (ADJUSTED.index(adjusted) if adjusted in ADJUSTED else len(ADJUSTED), tuple(names), key_of(setting.first))


def uneven_pairs(strip: Strip, settings: list[Thing]) -> list[tuple[Thing, Thing]]:
    """Left and right of what is usually set alike, where the two are known to differ."""
    sides: dict[Any, dict[str, Thing]] = {}
    for setting in settings:
        values = setting.values
        if values.get("adjusted") in PAIRED and values.get("side") in ("left", "right"):
            key = tuple([str(values.get(name) or "") for name in ("adjusted", "place", "measured_in", "counted")])
            sides.setdefault(key, {}).setdefault(values["side"], setting)
    found = []
    for key in sorted(sides):
        left, right = sides[key].get("left"), sides[key].get("right")
        if left is None or right is None:
            continue
        one, other = standing(strip, left), standing(strip, right)
        known = one.now is not None and other.now is not None and not one.disputed and not other.disputed
        if known and not alike(one.unit, one.now, other.now):
            found.append((left, right))
    return found


def written_twice(settings: list[Thing]) -> list[str]:
    """Ids of settings of which another is of the very same thing, as two phones apart can write them."""
    by_what: dict[Any, list[str]] = {}
    for setting in settings:
        values = setting.values
        names = [str(values.get(name) or "") for name in ("adjusted", "place", "side", "part")]
        by_what.setdefault(tuple(names + [str(values.get("name") or "").strip().lower()]), []).append(setting.id)
    return sorted([each for key in by_what if len(by_what[key]) > 1 for each in by_what[key]])
