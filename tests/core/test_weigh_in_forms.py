"""A weighing, a place or a measure as it is typed: written down whole, or refused whole with its reason."""

import json
import math
from typing import Any

import pytest
from machine_shop import MACHINE, STRIP, Shop, balanced

from cotterbook.core.words import spoken
from vectors.cases import identifier


def test_a_weighing_is_written_down_whole() -> None:
    shop = Shop(tank_litres=20.0)
    scale = identifier("@scale")
    shop.put("scale", scale, name="Platform", step_grams=500.0, gain_percent=1.0)
    form = {"front": "98,5", "rear": "190.5", "unit": "kg", "front_scale": scale, "rear_scale": scale,
            "rider": "81", "fuel_litres": "6", "plus_minus_litres": "0,5", "front_higher": "-12",
            "note": "On boards."}  # fmt: skip
    answer = shop.act("weigh_in", form)
    [entry] = answer["result"]["entries"]
    written = {name: entry[name] for name in entry if name not in ("id", "strip", "at", "by", "who", "kind")}
    assert written == {
        "front_grams": 98_500.0, "rear_grams": 190_500.0, "step_grams": 500.0, "front_scale": scale,
        "rear_scale": scale, "rider_grams": 81_000.0, "fuel_litres": 6.0, "plus_minus_litres": 0.5,
        "front_higher_millimetres": -12.0, "note": "On boards.",
    }  # fmt: skip
    # One scale under both ends: its gain of 1 % adds straight (GUM 5.2.2), 1 % of 289 kg over the root of three.
    shop.call("load", json.dumps({"strip": STRIP, "entries": [entry]}))
    found = shop.newest()
    u = 2.0 * math.sqrt((0.01 * 289.0 / math.sqrt(3.0)) ** 2 + 2 * 0.5**2 / 12.0 + 0.5**2 / 3.0)
    assert found["total"]["plus_minus"] == f"{u:.1f}" and found["scales"] == ["Platform"]
    [card] = shop.view("gear")["scales"]
    assert (card["name"], card["readings"]) == ("Platform", 1)
    lift = shop.act("weigh_in", {"front": "216 lb", "rear_raised": "20 in"})["result"]["entries"][0]
    assert lift["front_grams"] == pytest.approx(216 * 453.59237) and lift["rear_raised_millimetres"] == 508.0


@pytest.mark.parametrize(
    ("form", "field"),
    [
        ({"rear": "100"}, "front"),
        ({"front": "100"}, "rear"),
        ({"front": "-1", "rear": "100"}, "front"),
        ({"front": "1e9", "rear": "100"}, "front"),
        ({"front": "99999999", "rear": "100"}, "front"),
        ({"front": "100", "rear": "much"}, "rear"),
        ({"fuel_litres": "21"}, "fuel_litres"),
        ({"fuel_litres": "nan"}, "fuel_litres"),
        ({"fuel_litres": "-1"}, "fuel_litres"),
        ({"plus_minus_litres": "1"}, "fuel_litres"),
        ({"rider": "200"}, "rider"),
        ({"front_higher": "5000"}, "front_higher"),
        ({"front_higher": "high"}, "front_higher"),
        ({"rear_raised": "0"}, "rear_raised"),
        ({"front_scale": MACHINE}, "front_scale"),
        ({"step": "0"}, "step"),
        ({"note": "x" * 2_001}, "note"),
        # Petrol weighs 720 g a litre or more (EN 228:2012).
        ({"front": "5", "rear": "5", "fuel_litres": "15"}, "fuel_litres"),
        ({"front": "40", "rear": "41", "rider": "81"}, "rider"),
        ({"front": "40", "rear": "50", "rider": "85", "fuel_litres": "8"}, "fuel_litres"),
    ],
)
def test_a_weighing_that_cannot_be_is_refused_whole_with_its_reason(form: dict[str, str], field: str) -> None:
    shop = Shop(tank_litres=20.0)
    both = {} if "front" in form or field == "front" else {"front": "98", "rear": "102"}
    answer = shop.act("weigh_in", both | form)
    assert "result" not in answer and [each["field"] for each in answer["problems"]] == [field]
    assert spoken(answer["problems"][0])


@pytest.mark.parametrize(
    ("type_", "values", "field"),
    [
        ("part", {"along_millimetres": "-1600"}, "along_millimetres"),
        ("part", {"up_millimetres": "-1"}, "up_millimetres"),
        ("part", {"to_up_millimetres": "up there"}, "to_up_millimetres"),
        ("part", {"position_plus_minus_millimetres": "0"}, "position_plus_minus_millimetres"),
        ("part", {"carried": "by hand"}, "carried"),
        ("machine", {"wheelbase_millimetres": "3001"}, "wheelbase_millimetres"),
        ("machine", {"standard_rear_percent": "101"}, "standard_rear_percent"),
        ("machine", {"standard_state": "wet"}, "standard_state"),
    ],
)
def test_a_place_or_measure_that_cannot_be_is_refused(type_: str, values: dict[str, str], field: str) -> None:
    shop = Shop()
    thing = MACHINE if type_ == "machine" else shop.part("Horn", 300.0)
    answer = shop.act("change", {"thing": thing, "type": type_, "values": values})
    assert "result" not in answer and [each["field"] for each in answer["problems"]] == [field]


def test_a_part_ahead_of_the_front_axle_has_a_place_below_nothing_along() -> None:
    shop = Shop()
    part = shop.part("Lamp", 300.0)
    values = {"along_millimetres": "-120", "up_millimetres": "85 cm", "position_plus_minus_millimetres": "20"}
    answer = shop.act("change", {"thing": part, "type": "part", "values": values})
    assert answer["result"]["entries"][0]["values"] == {
        "along_millimetres": -120.0, "up_millimetres": 850.0, "position_plus_minus_millimetres": 20.0,
    }  # fmt: skip


@pytest.mark.parametrize("odd", [[], {}, 7, True, "x" * 5_000, {"a": [1]}, [None]])
def test_what_no_page_would_ask_is_answered_or_refused(odd: Any) -> None:
    shop = balanced(off=True, outcome="stays_off")
    for view, name in (("balance", "baseline"), ("balance", "state"), ("weigh_in", "compared")):
        answer = json.loads(shop.call("view", json.dumps({"strip": STRIP, "view": view, name: odd})))
        assert ("result" in answer) != ("problems" in answer)
    for name in ("front", "front_scale", "rider", "note", "front_higher", "fuel_litres"):
        answer = shop.act("weigh_in", {"front": "98", "rear": "102", name: odd})
        assert ("result" in answer) != ("problems" in answer)
