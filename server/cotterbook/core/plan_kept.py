"""What was planned for a strip-down against what came of it: mass, money and time, and what a gram cost."""

import math
from typing import Any

from . import mass
from .amounts import Amount, added_up
from .figures import plain_number, rounded, shown_amount, shown_grams
from .ordering import in_order
from .quantities import minus
from .strip import Strip
from .thing import Thing
from .views_spells import to_date
from .words import say

WITHIN = "What it changed is within its uncertainty: no cost for a gram can be said."
NOT_WEIGHED = "No mass is counted here as lost yet: no cost for a gram can be said."
GAINED = "It became heavier: no cost for a gram lost can be said."
OTHERS_TOO = "Besides, something was paid in another currency, and sums of two currencies do not add up."
ELSEWHERE = "What is in another currency is not held against it."
CURRENCY_DIGITS = 2


def plan_kept(strip: Strip, now_ms: Any) -> dict[str, Any]:
    """{"mass", "money", "time"} of one strip-down, planned and come of it; `now_ms` is the clock.

    "mass": {"aim", "asked": the change that the aim asks for, "change": since the machine came in, "left": asked less
    changed, "planned": the change of what is decided and not done, each a mass as shown or None; "undone": how many
    parts those are, "undone_unweighed", "unweighed"}. "money": as `money_of`. "time": {"planned_hours", "minutes"}.
    """
    own = strip.thing(strip.id)
    values = {} if own is None else own.values
    return {
        "mass": _mass(strip, values),
        "money": money_of(strip, values),
        "time": {"planned_hours": _figure(values.get("planned_hours")), "minutes": to_date(strip, now_ms)},
    }


def _mass(strip: Strip, values: dict[str, Any]) -> dict[str, Any]:
    aim, standard, sums = values.get("aim_grams"), _standard_grams(strip), strip.sums()
    left = None if aim is None or standard is None else minus(Amount(aim - standard), sums["standard"])
    planned = planned_changes(strip)
    return {
        "aim": None if aim is None else shown_grams(aim, 0.0),
        "asked": shown_amount(change_asked(strip)),
        "change": shown_amount(sums["came_in"]),
        "left": shown_amount(left),
        "planned": shown_amount(planned["change"]) if planned["parts"] else None,
        "undone": planned["parts"],
        "undone_unweighed": planned["unweighed"],
        "unweighed": sums["unweighed"],
    }


def is_planned(part: Thing) -> bool:
    """Whether an outcome is decided for a part and not done."""
    return bool(mass.outcome_of(part.values)) and not mass.is_done(part.values)


def planned_change(strip: Strip, part: Thing) -> Any:
    """What a part will change beside what it did, once what is decided for it is done; None where that is not known."""
    if not is_planned(part):
        return Amount(0.0)
    now, then = strip.line(part.id).change, dict(part.values, off=True, outcome_done=True)
    after = mass.line(then, strip.masses(part.id), None).change
    return None if now is None or after is None else added_up([after, now.times(-1.0)])


def planned_changes(strip: Strip) -> dict[str, Any]:
    """{"change": what is decided and not done yet, together, "parts": of how many, "unweighed": of them not in it}."""
    changes = [planned_change(strip, part) for part in strip.of_type("part") if is_planned(part)]
    unweighed = len([change for change in changes if change is None])
    return {"change": added_up(changes), "parts": len(changes), "unweighed": unweighed}


def _standard_grams(strip: Strip) -> Any:
    own = strip.thing(strip.id)
    machine = strip.thing(own.values.get("machine") or "") if own is not None else None
    return None if machine is None else machine.values.get("standard_grams")


def change_asked(strip: Strip) -> Any:
    """By how much the machine is to change since it came in, an amount; None without an aim or a standard mass.

    It is as uncertain as what set the machine apart from standard when it came in; the standard mass is as published.
    """
    own, standard, sums = strip.thing(strip.id), _standard_grams(strip), strip.sums()
    aim = own.values.get("aim_grams") if own is not None else None
    if aim is None or standard is None:
        return None
    apart = minus(sums["standard"], sums["came_in"])
    return minus(Amount(aim - standard), apart)


def money_of(strip: Strip, values: dict[str, Any]) -> list[dict[str, Any]]:
    """A row for each currency: {"currency", "budget", "estimated", "spent", "open", "by_estimate", "over", "per_gram",
    "why", "notes"}.

    "estimated" is what all that there is to do was to cost; "spent" what is done came to, by its estimate where nobody
    wrote what was paid ("by_estimate" of them); "open" the estimates of what is not done. "over" is as `_over` has it.
    "per_gram" is as `per_gram`
    has it for all that the machine lost, "why" the sentence where there is none, and "notes" are sentences on what it
    leaves out. Figures as text, None without any.
    """
    rows: dict[str, Any] = {}
    if values.get("budget") is not None:
        _row(rows, values.get("budget_currency"))["budget"] = values["budget"]
    for item in strip.of_type("item"):
        _count(rows, item)
    change = strip.sums()["came_in"]
    unweighed = len([part for part in strip.of_type("part") if strip.line(part.id).change is None])
    lacking = [say("Not weighed, so not in it: {count}.", count=unweighed)] if unweighed else []
    return [
        dict(
            _gram_of(rows, currency, change, lacking),
            currency=currency,
            by_estimate=rows[currency]["by_estimate"],
            over=_over(rows, currency),
        )
        for currency in sorted(rows)
    ]


