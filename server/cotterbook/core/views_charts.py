"""Pictures of the numbers: the mass statement as a staircase, by place and by spell; the time by part; the balance."""

from typing import Any

from .amounts import Amount, added_up
from .chart_axis import clock_axis, is_more, permille, span, steps
from .figures import plain_number, shown_amount
from .ordering import in_order
from .plan_kept import change_asked, planned_changes
from .quantities import minus
from .shown_balance import shown_length, shown_percent
from .spell_time import about_minutes, by_part
from .spells import began_ms
from .strip import Strip
from .thing import Thing, key_of
from .views_balance import balance_ends
from .words import say

# A phone's screenful; what changes less than the largest of these is one step together.
MOST_STEPS = 30


def staircase_view(strip: Strip, arguments: dict[str, Any]) -> dict[str, Any]:
    """Since the machine came in, `by` "part" (the default), "place" or "spell": `steps`, with "total" and "unweighed".

    A row is {"part" or "place" or "spell", "name", "side", "change", "adds_up_to", …}. By spell there are "planned",
    what is decided and not done (as many parts as "unweighed" says are not in it), and "aim", where the standard mass
    and an aim are known: {"at", "change"}.
    """
    by = arguments.get("by") or "part"
    parts = strip.of_type("part")
    if by == "spell":
        return _over_spells(strip, parts)
    pairs = _by_place(strip, parts) if by == "place" else _by_part(strip, parts)
    return _staircase(strip, _few(in_order(pairs, lambda pair: pair[1].grams)), parts)


def _staircase(strip: Strip, pairs: list[Any], parts: list[Thing], also: Any = ()) -> dict[str, Any]:
    rows, so_far = [], Amount(0.0)
    for row, amount in pairs:
        so_far = added_up([so_far, amount])
        rows.append((dict(row, change=shown_amount(amount), adds_up_to=shown_amount(so_far)), amount))
    found = steps(rows, also)
    for mark in found["marks"]:
        mark["shown"] = _mark(mark.pop("grams"), found["ends"], "g")
    unweighed = len([part for part in parts if strip.line(part.id).change is None])
    found.update(total=shown_amount(strip.sums()["came_in"]), unweighed=unweighed)
    return found


def _by_part(strip: Strip, parts: list[Thing]) -> list[Any]:
    pairs = []
    for part in parts:
        change = strip.line(part.id).change
        if change is not None and _is_drawn(change):
            row = {"part": part.id, "name": part.values.get("name") or "", "side": part.values.get("side")}
            pairs.append((row, change))
    return pairs


def _by_place(strip: Strip, parts: list[Thing]) -> list[Any]:
    places: dict[str, list[Any]] = {}
    for part in parts:
        places.setdefault(part.values.get("place") or "", []).append(strip.line(part.id).change)
    sums = [(place, added_up(places[place])) for place in sorted(places)]
    return [({"place": place or None}, amount) for place, amount in sums if _is_drawn(amount)]


def _is_drawn(amount: Amount) -> bool:
    """Whether there is anything of it: what may have changed either way is a step too, and part of the sum's doubt."""
    return amount.grams != 0.0 or bool(amount.causes)


def _few(pairs: list[Any]) -> list[Any]:
    """At most MOST_STEPS of these, in their order: the smallest changes become one step, `others` of them."""
    if len(pairs) <= MOST_STEPS:
        return pairs
    sizes = sorted([(-abs(amount.grams), n) for n, (_, amount) in enumerate(pairs)])
    kept = [n for _, n in sizes[: MOST_STEPS - 1]]
    rest = added_up([amount for n, (_, amount) in enumerate(pairs) if n not in kept])
    row = {"others": len(pairs) - len(kept), "name": say("{n} smaller changes", n=len(pairs) - len(kept))}
    return [pair for n, pair in enumerate(pairs) if n in kept] + [(row, rest)]


def _over_spells(strip: Strip, parts: list[Thing]) -> dict[str, Any]:
    spells = strip.spells()
    keys = [None] + [key_of(spell["begins"]) for spell in spells] + [None]
    pairs = []
    for n in range(len(keys) - 1):
        changes = [strip.change_between(part.id, keys[n], keys[n + 1]) for part in parts]
        amount, spell = added_up(changes), spells[n - 1] if n else None
        if spell is not None or _is_drawn(amount):
            row = {"spell": None if spell is None else spell["spell"], "at_ms": None}
            if spell is not None:
                row["at_ms"] = began_ms(spell)
            pairs.append((row, amount))
    planned = planned_changes(strip)
    if _is_drawn(planned["change"]) or planned["unweighed"]:
        pairs.append(({"planned": True, "unweighed": planned["unweighed"]}, planned["change"]))
    needed = change_asked(strip)
    found = _staircase(strip, pairs, parts, [] if needed is None else [needed.grams])
    found["aim"] = None
    if needed is not None:
        ends = found["ends"]
        found["aim"] = {"at": permille(needed.grams, ends), "change": shown_amount(needed)}
    return found


