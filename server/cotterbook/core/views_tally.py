"""The tally check as its screen shows it: what was given, our sum, the difference, and what would explain it."""

import math
from typing import Any

from .figures import GRAMS_IN, read_figure, rounded, shown_amount, shown_grams
from .strip import Strip
from .tally import MOST_COUNTED, explain
from .tally_lines import SUMS, amount_of, lines_of, rounding_of, sum_of
from .typed_quantities import read_for
from .words import Refused, problem, say

FIGURES = ("same", "other")
MOST_SHOWN = 12
MOST_TOTAL_GRAMS = 2_000_000
# Up to so many single slips a phone also tries three at once in the time that a person waits.
MOST_FOR_THREE = 400


def tally_view(strip: Strip, arguments: dict[str, Any]) -> dict[str, Any]:
    """Checks a total against one of our sums.

    `which` of `tally_lines.SUMS`; `total` as typed with `unit`, and `rounded_to` what, when
    that is not its last digit; `figures` "same" when these figures were added up, "other" when others were.
    Without a total: our sum alone, `answer` None.
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
        view["answer"] = _answer(lines_of(strip, which, figures == "other"), total, ours, half_width)
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
    in_own, last_digit = grams / GRAMS_IN[own], typed.step / GRAMS_IN[own]
    decimals = max(0, math.ceil(-math.log10(last_digit) - 1e-9))
    shown = {"value": rounded(-in_own if taken else in_own, decimals), "plus_minus": None, "unit": own}
    step = _step(arguments, last_digit) * GRAMS_IN[own]
    return {"grams": -grams if taken else grams, "half_step": step / 2.0, "shown": shown, "taken_as_loss": taken}


def _step(arguments: dict[str, Any], digit: float) -> float:
    text = str(arguments.get("rounded_to") or "").strip()
    if not text:
        return digit
    read = read_figure(text)
    if read is None:
        raise Refused([problem("not_a_number", "rounded_to", "“{typed}” is no number.", typed=text[:40])])
    if not 0.0 < read[0] <= 100_000.0:
        text = "A total is rounded to something above 0 and not above {most}."
        raise Refused([problem("out_of_range", "rounded_to", text, most=100_000)])
    return float(read[0])


def _answer(lines: list[dict[str, Any]], total: dict[str, Any], ours: Any, half_width: float) -> dict[str, Any]:
    difference = total["grams"] - ours.grams
    found = explain(difference, half_width, lines, most=2, limit=MOST_SHOWN)
    if found["size"] is None and found["tried"] <= MOST_FOR_THREE:
        found = explain(difference, half_width, lines, most=3, limit=MOST_SHOWN)
    listed = found["sets"] if found["size"] and found["complete"] else []
    return {
        "total": total["shown"],
        "taken_as_loss": total["taken_as_loss"],
        "difference": _plain(difference),
        "told": _told(difference, ours.grams, half_width),
        "within": _plain(half_width),
        "size": found["size"],
        "count": found["count"],
        "complete": found["complete"],
        "verdict": _verdict(found, half_width, lines),
        "sets": [
            {"slips": [_slip(slip) for slip in each["slips"]], "left": _plain(each["left_grams"])} for each in listed
        ],
        "more": found["count"] - len(listed) if found["complete"] and found["size"] else 0,
    }


def _plain(grams: float) -> dict[str, Any]:
    """Grams without an uncertainty: to 0.1 g below 1 kg, to 1 g above."""
    return shown_grams(float(rounded(grams, 1 if abs(grams) < 1000.0 else 0)), 0.0)


def _told(difference: float, ours: float, half_width: float) -> dict[str, Any]:
    """The difference in plain words."""
    apart = _plain(abs(difference))
    if abs(difference) <= half_width:
        return say("The two agree: they lie {apart} apart, within {within}.", apart=apart, within=_plain(half_width))
    if ours < 0.0:
        if difference > 0.0:
            return say("By the total given, the machine lost {apart} less than by our sum.", apart=apart)
        return say("By the total given, the machine lost {apart} more than by our sum.", apart=apart)
    if difference > 0.0:
        return say("The total given is {apart} more than our sum.", apart=apart)
    return say("The total given is {apart} less than our sum.", apart=apart)


def _verdict(found: dict[str, Any], half_width: float, lines: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """What the search found, and how much that tells."""
    size, count = found["size"], found["count"]
    told = []
    if size is None and found["searched"] < 3:
        told.append(say("No one slip explains it, nor any two. Three at once were not tried: too many lines for that."))
    elif size is None:
        told.append(say("No one slip explains it, nor any two or three at once."))
    elif size and not found["complete"]:
        text = "More than {n} ways explain it, {size} slips at once: it tells nothing. Give the total more finely."
        told.append(say(text, n=MOST_COUNTED, size=size))
    elif size == 1 and count == 1:
        told.append(say("One slip explains it, and no other one does."))
    elif size == 1:
        told.append(say("{n} single slips would explain it, so it tells little. The likeliest come first.", n=count))
    elif size == 2 and count == 1:
        told.append(say("No one slip explains it. One pair does; among so many pairs that may be chance."))
    elif size == 2:
        told.append(say("No one slip explains it. {n} different pairs do: it tells little.", n=count))
    elif size == 3:
        told.append(say("Only three slips at once explain it, in {n} ways. Take it as a hint, no more.", n=count))
    hidden = len([line for line in lines if line.get("counted") and abs(line["grams"]) <= half_width])
    if hidden:
        text = "Parts that weigh less than {within}, so that nobody would see them left out: {n}."
        told.append(say(text, n=hidden, within=_plain(half_width)))
    return told


def _slip(slip: Any) -> dict[str, Any]:
    """One slip: the part, to lead there, and the slip in words."""
    line, detail = slip.line, slip.detail or {}
    mass = _plain(line["grams"])
    values: dict[str, Any] = {"mass": mass}
    if slip.kind == "one_mass":
        values = {"mass": _plain(-slip.shift), "what": {"label": line["states"][detail["term"]]}}
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
