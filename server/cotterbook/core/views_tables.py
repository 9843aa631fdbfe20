"""Tables of one strip-down for spreadsheets: plain lists of figures as they are kept, in nothing rounded."""

from typing import Any

from .language import language_of
from .spreadsheet import csv_lines, head_words
from .strip import Strip
from .tables_machine import WEIGH_IN, weigh_in_rows
from .tables_records import READINGS, TORQUES, reading_rows, torque_rows
from .tables_statement import STATEMENT, SUM, statement_rows, sum_rows
from .tables_things import FASTENERS, PARTS, fastener_rows, part_rows
from .words import Refused, problem, say

# (name, as people call it, columns, rows)
TABLES = (
    ("parts", say("Parts"), PARTS, part_rows),
    ("fasteners", say("Fasteners"), FASTENERS, fastener_rows),
    ("readings", say("Weighings"), READINGS, reading_rows),
    ("weigh_ins", say("The whole machine on scales"), WEIGH_IN, weigh_in_rows),
    ("torques", say("Tightenings"), TORQUES, torque_rows),
    ("statement", say("Mass statement"), STATEMENT, statement_rows),
    ("sums", say("Sums of the mass statement"), SUM, sum_rows),
)
NAMES = tuple([row[0] for row in TABLES])


def tables_view(strip: Strip, arguments: dict[str, Any]) -> list[dict[str, Any]]:
    """The tables that there are: [{"name", "title", "heads": with their units, as sentences}]."""
    return [
        {"name": name, "title": title, "heads": [head_words(head) for head in _heads(columns)]}
        for name, title, columns, _ in TABLES
    ]


def table_view(strip: Strip, arguments: dict[str, Any]) -> dict[str, Any]:
    """One table: {"name", "title", "heads": [{"key", "name", "unit", "kind"}], "rows"}; kinds as in `tables`.

    `table` is its name. Raises Refused "no_such_table".
    """
    for name, title, columns, rows_of in TABLES:
        if name == arguments.get("table"):
            return {"name": name, "title": title, "heads": _heads(columns), "rows": rows_of(strip)}
    raise Refused([problem("no_such_table", "table", "There is no such table.")])


def csv_view(strip: Strip, arguments: dict[str, Any]) -> dict[str, Any]:
    """One table as CSV: {"name", "lines"}. `language` as of `language_of`."""
    table = table_view(strip, arguments)
    return {"name": table["name"], "lines": csv_lines(table, language_of(arguments.get("language")))}


def _heads(columns: list[Any]) -> list[dict[str, Any]]:
    return [{"key": key, "name": name, "unit": unit, "kind": kind} for key, name, unit, kind in columns]
