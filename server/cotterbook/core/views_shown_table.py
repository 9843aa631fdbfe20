"""A table as a person reads it: figures rounded by their uncertainty, and only the columns that hold something."""

from typing import Any

from .figures import plain_number, shown_with
from .strip import Strip
from .views_tables import table_view

SPREAD = "_uncertainty"
# Whatever a figure is known to, it is not read finer than this.
MOST_DECIMALS = 4


def shown_table_view(strip: Strip, arguments: dict[str, Any]) -> dict[str, Any]:
    """{"name", "title", "heads", "rows": [{"id": what the row is of, or None, "cells"}]}; `table` as for `table_view`.

    A cell is None, what `tables` has for its kind, or of a number {"value", "plus_minus": as text, "raw": to sort by}.
    """
    table = table_view(strip, arguments)
    heads, rows = table["heads"], table["rows"]
    keys = [head["key"] for head in heads]
    spreads = {n: keys.index(keys[n] + SPREAD) for n in range(len(keys)) if keys[n] + SPREAD in keys}
    shown = [n for n in range(len(heads)) if _is_shown(n, keys, spreads, rows)]
    own = keys.index("id") if "id" in keys else None
    return {
        "name": table["name"],
        "title": table["title"],
        "heads": [heads[n] for n in shown],
        "rows": [
            {
                "id": None if own is None else row[own],
                "cells": [_cell(row[n], heads[n]["kind"], row[spreads[n]] if n in spreads else None) for n in shown],
            }
            for row in rows
        ],
    }


def _is_shown(n: int, keys: list[str], spreads: dict[int, int], rows: list[list[Any]]) -> bool:
    if keys[n] == "id" or n in spreads.values():
        return False
    return n == 0 or any([row[n] not in (None, [], "") for row in rows])


def _cell(value: Any, kind: str, spread: Any) -> Any:
    if value is None or kind != "number":
        return value
    if not spread:
        return {"value": plain_number(value, MOST_DECIMALS), "plus_minus": None, "raw": value}
    found = shown_with(value, spread, "", MOST_DECIMALS)
    return {"value": found["value"], "plus_minus": found["plus_minus"], "raw": value}
