"""The files that a strip-down is exported as, by their names."""

import json
from collections.abc import Iterator
from typing import IO, Any

from .. import VERSION as PROGRAM
from ..core.language import ENGLISH, Language
from ..core.spreadsheet import csv_lines, head_words, moment
from ..core.strip import Strip
from ..core.views_tables import NAMES as TABLES
from ..core.views_tables import table_view
from ..core.words import spoken

FORMAT, VERSION = "cotterbook tables", 1
WORKBOOK, DATA = "tables.xlsx", "tables.json"
CSV = {f"{name}.csv": name for name in TABLES}
NAMES = (WORKBOOK, *CSV, DATA)
TYPES = {
    WORKBOOK: "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet",
    DATA: "application/json",
    **dict.fromkeys(CSV, "text/csv; charset=utf-8; header=present"),
}


def write_export(strip: Strip, name: str, file: IO[bytes], language: Language = ENGLISH) -> None:
    """Write the file of this name, one of `NAMES`; JSON, which is for programs, is English in every language."""
    if name == WORKBOOK:
        from .workbook import write_workbook  # What writes workbooks takes a while to load, and few ask for one.

        write_workbook(tables_of(strip), file, language)
    elif name == DATA:
        file.write(json.dumps(_data(strip), ensure_ascii=False, indent=1).encode())
    else:
        for line in csv_lines(table_view(strip, {"table": CSV[name]}), language):
            file.write(line.encode())


def tables_of(strip: Strip) -> Iterator[dict[str, Any]]:
    """Every table of a strip-down, one after the other."""
    for name in TABLES:
        yield table_view(strip, {"table": name})


def _data(strip: Strip) -> dict[str, Any]:
    own = strip.thing(strip.id)
    return {
        "format": FORMAT, "version": VERSION, "program": PROGRAM, "strip": strip.id,
        "name": own.values.get("name") if own is not None else None,
        # Written by a newer program, or unreadable: what they say is in no table.
        "entries_not_understood": len(strip.not_understood),
        "tables": {table["name"]: _table(table) for table in tables_of(strip)},
    }


def _table(table: dict[str, Any]) -> dict[str, Any]:
    heads = table["heads"]
    columns = {head["key"]: {"name": spoken(head_words(head)), "unit": head["unit"] or None} for head in heads}
    rows = [
        {head["key"]: _value(head["kind"], value) for head, value in zip(heads, row, strict=True)}
        for row in table["rows"]]
    return {"columns": columns, "rows": rows}


def _value(kind: str, value: Any) -> Any:
    """A cell as a program reads it: numbers, codes and texts as they are kept, moments as RFC 3339 has them."""
    if value is None:
        return None
    if kind == "moment":
        return moment(value).replace(" ", "T") + "Z"
    return spoken(value) if kind == "sentence" else value
