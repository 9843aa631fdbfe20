"""Reading CSV (RFC 4180) as people and spreadsheets write it: by comma, semicolon or tab, with any line end.

Beyond the RFC, which allows none there, a quotation mark inside a cell that does not begin with one is taken as it
stands: a manual's table may say 1/2". A first line "sep=;" tells a spreadsheet what parts the cells, and is no row.

It reads a line at a time and stops at the first row too many: the phone's Python counts letters beyond ASCII from the
start of a text each time, so that one long text would take the square of its length.
"""

from typing import Any

from .words import Refused, problem

DELIMITERS = (",", ";", "\t")
# So much is read, checked and taken on a phone before its core is held to be dead.
MOST_CHARACTERS = 200_000
MOST_ROWS, MOST_COLUMNS = 500, 60
# Blank lines are no rows; so many of any kind are no table.
MOST_LINES = 20_000
MOST_IN_ROW = 10_000
# By so many rows it is told what parts the cells.
LOOKED_AT = 20


def read_csv(text: Any, delimiter: str) -> list[tuple[int, list[str]]]:
    """Every row that is not blank, as (the line it begins at, from 1; its cells); Refused if broken or too large."""
    if not isinstance(text, str):
        raise Refused([problem("no_csv", "csv", "This file is no table: it holds what is no text.")])
    if len(text) > MOST_CHARACTERS:
        raise Refused([problem("too_big", "csv", "This file is too large for a table.")])
    if delimiter not in DELIMITERS:
        raise Refused([problem("not_a_choice", "delimiter", "The cells are parted by a comma, a semicolon or a tab.")])
    if "\x00" in text:
        raise Refused([problem("no_csv", "csv", "This file is no table: it holds what is no text.")])
    rows = _rows(text, delimiter, MOST_ROWS + 1)
    if not rows:
        raise Refused([problem("no_rows", "csv", "This file has no rows.")])
    if len(rows) > MOST_ROWS:
        raise Refused([_too_many()])
    return rows


def likely_delimiter(text: str) -> str:
    """What parts the cells, by the first rows: what gives most of them as many cells as one another, and the most."""
    start = text[: MOST_IN_ROW * LOOKED_AT]
    declared = _declared(start.lstrip("\ufeff").split("\n")[0].strip("\r"))
    if declared in DELIMITERS:
        return declared
    best, most = DELIMITERS[0], (0, 0)
    for delimiter in DELIMITERS:
        try:
            rows = _rows(start, delimiter, LOOKED_AT)
        except Refused:
            continue
        widths = [len(cells) for _, cells in rows if len(cells) > 1]
        score = max([(widths.count(width), width) for width in widths] or [(0, 0)])
        if score > most:
            best, most = delimiter, score
    return best


def _declared(line: str) -> str:
    """The mark that a first line "sep=;" names, or "" where it is another line."""
    return line[4:] if line[:4].lower() == "sep=" and len(line) == 5 else ""


def _rows(text: str, delimiter: str, most: int) -> list[tuple[int, list[str]]]:
    """The first rows that are not blank, `most` of them."""
    plain = text[1:] if text[:1] == "\ufeff" else text
    plain = plain.replace("\r\n", "\n").replace("\r", "\n")
    if plain.count("\n") > MOST_LINES:
        raise Refused([_too_many()])
    lines = plain.split("\n")
    rows: list[tuple[int, list[str]]] = []
    at = 1 if _declared(lines[0]) else 0
    while at < len(lines) and len(rows) < most:
        used = 1
        if lines[at].strip(" \t" + delimiter):
            cells, used = _row(lines, at, delimiter)
            if any([each.strip() for each in cells]):
                rows.append((at + 1, cells))
        at += used
    return rows


def _row(lines: list[str], at: int, delimiter: str) -> tuple[list[str], int]:
    """(the cells of the row that begins at this line, how many lines it takes)."""
    cells: list[str] = []
    line, used, begins = lines[at], 1, 0
    while begins <= len(line):
        if len(cells) == MOST_COLUMNS:
            words = "Line {line}: more than {limit} columns."
            raise Refused([problem("too_many", "csv", words, line=at + 1, limit=MOST_COLUMNS)])
        if len(line) > MOST_IN_ROW:
            words = "Line {line}: more than {limit} characters."
            raise Refused([problem("too_big", "csv", words, line=at + used, limit=MOST_IN_ROW)])
        if line[begins : begins + 1] != '"':
            ends = line.find(delimiter, begins)
            ends = len(line) if ends < 0 else ends
            cells.append(line[begins:ends])
        else:
            cell, line, ends, used = _quoted(lines, at, used, line, begins + 1)
            cells.append(cell)
            if line[ends : ends + 1] not in ("", delimiter):
                words = "Line {line}: something stands behind a closing quotation mark."
                raise Refused([problem("broken_csv", "csv", words, line=at + used)])
        begins = ends + 1
    return (cells, used)


def _quoted(lines: list[str], at: int, used: int, line: str, look: int) -> tuple[str, str, int, int]:
    """A cell in quotation marks: (its text, the line it ends in, where there, how many lines the row takes so far)."""
    begun, found, length = at + used, [], 0
    while True:
        close = line.find('"', look)
        if close >= 0:
            found.append(line[look:close])
            if line[close + 1 : close + 2] != '"':
                return ("".join(found), line, close + 1, used)
            found.append('"')
            look = close + 2
            continue
        found.append(line[look:] + "\n")
        length += len(line) + 1
        if at + used >= len(lines) or length > MOST_IN_ROW:
            raise Refused([problem("broken_csv", "csv", "Line {line}: a quotation mark is never closed.", line=begun)])
        line, look, used = lines[at + used], 0, used + 1


def _too_many() -> dict[str, Any]:
    return problem("too_many", "csv", "A table here has at most {limit} rows.", limit=MOST_ROWS)
