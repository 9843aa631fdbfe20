"""Papers that labels for bags, boxes and parts are printed on: page, grid and label, in millimetres.

The pages are ISO 216 A4 and ANSI/ASME Y14.1 size A (Letter). How die-cut label sheets are laid out, and how wide the
rolls of till printers are and what of it they print, is common practice, no source, and from memory.
"""

from typing import Any

A4, LETTER = (210.0, 297.0), (215.9, 279.4)
# How many may be printed at once: a shop's box of bags, and few enough that a phone draws them.
TAGS_AT_ONCE = 200


def _sheet(
    code: str, page: str, columns: int, rows: int, tag: Any, gaps: Any, cut: bool = False
) -> dict[str, Any]:
    """A sheet whose labels stand in the middle of the page, `gaps` (across, down) apart; with lines to `cut` along."""
    wide, high = A4 if page == "a4" else LETTER
    return {
        "code": code,
        "page": page,
        "columns": columns,
        "rows": rows,
        "wide": tag[0],
        "high": tag[1],
        "left": round((wide - columns * tag[0] - (columns - 1) * gaps[0]) / 2, 3),
        "top": round((high - rows * tag[1] - (rows - 1) * gaps[1]) / 2, 3),
        "across": tag[0] + gaps[0],
        "down": tag[1] + gaps[1],
        "page_wide": wide,
        "page_high": high,
        "cut": cut,
    }


def _roll(code: str, wide: float, high: float, printed: float) -> dict[str, Any]:
    """A roll, each label a page of its own; a till printer leaves a margin left and right: only `printed` mm show."""
    own: dict[str, Any] = {"code": code, "page": code, "columns": 1, "rows": 1, "cut": False}
    own.update(wide=printed, high=high, left=(wide - printed) / 2, top=0.0, across=printed, down=high)
    own.update(page_wide=wide, page_high=high)
    return own


PAPERS = (
    _sheet("a4_plain", "a4", 2, 5, (90.0, 54.0), (0.0, 0.0), True),
    _sheet("a4_21", "a4", 3, 7, (63.5, 38.1), (2.5, 0.0)),
    _sheet("a4_24", "a4", 3, 8, (70.0, 37.0), (0.0, 0.0)),
    _sheet("a4_8", "a4", 2, 4, (99.1, 67.7), (2.5, 0.0)),
    _sheet("letter_plain", "letter", 2, 5, (90.0, 50.8), (0.0, 0.0), True),
    _sheet("letter_30", "letter", 3, 10, (66.675, 25.4), (3.175, 0.0)),
    _sheet("letter_10", "letter", 2, 5, (101.6, 50.8), (4.7625, 0.0)),
    _roll("roll_58", 58.0, 40.0, 48.0),
    _roll("roll_80", 80.0, 50.0, 72.0),
)

LINE_MILLIMETRES = 3.6
# Above the lines the number, large, and what came off, in two lines; under them the day and the machine; the margins.
HEAD_AND_FOOT_MILLIMETRES = 20.5


def paper_of(code: Any) -> dict[str, Any]:
    """The paper with this code, or the first."""
    found = [paper for paper in PAPERS if paper["code"] == code]
    return found[0] if found else PAPERS[0]


def lines_on(paper: dict[str, Any]) -> int:
    """How many lines of text a label of this paper holds besides its number, its machine and its day."""
    return max(1, int((paper["high"] - HEAD_AND_FOOT_MILLIMETRES) / LINE_MILLIMETRES))
