"""What is kept where, who works and what is measured with, over all strip-downs; tables as a person reads them."""

import json
from pathlib import Path

import pytest
from machine_shop import Shop

from cotterbook.core.in_the_shop import in_the_shop, shop_view
from cotterbook.core.strip import Strip
from cotterbook.core.views_shown_table import shown_table_view
from cotterbook.core.views_tables import NAMES, table_view
from vectors.cases import FIRST_AT, identifier

ENTRIES = Path(__file__).resolve().parents[2] / "demo_data" / "entries.jsonl"
NOW = FIRST_AT + 40 * 86_400_000


@pytest.fixture(scope="module")
def demo():
    entries = [json.loads(line) for line in ENTRIES.read_text(encoding="utf-8").splitlines()]
    strip = Strip(entries[0]["strip"])
    strip.add(entries)
    return strip


def one_place(kept, name):
    shop = Shop()
    bag, part = identifier("@bag"), shop.part(name, off=True, kept=kept)
    shop.put("bag", bag, label="C", kept=kept.upper())
    shop.part("Lamp", off=True)
    group = identifier("@group")
    shop.put("group", group, part=part, count=3)
    shop.write("move", group=group, count=3, **{"from": "machine", "to": "bag", "to_bag": bag})
    return shop.view("shop", now_ms=NOW)


def test_what_is_in_box_c_of_two_strip_downs_is_at_one_place_however_it_was_written():
    one, other = one_place("box c", "Case"), one_place("Box C", "Rack")
    [place] = in_the_shop({"strips": [one, other]})["places"]
    held = {(each["kept"], len(each["parts"]), sum(bag["count"] for bag in each["bags"])) for each in place["in"]}
    assert held == {("box c", 1, 0), ("Box C", 1, 0), ("BOX C", 0, 3)}
    nowhere = in_the_shop({"strips": [one, other]})["nowhere"]
    assert [part["name"] for each in nowhere for part in each["parts"]] == ["Lamp", "Lamp"]


def test_people_of_several_strip_downs_are_one_by_the_rule_of_the_second_check():
    one, other = Shop(), Shop()
    for shop, who in ((one, "Ann"), (other, "ANN")):
        part = shop.part("Case", off=True)
        shop.write(
            "weigh", part=part, weighed_as="taken_off", grams=5, pieces=1, basis="weighed", step_grams=1, who=who
        )
    [person] = in_the_shop({"strips": [one.view("shop", now_ms=NOW), other.view("shop", now_ms=NOW)]})["people"]
    # Two entries begin each log, one is the part, one its weighing.
    assert [person[name] for name in ("strips", "weigh", "tighten", "entries")] == [2, 2, 0, 8]


def test_a_calibration_that_is_due_comes_first_and_the_newest_day_counts():
    one, other = Shop(), Shop()
    one.put("scale", identifier("@s"), name="Bench scale", calibrated_on="2020-01-31")
    one.put("tool", identifier("@t"), name="Wrench", calibrated_on="2025-09-01")
    one.put("scale", identifier("@u"), name="Hanging scale")
    other.put("scale", identifier("@s"), name="bench scale", calibrated_on="2019-01-31")
    gear = in_the_shop({"strips": [shop.view("shop", now_ms=NOW) for shop in (one, other)]})["gear"]
    assert [(card["name"], card["overdue"], card["calibrated_on"]) for card in gear] == [
        ("Bench scale", True, "2020-01-31"), ("Hanging scale", False, None), ("Wrench", False, "2025-09-01"),
    ]  # fmt: skip


def test_everything_that_is_off_in_the_demo_stands_at_one_place_or_at_none(demo):
    seen = shop_view(demo, {"now_ms": NOW})
    found = [part["part"] for place in [*seen["places"], seen["nowhere"]] for part in place["parts"]]
    off = [part.id for part in demo.of_type("part") if part.values.get("off") and not part.values.get("gone")]
    assert sorted(found) == sorted(set(found)) and set(found) <= set(off)
    counted = sum(bag["count"] for place in [*seen["places"], seen["nowhere"]] for bag in place["bags"])
    in_bags = sum(demo.ledger(group.id).at("bag") for group in demo.of_type("group"))
    assert counted == in_bags


@pytest.mark.parametrize("name", NAMES)
def test_a_shown_table_drops_only_what_is_empty_and_rounds_by_the_uncertainty(demo, name):
    whole, shown = table_view(demo, {"table": name}), shown_table_view(demo, {"table": name})
    keys, seen = [head["key"] for head in whole["heads"]], [head["key"] for head in shown["heads"]]
    assert len(shown["rows"]) == len(whole["rows"])
    for key in set(keys) - set(seen) - {"id"}:
        column = keys.index(key)
        assert key.endswith("_uncertainty") or all(row[column] in (None, [], "") for row in whole["rows"])
    for key in seen:
        for row, cells in zip(whole["rows"], shown["rows"], strict=True):
            value, cell = row[keys.index(key)], cells["cells"][seen.index(key)]
            if isinstance(cell, dict) and "raw" in cell:
                spread = row[keys.index(key + "_uncertainty")] if key + "_uncertainty" in keys else 0.0
                # GUM 7.2.6: rounded by no more than the last of two digits of its uncertainty.
                assert cell["raw"] == value and abs(float(cell["value"]) - value) <= max(0.05 * (spread or 0.0), 1e-4)
            else:
                assert cell == value
