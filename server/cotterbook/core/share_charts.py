"""The pictures of the numbers on the page to send: tables whose rows have their bars drawn into them (SVG 2)."""

from typing import Any

from .share_sections import section
from .share_words import Told
from .spreadsheet import moment
from .strip import Strip
from .views_charts import balance_chart_view, staircase_view
from .words import say

# Once in the page: what the screen fills is hatched on paper.
HATCH = (
    '<svg class="away" aria-hidden="true" width="0" height="0"><defs><pattern id="hatch" patternUnits="userSpaceOnUse"'
    ' width="8" height="6"><path d="M0 6L8 0M-2 1.5L2 -1.5M6 7.5L10 4.5" stroke="#000"/></pattern></defs></svg>\n'
)
LOWEST, TALLER = 24, 36
BALANCE = {
    "front": say("On the front wheel"),
    "rear": say("On the rear wheel"),
    "rear_percent": say("Share on the rear wheel"),
    "along": say("Centre behind the front axle"),
    "up": say("Centre above the ground"),
}
STAIRCASES = (
    ("part", say("Part by part")),
    ("place", say("By place on the machine")),
    ("spell", say("By spell of work")),
)


def charts_section(strip: Strip, told: Told, data: dict[str, Any]) -> str:
    """The mass statement as a staircase by part, by place and by spell, and the balance before and now."""
    found = ""
    for by, title in STAIRCASES:
        stairs = staircase_view(strip, {"by": by})
        # One step says no more than the sum.
        if len(stairs["rows"]) > (1 if by == "spell" else 0):
            found += _staircase(told, stairs, told.sentence(title))
    if found:
        key = told.words(
            "Filled, or hatched: less. Hollow: more. Dashed: planned, or smaller than its uncertainty, which the "
            "whisker shows."
        )
        found = HATCH + found + '<p class="quiet">' + key + "</p>\n"
    return section(told.words("The masses as a staircase"), found) + _balance(strip, told)


def _drawn(height: int, marks: list[dict[str, Any]], inside: str) -> str:
    grid = "".join(['<path class="grid" d="M{at} 0V{height}"/>'.format(at=mark["at"], height=height) for mark in marks])
    head = '<svg class="h{height}" viewBox="0 0 1000 {height}" preserveAspectRatio="none" aria-hidden="true">'
    return head.format(height=height) + grid + inside + "</svg>"


def _box(kind: str, low: int, high: int, top: int, height: int) -> str:
    box = '<rect class="{kind}" x="{x}" y="{y}" width="{width}" height="{height}"/>'
    return box.format(kind=kind, x=low, y=top, width=max(2, high - low), height=height)


def _axis(told: Told, marks: list[dict[str, Any]], bare: bool = False) -> str:
    shown = [mark["shown"] for mark in marks]
    words = [told.language.number(each["value"]) if bare else told.figure(each) for each in shown]
    spans = "".join(["<span>" + each + "</span>" for each in words])
    return '<div class="axis" aria-hidden="true">' + spans + "</div>\n"


def _table(heads: tuple[str, ...], rows: list[str]) -> str:
    head = "".join(['<th scope="col" role="columnheader">' + each + "</th>" for each in heads])
    start = '<table role="table" class="bars"><thead role="rowgroup" class="away"><tr role="row">'
    return start + head + "</tr></thead>" + '<tbody role="rowgroup">\n' + "".join(rows) + "</tbody></table>\n"


def _staircase(told: Told, stairs: dict[str, Any], title: str) -> str:
    rows = []
    for row in stairs["rows"]:
        bar = _bar(row, stairs["marks"], stairs["zero"])
        sum_ = '<td role="cell" class="away">' + told.figure(row["adds_up_to"], True) + "</td>"
        drawn = '<td class="whole" aria-hidden="true">' + bar + "</td>"
        rows.append(_line(_name(told, row), told.figure(row["change"], True), sum_ + drawn))
    axis, aim = _axis(told, stairs["marks"]), stairs.get("aim")
    heads = (title, told.words("Change"), told.words("Adds up to"))
    found = "<h3>" + title + "</h3>\n" + axis + _table(heads, rows) + axis
    if aim is not None:
        change = told.figure(aim["change"], True)
        aimed = told.words("For the aim the machine is to change by {change} since it came in.", change=change)
        found += "<p>" + aimed + "</p>\n"
    return found


