"""Reading CSV (RFC 4180) as people and spreadsheets write it: by comma, semicolon or tab, with any line end.

Beyond the RFC, which allows none there, a quotation mark inside a cell that does not begin with one is taken as it
stands: a manual's table may say 1/2".
"""

from typing import Any

from .words import Refused, problem

DELIMITERS = (",", ";", "\t")
MOST_CHARACTERS = 1_000_000
MOST_ROWS, MOST_COLUMNS = 2_000, 60
# By so many rows it is told what parts the cells.
LOOKED_AT = 20


def read_csv(text: Any, delimiter: str) -> list[tuple[int, list[str]]]:
    """Every row that is not blank, as (the line it begins at, from 1; its cells); Refused if broken or too large."""
    if not isinstance(text, str) or len(text) > MOST_CHARACTERS:
        raise Refused([problem("too_big", "csv", "This file is too large for a table.")])
    if delimiter not in DELIMITERS:
        raise Refused([problem("not_a_choice", "delimiter", "The cells are parted by a comma, a semicolon or a tab.")])
    if "\x00" in text:
        raise Refused([problem("no_csv", "csv", "This file is no table: it holds what is no text.")])
    rows = _rows(text[1:] if text[:1] == "\ufeff" else text, delimiter)
    if not rows:
        raise Refused([problem("no_rows", "csv", "This file has no rows.")])
    if len(rows) > MOST_ROWS:
        raise Refused([problem("too_many", "csv", "A table here has at most {limit} rows.", limit=MOST_ROWS)])
    for line, cells in rows:
        if len(cells) > MOST_COLUMNS:
            words = "Line {line}: more than {limit} columns."
            raise Refused([problem("too_many", "csv", words, line=line, limit=MOST_COLUMNS)])
    return rows


def _rows(text: str, delimiter: str) -> list[tuple[int, list[str]]]:
    plain = text.replace("\r\n", "\n").replace("\r", "\n")
    rows: list[tuple[int, list[str]]] = []
    cells: list[str] = []
    at, line, began = 0, 1, 1
    while at <= len(plain):
        cell, end, lines = _cell(plain, at, delimiter, line)
        cells.append(cell)
        line += lines
        if end < len(plain) and plain[end] == delimiter:
            at = end + 1
            continue
        if any([each.strip() for each in cells]):
            rows.append((began, cells))
        cells, at, line = [], end + 1, line + 1
        began = line
        if end >= len(plain) - 1:
            break
    return rows


def _cell(text: str, at: int, delimiter: str, line: int) -> tuple[str, int, int]:
    """(the cell that begins here, where it ends, how many line ends are in it)."""
    if text[at : at + 1] != '"':
        ends = [each for each in (text.find(delimiter, at), text.find("\n", at)) if each >= 0]
        end = min(ends) if ends else len(text)
        return (text[at:end], end, 0)
    found, look = [], at + 1
    while True:
        close = text.find('"', look)
        if close < 0:
            raise Refused([problem("broken_csv", "csv", "Line {line}: a quotation mark is never closed.", line=line)])
        found.append(text[look:close])
        if text[close + 1 : close + 2] == '"':
            found.append('"')
            look = close + 2
            continue
        cell = "".join(found)
        lines = cell.count("\n")
        if close + 1 < len(text) and text[close + 1] not in (delimiter, "\n"):
            words = "Line {line}: something stands behind a closing quotation mark."
            raise Refused([problem("broken_csv", "csv", words, line=line + lines)])
        return (cell, close + 1, lines)


def likely_delimiter(text: str) -> str:
    """What parts the cells, by the first rows: what gives every row as many of them, and the most."""
    best, most = DELIMITERS[0], (-1, -1)
    for delimiter in DELIMITERS:
        try:
            rows = _rows(text[: MOST_CHARACTERS].lstrip("\ufeff"), delimiter)[:LOOKED_AT]
        except Refused:
            continue
        widths = [len(cells) for _, cells in rows]
        same = len([width for width in widths if width == widths[0] and width > 1])
        if (same, widths[0] if widths else 0) > most:
            best, most = delimiter, (same, widths[0] if widths else 0)
    return best
