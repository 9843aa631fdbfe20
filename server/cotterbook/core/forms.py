"""The shape of a form before an act reads it: rows where rows are due, plain values everywhere else."""

from typing import Any

from .words import problem

ROWS = ("groups", "readings", "photos", "items")
MAPS = ("values", "units", "photo", "columns")
LISTS_BY_FIELD = ("saw",)
TEXTS = ("people",)
NUMBERS = ("positions",)
MOST_ROWS = 100
# Read as text or as a key: a figure may come as a number, these may not.
ALWAYS_TEXT = (
    "strip",
    "part",
    "group",
    "thing",
    "type",
    "entry",
    "item",
    "machine",
    "act",
    "unit",
    "torque_unit",
    "standard_unit",
    "from",
    "from_bag",
    "to",
    "again",
    "on_scale",
    "with_tool",
    "front_scale",
    "rear_scale",
    "scale_id",
    "fluid",
    "against",
    "view",
    "basis",
    "weighed_as",
    "what",
    "rule",
    "before",
    "first",
    "of_strip",
    "wait",
    "way",
    "on_photo",
    "pin",
    "retorque_unit",
    "retorque_times",
    "odometer_unit",
    "lower",
    "setting",
    "spell",
    "foreseen",
    "map",
    "csv",
    "delimiter",
    "manual",
)


def check_shape(form: Any) -> list[dict[str, Any]]:
    """Problems of a form's shape, by its fields; an act may only read a form that has none."""
    if not isinstance(form, dict):
        return [_bad("")]
    found = []
    for name in sorted(form):
        value = form[name]
        if value is None:
            continue
        if name in ROWS:
            found += _rows(name, value)
        elif name in MAPS:
            found += _plain_map(name, value)
        elif name in LISTS_BY_FIELD:
            fine = isinstance(value, dict) and all(_texts(value[key]) for key in value)
            found += [] if fine else [_bad(name)]
        elif name in TEXTS:
            found += [] if _texts(value) else [_bad(name)]
        elif name in NUMBERS:
            fine = isinstance(value, list) and all([isinstance(each, int) for each in value])
            found += [] if fine else [_bad(name)]
        elif not _is_plain(name, value):
            found.append(_bad(name))
    return found


def _rows(name: str, rows: Any) -> list[dict[str, Any]]:
    if not isinstance(rows, list):
        return [_bad(name)]
    if len(rows) > MOST_ROWS:
        return [problem("too_many_rows", name, "More than {limit} rows at once. Save some first.", limit=MOST_ROWS)]
    found = []
    for index, row in enumerate(rows):
        found += _plain_map(name + "." + str(index), row)
    return found


def _plain_map(name: str, value: Any) -> list[dict[str, Any]]:
    if not isinstance(value, dict):
        return [_bad(name)]
    return [_bad(name + "." + key) for key in sorted(value) if not _is_plain(key, value[key])]


def _is_plain(name: str, value: Any) -> bool:
    if name in ALWAYS_TEXT:
        return value is None or isinstance(value, str)
    return value is None or isinstance(value, (str, int, float, bool))


def _texts(value: Any) -> bool:
    return isinstance(value, list) and all(isinstance(each, str) for each in value)


def _bad(field: str) -> dict[str, Any]:
    return problem("bad_form", field, "This part of the form cannot be read.")