def _line(name: str, words: str, more: str) -> str:
    head = '<tr role="row"><th scope="row" role="rowheader">' + name + "</th>"
    return head + '<td role="cell" class="figure">' + words + "</td>" + more + "</tr>\n"


def _name(told: Told, row: dict[str, Any]) -> str:
    if row.get("part"):
        side = " · " + told.code(row["side"]) if row.get("side") else ""
        return told.part(row["name"]) + side
    if row.get("others"):
        return told.sentence(row["name"])
    if row.get("planned"):
        return told.words("Decided, and not done yet")
    if "place" in row:
        return told.code(row["place"]) or told.words("no place said")
    return moment(row["at_ms"])[:16] if row["spell"] else told.words("Before the first spell")


def _bar(row: dict[str, Any], marks: list[dict[str, Any]], zero: int) -> str:
    kind = "dashed" if row.get("planned") or not row["sure"] else "loss" if row["to"] < row["from"] else "gain"
    inside = '<path class="zero" d="M{at} 0V24"/>'.format(at=zero)
    inside += _box(kind, min(row["from"], row["to"]), max(row["from"], row["to"]), 4, 16)
    low, high = row["spread"]
    if high > low:
        whisker = "M{low} 12H{high}M{low} 8V16M{high} 8V16".format(low=low, high=high)
        inside += '<path class="under" d="' + whisker + '"/><path class="whisker" d="' + whisker + '"/>'
    return _drawn(LOWEST, marks, inside)


def _balance(strip: Strip, told: Told) -> str:
    found = []
    for row in balance_chart_view(strip, {})["rows"]:
        inside = _reach(row["before_at"], 4, "gain") + _reach(row["now_at"], 20, "loss")
        drawn = _drawn(TALLER, row["marks"], inside) + _axis(told, row["marks"], True)
        before, now = ["<b>" + told.figure(row[key]) + "</b>" for key in ("before", "now")]
        cells = '<td role="cell" class="whole">' + told.words("before {figure}", figure=before) + "</td>"
        cells += '<td role="cell" class="whole">' + told.words("now {figure}", figure=now) + "</td>"
        cells += '<td class="whole" aria-hidden="true">' + drawn + "</td>"
        cells += '<td role="cell" class="whole">' + _verdict(told, row) + "</td>"
        what = told.sentence(BALANCE[row["what"]])
        head = '<tr role="row"><th scope="row" role="rowheader" class="whole"><b>' + what + "</b></th>"
        found.append(head + cells + "</tr>\n")
    if not found:
        return ""
    key = told.words(
        "Hollow: before, as it came in or standard. Filled, or hatched: now, with what goes back on. Each box "
        "reaches as far as its uncertainty, with the figure in its middle; no axis begins at nought."
    )
    heads = (told.words("What"), told.words("Before"), told.words("Now"), told.words("Change"))
    table = _table(heads, found)
    return section(told.words("Balance before and now"), table + '<p class="quiet">' + key + "</p>\n")


def _reach(at: list[int], top: int, kind: str) -> str:
    middle = '<path class="middle" d="M{at} {top}v12"/>'.format(at=at[1], top=top)
    return _box(kind, at[0], at[2], top, 12) + middle


def _verdict(told: Told, row: dict[str, Any]) -> str:
    """What may be said of the difference, and no more than its uncertainty allows."""
    change = told.figure(row["difference"], True)
    if not row["shows"]:
        return told.words("No difference is shown: {change} is no more than its uncertainty.", change=change)
    if row["overlap"]:
        return told.words(
            "Change: {change}. The two boxes reach into each other, but share much of what is uncertain: the change is "
            "known better than either.", change=change
        )
    return told.words("Change: {change}.", change=change)
