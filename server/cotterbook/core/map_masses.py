"""What a part ordinarily weighs, out of the masses of several machines: mean, spread, and what lies outside of it."""

from typing import Any

from .amounts import ROOT_3, coverage_factor
from .figures import FINEST, GRAMS_IN, mass_unit, shown_plain, shown_with
from .readings import PIECE_DIFFERENCE
from .words import say


def spread(grams: list[float]) -> Any:
    """{"machines", "mean", "deviation"} in grams, the standard deviation of a sample; None without any, or of one."""
    if not grams:
        return None
    n = len(grams)
    # About the first of them: large figures that lie close together keep their digits.
    mean = grams[0] + sum([each - grams[0] for each in grams]) / n
    deviation = None if n == 1 else (sum([(each - mean) ** 2 for each in grams]) / (n - 1)) ** 0.5
    return {"machines": n, "mean": mean, "deviation": deviation}


def outside(grams: float, standard: float, ordinary: list[float]) -> bool:
    """Whether one piece weighs other than those of the map would let one expect.

    The limit is that for one more machine: k s sqrt(1 + 1/n), with k for 95.45 % by n - 1 degrees of freedom
    (GUM table G.2), and the standard uncertainty of this weighing. Pieces of a kind may differ by 2 % in any case
    (common practice, no source): one machine, or two that happen to be equal, say nothing finer than that.
    """
    found = spread(ordinary)
    if found is None:
        return False
    n, mean = found["machines"], found["mean"]
    least, factor = PIECE_DIFFERENCE * mean / ROOT_3, 2.0
    own = least
    if n > 1 and found["deviation"] > least:
        own, factor = found["deviation"], coverage_factor(n - 1)
    return bool(abs(grams - mean) > factor * (own**2 * (1.0 + 1.0 / n) + standard**2) ** 0.5)


def ordinary_words(ordinary: Any, pieces: int) -> Any:
    """What one piece ordinarily weighs, in a sentence; None where the map says nothing."""
    found = spread(ordinary or [])
    if found is None:
        return None
    n, mean, deviation = found["machines"], found["mean"], found["deviation"]
    alike = n > 1 and deviation < 10.0 ** -FINEST["g"] / 2.0
    if n == 1 or alike:
        mass = shown_plain(float("{:.4g}".format(mean)))
    else:
        unit = mass_unit(mean)
        mass = shown_with(mean / GRAMS_IN[unit], deviation / GRAMS_IN[unit], unit, FINEST[unit])
    if n == 1:
        return say("It weighed {mass} on the one machine of the map.", mass=mass) if pieces == 1 else say(
            "One piece weighed {mass} on the one machine of the map.", mass=mass)  # fmt: skip
    if alike:
        return say("It weighed {mass} on each of {machines} machines.", mass=mass, machines=n) if pieces == 1 else say(
            "One piece weighed {mass} on each of {machines} machines.", mass=mass, machines=n)  # fmt: skip
    text = "Ordinarily {mass} on {machines} machines; the ± is one standard deviation."
    if pieces != 1:
        text = "One piece ordinarily {mass} on {machines} machines; the ± is one standard deviation."
    return say(text, mass=mass, machines=n)
