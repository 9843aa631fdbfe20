"""What is kept where, who works and what is measured with, over all strip-downs; tables as a person reads them."""


import pytest
from machine_shop import Shop

from cotterbook.core.in_the_shop import in_the_shop, shop_view
from cotterbook.core.views_shown_table import shown_table_view
from cotterbook.core.views_tables import NAMES, table_view
from vectors.cases import FIRST_AT, identifier

NOW = FIRST_AT + 40 * 86_400_000


def one_place(kept, name):
    shop = Shop()
    bag, part = identifier("@bag"), shop.part(name, off=True, kept=kept)
    shop.put("bag", bag, label="C", kept=kept.upper())
    shop.part("Lamp", off=True)
    group = identifier("@group")
    shop.put("group", group, part=part, count=3)
    shop.write("move", group=group, count=3, **{"from": "machine", "to": "bag", "to_bag": bag})
    return shop.view("shop")


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
    [person] = in_the_shop({"strips": [one.view("shop"), other.view("shop")]})["people"]
    # Two entries begin each log, one is the part, one its weighing.
    assert [person[name] for name in ("strips", "weigh", "tighten", "entries")] == [2, 2, 0, 8]


def gear(*shops, now_ms=NOW):
    return in_the_shop({"strips": [shop.view("shop") for shop in shops], "now_ms": now_ms})["gear"]


def with_wrench(name, day=None, uses=0, **card):
    """A strip-down with the card of a wrench that tightened so many fasteners on 2025-10-09, at most 500 at a time."""
    shop = Shop()
    if day is not None:
        card["calibrated_on"] = day
    shop.put("tool", identifier("@t"), name=name, **card)
    tighten(shop, uses, with_tool=identifier("@t"))
    return shop


def tighten(shop, uses, **wrench):
    part, group = shop.part("Case"), identifier("@group")
    shop.put("group", group, part=part, count=500)
    while uses > 0:
        shop.write("tighten", group=group, count=min(uses, 500), newton_metres=20, **wrench)
        uses -= 500


def test_a_calibration_that_is_due_comes_first_and_the_newest_day_counts():
    one, other = Shop(), Shop()
    one.put("scale", identifier("@s"), name="Bench scale", calibrated_on="2020-01-31")
    one.put("tool", identifier("@t"), name="Wrench", calibrated_on="2025-09-01")
    one.put("scale", identifier("@u"), name="Hanging scale")
    other.put("scale", identifier("@s"), name="bench  scale", calibrated_on="2019-01-31")
    assert [(card["name"], card["overdue"], card["calibrated_on"], card["strips"]) for card in gear(one, other)] == [
        ("Bench scale", True, "2020-01-31", 2), ("Hanging scale", False, None, 1), ("Wrench", False, "2025-09-01", 1),
    ]  # fmt: skip


@pytest.mark.parametrize(("uses", "overdue"), [((4_000, 999), False), ((4_000, 1_000), True), ((5_000, 0), True)])
def test_a_wrench_is_due_by_the_fasteners_of_all_strip_downs_together(uses, overdue):
    # ISO 6789-1: due after 5,000 cycles or 12 months; of none of the two alone, where it is 4,000 and 1,000.
    shops = [with_wrench("Wrench", "2025-09-01", uses[0]), with_wrench("WRENCH ", None, uses[1])]
    for order in (shops, shops[::-1]):
        [card] = gear(*order)
        assert (card["cycles"], card["overdue"], card["calibrated_on"]) == (sum(uses), overdue, "2025-09-01")
        told = [each["values"] for each in card["notices"]]
        assert told == ([{"cycles": sum(uses), "due": 5_000}] if overdue else [])


def test_what_was_tightened_before_the_last_calibration_counts_no_more_whoever_wrote_its_day():
    # All was tightened on 2025-10-09; the day of a calibration counts.
    for day, cycles in (("2025-10-09", 6_000), ("2025-10-10", 0)):
        [card] = gear(with_wrench("Wrench", "2025-01-01", 3_000), with_wrench("Wrench", day, 3_000))
        assert (card["cycles"], card["overdue"]) == (cycles, cycles == 6_000)


def test_a_card_put_away_and_a_wrench_that_was_only_named_wear_it_too():
    away, named = with_wrench("Wrench", None, 2_000, put_away=True), Shop()
    tighten(named, 1_500, tool="wrench")
    [card] = gear(away, named, with_wrench("Wrench", "2025-09-01", 1_500))
    assert (card["cycles"], card["overdue"], card["strips"]) == (5_000, True, 2)
    assert gear(away, named) == []


def test_two_wrenches_of_one_name_are_told_apart_by_their_range():
    small = with_wrench("Wrench", "2025-09-01", 4_000, high_newton_metres=20)
    large = with_wrench("Wrench", "2020-09-01", 4_000, high_newton_metres=200)
    unsaid = with_wrench("Wrench", None, 500)
    found = gear(unsaid, small, large)
    assert sorted((card["cycles"], card["calibrated_on"]) for card in found) == [
        (4_000, "2020-09-01"), (4_500, "2025-09-01"),
    ]  # fmt: skip
    # A card that says nothing of it is taken for the first; the other, five years old, is due all the same.
    assert [card["overdue"] for card in found] == [True, False]


def test_without_a_day_of_calibration_a_worn_wrench_is_told_of_first():
    [worn, fine] = gear(with_wrench("Aged", "2025-09-01"), with_wrench("Wrench", None, 5_000))
    assert (worn["name"], worn["overdue"], worn["months"], fine["name"]) == ("Wrench", False, None, "Aged")
    assert [each["text"] for each in worn["notices"]] == [
        "No day of calibration is written down.",
        "Used {cycles} times here; a calibration is due at {due} (ISO 6789-1).",
    ]


def test_a_day_of_calibration_that_is_yet_to_come_hides_no_other():
    shops = [with_wrench("Wrench", "2020-09-01"), with_wrench("Wrench", "2031-01-01")]
    for order in (shops, shops[::-1]):
        [card] = gear(*order)
        assert (card["calibrated_on"], card["overdue"]) == ("2020-09-01", True)
    [card] = gear(shops[1])
    assert (card["calibrated_on"], card["months"], card["overdue"]) == ("2031-01-01", 0, False)


def test_everything_that_is_off_in_the_demo_stands_at_one_place_or_at_none(demo):
    seen = shop_view(demo, {})
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
