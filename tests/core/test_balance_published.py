"""Centre of mass, wheel loads and height against published examples, statics and a general library of uncertainties."""

import math
import random
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from uncertainties import ufloat

from cotterbook.core.agreement import agreement
from cotterbook.core.amounts import ROOT_3, Amount, together
from cotterbook.core.balance import (
    above_ground,
    body_at,
    centre,
    height_above_axles,
    joined,
    load_moved,
    wheel_loads,
)
from cotterbook.core.fluids import fluid_amount
from cotterbook.core.quantities import within
from cotterbook.core.weigh_in import full_enough
from cotterbook.core.words import Refused


def exact(mass: float, along: float, up: float = 0.0) -> Any:
    return body_at(Amount(mass), Amount(along), Amount(up))


def moments(*items: tuple[float, float]) -> Any:
    return joined([exact(mass, arm) for mass, arm in items])


def test_a_change_of_equipment_as_a_knowledge_test_of_the_faa_asks_it():
    """FAA knowledge test: 2886 lb, moment 101673.78 lb.in; off 2 x 15 lb, on 97, 20 and 30 lb: 3003 lb, 36.85 in."""
    before = moments((2886.0, 101673.78 / 2886.0))
    after = joined([before, moments((-30.0, 71.0), (97.0, 71.0), (20.0, 71.0), (30.0, 94.0))])
    assert centre(before)[0].grams == pytest.approx(35.23, abs=0.005)
    assert (after.mass.grams, round(after.along.grams, 2)) == (3003.0, 110670.78)
    assert centre(after)[0].grams == pytest.approx(36.85, abs=0.005)


def test_a_weight_in_front_of_the_datum_has_a_negative_arm():
    """FAA AC 43.13-1B, figure 10-11: 2036 lb, moment 43428 lb.in, 21.33 in."""
    whole = moments((1169, 10.6), (17, -49), (170, 16), (340, 48), (240, 22), (100, 75.5))
    assert (whole.mass.grams, round(whole.along.grams)) == (2036, 43428)
    assert centre(whole)[0].grams == pytest.approx(21.33, abs=0.005)
    # What is removed at a negative arm adds to the moment (the same circular).
    assert joined([whole, exact(-17.0, -49.0)]).along.grams - whole.along.grams == pytest.approx(833.0)


def test_a_weight_that_is_shifted():
    """FAA Pilot's Handbook: 100 lb from station 30 to 150 in an aircraft of 8000 lb, 616000 lb.in: 628000 and 78.5."""
    whole = joined([moments((8000.0, 77.0)), exact(-100.0, 30.0), exact(100.0, 150.0)])
    assert whole.along.grams == pytest.approx(628000.0)
    assert (whole.mass.grams, centre(whole)[0].grams) == (8000.0, pytest.approx(78.5))


def test_wheel_loads_are_the_scales_readings_again():
    """Distance behind the front axle = wheelbase x rear / total (wheel weights; worked by hand)."""
    front, rear = wheel_loads(exact(200_000.0, 1450.0 * 0.52), Amount(1450.0))
    assert (front.grams, rear.grams) == (pytest.approx(96_000.0), pytest.approx(104_000.0))


