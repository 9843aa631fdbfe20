"""Tables as a workbook (XLSX, ECMA-376): a sheet each, numbers as numbers, texts never as formulas."""

import re
from collections.abc import Iterator
from datetime import UTC, datetime
from typing import IO, Any

from openpyxl import Workbook
from openpyxl.cell import WriteOnlyCell
from openpyxl.styles import Alignment, Font
from openpyxl.utils import get_column_letter

from ..core.language import Language
from ..core.spreadsheet import cell_text, harmless, head_words, moment

# What XML 1.0 cannot hold (2.2), though a text may: it is written as ECMA-376 does (ST_Xstring, 22.9.2.19), and so is
# what looks like that way of writing.
NOT_IN_XML = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\ufffe\uffff]")
LIKE_AN_ESCAPE = re.compile(r"_(?=x[0-9A-Fa-f]{4}_)")
# Common practice, no source: these part a sheet from its workbook and its cells in a formula.
NOT_IN_A_NAME, LONGEST_NAME = re.compile("[\\\\/*?:\\[\\]'\x00-\x1f\ufffe\uffff]"), 31
MOMENT = "yyyy-mm-dd hh:mm:ss"
# ISO 8601 and the spreadsheets' own calendar end with the year 9999.
LAST_MS = 253_402_300_799_999
NARROWEST, WIDEST = 10, 40


def write_workbook(tables: Iterator[dict[str, Any]], file: IO[bytes], language: Language) -> None:
    """Write the tables of `views_tables` into a file, a sheet each, row by row."""
    book = Workbook(write_only=True)
    book.properties.creator = "Cotterbook"
    for table in tables:
        _write_sheet(book, table, language)
    book.save(file)


def _write_sheet(book: Any, table: dict[str, Any], language: Language) -> None:
    heads = [language.sentence(head_words(head)) for head in table["heads"]]
    sheet = book.create_sheet(_title(language.sentence(table["title"])))
    sheet.freeze_panes = "B2"
    sheet.auto_filter.ref = f"A1:{get_column_letter(len(heads))}{len(table['rows']) + 1}"
    for place, head in enumerate(heads, 1):
        # A head takes two lines where it is long.
        sheet.column_dimensions[get_column_letter(place)].width = max(NARROWEST, min(WIDEST, len(head) // 2 + 4))
    sheet.append([_head(sheet, head) for head in heads])
    kinds = [head["kind"] for head in table["heads"]]
    for row in table["rows"]:
        sheet.append([_cell(sheet, kind, value, language) for kind, value in zip(kinds, row, strict=True)])


def _title(words: str) -> str:
    """The words as a sheet's name (ECMA-376, 18.2.19: at most 31 characters; and what no spreadsheet takes in one)."""
    return NOT_IN_A_NAME.sub(" ", words)[:LONGEST_NAME].strip()


def _head(sheet: Any, words: str) -> Any:
    cell = _text(sheet, words)
    cell.font, cell.alignment = Font(bold=True), Alignment(wrap_text=True, vertical="top")
    return cell


def _cell(sheet: Any, kind: str, value: Any, language: Language) -> Any:
    if value is None or kind == "number":
        return value
    if kind != "moment":
        return _text(sheet, cell_text(kind, value, language))
    if value > LAST_MS:
        return _text(sheet, moment(value))
    cell = WriteOnlyCell(sheet, datetime.fromtimestamp(value / 1000, UTC).replace(tzinfo=None))
    cell.number_format = MOMENT
    return cell


def _text(sheet: Any, words: str) -> Any:
    """A cell of text, whatever it looks like: neither a formula nor an error such as #N/A."""
    escaped = LIKE_AN_ESCAPE.sub("_x005F_", harmless(words))
    cell = WriteOnlyCell(sheet, NOT_IN_XML.sub(lambda found: f"_x{ord(found[0]):04X}_", escaped))
    cell.data_type = "s"
    return cell