def _over(rows: dict[str, Any], currency: str) -> dict[str, Any]:
    """What is over what all was to cost, each a sentence or None: {"spent", "open": with what is still to spend,
    "budget": what is not held against it}. Sums of two currencies are never compared."""
    row = rows[currency]
    found: dict[str, Any] = {"spent": None, "open": None, "budget": None}
    if row["budget"] is None:
        return found
    for name, sum_ in (("spent", row["spent"] or 0.0), ("open", (row["spent"] or 0.0) + (row["open"] or 0.0))):
        more = _money(sum_ - row["budget"])
        if row[name] and float(more) > 0.0:
            of_it = {"value": more, "plus_minus": None, "unit": currency or ""}
            words = say("{sum} more than planned", sum=of_it)
            found[name] = words if name == "spent" else say("with this {sum} more than planned", sum=of_it)
    if [other for other in rows if other != currency and (rows[other]["spent"] or rows[other]["open"])]:
        found["budget"] = say(ELSEWHERE)
    return found


def _gram_of(rows: dict[str, Any], currency: str, change: Amount, lacking: list[Any]) -> dict[str, Any]:
    """The figures of one currency as text, and what a gram cost in it, with what must be known of that."""
    row = rows[currency]
    shown = {name: _money(row[name]) for name in ("budget", "estimated", "spent", "open")}
    gram = per_gram(row["spent"], change) if row["spent"] else {"shown": None, "why": None}
    notes = list(lacking) if gram["shown"] else []
    if gram["shown"] and len([name for name in rows if rows[name]["spent"]]) > 1:
        notes.append(say(OTHERS_TOO))
    shown.update(per_gram=gram["shown"], why=gram["why"], notes=notes)
    return shown


def _count(rows: dict[str, Any], item: Thing) -> None:
    values: dict[str, Any] = item.values
    cost, paid = values.get("cost"), values.get("paid") if values.get("closed") else None
    if cost is None and paid is None:
        return
    row = _row(rows, values.get("currency"))
    if cost is not None:
        row["estimated"] = (row["estimated"] or 0.0) + cost
    if values.get("closed"):
        came_to: Any = cost if paid is None else paid
        row["spent"] = (row["spent"] or 0.0) + came_to
        row["by_estimate"] += 1 if paid is None else 0
    elif cost is not None:
        row["open"] = (row["open"] or 0.0) + cost


def _row(rows: dict[str, Any], currency: Any) -> Any:
    name = str(currency or "").strip().upper()
    empty: dict[str, Any] = {"budget": None, "estimated": None, "spent": None, "open": None, "by_estimate": 0}
    return rows.setdefault(name, empty)


def per_gram(spent: float, change: Amount) -> dict[str, Any]:
    """What each gram lost cost: {"shown": {"value", "low", "high"} or None, "why": a sentence where it is None}.

    From `spent` divided by the change's two ends, its figure less and more its expanded uncertainty: both ends of a
    quotient whose divisor does not reach 0. Nothing is said where the change is within its uncertainty, or a gain.
    """
    lost, within = -change.grams, change.expanded
    if lost <= 0.0 or lost <= within:
        nothing, gained = change.grams == 0.0 and within == 0.0, -lost > within
        return {"shown": None, "why": NOT_WEIGHED if nothing else GAINED if gained else WITHIN}
    ends = [spent / lost, spent / (lost + within), spent / (lost - within)]
    decimals = _decimals(ends[0])
    value, low, high = [plain_number(each, decimals) for each in ends]
    return {"shown": {"value": value, "low": low, "high": high}, "why": None}


def _decimals(value: float) -> int:
    """Decimals for three digits of a figure, at least those of money."""
    size = math.floor(math.log10(value)) if value > 0.0 else 0
    return min(6, max(CURRENCY_DIGITS, 2 - size))


def costs_by_part(strip: Strip) -> list[dict[str, Any]]:
    """What is done for one part cost, and each gram of it, dearest first: {"part", "name", "side", "currency", "spent",
    "change": as shown, "per_gram", "why", "notes"}; only parts with something done that cost."""
    items: dict[Any, list[Thing]] = {}
    for item in strip.of_type("item"):
        items.setdefault(item.values.get("part"), []).append(item)
    found = []
    for part in strip.of_type("part"):
        rows: dict[str, Any] = {}
        for item in items.get(part.id, ()):
            _count(rows, item)
        if not rows:
            continue
        change = strip.line(part.id).change
        for currency in sorted(rows):
            spent = rows[currency]["spent"]
            if not spent:
                continue
            gram = _gram_of(rows, currency, Amount(0.0) if change is None else change, [])
            row = {"part": part.id, "name": part.values.get("name") or "", "side": part.values.get("side")}
            row.update({name: gram[name] for name in ("spent", "per_gram", "why", "notes")})
            found.append((spent, dict(row, currency=currency, change=shown_amount(change))))
    return [row for _, row in in_order(found, lambda pair: pair[0], True)]


def _money(value: Any) -> Any:
    """A sum as text, whole or with the two digits of its coins: "12", "12.50"."""
    if value is None:
        return None
    text = rounded(value, CURRENCY_DIGITS)
    return text[:-3] if text.endswith(".00") else text


def _figure(value: Any) -> Any:
    return None if value is None else plain_number(value)
