"""Slips that show when a reading is held beside others: the same pieces again, the other side, before the cut."""

from typing import Any

from .amounts import Amount, together
from .figures import GRAMS_IN, read_figure, rounded, shown_grams
from .maker import given, whole
from .ordinary_masses import words_of
from .part_names import in_english
from .readings import one_look
from .slips_asked import ask
from .strip import Strip
from .words import say

# Pieces of a pair that differ by more are asked about (common practice, no source).
PAIR = 0.20
# What goes on in place of a part seldom weighs so many times as much or as little.
SWAP = 10.0
OTHER_SIDE = {"left": "right", "right": "left"}


class Look:
    """A reading, typed or logged: what lay on the scale, and grams of each piece of it."""

    __slots__ = ("entry", "amount", "grams", "each", "row")

    def __init__(self, entry: dict[str, Any], amount: Amount, row: Any = None):
        self.entry, self.amount, self.row = entry, amount, row
        self.grams: float = amount.grams
        self.each: float = amount.grams / entry["pieces"]

    def is_like(self, other: "Look", *names: str) -> bool:
        """Whether both readings say the same in these fields."""
        return all((self.entry.get(name) or None) == (other.entry.get(name) or None) for name in names)

    def unknown_from(self, other: "Look") -> float:
        """The expanded uncertainty of the difference of one piece; what both share by one scale is in neither."""
        here, there = 1.0 / self.entry["pieces"], 1.0 / other.entry["pieces"]
        return together([self.amount.times(here), other.amount.times(-there)]).expanded

    def shown(self) -> dict[str, Any]:
        """One piece of it as shown, without its uncertainty."""
        return shown_grams(float(rounded(self.each, 3)), 0.0)


def beside(strip: Strip, form: dict[str, Any], look: Look, others: list[Look]) -> list[dict[str, Any]]:
    """The questions that other readings raise about this one; `others` are of the same part, oldest first."""
    if look.grams <= 0.0:
        return []
    found = _again(strip, look) or _pair(strip, form, look, others)
    return found + _fasteners(look, others) + _states(look, others)


def _ask(code: str, sentence: dict[str, Any], offers: Any = (), field: str = "figure") -> list[dict[str, Any]]:
    return [ask(code, sentence, offers, None, field)]


def _again(strip: Strip, look: Look) -> list[dict[str, Any]]:
    """A second look that disagrees: En, the difference over its expanded uncertainty, above 1 (ISO 13528, from memory).

    One step of a digital scale is no disagreement, whatever En says.
    """
    first = strip.entries.get(given(look.row, "again") or "")
    if first is None:
        return []
    before = Look(first, one_look(first, strip.scale))
    apart = abs(look.each - before.each)
    step = max(each.entry.get("step_grams") or 0.0 for each in (look, before))
    if apart <= look.unknown_from(before) or apart <= step * 1.001:
        return []
    text = "{now} now, {before} before: further apart than both allow. Was the same thing on the scale?"
    return _ask("disagrees", say(text, now=look.shown(), before=before.shown()))


def _pair(strip: Strip, form: dict[str, Any], look: Look, others: list[Look]) -> list[dict[str, Any]]:
    """Pieces of one part, or the same part left and right, that differ by more than 20 % of the heavier."""
    if look.entry["basis"] != "weighed":
        return []
    alike = [
        each
        for each in others
        if each.entry["basis"] == "weighed" and look.is_like(each, "weighed_as", "with_fasteners", "fluid")
    ]
    if alike and _far_apart(look, alike[-1]):
        other = alike[-1]
        text = "{now} a piece, and {other} for the other: more than 20 % apart."
        offers = _pieces_offered(form, look, other)
        return _ask("pair", say(text, now=look.shown(), other=other.shown()), offers)
    mirrored = _mirrored(strip, form, look)
    if not alike and mirrored is not None and _far_apart(look, mirrored):
        text = "{now} a piece, and {other} on the other side: more than 20 % apart."
        return _ask("side", say(text, now=look.shown(), other=mirrored.shown()))
    return []


def _far_apart(one: Look, other: Look) -> bool:
    # What either of them does not know is no difference.
    return abs(one.each - other.each) > max(PAIR * max(one.each, other.each), one.unknown_from(other))