@given(
    st.floats(120_000, 320_000), st.floats(500, 900), st.floats(380, 750), st.floats(1200, 1700),
    st.floats(200, 600), st.floats(270, 330), st.floats(-25, 25),
)  # fmt: skip
@settings(max_examples=150, deadline=None)
def test_a_lift_test_gives_the_height_that_statics_started_from(
    mass: float, along: float, up: float, base: float, raised: float, axle: float, larger: float
) -> None:
    """ISO 10392:2011, 6.2, against the lever rule on the tilted machine, its axles turned about the front one."""
    front_axle, rear_axle = (0.0, axle), (base, axle + larger)
    length = math.hypot(base, larger)
    slope = math.asin((raised + larger) / length) - math.asin(larger / length)
    # The lifted machine is the level one turned about the front axle; its rear axle then stands `raised` higher.
    turned = [
        (x * math.cos(slope) - (y - axle) * math.sin(slope), x * math.sin(slope) + (y - axle) * math.cos(slope))
        for x, y in (rear_axle, (along, up))
    ]
    assert turned[0][1] == pytest.approx(raised + larger)
    level = mass * (1.0 - along / base)
    # Wheels stand under their axles, so loads act there.
    lifted = mass * (1.0 - turned[1][0] / turned[0][0])
    exactly = [Amount(each) for each in (mass, level, lifted, raised, base, larger)]
    above = height_above_axles(*exactly)
    found = above_ground(above, Amount(along), Amount(front_axle[1]), Amount(rear_axle[1]), Amount(base))
    assert found.grams == pytest.approx(up, abs=1e-6 * base)


def test_the_formula_of_the_lift_test_as_it_is_printed():
    """Height above axles = wheelbase x change of front load / (total x tan angle) (ISO 10392:2011, 6.2)."""
    total, level, lifted, raised, base = 200_000.0, 96_000.0, 104_000.0, 500.0, 1450.0
    by_hand = base * (lifted - level) / (total * math.tan(math.asin(raised / base)))
    found = height_above_axles(Amount(total), Amount(level), Amount(lifted), Amount(raised), Amount(base))
    assert found.grams == pytest.approx(by_hand, rel=1e-12)


def test_two_figures_agree_where_en_is_at_most_1():
    """En = |a - b| / sqrt(Ua^2 + Ub^2), at most 1 (ISO 13528, from memory): 205.0 +- 0.3 and 204.5 +- 0.4: En 1.0."""
    weighed, said = Amount(205_000.0, {"a": (150.0, None)}), Amount(204_500.0, {"b": (200.0, None)})
    judged = agreement(weighed, said)
    assert judged.number == pytest.approx(1.0) and judged.agree
    assert not agreement(weighed, Amount(204_499.0, {"b": (200.0, None)})).agree
    with pytest.raises(Refused):
        agreement(Amount(1.0), Amount(2.0))


def test_what_both_figures_share_does_not_count_between_them():
    """GUM 5.2.2: what one scale shows too much in both looks is no difference between them."""
    gain = 1_000.0
    first, second = (Amount(200_000.0 + n, {"gain:a": (gain, None), f"step:{n}": (50.0, None)}) for n in range(2))
    assert agreement(first, second).difference.standard == pytest.approx(math.hypot(50.0, 50.0))


def test_running_order_is_a_tank_at_90_percent_of_petrol():
    """Regulation (EU) 168/2013, Art. 5(1): at least 90 % of the fuel; EN 228:2012: 720 to 775 kg/m3 at 15 C."""
    fuel = full_enough(20.0)
    assert fuel.grams == pytest.approx(0.9 * 20.0 * (720.0 + 775.0) / 2.0)
    assert fuel.standard == pytest.approx(0.9 * 20.0 * (775.0 - 720.0) / 2.0 / ROOT_3)
    # Two tanks full of petrol share its density, whatever it is.
    both = together([fluid_amount("petrol", 5.0, 0.0, "a"), fluid_amount("petrol", 5.0, 0.0, "b").times(-1.0)])
    assert (both.grams, both.standard) == (0.0, 0.0)


def shared(random_: random.Random, causes: dict[str, Any], value: float, spread: float) -> tuple[Amount, Any]:
    """A figure with its own cause and a part of what all share, as an amount and as the library has it."""
    name = f"own{len(causes)}"
    causes.setdefault("all", ufloat(0.0, 1.0))
    causes[name] = ufloat(0.0, 1.0)
    own, of_all = random_.uniform(0.1, spread), random_.uniform(-spread, spread)
    return (
        Amount(value, {name: (own, None), "all": (of_all, None)}),
        value + own * causes[name] + of_all * causes["all"],
    )


