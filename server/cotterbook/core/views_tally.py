"""The tally check as its screen shows it: what was given, our sum, the difference, and what would explain it."""

import math
from typing import Any

from .figures import GRAMS_IN, mass_unit, read_figure, rounded, shown_amount, shown_grams, shown_plain, shown_spread
from .strip import Strip
from .tally import explain
from .tally_lines import SUMS, amount_of, lines_of, rounding_of, sum_of
from .typed_quantities import read_for
from .words import Refused, problem, say

FIGURES = ("same", "other")
MOST_SHOWN = 12
MOST_TOTAL_GRAMS = 2_000_000
# Three slips at once are looked for in pieces of so many steps, between which a phone can save what is logged.
STEPS_AT_ONCE = 250_000


def tally_view(strip: Strip, arguments: dict[str, Any]) -> dict[str, Any]:
    """Checks a total against one of our sums.

    `which` of `tally_lines.SUMS`; `total` as typed with `unit`, and `rounded_to` what, when
    that is not its last digit; `figures` "same" when these figures were added up, "other" when others were.
    Without a total: our sum alone, `answer` None. Where many lines make the search long, the answer has "so_far":
    asked again with that as `so_far`, it goes on.
    """
    which, figures = arguments.get("which") or "came_in", arguments.get("figures") or "same"
    if which not in SUMS or figures not in FIGURES:
        raise Refused([problem("not_a_choice", "which", "That is not one of the sums.")])
    ours = sum_of(strip, which)
    if ours is None:
        raise Refused([problem("no_spell", "which", "No spell of work was begun, so there is no sum of it.")])
    amounts = [amount_of(strip, which, part) for part in strip.of_type("part")]
    view = {
        "which": which,
        "sums": [name for name in SUMS if name != "spell" or strip.last_spell() is not None],
        "sum": shown_amount(ours),
        "lines": len([each for each in amounts if each is not None and each.grams]),
        "unweighed": len([each for each in amounts if each is None]),
        "answer": None,
    }
    total = _total(arguments, ours.grams)
    if total is not None:
        half_width = total["half_step"]
        # What somebody else weighed differs from ours by all that ours may be off.
        half_width += ours.expanded if figures == "other" else rounding_of(amounts)
        view["answer"] = _answer(
            lines_of(strip, which, figures == "other"), total, ours, half_width, arguments.get("so_far")
        )
    return view


def _total(arguments: dict[str, Any], ours: float) -> Any:
    """The total in grams with half its step, its sign taken from our sum where none is typed; None without one."""
    text, unit = str(arguments.get("total") or "").strip(), arguments.get("unit") or "g"
    if not text:
        return None
    typed = read_for("total", text, "mass", unit, signed=True)
    grams = typed.value
    if abs(grams) > MOST_TOTAL_GRAMS:
        most = shown_grams(MOST_TOTAL_GRAMS, 0.0)
        raise Refused([problem("out_of_range", "total", "A total of more than {most} cannot be right.", most=most)])
    signed = text[0] in "+-\u2212"
    taken = not signed and ours < 0.0 and grams > 0.0
    own = typed.unit or unit if (typed.unit or unit) in GRAMS_IN else "g"
    shown_in = mass_unit(grams, own)
    decimals = max(0, math.ceil(-math.log10(typed.step / GRAMS_IN[shown_in]) - 1e-9))
    value = rounded((-grams if taken else grams) / GRAMS_IN[shown_in], decimals)
    return {
        "grams": -grams if taken else grams,
        "half_step": _step(arguments, typed.step, unit) / 2.0,
        "shown": {"value": value, "plus_minus": None, "unit": shown_in},
        "taken_as_loss": taken,
        "like": own,
    }


def _step(arguments: dict[str, Any], last_digit: float, unit: str) -> float:
    """What the total was rounded to, in grams."""
    text = str(arguments.get("rounded_to") or "").strip()
    if not text:
        return last_digit
    grams = read_for("rounded_to", text, "mass", unit, signed=True).value
    if not 0.0 < grams <= MOST_TOTAL_GRAMS:
        text, most = "A total is rounded to something above 0 and not above {most}.", shown_plain(MOST_TOTAL_GRAMS)
        raise Refused([problem("out_of_range", "rounded_to", text, most=most)])
    return float(grams)


def _answer(
    lines: list[dict[str, Any]], total: dict[str, Any], ours: Any, half_width: float, so_far: Any
) -> dict[str, Any]:
    difference, like = total["grams"] - ours.grams, total["like"]
    found = explain(difference, half_width, lines, limit=MOST_SHOWN, steps=STEPS_AT_ONCE, so_far=so_far)
    return {
        "total": total["shown"],
        "taken_as_loss": total["taken_as_loss"],
        "difference": _known_to(difference, half_width, like),
        "told": _told(difference, ours.grams, half_width, like),
        "within": shown_spread(half_width, like),
        "size": found["size"],
        "count": found["count"],
        "complete": found["complete"],
        "so_far": found["so_far"],
        "percent": int(100.0 * found["part_done"]),
        "verdict": _verdict(found, half_width, lines, like),
        "sets": [
            {
                "slips": [_slip(slip, like) for slip in each["slips"]],
                "left": _left(each["left_grams"], half_width, like),
            }
            for each in found["sets"]
        ]
        if found["size"]
        else [],
        "more": found["count"] - len(found["sets"]) if found["complete"] and found["size"] else 0,
    }


