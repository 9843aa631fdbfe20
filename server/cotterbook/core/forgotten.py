"""What the difference between predicted and weighed would be if one named thing were forgotten, by the tally check."""

from typing import Any

from .agreement import Agreement
from .amounts import Amount, together
from .changes import lies_beside
from .figures import shown_amount
from .fluids import DENSITIES
from .mass import outcome_of
from .ordering import in_order
from .prediction import Prediction
from .strip import Strip
from .tally import MOST_LINES, explain, slips_of
from .thing import Thing
from .weigh_in import WeighIn
from .words import say

# The slips that are a thing forgotten; the others are slips of the pen.
KINDS = ("left_out", "not_counted", "one_side")
MOST_SHOWN = 8
# What is off of a part that becomes this is not on the machine: it stays off, or what replaces it is not on yet.
GONE_WHEN_OFF = ("stays_off", "swapped", None)


def forgotten(strip: Strip, weighing: WeighIn, prediction: Prediction) -> dict[str, Any]:
    """{"things": likeliest first, each with what would be left, "explained": how many explain the difference}.

    A thing: {"part" or None, "name" (text or sentence), "what" sentence, "left" Amount, "number" En, "agrees"}.
    """
    difference = prediction.agreement.difference
    lines, amounts = _lines(strip, weighing, prediction)
    if len(lines) > MOST_LINES:
        # The lightest would not show anyhow.
        lines = in_order(lines, lambda line: (-abs(line["grams"]), line["key"]))[:MOST_LINES]
    found = explain(difference.grams, difference.expanded, lines, KINDS, 1, MOST_SHOWN)
    things = []
    # What is left, with its own uncertainty, is worked out of the nearest alone: a phone has to wait for it.
    nearest = in_order(slips_of(lines, KINDS), lambda slip: (abs(difference.grams - slip.shift) - slip.own, slip.order))
    for slip in nearest[: 3 * MOST_SHOWN]:
        amount = amounts[slip.line["key"]]
        left = together([difference, amount.times(-slip.shift / amount.grams)])
        things.append(_thing(slip, amount, left))
    things.sort(key=lambda thing: (thing["number"], thing["order"]))
    return {"things": things[:MOST_SHOWN], "explained": found["count"] if found["size"] == 1 else 0}


def _thing(slip: Any, amount: Amount, left: Amount) -> dict[str, Any]:
    expanded = left.expanded
    number = abs(left.grams) / expanded if expanded > 0.0 else 0.0
    line = slip.line
    mass = shown_amount(amount.times(abs(slip.shift / amount.grams)))
    what = say(line["one_side"] if slip.kind == "one_side" else line["what"], mass=mass)
    return {
        "part": line["part"],
        "name": line["name"],
        "side": line["side"],
        "what": what,
        "left": left,
        "number": number,
        "agrees": Agreement(left, number).agree,
        "order": slip.order,
    }


def _lines(strip: Strip, weighing: WeighIn, prediction: Prediction) -> tuple[list[dict[str, Any]], dict[str, Amount]]:
    lines: list[dict[str, Any]] = []
    amounts: dict[str, Amount] = {}
    changed: dict[str, list[Amount]] = {}
    for change in prediction.changes:
        changed.setdefault(change.part.id, []).append(change.amount)
    for part in strip.of_type("part"):
        counted = together(changed.get(part.id, []))
        if counted.grams:
            _add(lines, amounts, part, counted, True, "Not changed after all: {mass}.")
        else:
            brought = _could_be(strip, part, weighing)
            if brought is not None and brought.grams:
                text = "Off or gone, though the log has it on: {mass}."
                text = text if brought.grams < 0.0 else "On, though the log does not have it on: {mass}."
                _add(lines, amounts, part, brought, False, text)
    _of_the_machine(lines, amounts, weighing, prediction)
    return lines, amounts


def _add(lines: Any, amounts: Any, part: Thing, amount: Amount, counted: bool, text: str) -> None:
    values = part.values
    amounts[part.id] = amount
    lines.append(
        {
            "key": part.id,
            "part": part.id,
            "name": values.get("name") or "",
            "side": values.get("side"),
            "grams": amount.grams,
            "plus_minus": 0.0 if counted else amount.expanded,
            "pieces": values.get("pieces") or 1,
            "counted": counted,
            "what": text,
            "one_side": "Only half of its pieces changed: {mass}.",
        }
    )


def _could_be(strip: Strip, part: Thing, weighing: WeighIn) -> Any:
    """What a part that counts as unchanged would change, had somebody forgotten to say so: a mass, signed, or None."""
    masses, outcome = strip.masses(part.id), outcome_of(part.values)
    if part.values.get("came_in") in ("missing", "new") or outcome == "added":
        return masses.get("going_on") or masses.get("taken_off")
    off = masses.get("taken_off")
    if off is None:
        return None
    then = strip.standing_before(part, weighing.key)
    if outcome == "swapped" and then["outcome_done"]:
        on = masses.get("going_on")
        return None if on is None else on.times(-1.0)
    # What was off or lay beside it in both states may have been on it after all.
    gone = bool(then["off"]) and outcome in GONE_WHEN_OFF
    return off if gone or lies_beside(strip, part, weighing.key) else off.times(-1.0)


def _of_the_machine(lines: Any, amounts: Any, weighing: WeighIn, prediction: Prediction) -> None:
    """The fuel and the rider."""
    beside = (
        ("fuel", prediction.fuel, say("The fuel"), "As much in the tank as before: {mass} of it not come or gone."),
        ("rider", weighing.rider, say("The rider"), "Not on it after all: {mass}."),
    )
    for key, amount, name, text in beside:
        if amount is not None and amount.grams:
            amounts[key] = amount
            line: dict[str, Any] = {"key": key, "part": None, "name": name, "side": None, "grams": amount.grams}
            line.update(what=text, one_side=text, counted=True)
            lines.append(line)


def litres_of_petrol(grams: float) -> str:
    """Roughly how many litres of petrol that is, by the middle of its density (EN 228:2012)."""
    low, high, _ = DENSITIES["petrol"]
    return "{:.1f}".format(abs(grams) / ((low + high) / 2.0))
