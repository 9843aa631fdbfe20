"""A check of a scale says one uncertainty in one way, beside its figure and in its sentence."""

import pytest
from machine_shop import Shop

from vectors.cases import identifier


@pytest.mark.parametrize(("known", "half", "step"), [(1000, 0.5, 0.5), (200, 0.1, 0.1), (500, 2, 1), (5000, 30, 5)])
def test_the_sentence_and_the_figure_say_the_same(known: float, half: float, step: float) -> None:
    shop, scale = Shop(), identifier("@scale")
    shop.put("scale", scale, name="Bench scale", step_grams=step)
    shop.write("scale_check", scale=scale, against="reference_weight", known_grams=known, known_plus_minus_grams=half,
               grams=known, step_grams=step)  # fmt: skip
    [card] = shop.view("gear")["scales"]
    [check] = card["checks"]
    assert check["verdict"] == "agrees"
    within = check["says"]["values"]["most"]
    assert (within["value"], within["unit"]) == (check["deviation"]["plus_minus"], check["deviation"]["unit"])
    # GUM 4.3.7: rectangles of these half widths, in quadrature, k = 2.
    expanded = 2.0 / 3.0**0.5 * (half**2 + (step / 2.0) ** 2) ** 0.5
    assert float(within["value"]) == pytest.approx(expanded, rel=0.3)


def test_a_step_finer_than_we_show_masses_is_not_nothing() -> None:
    shop = Shop()
    shop.put("scale", identifier("@scale"), name="Fine", step_grams=0.0001, zero_grams=0.0005)
    [card] = shop.view("gear")["scales"]
    assert (card["step"]["value"], card["zero"]["value"], card["step"]["unit"]) == ("0.0001", "0.0005", "g")