def _pieces_offered(form: dict[str, Any], look: Look, other: Look) -> list[dict[str, Any]]:
    most = whole(form, "pieces")
    if not isinstance(most, int) or not 1 < most <= 200:
        return []
    for pieces in range(1, most + 1):
        each = look.grams / pieces
        if pieces != look.entry["pieces"] and abs(each - other.each) <= PAIR * max(each, other.each):
            return [{"words": say("On the scale: {n}", n=pieces), "values": {"pieces": pieces}}]
    return []


def _mirrored(strip: Strip, form: dict[str, Any], look: Look) -> Any:
    """The newest reading of the part of the same name on the other side."""
    own = strip.thing(given(form, "part") or "")
    values = own.values if own is not None else form
    wanted, name = OTHER_SIDE.get(values.get("side") or ""), _sideless(values.get("name"))
    if wanted is None or not name:
        return None
    found = None
    for part in strip.of_type("part"):
        if part.values.get("side") == wanted and _sideless(part.values.get("name")) == name:
            for entry in part.of_kind("weigh"):
                each = Look(entry, one_look(entry, strip.scale))
                if entry["basis"] == "weighed" and look.is_like(each, "weighed_as", "with_fasteners", "fluid"):
                    found = each
    return found


def _sideless(name: Any) -> list[str]:
    return sorted([word for word in words_of(in_english(name)) if word not in OTHER_SIDE])


def _fasteners(look: Look, others: list[Look]) -> list[dict[str, Any]]:
    """With its fasteners lighter than without."""
    for other in others[::-1]:
        if look.is_like(other, "weighed_as", "pieces", "fluid") and not look.is_like(other, "with_fasteners"):
            with_them, without = (look, other) if look.entry.get("with_fasteners") else (other, look)
            if with_them.each < without.each - with_them.unknown_from(without):
                text = "With its fasteners {heavier}, without them {lighter}: that can’t be."
                now = not look.entry.get("with_fasteners")
                words = say("This one was with them") if now else say("This one was without them")
                offers = [{"words": words, "values": {"with_fasteners": now}}]
                sentence = say(text, heavier=with_them.shown(), lighter=without.shown())
                return _ask("fasteners", sentence, offers, "with_fasteners")
    return []


def _states(look: Look, others: list[Look]) -> list[dict[str, Any]]:
    """A cut part against what it was, an offcut against its part, what goes on against what came off."""
    newest: dict[str, Look] = {}
    for other in others:
        newest[other.entry["weighed_as"]] = other
    state = look.entry["weighed_as"]
    newest[state] = look
    before, found = newest.get("taken_off"), []
    if before is None or before.grams <= 0.0:
        return []
    for other_state in ("after_cut", "offcut", "going_on") if state == "taken_off" else (state,):
        if other_state in newest:
            found += _against(before, {other_state: newest[other_state]}, look)
    return found


def _against(before: Look, pair: dict[str, Look], look: Look) -> list[dict[str, Any]]:
    after, offcut, going_on = pair.get("after_cut"), pair.get("offcut"), pair.get("going_on")
    if after is not None and after.each >= before.each:
        text = "{after} after the cut, {before} before: it should be lighter now."
        return _ask("cut", say(text, after=after.shown(), before=before.shown()))
    if offcut is not None and offcut.each >= before.each:
        text = "The offcut weighs {offcut}, the whole part {before}: it should be less."
        return _ask("offcut", say(text, offcut=offcut.shown(), before=before.shown()))
    if going_on is not None and not before.each / SWAP < going_on.each < before.each * SWAP:
        other = going_on if look is before else before
        text = "{new} goes on for {old}: ten times apart. Is that so?"
        return _ask("swap", say(text, new=going_on.shown(), old=before.shown()), _units_offered(look, other))
    return []


def _units_offered(look: Look, other: Look) -> list[dict[str, Any]]:
    """The units that would bring the figure near the other one."""
    read, unit = read_figure(look.row.get("figure")), look.row.get("unit") or "g"
    found = []
    for into in ("g", "kg"):
        each = look.each * GRAMS_IN[into] / GRAMS_IN.get(unit, 1.0)
        if read is not None and into != unit and unit in GRAMS_IN and other.each / SWAP < each < other.each * SWAP:
            figure = {"value": rounded(read[0], read[1]), "plus_minus": None, "unit": into}
            values = {"unit": into, "step": ""} if given(look.row, "step") is not None else {"unit": into}
            found.append({"words": say("Make it {figure}", figure=figure), "values": values})
    return found
