"""The axis of a chart, and where figures stand on it, in thousandths of its length."""

import math
from typing import Any

from .figures import plain_number, shown_amount

# Steps of an axis are 1, 2 or 5 times a power of ten (common practice, no source).
NICE = (1.0, 2.0, 5.0, 10.0)
MOST_STEPS = 5


def span(low: float, high: float) -> tuple[float, float, list[float]]:
    """As `axis`, of points instead of bars: it need not hold 0. `high` is above `low`."""
    step = _nice((high - low) / MOST_STEPS)
    first, last = math.floor(low / step + 1e-9), math.ceil(high / step - 1e-9)
    return (first * step, last * step, [n * step for n in range(int(first), int(last) + 1)])


def _nice(rough: float) -> float:
    """The least round step that is no smaller than this one."""
    power = 10.0 ** math.floor(math.log10(rough))
    return float(power * [nice for nice in NICE if nice * power >= rough * (1.0 - 1e-9)][0])


def axis(low: float, high: float) -> tuple[float, float, list[float]]:
    """(from, to, marks): a range of round figures that holds 0 and everything from `low` to `high`."""
    low, high = min(low, 0.0), max(high, 0.0)
    if high - low <= 0.0:
        return (0.0, 1.0, [0.0])
    return span(low, high)


def permille(value: float, ends: Any) -> int:
    """Where a figure stands on an axis of (from, to, …), from 0 to 1000; what lies outside stands at its end."""
    return int(max(0, min(1000, round((value - ends[0]) / (ends[1] - ends[0]) * 1000.0))))


def is_sure(amount: Any) -> bool:
    """Whether an amount is more than its uncertainty, also as both are read: nobody sees that −3 ± 3 is −3.4 ± 2.9."""
    return bool(abs(amount.grams) > amount.expanded and is_more(shown_amount(amount)))


def is_more(shown: dict[str, Any]) -> bool:
    """Whether a figure is more than its uncertainty as both are shown."""
    return abs(float(shown["value"])) > float(shown["plus_minus"] or 0.0)


def clock_axis(minutes: float) -> tuple[float, float, list[dict[str, Any]]]:
    """As `axis` from 0 on, of time: (from, to, marks) in minutes; marks are {"at", "minutes"} or {"at", "hours"}.

    Beyond two hours the marks stand at round hours or tenths of them: what each says is short, so that all have room.
    """
    unit = 60.0 if minutes > 120.0 else 1.0
    ends = axis(0.0, minutes / unit)
    name = "hours" if unit > 1.0 else "minutes"
    marks = [{"at": permille(mark, ends), name: float(plain_number(mark))} for mark in ends[2]]
    return (ends[0] * unit, ends[1] * unit, marks)


def steps(rows: list[tuple[dict[str, Any], Any]], also: Any = ()) -> dict[str, Any]:
    """A staircase: {"rows", "marks": [{"at", "grams"}], "zero"} of (row, amount) pairs, each a step on from the last.

    Each row gets "from" and "to" on the axis, "spread": from where to where its end may be by its own uncertainty, and
    "sure": whether its change is more than that. `also` are figures in grams that the axis holds too.
    """
    stands, reaches = 0.0, [0.0] + list(also)
    for _, amount in rows:
        stands += amount.grams
        reaches += [stands - amount.expanded, stands + amount.expanded]
    ends = axis(min(reaches), max(reaches))
    found, stands = [], 0.0
    for row, amount in rows:
        to, spread = stands + amount.grams, amount.expanded
        place: dict[str, Any] = {"from": permille(stands, ends), "to": permille(to, ends)}
        place["spread"] = [permille(to - spread, ends), permille(to + spread, ends)]
        found.append(dict(row, sure=is_sure(amount), **place))
        stands = to
    marks = [{"at": permille(mark, ends), "grams": mark} for mark in ends[2]]
    return {"rows": found, "marks": marks, "zero": permille(0.0, ends), "ends": [ends[0], ends[1]]}
