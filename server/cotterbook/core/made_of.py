"""The causes of an uncertainty in words, the largest first."""

import math
from typing import Any

from .amounts import Amount
from .figures import shown_spread
from .strip import Strip
from .words import say

MOST = 5
WORDS = {
    "step": "Step of the scale",
    "range": "The figure wandered",
    "given": "Give or take, as written",
    "document": "A document’s figure: taken as good to 0.5\u00a0%",
    "worked_out": "Worked out: taken as good to 10\u00a0%",
    "maturity": "Estimated: 5, 10 or 20\u00a0% by how well it is known",
    "scatter": "Looks that differ",
    "pieces": "Pieces not weighed, taken as equal within 2\u00a0%",
    "gain": "Gain of the scale, shared by all that it weighed",
    "zero": "Zero of the scale, shared by all that it weighed",
    "tare": "Step of the scale, for the empty container",
    "litres": "Litres as read",
    "density": "Density of the fluid, shared by all of it",
    "fastener": "Mass of the fasteners given back",
}
OF_A_SCALE = {
    "step": "Step: {scale}",
    "gain": "Gain, shared by all it weighed: {scale}",
    "zero": "Zero, shared by all it weighed: {scale}",
    "tare": "Step, for the empty container: {scale}",
}


def made_of(strip: Strip, amount: Amount) -> list[dict[str, Any]]:
    """The largest causes of an amount's uncertainty, those of a kind together.

    {"what": sentence, "plus_minus": shown, k = 2, "percent": its part of the variance}; at most five, the
    fifth being all the rest where there are more.
    """
    variances: dict[tuple[str, str], float] = {}
    for cause in amount.causes:
        key = _kind_and_whose(strip, cause)
        variances[key] = variances.get(key, 0.0) + amount.causes[cause][0] ** 2
    whole = sum([variances[key] for key in variances])
    if whole <= 0.0:
        return []
    keys = sorted([key for key in variances if variances[key] > 0.0], key=lambda key: (-variances[key], key))
    shown = [(_said(key), variances[key]) for key in keys]
    if len(shown) > MOST:
        rest = sum([variance for _, variance in shown[MOST - 1 :]])
        shown = shown[: MOST - 1] + [(say("All else"), rest)]
    return [
        {"what": what, "plus_minus": shown_spread(2.0 * math.sqrt(each)), "percent": round(100.0 * each / whole)}
        for what, each in shown
    ]


def _kind_and_whose(strip: Strip, cause: str) -> tuple[str, str]:
    """The kind of a cause, and the scale or fluid it belongs to, by name, where there is one."""
    kind, _, whose = cause.partition(":")
    if kind == "density":
        return (kind, whose)
    if kind not in OF_A_SCALE:
        return (kind, "")
    entry = strip.entries.get(whose) or {}
    card = strip.scale(entry.get("on_scale") or whose)
    return (kind, str((card or {}).get("name") or entry.get("scale") or ""))


def _said(key: tuple[str, str]) -> dict[str, Any]:
    kind, whose = key
    if kind == "density":
        return say("Density, shared by all of it: {fluid}", fluid={"label": whose})
    if whose:
        return say(OF_A_SCALE[kind], scale=whose)
    return say(WORDS.get(kind, "Another cause"))
