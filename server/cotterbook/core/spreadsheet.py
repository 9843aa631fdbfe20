"""Tables as text for spreadsheets: what a cell says, formulas made harmless, and CSV (RFC 4180).

A text that a person wrote may begin like a formula, and a spreadsheet would then work it out, or fetch what it names
(OWASP, "CSV Injection"; ASVS 5.0, 1.2.10). An apostrophe in front makes it text. A text that has one there already gets
another, so each can be told back: take one apostrophe away. Numbers are not texts and stay as they are.
"""

from typing import Any

from .days import day_of
from .figures import plain_number
from .language import ENGLISH, Language
from .words import say

# The last four are the full-width forms, which some spreadsheets take for the same (common practice, no source).
SIGNS = "=+-@\t\r\uff1d\uff0b\uff0d\uff20"
MARK = "'"
# A spreadsheet looks past these for the sign.
BLANKS = " \n\u00a0\u3000\ufeff"
# Where a spreadsheet may begin another cell, or another row, inside a text: in many countries it parts cells at ";".
PARTING = ";\t\r\n"
QUOTED = ",;\"\t\r\n"
# A millionth of a gram and of a newton metre.
DECIMALS = 6
# Without it spreadsheets on Windows read UTF-8 as the country's old code page, and "N·m" as two signs.
BYTE_ORDER_MARK = "\ufeff"
LINE_END = "\r\n"


def _wants_mark(text: str, begin: int) -> bool:
    """Whether what begins at this place is a formula to some spreadsheet, or begins with the mark itself."""
    if text[begin : begin + 1] == MARK:
        return True
    for character in text[begin:]:
        if character not in BLANKS:
            return character in SIGNS
    return False


def harmless(text: str) -> str:
    """The text as one cell that no spreadsheet takes for a formula."""
    return MARK + text if _wants_mark(text, 0) else text


def harmless_in_lines(text: str) -> str:
    """The text as a part of a file that a spreadsheet parts into cells by itself, perhaps not where it was meant to."""
    if not any([sign in text for sign in PARTING]):
        return harmless(text)
    found = [MARK] if _wants_mark(text, 0) else []
    for place, character in enumerate(text):
        found.append(character)
        if character in PARTING and _wants_mark(text, place + 1):
            found.append(MARK)
    return "".join(found)


def cell_text(kind: str, value: Any, language: Language = ENGLISH) -> str:
    """What a cell says, "" where nothing is known; a person's text as it was written. `kind` as in `tables`.

    A decimal mark is a point in every language, so that each spreadsheet reads the same.
    """
    if value is None:
        return ""
    if kind == "number":
        return plain_number(value, DECIMALS) if isinstance(value, float) else str(value)
    if kind == "yes_no":
        return language.text("yes") if value else language.text("no")
    if kind == "word":
        return language.label(value)
    if kind == "words":
        return ", ".join([language.label(each) for each in value])
    if kind == "fields":
        return ", ".join([language.field(each) for each in value])
    if kind == "sentence":
        return language.sentence(value)
    return moment(value) if kind == "moment" else str(value)


def moment(at_ms: int) -> str:
    """A moment in ms since 1970 as 2026-05-31 18:04:05, in UTC."""
    year, month, day = day_of(at_ms)
    seconds = at_ms // 1000 % 86_400
    clock = (seconds // 3600, seconds // 60 % 60, seconds % 60)
    return "{:04d}-{:02d}-{:02d} {:02d}:{:02d}:{:02d}".format(year, month, day, clock[0], clock[1], clock[2])


def head_words(head: dict[str, Any]) -> dict[str, Any]:
    """The head of a column with its unit, as a sentence: "Mass (g)"."""
    return say("{name} ({unit})", name=head["name"], unit=head["unit"]) if head["unit"] else head["name"]


def csv_lines(table: dict[str, Any], language: Language = ENGLISH) -> list[str]:
    """A table as lines of CSV, each with its end: put together they are the file, as UTF-8.

    A decimal mark is always a point. RFC 4180: cells parted by commas, lines
    ended by CR LF, in quotation marks what holds one of these, a quotation mark doubled.
    """
    kinds = [head["kind"] for head in table["heads"]]
    names = [language.sentence(head_words(head)) for head in table["heads"]]
    lines = [BYTE_ORDER_MARK + _line([_quoted(harmless_in_lines(name)) for name in names])]
    for row in table["rows"]:
        lines.append(_line([_cell(kind, value, language) for kind, value in zip(kinds, row)]))
    return lines


def _line(cells: list[str]) -> str:
    return ",".join(cells) + LINE_END


def _cell(kind: str, value: Any, language: Language) -> str:
    text = cell_text(kind, value, language)
    return text if not text or kind in ("number", "moment") else _quoted(harmless_in_lines(text))


def _quoted(text: str) -> str:
    if not any([sign in text for sign in QUOTED]) and text.strip(" ") == text:
        return text
    return '"' + text.replace('"', '""') + '"'