def _known_to(grams: float, half_width: float, like: str) -> dict[str, Any]:
    """Grams that are known within a half width, rounded by it."""
    return shown_grams(grams, half_width / 2.0, 2.0, like)


def _left(grams: float, half_width: float, like: str) -> Any:
    """What slips leave of the difference; None where the figures are not known so closely."""
    shown = dict(_known_to(grams, half_width, like), plus_minus=None)
    return shown if abs(grams) * 2.0 > half_width and float(shown["value"]) else None


def _told(difference: float, ours: float, half_width: float, like: str) -> dict[str, Any]:
    """The difference in plain words."""
    apart = _known_to(abs(difference), half_width, like)
    if abs(difference) <= half_width:
        return say("The two agree: they lie {apart} apart.", apart=apart)
    if ours < 0.0:
        if difference > 0.0:
            return say("By the total given, the machine lost {apart} less than by our sum.", apart=apart)
        return say("By the total given, the machine lost {apart} more than by our sum.", apart=apart)
    if difference > 0.0:
        return say("The total given is {apart} more than our sum.", apart=apart)
    return say("The total given is {apart} less than our sum.", apart=apart)


def _verdict(found: dict[str, Any], half_width: float, lines: list[dict[str, Any]], like: str) -> list[dict[str, Any]]:
    """What the search found, and how much that tells."""
    size, count = found["size"], found["count"]
    told = []
    if found["so_far"] is not None:
        told.append(say("No one slip explains it, nor any two. Now every three at once are tried."))
    elif size is None:
        told.append(say("No one slip explains it, nor any two or three at once."))
    elif size == 1 and not found["complete"]:
        text = "{n} single slips would explain it: it tells nothing. Give the total more finely."
        told.append(say(text, n=count))
    elif size and not found["complete"]:
        text = "{n} ways explain it, {size} slips at once: it tells nothing. Give the total more finely."
        told.append(say(text, n=count, size=size))
    elif size == 1 and count == 1:
        told.append(say("One slip explains it, and no other one does."))
    elif size == 1:
        told.append(say("{n} single slips would explain it, so it tells little. The likeliest come first.", n=count))
    elif size == 2 and count == 1:
        told.append(say("No one slip explains it. One pair does; among so many pairs that may be chance."))
    elif size == 2:
        told.append(say("No one slip explains it. {n} different pairs do: it tells little.", n=count))
    elif size == 3 and count == 1:
        told.append(say("Only three slips at once explain it, in one way. Take it as a hint, no more."))
    elif size == 3:
        told.append(say("Only three slips at once explain it, in {n} ways. Take it as a hint, no more.", n=count))
    hidden = len([line for line in lines if line.get("counted") and abs(line["grams"]) <= half_width])
    if hidden:
        text = "Parts that weigh less than {within}, so that nobody would see them left out: {n}."
        told.append(say(text, n=hidden, within=shown_spread(half_width, like)))
    return told


def _slip(slip: Any, like: str) -> dict[str, Any]:
    """One slip: the part, to lead there, and the slip in words."""
    line, detail = slip.line, slip.detail or {}
    mass = shown_plain(line["grams"], like)
    values: dict[str, Any] = {"mass": mass}
    if slip.kind == "one_mass":
        values = {"mass": shown_plain(-slip.shift, like), "what": {"label": line["states"][detail["term"]]}}
    elif slip.kind == "unit":
        values = {
            "figure": _figure(detail["text"], detail["unit"]),
            "other": _figure(detail["text"], detail["taken_for"]),
        }
    elif slip.kind == "digits":
        values = {"figure": _figure(detail["text"], detail["unit"])}
        values["other"] = _figure(detail["taken_for"], detail["unit"])
    elif slip.kind == "one_side":
        values = {"mass": mass, "pieces": line["pieces"]}
    elif slip.kind == "not_counted":
        values = {"mass": mass, "reason": line.get("reason") or say("It is not in our sum.")}
    sentence = say(TOLD[slip.kind], **values)
    return {"part": line["key"], "name": line["name"], "side": line["side"], "kind": slip.kind, "sentence": sentence}


TOLD = {
    "left_out": "left out: {mass}.",
    "counted_twice": "counted twice: {mass}.",
    "one_side": "only half of its {pieces} pieces counted, of {mass}.",
    "not_counted": "counted with {mass}, and here it is not. {reason}",
    "one_mass": "only partly counted; left out: {what}, {mass}.",
    "unit": "{figure} taken for {other}.",
    "digits": "{figure} taken for {other}, two digits the wrong way round.",
    "sign": "added where it is to be taken off, or the other way round: {mass}.",
}


def _figure(text: str, unit: str) -> dict[str, Any]:
    value, decimals = read_figure(text)
    return {"value": rounded(value, decimals), "plus_minus": None, "unit": unit}
