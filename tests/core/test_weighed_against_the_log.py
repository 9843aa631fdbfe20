"""What the log predicts against what was weighed, its En, and one thing that was forgotten."""

import math
from typing import Any

import pytest
from machine_shop import LITRE, Shop, told, words

from cotterbook.core.agreement import shown_number as en_shown


def test_predicted_against_weighed_with_its_en() -> None:
    """En of ISO 13528 (from memory), worked by hand: the same fuel, a rack of 2346 g off between two weighings."""
    shop = Shop()
    shop.weigh(98_000.0, 102_000.0, fuel_litres=5.0, plus_minus_litres=0.1)
    shop.part("Rack", 2_346.0, off=True, outcome="stays_off", outcome_done=True)
    shop.weigh(97_500.0, 100_200.0, fuel_litres=5.0, plus_minus_litres=0.1)
    found = shop.newest()["predictions"][0]
    assert (found["source"], found["changes"], found["expected"]["value"]) == ("weigh_in", 1, "197.65")
    # Four looks of 100 g, one of 1 g, two of 0.1 l; the density of the petrol is in both and cancels.
    variances = 4 * 100.0**2 / 12.0 + 1.0 / 12.0 + 2 * (0.1 * LITRE) ** 2 / 3.0
    expanded = 2.0 * math.sqrt(variances)
    assert found["agreement"]["number"] == f"{46.0 / expanded:.1f}" == "0.3"
    assert found["agreement"]["agrees"] and words(found["agreement"]["told"][0]).startswith("A thing forgotten that")
    assert (round(expanded), told(found["agreement"]["difference"])) == (168, "50 ± 170 g")


def test_one_thing_that_was_forgotten_is_named_with_what_is_left() -> None:
    shop = Shop()
    shop.weigh(98_000.0, 102_000.0, fuel_litres=5.0, plus_minus_litres=0.1)
    shop.part("Rack", 2_346.0, off=True, outcome="stays_off", outcome_done=True)
    shop.part("Guards", 1_300.0, off=True, outcome="stays_off", outcome_done=True, pieces=2)
    case = shop.part("Top case", 4_100.0)
    # The top case was off as well, and nobody said so.
    shop.weigh(96_000.0, 96_300.0, fuel_litres=5.0, plus_minus_litres=0.1)
    judged = shop.newest()["predictions"][0]["agreement"]
    assert not judged["agrees"] and words(judged["says"]) == "They do not agree: it weighs less than the log says."
    assert words(judged["told"][0]) == "One thing forgotten explains it, and no other one does."
    assert words(judged["told"][1]) == f"The difference is that of {4054.0 / LITRE:.1f} l of petrol."
    first = judged["things"][0]
    assert (first["part"], first["agrees"], first["left"]["value"]) == (case, True, "50")
    assert words(first["what"]) == "Off or gone, though the log has it on: -4.1000 ± 0.0006 kg."
    others = {str(each["name"]): each for each in judged["things"][1:]}
    assert not any(each["agrees"] for each in others.values()) and {"Rack", "Guards"} <= set(others)


@pytest.mark.parametrize("outcome", ["stays_off", "swapped", None])
def test_what_was_off_at_both_weighings_is_not_said_to_be_on(outcome: Any) -> None:
    """It could only have been on after all, and then the machine would weigh more, not less."""
    shop = Shop()
    stand = shop.part("Centre stand", 3_600.0, off=True, **({"outcome": outcome} if outcome else {}))
    shop.weigh(98_000.0, 102_000.0, fuel_litres=5.0, plus_minus_litres=0.1)
    shop.weigh(96_200.0, 100_200.0, fuel_litres=5.0, plus_minus_litres=0.1)
    judged = shop.newest()["predictions"][0]["agreement"]
    found = [each for each in judged["things"] if each["part"] == stand]
    assert [words(each["what"]) for each in found] == ["On, though the log does not have it on: 3.6000 ± 0.0006 kg."]
    assert not found[0]["agrees"]


def test_of_what_was_swapped_the_new_one_may_be_gone() -> None:
    shop = Shop()
    part = shop.part("Battery", 4_100.0, off=True, outcome="swapped", outcome_done=True)
    shop.write("weigh", part=part, weighed_as="going_on", pieces=1, basis="weighed", grams=2_000.0, step_grams=1.0)
    shop.weigh(98_000.0, 102_000.0, fuel_litres=5.0, plus_minus_litres=0.1)
    shop.weigh(97_000.0, 101_000.0, fuel_litres=5.0, plus_minus_litres=0.1)
    first = shop.newest()["predictions"][0]["agreement"]["things"][0]
    assert (first["part"], first["agrees"]) == (part, True)
    assert words(first["what"]) == "Off or gone, though the log has it on: -2.0000 ± 0.0006 kg."


def test_what_lies_beside_it_to_go_back_was_not_on_the_scale() -> None:
    shop = Shop()
    shop.weigh(98_000.0, 102_000.0, fuel_litres=5.0)
    seat = shop.part("Seat", 6_000.0, off=True, outcome="goes_back")
    second = shop.weigh(96_000.0, 98_000.0, fuel_litres=5.0)
    assert shop.newest()["predictions"][0]["agreement"]["number"] == "0.0"
    # It counts as on: the machine is the seat heavier than it was weighed.
    assert shop.view("balance")["masses"]["now"]["value"] == "200.000"
    shop.put("part", seat, off=False, outcome_done=True)
    shop.weigh(98_000.0, 102_000.0, fuel_litres=5.0)
    weighings = shop.view("weigh_in", compared=second)["weighings"]
    assert [weighings[n]["predictions"][0]["agreement"]["number"] for n in range(2)] == ["0.0", "0.0"]
    assert weighings[2]["predictions"] is None


def test_against_the_standard_machine() -> None:
    """A published mass in running order holds 90 to 100 % of the tank (Regulation (EU) 168/2013, Art. 5(1))."""
    shop = Shop(standard_grams=205_000.0, standard_state="running_order", tank_litres=16.0)
    shop.part("Rack", 2_346.0, off=True, outcome="stays_off", outcome_done=True)
    rest = 205_000.0 - 2_346.0 - (0.95 * 16.0 - 4.0) * LITRE
    shop.weigh(90_000.0, float(round(rest - 90_000.0, -2)), fuel_litres=4.0)
    [found] = shop.newest()["predictions"]
    assert float(found["expected"]["value"]) == pytest.approx(rest / 1000.0, abs=0.06)
    assert found["source"] == "standard" and found["agreement"]["agrees"]


def test_more_lines_than_the_tally_takes_and_many_weighings_are_no_reason_to_break() -> None:
    shop = Shop()
    shop.weigh(98_000.0, 102_000.0, fuel_litres=5.0, plus_minus_litres=0.1)
    for number in range(520):
        shop.part(f"Clip {number}", 20.0 + number / 10.0, off=False)
    case = shop.part("Case", 6_000.0, off=False)
    shop.weigh(95_000.0, 99_000.0, fuel_litres=5.0, plus_minus_litres=0.1)
    assert shop.newest()["predictions"][0]["agreement"]["things"][0]["part"] == case


def test_an_en_above_1_is_never_shown_as_1():
    """At most 1 agrees (ISO 13528), so the figure must stand on the side of 1 that the verdict does."""
    for number, shown in ((0.96, "1.0"), (1.0, "1.0"), (1.003, "1.01"), (1.02, "1.02"), (1.06, "1.1"), (1e9, "999.0")):
        assert en_shown(number) == shown
        assert (number <= 1.0) == (float(shown) <= 1.0)
