"""Charts: the axis holds what is drawn on it, and the last step ends where the sum of the statement does."""

import json
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cotterbook.core.amounts import Amount, added_up
from cotterbook.core.chart_axis import axis, permille, steps
from cotterbook.core.figures import shown_amount
from cotterbook.core.strip import Strip
from cotterbook.core.views_charts import MOST_STEPS, staircase_view, time_chart_view

ENTRIES = Path(__file__).resolve().parents[2] / "demo_data" / "entries.jsonl"
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
        # GUM 6.2.1: U = k u, k = 2 where the causes are known without end of degrees of freedom.
        assert row["sure"] is (abs(size) > 2 * u)
        assert row["spread"][0] <= row["to"] <= row["spread"][1]


@pytest.fixture(scope="module")
def demo():
    entries = [json.loads(line) for line in ENTRIES.read_text(encoding="utf-8").splitlines()]
    strip = Strip(entries[0]["strip"])
    strip.add(entries)
    return strip


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


def test_the_aim_is_what_the_machine_is_to_change_since_it_came_in():
    entries = [json.loads(line) for line in ENTRIES.read_text(encoding="utf-8").splitlines()]
    strip = Strip(entries[0]["strip"])
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


def test_time_is_shown_from_five_minutes_on(demo):
    found = time_chart_view(demo, {"now_ms": 1_800_000_000_000})
    assert all(row["about_minutes"] >= 5 for row in found["rows"]) and found["less"] > 0
    assert [row["about_minutes"] for row in found["rows"]] == sorted(
        (row["about_minutes"] for row in found["rows"]), reverse=True)  # fmt: skip
