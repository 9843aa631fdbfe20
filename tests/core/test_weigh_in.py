"""The whole machine weighed: totals, fuel, level or not, lifted, and what was not said."""

import math

import pytest
from machine_shop import LITRE, MEASURES, Shop, told, words


def test_two_scales_fuel_and_a_rider() -> None:
    """Worked by hand: steps of 100 g are 28.87 g each (GUM F.2.2.1); a rider within 500 g is 288.7 g; k = 2."""
    shop = Shop(tank_litres=20.0, **MEASURES)
    shop.weigh(100_000.0, 180_000.0, fuel_litres=5.0, plus_minus_litres=0.2, rider_grams=80_000.0)
    found = shop.newest()
    u = 2.0 * math.sqrt(2.0 * (100.0 / 2.0 / math.sqrt(3.0)) ** 2 + 500.0**2 / 3.0)
    assert round(u / 1000.0, 1) == 0.6 and told(found["total"]) == "200.00 ± 0.58 kg"
    assert (told(found["front"]), told(found["rear"])) == ("100.000 ± 0.058 kg", "180.000 ± 0.058 kg")
    assert told(found["fuel"]) == "5 ± 0.2 l"
    totals = {each["state"]: each["total"]["value"] for each in found["states"]}
    dry = 200_000.0 - 5.0 * LITRE
    assert totals == {"as_it_stands": "200.00", "dry": f"{dry / 1000:.2f}",
                      "running_order": f"{(dry + 0.9 * 20.0 * LITRE) / 1000:.2f}"}  # fmt: skip
    assert found["level"]["rider"] is True
    # With a rider it is no ground for the machine's own balance, and that is said.
    missing = [words(each["sentence"]) for each in shop.view("balance")["missing"]]
    assert "A weighing of both wheels on level ground, without a rider: none so far will do." in missing


def test_what_was_not_said_is_named_and_gives_no_figure() -> None:
    shop = Shop()
    shop.weigh(98_000.0, 110_000.0)
    states = {each["state"]: each for each in shop.newest()["states"]}
    assert states["as_it_stands"]["total"] and states["dry"]["total"] is states["running_order"]["total"] is None
    assert words(states["dry"]["why"]) == "Not known: the fuel that was in it was not said."
    [by_standard] = shop.newest()["predictions"]
    assert by_standard["agreement"] is by_standard["expected"] is None
    assert [each["where"] for each in by_standard["missing"]] == ["machine", "weigh_in", "machine"]
    shop.weigh(98_000.0, 110_000.0, fuel_litres=3.0)
    states = {each["state"]: each for each in shop.newest()["states"]}
    assert words(states["running_order"]["why"]) == "Not known: the size of the tank was not said."


def test_not_level_is_turned_into_loads_on_level_ground() -> None:
    """Lever rule: with the front 100 mm higher, total x up / wheelbase x tan(slope) has moved to the rear."""
    shop = Shop(standard_up_millimetres=550.0, **MEASURES)
    shop.weigh(100_000.0, 104_000.0, front_higher_millimetres=100.0)
    level = shop.newest()["level"]
    moved = 204_000.0 * 550.0 / 1450.0 * math.tan(math.asin(100.0 / 1450.0))
    assert float(level["front"]["value"]) == pytest.approx((100_000.0 + moved) / 1000.0, abs=0.05)
    assert float(level["rear_percent"]["value"]) == pytest.approx((104_000.0 - moved) / 2_040.0, abs=0.05)
    assert words(level["says"]) == "The front stood higher by 100 ± 3 mm: turned into loads on level ground."
    shop.weigh(100_000.0, 104_000.0, front_higher_millimetres=-5.0)
    assert words(shop.newest()["level"]["says"]).startswith("The rear stood higher by 5 ± 3 mm: turned into")
    shop.weigh(100_000.0, 104_000.0, front_higher_millimetres=900.0)
    level = shop.newest()["level"]
    assert level["front"] is None and "too much higher" in words(level["says"])


def test_a_lift_test_beside_a_weighing_on_a_steep_slope_says_so() -> None:
    """So steep that nothing is to be said of its wheels: the rest of the screen is there all the same."""
    shop = Shop(**MEASURES)
    shop.weigh(108_000.0, None, rear_raised_millimetres=500.0)
    shop.weigh(100_000.0, 104_000.0, front_higher_millimetres=900.0)
    lift = shop.view("weigh_in")["weighings"][1]["lift"]
    assert lift["up"] is None and lift["above_axles"] is None
    assert "one wheel stood too much higher" in words(lift["missing"][0])


def test_a_lift_test_gives_a_height_and_says_what_it_lacks() -> None:
    shop = Shop(**MEASURES)
    shop.weigh(108_000.0, None, rear_raised_millimetres=500.0)
    found = shop.newest()
    assert found["total"] is None and found["states"] == [] and found["predictions"] == []
    assert "needs a weighing of both wheels" in words(found["lift"]["missing"][0])
    assert found["lift"]["up"] is None
    shop.weigh(100_000.0, 104_000.0, front_higher_millimetres=0.0)
    lift = shop.view("weigh_in")["weighings"][1]["lift"]
    # ISO 10392:2011, 6.2, axles 10 mm apart in height; worked by hand to the millimetre.
    length = math.hypot(1450.0, 10.0)
    tangents = math.tan(math.asin(510.0 / length)) - math.tan(math.asin(10.0 / length))
    above = length * 8_000.0 / (204_000.0 * tangents)
    along = 1450.0 * 104_000.0 / 204_000.0
    up = 300.0 + along * 10.0 / 1450.0 + above * math.hypot(1.0, 10.0 / 1450.0)
    assert float(lift["above_axles"]["value"]) == pytest.approx(above, abs=5.0) and lift["missing"] == []
    assert float(lift["up"]["value"]) == pytest.approx(up, abs=5.0) and lift["up"]["plus_minus"]
    assert words(shop.view("balance")["height"]) == "The height is from a lift test."
