"""Laws of weighings and balance that hold for any log, tried on random ones."""

import json
import math
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st
from machine_shop import STRIP, Shop, balanced

from cotterbook.core import phone
from vectors.cases import identifier

numbers = st.floats(0.1, 1_999_000.0)
weigh_ins = st.fixed_dictionaries(
    {"front_grams": numbers, "step_grams": st.floats(0.001, 10_000)},
    optional={
        "rear_grams": numbers, "fuel_litres": st.floats(0, 100), "plus_minus_litres": st.floats(0, 100),
        "rider_grams": st.floats(0.1, 500_000), "front_higher_millimetres": st.floats(-1_000, 1_000),
        "rear_raised_millimetres": st.floats(0.1, 1_000),
    },
).filter(lambda each: "rear_grams" in each or "rear_raised_millimetres" in each)  # fmt: skip
parts = st.fixed_dictionaries(
    {"off": st.booleans()},
    optional={
        "outcome": st.sampled_from(["stays_off", "swapped", "goes_back", "moved", "cut_down", "added"]),
        "outcome_done": st.booleans(), "came_in": st.sampled_from(["fitted", "missing", "accessory", "new"]),
        "along_millimetres": st.floats(-1_500, 4_000), "up_millimetres": st.floats(0, 2_500),
        "to_along_millimetres": st.floats(-1_500, 4_000), "to_up_millimetres": st.floats(0, 2_500),
        "position_plus_minus_millimetres": st.floats(0.1, 1_000),
        "carried": st.sampled_from(["sprung", "unsprung", "rotating"]),
    },
)  # fmt: skip
machines = st.fixed_dictionaries(
    {},
    optional={
        "wheelbase_millimetres": st.floats(0.1, 3_000), "front_axle_millimetres": st.floats(0.1, 600),
        "rear_axle_millimetres": st.floats(0.1, 600), "tank_along_millimetres": st.floats(-1_500, 4_000),
        "tank_up_millimetres": st.floats(0, 2_500), "tank_litres": st.floats(0.1, 100),
        "standard_grams": st.floats(0.1, 2_000_000), "standard_rear_percent": st.floats(0.1, 100),
        "standard_up_millimetres": st.floats(0, 2_500),
        "standard_state": st.sampled_from(["as_it_stands", "running_order", "dry"]),
    },
)  # fmt: skip
shops = st.tuples(
    machines,
    st.lists(st.one_of(weigh_ins, st.tuples(parts, st.one_of(st.none(), st.floats(0.1, 499_000)))), max_size=7),
    st.sampled_from([None, "standard"]),
    st.sampled_from(["as_it_stands", "running_order", "dry"]),
)


def made(machine: Any, acts: Any) -> Shop:
    shop = Shop(**machine)
    for number, each in enumerate(acts):
        if isinstance(each, dict):
            if each.get("rider_grams", 0.0) < each["front_grams"] + each.get("rear_grams", 0.0) and (
                "fuel_litres" in each or "plus_minus_litres" not in each
            ):
                shop.write("weigh_in", **each)
        else:
            shop.part(f"Part {number}", each[1], **each[0])
    return shop


def refuse_what_is_no_number(text: str) -> None:
    raise AssertionError(text)


@given(shops, st.randoms())
@settings(max_examples=150, deadline=None)
def test_any_log_gives_finite_figures_each_with_its_uncertainty_and_in_any_order(given_: Any, mix: Any) -> None:
    machine, acts, baseline, state = given_
    shop = made(machine, acts)
    views = {"balance": {"baseline": baseline, "state": state}, "weigh_in": {}}
    mixed = list(shop.entries)
    mix.shuffle(mixed)
    other = phone.start(lambda: identifier("unused"))
    other("load", json.dumps({"strip": STRIP, "entries": mixed}))
    for name, arguments in views.items():
        text = shop.call("view", json.dumps({"strip": STRIP, "view": name} | arguments))
        view = json.loads(text, parse_constant=refuse_what_is_no_number)["result"]
        again = json.loads(other("view", json.dumps({"strip": STRIP, "view": name} | arguments)))["result"]
        assert again == view
        for shown in figures_in(view):
            assert math.isfinite(float(shown["value"]))
            spread = shown["plus_minus"]
            # GUM 7.2.6: two digits of an uncertainty, noughts at its ends aside; litres are as somebody typed them.
            assert spread is None or shown["unit"] == "l" or len(spread.replace(".", "").strip("0")) <= 2
    for name in ("before", "now"):
        end = shop.view("balance", baseline=baseline, state=state)[name]
        assert end is None or all(end[each] is None or end[each]["plus_minus"] for each in end if each != "at")


def figures_in(view: Any) -> Any:
    if isinstance(view, dict):
        if {"value", "plus_minus", "unit"} <= set(view):
            yield view
        for each in view.values():
            yield from figures_in(each)
    if isinstance(view, list):
        for each in view:
            yield from figures_in(each)


@given(st.floats(-1_500, 4_000), st.floats(0, 2_500))
@settings(max_examples=40, deadline=None)
def test_moving_to_where_it_was_and_off_and_back_on_change_nothing(along: float, up: float) -> None:
    place = {"along_millimetres": along, "up_millimetres": up}
    to = {"to_along_millimetres": along, "to_up_millimetres": up}
    for shop in (
        balanced(off=False, outcome="goes_back", outcome_done=True, **place),
        balanced(off=False, outcome="moved", outcome_done=True, **place, **to),
    ):
        found = shop.view("balance")
        assert [found["difference"][name]["value"] for name in ("mass", "along", "up", "front", "rear")] == ["0"] * 5
        assert found["now"]["at"]["along"] == found["before"]["at"]["along"]