def time_chart_view(strip: Strip, arguments: dict[str, Any]) -> dict[str, Any]:
    """The time by part, most first: {"rows": [{"part", "name", "about_minutes", "to"}], "marks": as of `clock_axis`,
    "less": on how many parts it was less than five minutes}. Of more than MOST_STEPS the last are one row, `others`.
    """
    found = by_part(strip, strip.spells(), arguments.get("now_ms"))
    shown = [(part, ms) for part, ms in found if about_minutes(ms)]
    drawn = shown if len(shown) <= MOST_STEPS else shown[: MOST_STEPS - 1]
    rows = [_time_row(strip, part, ms) for part, ms in drawn]
    others = shown[len(drawn) :]
    if others:
        row = {"part": None, "others": len(others), "name": say("{n} more, together", n=len(others))}
        rows.append(dict(row, about_minutes=about_minutes(sum([ms for _, ms in others]))))
    ends = clock_axis(max([row["about_minutes"] for row in rows] + [0]))
    rows = [dict(row, to=permille(row["about_minutes"], ends)) for row in rows]
    less = len([part for part, ms in found if part is not None and not about_minutes(ms)])
    return {"rows": rows, "marks": ends[2], "less": less}


def _time_row(strip: Strip, part: Any, ms: int) -> dict[str, Any]:
    name = strip.thing(part).values.get("name") if part else None
    return {"part": part, "name": name or "", "about_minutes": about_minutes(ms)}


# What the balance is drawn by, how each is shown, and the unit of its axis.
BALANCE = (
    ("front", shown_amount, "g"),
    ("rear", shown_amount, "g"),
    ("rear_percent", shown_percent, "%"),
    ("along", shown_length, "mm"),
    ("up", shown_length, "mm"),
)


def balance_chart_view(strip: Strip, arguments: dict[str, Any]) -> dict[str, Any]:
    """The balance before and now, each figure on an axis of its own; arguments as of `balance_view`.

    {"rows": [{"what", "before", "now", "difference", "before_at", "now_at": [from, middle, to] by their uncertainty,
    "marks", "shows": whether the difference is more than its own uncertainty, "overlap": whether the two reach into
    each other}], "missing": sentences with where to put it right}. Only figures that are known on both sides.
    """
    out, _, ends = balance_ends(strip, arguments)
    rows = []
    if None not in ends:
        before, now = ends
        for what, shown, unit in BALANCE:
            if before[what] is not None and now[what] is not None:
                rows.append(dict(_before_and_now(before[what], now[what], shown, unit), what=what))
    return {"rows": rows, "missing": out.missing}


def _before_and_now(before: Any, now: Any, shown: Any, unit: str) -> dict[str, Any]:
    reach = [(each.grams - each.expanded, each.grams, each.grams + each.expanded) for each in (before, now)]
    low, high = min([each[0] for each in reach]), max([each[2] for each in reach])
    # Without any uncertainty and any change there is a point, and no length to an axis.
    room = 0.0 if high - low > abs(high) * 1e-9 else max(1.0, abs(high) * 1e-3)
    ends, difference = span(low - room, high + room), minus(now, before)
    at = [[permille(end, ends) for end in each] for each in reach]
    return {
        "before": shown(before),
        "now": shown(now),
        "difference": shown(difference),
        "before_at": at[0],
        "now_at": at[1],
        "marks": [{"at": permille(mark, ends), "shown": _mark(mark, ends, unit)} for mark in ends[2]],
        "shows": abs(difference.grams) > difference.expanded and is_more(shown(difference)),
        "overlap": reach[0][0] <= reach[1][2] and reach[1][0] <= reach[0][2],
    }


def _mark(value: float, ends: Any, unit: str) -> dict[str, Any]:
    """A mark of an axis, all of one axis in one unit and with as many decimals as its steps take."""
    if unit == "g" and max(abs(ends[0]), abs(ends[1])) >= 1_000.0:
        value, unit = value / 1_000.0, "kg"
    return {"value": plain_number(value), "plus_minus": None, "unit": unit}


def charts_sheet_view(strip: Strip, arguments: dict[str, Any]) -> dict[str, Any]:
    """All charts, for paper: {"part", "place", "spell": staircases, "time", "balance"}."""
    found = {by: staircase_view(strip, {"by": by}) for by in ("part", "place", "spell")}
    found.update(time=time_chart_view(strip, arguments), balance=balance_chart_view(strip, {}))
    return found
