"""Charts: the axis holds what is drawn on it, and the last step ends where the sum of the statement does."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st
from machine_shop import Shop

from cotterbook.core.amounts import Amount, added_up
from cotterbook.core.chart_axis import axis, clock_axis, permille, span, steps
from cotterbook.core.figures import shown_amount
from cotterbook.core.strip import Strip
from cotterbook.core.views_balance import balance_view
from cotterbook.core.views_charts import (
    BALANCE,
    MOST_STEPS,
    _before_and_now,
    balance_chart_view,
    charts_sheet_view,
    staircase_view,
    time_chart_view,
)
from vectors.cases import identifier

grams = st.floats(-200_000, 200_000).filter(lambda size: size == 0.0 or abs(size) > 1e-3)


@given(grams, grams)
def test_an_axis_holds_nought_and_both_ends_with_round_marks(one, other):
    low, high, marks = axis(min(one, other), max(one, other))
    assert low <= min(one, other, 0.0) + 1e-6 and max(one, other, 0.0) - 1e-6 <= high
    assert any(abs(mark) < 1e-6 for mark in marks) and (one == other == 0.0 or 2 <= len(marks) <= 8)
    for one_step in {round(after - before, 9) for before, after in zip(marks, marks[1:], strict=False)}:
        assert f"{one_step:e}"[0] in "125"


@given(st.lists(st.tuples(grams, st.floats(0.1, 500)), min_size=1, max_size=40))
def test_the_last_step_ends_at_the_sum(changes):
    pairs = [({"n": n}, Amount(size, {str(n): (u, None)})) for n, (size, u) in enumerate(changes)]
    found = steps(pairs)
    total = float(sum(Fraction(size) for size, _ in changes))
    ends = found["ends"]
    assert abs(found["rows"][-1]["to"] - permille(total, ends)) <= 1
    assert found["rows"][0]["from"] == found["zero"]
    for before, after in zip(found["rows"], found["rows"][1:], strict=False):
        assert after["from"] == before["to"]
    for row, (size, u) in zip(found["rows"], changes, strict=True):
        # GUM 6.2.1: U = k u, k = 2 where the causes are known without end of degrees of freedom; 10.04 ± 10.01 reads
        # 10 ± 10, and nobody is to see a difference there.
        seen = shown_amount(Amount(size, {"n": (u, None)}))
        assert row["sure"] is (abs(size) > 2 * u and abs(float(seen["value"])) > float(seen["plus_minus"]))
        assert row["spread"][0] <= row["to"] <= row["spread"][1]


@pytest.mark.parametrize("by", ["part", "place", "spell"])
def test_the_demos_steps_add_up_to_its_statement(demo, by):
    found = staircase_view(demo, {"by": by})
    done = [row for row in found["rows"] if not row.get("planned")]
    total = demo.sums()["came_in"]
    assert found["total"] == shown_amount(total)
    assert abs(done[-1]["to"] - permille(total.grams, found["ends"])) <= 2
    if by == "part":
        assert [row["part"] for row in done] == [
            line.id for line in sorted(demo.of_type("part"), key=lambda part: demo.line(part.id).change.grams)
            if demo.line(line.id).change.grams != 0.0]  # fmt: skip


def test_the_aim_is_what_the_machine_is_to_change_since_it_came_in(demo_log):
    entries, strip = demo_log, Strip(demo_log[0]["strip"])
    more = dict(next(e for e in entries if e.get("type") == "strip"), id="01990000-0000-7000-8000-000000000001")
    more.update(at=max(e["at"] for e in entries) + 1, values={"aim_grams": 200_000.0})
    strip.add([*entries, more])
    machine = strip.thing(strip.thing(strip.id).values["machine"])
    came_in = machine.values["standard_grams"] + strip.sums()["standard"].grams - strip.sums()["came_in"].grams
    found = staircase_view(strip, {"by": "spell"})
    assert found["aim"]["at"] == permille(200_000.0 - came_in, found["ends"])


def test_many_parts_are_few_steps_and_lose_nothing():
    entries = []
    for n in range(100):
        part, at = f"0199c82c-c000-7570-8500-{n:012x}", 1_760_000_000_000 + n * 10
        values = {"name": f"Part {n}", "off": True}
        common = {"strip": "0199c82c-c000-7570-8500-ffffffffffff", "by": part, "who": "Ann"}
        entries += [
            common | {"id": f"0199c82c-c001-7570-8500-{n:012x}", "kind": "set", "at": at, "thing": part, "type": "part",
                      "values": values},
            common | {"id": f"0199c82c-c002-7570-8500-{n:012x}", "kind": "weigh", "at": at + 1, "part": part,
                      "weighed_as": "taken_off", "grams": 10.0 + n, "pieces": 1, "basis": "weighed",
                      "step_grams": 1.0},
        ]  # fmt: skip
    strip = Strip("0199c82c-c000-7570-8500-ffffffffffff")
    strip.add(entries)
    found = staircase_view(strip, {})
    assert len(found["rows"]) == MOST_STEPS and found["rows"][-1]["others"] == 100 - MOST_STEPS + 1
    assert added_up([strip.line(part.id).change for part in strip.of_type("part")]).grams == pytest.approx(-5950.0)
    assert abs(found["rows"][-1]["to"] - permille(-5950.0, found["ends"])) <= 1


@given(st.integers(0, 4_000).map(lambda five: 5 * five))
def test_an_axis_of_time_has_few_marks_of_few_letters(minutes):
    low, high, marks = clock_axis(minutes)
    assert low == 0.0 and high >= minutes and 1 <= len(marks) <= 7
    assert [mark["at"] for mark in marks] == sorted(mark["at"] for mark in marks)
    for mark in marks:
        stands = mark["hours"] * 60 if "hours" in mark else mark["minutes"]
        assert mark["at"] == permille(stands, (low, high))
        # "100 min" and "333.5 h" at most, not "1 h 20 min": seven of them must stand beside each other on a phone.
        assert len(f"{stands if 'minutes' in mark else mark['hours']:g}") <= 5
    assert all("minutes" in mark for mark in marks) is (minutes <= 120)


def slow_work(parts, minutes_each):
    """A strip-down of one spell, in which each part was written down so many minutes after the one before."""
    strip, first = Strip(identifier("@strip")), 1_760_000_000_000
    common = {"strip": strip.id, "by": identifier("@phone"), "who": "Ann"}
    spell = common | {"kind": "work", "act": "begins", "spell": identifier("@spell"), "id": identifier("@w", first)}
    strip.add([spell | {"at": first}])
    for n in range(parts):
        at = first + (n + 1) * minutes_each * 60_000
        one = common | {"id": identifier(f"@e{n}", at), "at": at, "kind": "set", "thing": identifier(f"@p{n}")}
        strip.add([one | {"type": "part", "values": {"name": f"Part {n}", "off": True}}])
    return time_chart_view(strip, {"now_ms": first + 15 * 3_600_000})


def test_time_on_many_parts_is_few_rows_and_loses_nothing():
    found = slow_work(50, 10)
    assert len(found["rows"]) == MOST_STEPS and found["rows"][-1]["others"] == 50 - MOST_STEPS + 1
    assert sum(row["about_minutes"] for row in found["rows"]) == 500
    assert max(row["to"] for row in found["rows"]) <= 1000
    exactly = slow_work(MOST_STEPS, 10)["rows"]
    assert len(exactly) == MOST_STEPS and not any(row.get("others") for row in exactly)


def weighed(*parts, **machine):
    """A machine with parts as (name, grams off, grams on or None, values), each weighed on a scale that shows grams."""
    shop = Shop(**machine)
    for name, off, on, values in parts:
        part = shop.part(name, off, **values)
        if on is not None:
            shop.write("weigh", part=part, weighed_as="going_on", pieces=1, basis="weighed", grams=on, step_grams=1.0)
    return shop


@pytest.mark.parametrize("by", ["part", "place"])
def test_what_weighs_the_same_as_before_is_a_step_too_for_its_uncertainty_is_in_the_sum(by):
    swapped = {"off": True, "outcome": "swapped", "outcome_done": True}
    found = weighed(
        ("Mirror", 300.0, 300.0, swapped | {"place": "handlebar"}),
        ("Rack", 1_000.0, None, {"off": True, "outcome": "stays_off", "place": "tail"}),
    ).view("staircase", by=by)
    assert [row["change"]["value"] for row in found["rows"]] == ["-1.0000", "0.0"]
    assert found["rows"][-1]["sure"] is False and found["rows"][-1]["adds_up_to"] == found["total"]


def test_the_marks_of_one_axis_are_in_one_unit(demo):
    for by in ("part", "place", "spell"):
        marks = staircase_view(demo, {"by": by})["marks"]
        assert len({mark["shown"]["unit"] for mark in marks}) == 1
        for mark in marks:
            grams = float(mark["shown"]["value"]) * {"kg": 1_000, "g": 1}[mark["shown"]["unit"]]
            assert mark["at"] == permille(grams, staircase_view(demo, {"by": by})["ends"])


def test_of_what_is_decided_the_parts_without_a_mass_are_told():
    planned = {"outcome": "stays_off"}
    shop = weighed(("Rack", 1_000.0, None, planned), ("Lamp", None, None, planned), ("Case", None, None, planned))
    [row] = shop.view("staircase", by="spell")["rows"]
    assert (row["planned"], row["unweighed"], row["change"]["value"]) == (True, 2, "-1.0000")
    [row] = weighed(("Lamp", None, None, planned)).view("staircase", by="spell")["rows"]
    assert (row["planned"], row["unweighed"], row["change"]["value"]) == (True, 1, "0")


def test_time_is_shown_from_five_minutes_on(demo):
    found = time_chart_view(demo, {"now_ms": 1_800_000_000_000})
    assert all(row["about_minutes"] >= 5 for row in found["rows"]) and found["less"] > 0
    assert [row["about_minutes"] for row in found["rows"]] == sorted(
        (row["about_minutes"] for row in found["rows"]), reverse=True)  # fmt: skip


@given(st.floats(-5_000, 5_000), st.floats(1e-3, 5_000))
def test_an_axis_of_points_holds_both_ends_with_round_marks(low, length):
    first, last, marks = span(low, low + length)
    assert first <= low + length * 1e-6 and low + length <= last + length * 1e-6
    assert 2 <= len(marks) <= 8 and marks[0] == first and marks[-1] == pytest.approx(last, abs=length * 1e-6)


def test_each_step_says_what_it_adds_up_to(demo):
    for by in ("part", "place"):
        found = staircase_view(demo, {"by": by})
        assert found["rows"][-1]["adds_up_to"] == found["total"]
        assert found["rows"][0]["adds_up_to"] == found["rows"][0]["change"]


def test_the_balance_is_that_of_its_screen_and_each_figure_stands_in_its_box(demo):
    found, screen = balance_chart_view(demo, {}), balance_view(demo, {})
    assert [row["what"] for row in found["rows"]] == [what for what, _, _ in BALANCE if screen["now"][what]]
    for row in found["rows"]:
        for end in ("before", "now"):
            assert row[end] == screen[end][row["what"]]
            low, middle, high = row[end + "_at"]
            assert 0 <= low <= middle <= high <= 1000
        assert row["difference"] == screen["difference"][row["what"]]
        change = row["difference"]
        assert row["shows"] is (abs(float(change["value"])) > float(change["plus_minus"] or 0))


@pytest.mark.parametrize(("before", "now", "u", "shows", "overlap"), [
    # U = 2 u; of a difference whose parts share nothing, U = 2 * u * sqrt(2) (GUM 5.1.2, H.1.2 for what is shared).
    (100_000.0, 100_000.0, 100.0, False, True),
    (100_000.0, 99_800.0, 100.0, False, True),
    (100_000.0, 99_650.0, 100.0, True, True),
    (100_000.0, 99_000.0, 100.0, True, False),
])  # fmt: skip
def test_what_is_less_than_its_uncertainty_is_no_difference(before, now, u, shows, overlap):
    ends = [Amount(size, {name: (u, None)}) for name, size in (("a", before), ("b", now))]
    row = _before_and_now(*ends, shown_amount, "g")
    assert (row["shows"], row["overlap"]) == (shows, overlap)


def test_what_both_share_leaves_the_difference_better_known_than_either():
    ends = [Amount(size, {"scale": (400.0, None)}) for size in (100_000.0, 99_700.0)]
    row = _before_and_now(*ends, shown_amount, "g")
    assert (row["shows"], row["overlap"], row["difference"]["value"]) == (True, True, "-300")


def test_two_figures_that_are_known_exactly_and_are_the_same_have_an_axis_too():
    row = _before_and_now(Amount(100.0), Amount(100.0), shown_amount, "g")
    assert row["before_at"] == row["now_at"] and len(row["marks"]) >= 2 and row["shows"] is False


def test_without_a_weighing_no_balance_is_drawn_and_what_is_missing_is_said():
    strip = Strip("0199c82c-c000-7570-8500-ffffffffffff")
    found = balance_chart_view(strip, {})
    assert found["rows"] == [] and found["missing"]


def test_the_sheet_has_the_charts_of_the_screen(demo):
    found = charts_sheet_view(demo, {"now_ms": 1_800_000_000_000})
    assert found["part"] == staircase_view(demo, {}) and found["balance"] == balance_chart_view(demo, {})
    assert found["time"] == time_chart_view(demo, {"now_ms": 1_800_000_000_000})