@pytest.mark.parametrize("seed", range(25))
def test_uncertainties_agree_with_a_general_library(seed: int) -> None:
    """Against `uncertainties` (linear propagation with correlations): masses, places and measures all share a cause."""
    print("seed", seed)
    shop, causes = random.Random(seed), {}
    items = [
        (
            shared(shop, causes, shop.uniform(-8_000, 9_000) if n else 200_000.0, 300.0),
            shared(shop, causes, shop.uniform(-300, 1_900), 40.0),
            shared(shop, causes, shop.uniform(200, 1_100), 40.0),
        )
        for n in range(6)
    ]
    base, their_base = shared(shop, causes, shop.uniform(1_200, 1_700), 6.0)
    whole = joined([body_at(mass[0], along[0], up[0]) for mass, along, up in items])
    mass = sum(mass[1] for mass, _, _ in items)
    their_along = sum(mass[1] * along[1] for mass, along, _ in items)
    their_up = sum(mass[1] * up[1] for mass, _, up in items)
    along, up = centre(whole)
    front, rear = wheel_loads(whole, base)
    for ours, theirs in (
        (whole.mass, mass),
        (along, their_along / mass),
        (up, their_up / mass),
        (rear, their_along / their_base),
        (front, mass - their_along / their_base),
    ):
        assert ours.grams == pytest.approx(theirs.nominal_value, rel=1e-9)
        assert ours.standard == pytest.approx(theirs.std_dev, rel=1e-9)


@pytest.mark.parametrize("seed", range(25))
def test_a_slope_and_a_lift_agree_with_a_general_library(seed: int) -> None:
    """Against `uncertainties.umath`: the load that moves on a slope, and the height from a lift test."""
    from uncertainties import umath

    print("seed", seed)
    shop, causes = random.Random(1000 + seed), {}
    total, t_total = shared(shop, causes, shop.uniform(120_000, 320_000), 400.0)
    up, t_up = shared(shop, causes, shop.uniform(400, 700), 60.0)
    base, t_base = shared(shop, causes, shop.uniform(1_200, 1_700), 6.0)
    rise, t_rise = shared(shop, causes, shop.uniform(-300, 300), 5.0)
    moved, slope = load_moved(total, up, rise, base), umath.asin(t_rise / t_base)
    theirs = t_total * t_up / t_base * umath.tan(slope)
    level, t_level = shared(shop, causes, 0.48 * total.grams, 200.0)
    lifted, t_lifted = shared(shop, causes, 0.53 * total.grams, 200.0)
    raised, t_raised = shared(shop, causes, shop.uniform(250, 700), 5.0)
    larger, t_larger = shared(shop, causes, shop.uniform(-25, 25), 4.0)
    length = umath.sqrt(t_base**2 + t_larger**2)
    tangents = umath.tan(umath.asin((t_raised + t_larger) / length)) - umath.tan(umath.asin(t_larger / length))
    height = height_above_axles(total, level, lifted, raised, base, larger)
    for ours, wanted in ((moved, theirs), (height, length * (t_lifted - t_level) / (t_total * tangents))):
        assert ours.grams == pytest.approx(wanted.nominal_value, rel=1e-9)
        assert ours.standard == pytest.approx(wanted.std_dev, rel=1e-7)


masses = st.floats(1.0, 200_000.0)
places = st.tuples(st.floats(-1_500.0, 4_000.0), st.floats(0.0, 2_500.0))
bodies = st.lists(st.tuples(masses, places), min_size=1, max_size=8)


