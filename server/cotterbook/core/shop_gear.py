"""Scales and wrenches over all strip-downs: which cards are of one thing, its last calibration, its uses since."""

from typing import Any

from .days import MS_A_DAY, day_of, read_day
from .ordering import in_order
from .second_check import same_name
from .strip import Strip
from .tool_uses import NO_USES, since_in, uses_of_tools, uses_without_a_card
from .torque_tool import calibration
from .views_tools import calibration_notices

# What two cards of one thing say alike, where both say it: two wrenches may have the same name.
TOLD_APART_BY = {
    "scale": ("step_grams", "capacity_grams"),
    "wrench": ("tool_type", "low_newton_metres", "high_newton_metres"),
}
TYPES = (("scale", "scale"), ("tool", "wrench"))


def gear_of(strip: Strip, arguments: dict[str, Any]) -> list[dict[str, Any]]:
    """Every card of a scale or a wrench: {"what", "name", "facts", "calibrated_on", "put_away", "days"}.

    "days" are as `Uses.by_day` has them. So has a name without a card that somebody tightened with, where "put_away" is
    None.
    """
    used, found = uses_of_tools(strip), []
    for type_, what in TYPES:
        for thing in strip.of_type(type_):
            values = thing.values
            facts = [values.get(name) for name in TOLD_APART_BY[what]]
            card = _card(what, values.get("name") or "", facts, used.get(thing.id, NO_USES))
            card.update(calibrated_on=values.get("calibrated_on"), put_away=bool(values.get("put_away")))
            found.append(card)
    named, none = uses_without_a_card(strip), [None for _ in TOLD_APART_BY["wrench"]]
    return found + [_card("wrench", name, none, named[name]) for name in sorted(named)]


def _card(what: str, name: str, facts: list[Any], uses: Any) -> dict[str, Any]:
    card = {"what": what, "name": name, "facts": facts, "days": uses.by_day()}
    return dict(card, calibrated_on=None, put_away=None)


def joined_gear(strips: list[dict[str, Any]], now_ms: Any) -> list[dict[str, Any]]:
    """One row for each scale and wrench in use: {"key", "what", "name", "strip": whose card is the newest, "strips": in
    how many it has a card, "calibrated_on", "months", "overdue", "worn", "cycles", "notices"}; what is due comes first.

    Cards are of one thing by their name, as for the second check, unless they say otherwise (`TOLD_APART_BY`). Its last
    calibration counts, and from that day on every fastener that it tightened in any strip-down, also by its name alone
    or with a card that is put away. What is put away wherever it has a card is left out.
    """
    cards = [dict(card, strip=strips[n]["strip"], of=n) for n in range(len(strips)) for card in strips[n]["gear"]]
    # Those that say most come first, so that one which says little joins another and tells nothing apart.
    ordered = in_order(cards, lambda card: -len([fact for fact in card["facts"] if fact is not None]))
    things: list[list[dict[str, Any]]] = []
    for card in ordered:
        if card["put_away"] is not None:
            same = [thing for thing in things if all([_is_one(card, each) for each in thing])]
            if same:
                same[0].append(card)
            else:
                things.append([card])
    named = [card for card in ordered if card["put_away"] is None]
    rows = [_row(n, things[n], named, now_ms) for n in range(len(things))]
    in_use = [row for row in rows if row is not None]
    return in_order(in_order(in_use, lambda row: row["key"]), _pressing)


def _is_one(card: dict[str, Any], other: dict[str, Any]) -> bool:
    if card["what"] != other["what"] or same_name(card["name"]) != same_name(other["name"]):
        return False
    return all([None in pair or pair[0] == pair[1] for pair in zip(card["facts"], other["facts"])])


def _row(number: int, thing: list[dict[str, Any]], named: list[dict[str, Any]], now_ms: Any) -> Any:
    in_use = [card for card in thing if not card["put_away"]]
    if not in_use:
        return None
    date = _last_calibration(thing, now_ms)
    of_date = [card for card in in_use if card["calibrated_on"] == date]
    newest = (of_date or in_use)[-1]
    loose = [card for card in named if _is_one(card, newest)]
    cycles = since_in([day for card in thing + loose for day in card["days"]], date)
    state = calibration(date, None if now_ms is None else int(now_ms), cycles)
    row = {name: newest[name] for name in ("what", "name", "strip")}
    row.update({name: state[name] for name in ("calibrated_on", "months", "overdue")})
    row["strips"] = len(set([card["of"] for card in thing]))
    is_wrench = row["what"] == "wrench"
    row.update(cycles=cycles, notices=calibration_notices(state, cycles) if is_wrench else [])
    row.update(worn=state["worn"], key="%s %s %d" % (row["what"], same_name(row["name"]), number))
    return row


def _last_calibration(thing: list[dict[str, Any]], now_ms: Any) -> Any:
    """The newest day; one that is yet to come, by a clock that was wrong, only where there is no other."""
    dates = sorted([card["calibrated_on"] for card in thing if card["calibrated_on"] is not None])
    # A day's grace is left to places ahead of UTC.
    today = None if now_ms is None else day_of(int(now_ms) + MS_A_DAY)
    past = [date for date in dates if today is None or read_day(date) <= today]
    return (past or dates or [None])[-1]


def _pressing(row: dict[str, Any]) -> int:
    return 0 if row["overdue"] or row["worn"] else 1 if row["calibrated_on"] is None else 2