@given(bodies, st.randoms())
@settings(max_examples=150, deadline=None)
def test_the_centre_lies_between_the_outermost_masses_whatever_their_order(items: Any, shuffle: Any) -> None:
    whole = joined([exact(mass, *place) for mass, place in items])
    along, up = centre(whole)
    for axis, found in ((0, along.grams), (1, up.grams)):
        low, high = (end(place[axis] for _, place in items) for end in (min, max))
        assert low - 1e-6 <= found <= high + 1e-6
    shuffled = list(items)
    shuffle.shuffle(shuffled)
    again = centre(joined([exact(mass, *place) for mass, place in shuffled]))
    assert [each.grams for each in again] == pytest.approx([along.grams, up.grams])
    front, rear = wheel_loads(whole, Amount(1_450.0))
    assert front.grams + rear.grams == pytest.approx(whole.mass.grams)


@given(bodies, masses, places)
@settings(max_examples=100, deadline=None)
def test_off_and_back_at_its_place_is_nothing_and_so_is_moving_by_nothing(items: Any, mass: float, place: Any) -> None:
    whole = joined([exact(mass_, *place_) for mass_, place_ in items])
    part = body_at(within(mass, mass / 10.0, "part"), within(place[0], 50.0, "x"), within(place[1], 50.0, "y"))
    back = joined([whole.less(part), part])
    for ours, theirs in ((back.mass, whole.mass), (back.along, whole.along), (back.up, whole.up)):
        assert ours.grams == pytest.approx(theirs.grams, abs=1e-3)
        assert ours.standard == 0.0


@given(st.floats(allow_nan=True), st.floats(allow_nan=True), st.floats(allow_nan=True))
@settings(max_examples=200, deadline=None)
def test_wheel_loads_and_lifts_of_anything_are_finite_or_refused(mass: float, along: float, base: float) -> None:
    if not all(abs(each) < 1e9 for each in (mass, along)):
        return
    for work in (
        lambda: wheel_loads(exact(mass, along), Amount(base)),
        lambda: centre(exact(mass, along)),
        lambda: (height_above_axles(Amount(mass), Amount(along), Amount(mass), Amount(base), Amount(1_450.0)),),
        lambda: (load_moved(Amount(mass), Amount(500.0), Amount(along), Amount(base)),),
    ):
        try:
            found = work()
        except Refused as refused:
            assert refused.problems[0]["text"]
            continue
        assert all(math.isfinite(each.grams) and math.isfinite(each.standard) for each in found)


@pytest.mark.parametrize(
    ("work", "field"),
    [
        (lambda: centre(exact(0.0, 700.0)), "mass"),
        (lambda: centre(exact(-5.0, 700.0)), "mass"),
        (lambda: wheel_loads(exact(1.0, 1.0), Amount(0.0)), "wheelbase_millimetres"),
        (lambda: wheel_loads(exact(1.0, 1.0), Amount(float("nan"))), "wheelbase_millimetres"),
        (lambda: load_moved(Amount(1.0), Amount(500.0), Amount(800.0), Amount(1_450.0)), "front_higher_millimetres"),
        (
            lambda: height_above_axles(Amount(2.0), Amount(1.0), Amount(1.1), Amount(0.0), Amount(1_450.0)),
            "rear_raised_millimetres",
        ),
        (lambda: height_above_axles(Amount(0.0), Amount(1.0), Amount(1.1), Amount(400.0), Amount(1_450.0)), "total"),
        # A rear wheel so much larger that the line of the axles would stand upright.
        (
            lambda: height_above_axles(*map(Amount, (2.0, 1.0, 1.1, 800.0, 1_000.0, 300.0))),
            "rear_raised_millimetres",
        ),
        (
            lambda: height_above_axles(*map(Amount, (2.0, 1.0, 1.1, 60.0, 300.0, -700.0))),
            "rear_raised_millimetres",
        ),
    ],
)
def test_nothing_to_weigh_no_wheelbase_and_no_lift_are_refused_with_their_reason(work: Any, field: str) -> None:
    with pytest.raises(Refused) as refused:
        work()
    assert [each["field"] for each in refused.value.problems] == [field]
    assert refused.value.problems[0]["text"]
