"""A machine over years: chapters joined, days compared, and what was planned against what came of it.

Against something outside: the sum of changes between days is the statement's own; the ends of a cost for a gram are
those of an interval divided by another (R. E. Moore, Interval Analysis, 1966, from memory), by exact fractions here.
"""

import json
import math
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st
from uncertainties import ufloat

from cotterbook.core.amounts import Amount
from cotterbook.core.chapter import change_of, chapter_view
from cotterbook.core.figures import shown_amount, shown_grams
from cotterbook.core.machine_history import history
from cotterbook.core.phone import start
from cotterbook.core.plan_kept import GAINED, OTHERS_TOO, change_asked, per_gram, plan_kept
from cotterbook.core.strip import Strip
from cotterbook.core.words import spoken

DAY = 86_400_000
BEGUN = 1_760_000_000_000
MACHINE = "01957506-9300-7c28-b50c-000000000001"


def uuid(at_ms, n):
    text = f"{at_ms:012x}"
    return f"{text[:8]}-{text[8:]}-7{n:03x}-8000-{n:012x}"


class Work:
    """The log of one strip-down, written a day at a time."""

    def __init__(self, name, day, **own):
        self.at, self.n = BEGUN + day * DAY, 0
        self.strip = Strip(uuid(self.at, 0xFFF))
        self.set(MACHINE, "machine", name="Reed 500", standard_grams=180_000)
        self.set(self.strip.id, "strip", name=name, machine=MACHINE, **own)

    def entry(self, kind, day=None, **fields):
        self.n += 1
        at = self.at + self.n if day is None else BEGUN + day * DAY + self.n
        entry = {
            "id": uuid(at, self.n),
            "strip": self.strip.id,
            "at": at,
            "by": MACHINE,
            "who": "Orla",
            "kind": kind,
        }
        self.strip.add([entry | fields])

    def set(self, thing, kind, day=None, **values):
        self.entry("set", day, thing=thing, type=kind, values=values)
        return thing

    def part(self, n, name, grams, day, **values):
        part = self.set(uuid(self.at, n), "part", day, name=name, **values)
        self.entry(
            "weigh", day, part=part, weighed_as="taken_off", grams=grams, pieces=1, basis="weighed", step_grams=1
        )
        return part

    def chapter(self, days=None, now=None):
        return chapter_view(self.strip, {"now_ms": now or BEGUN + 1_000 * DAY, "days": days})


def two_winters():
    first = Work("First winter", 0, aim_grams=178_000)
    rack = first.part(1, "Rack", 1_500, 1, off=True, outcome="stays_off")
    first.set(
        uuid(first.at, 2),
        "setting",
        1,
        adjusted="preload",
        place="fork",
        measured_in="turns",
        as_found_turns=2,
        turns=3,
    )
    second = Work("Second winter", 300)
    second.part(1, "RACK", 1_500, 301, came_in="accessory", off=True)
    second.part(2, "Silencer", 4_000, 301, off=True, outcome="stays_off")
    second.set(
        uuid(second.at, 3),
        "setting",
        301,
        adjusted="preload",
        place="fork",
        measured_in="turns",
        as_found_turns=3,
        turns=2,
    )
    return first, second, rack


def joined(works, first_day, second_day):
    days = [BEGUN + first_day * DAY, BEGUN + second_day * DAY]
    return history({"chapters": [work.chapter(days) for work in works], "days": days})


def test_chapters_stand_newest_first_whatever_their_order():
    first, second, _ = two_winters()
    for works in ([first, second], [second, first]):
        assert [each["name"] for each in joined(works, 0, 10)["phases"]] == ["Second winter", "First winter"]


def test_changes_of_two_strip_downs_add_and_so_do_their_uncertainties():
    first, second, _ = two_winters()
    found = joined([first, second], 0, 400)["compared"]
    # 1.5 kg, then 1.5 kg and 4 kg; correlation 1 from chapter to chapter, GUM 5.2.2 note 1.
    assert found["change"]["value"].startswith("-7.0") and found["sure"]
    wide = change_of([work.chapter([BEGUN, BEGUN + 400 * DAY])["between"] for work in (first, second)])
    each = [work.strip.sums()["came_in"].expanded for work in (first, second)]
    assert wide.expanded == pytest.approx(sum(each))
    assert joined([first, second], 0, 200)["compared"]["change"]["value"].startswith("-1.5")


def test_a_part_is_matched_by_name_and_a_setting_that_came_back_is_no_difference():
    first, second, _ = two_winters()
    found = joined([first, second], 0, 400)["compared"]
    assert [(row["name"], row["from"], row["to"]) for row in found["parts"]] == [
        ("RACK", "on", "off"),
        ("Silencer", "on", "off"),
    ]
    # Two turns, then three, then two again.
    assert found["settings"] == []
    [setting] = joined([first, second], 0, 200)["compared"]["settings"]
    assert (setting["from"]["value"], setting["to"]["value"]) == ("2", "3")
    [setting] = joined([first, second], 200, 400)["compared"]["settings"]
    assert (setting["from"]["value"], setting["to"]["value"]) == ("3", "2")


def test_a_day_before_all_stands_for_the_machine_as_it_came_in():
    first, second, _ = two_winters()
    assert joined([first, second], -5, 400)["compared"]["begins_later"]
    assert not joined([first, second], 1, 400)["compared"]["begins_later"]
    assert joined([first, second], -10, -5)["compared"]["change"]["value"] == "0"


def test_days_the_wrong_way_round_or_to_come_are_refused():
    call = start(lambda: uuid(BEGUN, 0xABC))
    first, _, _ = two_winters()
    call("load", json.dumps({"strip": first.strip.id, "entries": list(first.strip.entries.values())}))

    def words(days):
        asked = {"view": "chapter", "strip": first.strip.id, "now_ms": BEGUN + 50 * DAY, "days": days}
        return json.loads(call("view", json.dumps(asked)))["problems"][0]["text"]

    assert words([BEGUN + 9 * DAY, BEGUN]) == "The second day must not come before the first."
    assert words([BEGUN, BEGUN + 60 * DAY]) == "That day is yet to come."
    for wrong in (["a", "b"], [1], 7, [True, False]):
        assert words(wrong) == "This must be a date as 2026-05-31."
    [problem] = json.loads(call("history", json.dumps({"chapters": []})))["problems"]
    assert problem["text"] == "No strip-down of this machine is on this phone."


def test_the_demo_from_before_it_began_until_now_changed_by_its_statement(demo):
    entries = list(demo.entries.values())
    days = [min(entry["at"] for entry in entries) - DAY, max(entry["at"] for entry in entries) + DAY]
    chapter = chapter_view(demo, {"now_ms": days[1], "days": days})
    found = history({"chapters": [chapter], "days": days})
    assert found["compared"]["change"] == shown_amount(demo.sums()["came_in"])
    assert found["counts"]["torque"] == len([event for event in found["events"] if event["what"] == "torque"]) > 20
    assert [event["at_ms"] for event in found["events"]] == sorted([e["at_ms"] for e in found["events"]], reverse=True)


def test_what_an_aim_asks_less_what_changed_is_what_is_left():
    first, _, _ = two_winters()
    found = plan_kept(first.strip, BEGUN)["mass"]
    # 180 kg are to be 178 kg: 2 kg less, of which 1.5 kg are off.
    assert (found["asked"]["value"], found["left"]["value"][:5]) == ("-2", "-500.")


def test_money_by_currency_what_was_paid_before_what_was_to_cost():
    work = Work("Costs", 0, budget=400, budget_currency="eur", planned_hours=12)
    part = work.part(1, "Silencer", 4_000, 1, off=True, outcome="stays_off")

    def item(n, **values):
        work.set(uuid(work.at, n), "item", 2, what="buy", text="x", **values)

    item(10, cost=100, currency="EUR", closed=True, closed_how="bought", paid=110, part=part)
    item(11, cost=90, currency="eur", closed=True, closed_how="bought")
    item(12, cost=50, currency="EUR")
    item(13, cost=7, currency="CHF")
    item(14)
    [francs, euros] = plan_kept(work.strip, BEGUN)["money"]
    assert (francs["currency"], francs["open"], francs["spent"], francs["per_gram"]) == ("CHF", "7", None, None)
    assert [euros[name] for name in ("budget", "estimated", "spent", "open", "by_estimate")] == [
        "400",
        "240",
        "200",
        "50",
        1,
    ]
    # 200 for 4,000 g, of which the ends come from a scale that shows grams.
    assert euros["per_gram"]["value"] == "0.05"
    [cost] = work.chapter()["costs"]
    assert (cost["name"], cost["spent"], cost["per_gram"]["value"]) == ("Silencer", "110", "0.0275")
    assert plan_kept(work.strip, BEGUN)["time"] == {"planned_hours": "12", "minutes": 0}


def tightened(work, name, day, **group):
    """A part with two fasteners, tightened on a day."""
    part = work.part(1, name, 500, day, side="left")
    of = work.set(uuid(work.at, 2), "group", day, part=part, count=2, torque_low_newton_metres=20, **group)
    work.entry("tighten", day, group=of, count=2, newton_metres=20)


def test_what_an_earlier_strip_down_wants_tightened_anew_is_told_until_a_later_one_did_so():
    def due(*works):
        return [(row["part"], row["strip"]) for row in history({"chapters": [each.chapter() for each in works]})["due"]]

    first, second, third = Work("First", 0), Work("Second", 300), Work("Third", 600)
    tightened(first, "Rack", 1, retorque_days=30)
    second.part(1, "Lamp", 300, 301)
    assert due(first) == due(first, second) == due(second, first) == [("Rack", first.strip.id)]
    tightened(third, "rack ", 601)
    assert due(first, second, third) == []


def bought(work, n, **values):
    work.set(uuid(work.at, n), "item", 2, what="buy", text="x", closed=True, closed_how="bought", **values)


def test_what_was_paid_without_an_estimate_is_no_estimate_of_nought():
    work = Work("Costs", 0)
    bought(work, 10, paid=12.5, currency="EUR")
    [euros] = plan_kept(work.strip, BEGUN)["money"]
    assert (euros["estimated"], euros["spent"], euros["by_estimate"]) == (None, "12.50", 0)


def test_what_grew_heavier_is_told_so():
    work = Work("Rack", 0)
    rack = work.part(1, "Rack", 2_000, 1, came_in="new", outcome="added", outcome_done=True)
    bought(work, 10, paid=80, currency="EUR", part=rack)
    [euros] = plan_kept(work.strip, BEGUN)["money"]
    assert (euros["per_gram"], euros["why"]) == (None, GAINED) == (None, work.chapter()["costs"][0]["why"])


def test_what_was_got_for_nothing_cost_nothing_whatever_the_estimate():
    work = Work("Given", 0)
    work.part(1, "Case", 2_000, 1, off=True, outcome="stays_off")
    bought(work, 10, cost=40, paid=0, currency="EUR")
    [euros] = plan_kept(work.strip, BEGUN)["money"]
    assert [euros[name] for name in ("estimated", "spent", "by_estimate")] == ["40", "0", 0]
    assert (euros["per_gram"], euros["why"]) == (None, None)


def test_two_currencies_and_parts_without_a_mass_are_told_beside_what_a_gram_cost():
    work = Work("Costs", 0, budget=100, budget_currency="INR")
    case = work.part(1, "Case", 2_000, 1, off=True, outcome="stays_off")
    bought(work, 10, paid=20, currency="EUR", part=case)
    [euros, rupees] = plan_kept(work.strip, BEGUN)["money"]
    assert (euros["per_gram"]["value"], euros["notes"], rupees["spent"], rupees["notes"]) == ("0.01", [], None, [])
    bought(work, 11, paid=900, currency="INR", part=case)
    work.set(uuid(work.at, 2), "part", 1, name="Lamp", off=True)
    found = plan_kept(work.strip, BEGUN)["money"]
    assert [(row["spent"], row["per_gram"]["value"]) for row in found] == [("20", "0.01"), ("900", "0.45")]
    for row in found:
        assert [spoken(note) for note in row["notes"]] == ["Not weighed, so not in it: 1.", OTHERS_TOO]
    assert [[spoken(note) for note in row["notes"]] for row in work.chapter()["costs"]] == [[OTHERS_TOO]] * 2


def test_what_is_asked_and_what_is_left_are_as_uncertain_as_what_sets_it_apart_from_standard():
    work = Work("Aim", 0, aim_grams=170_000)
    work.part(1, "Rack", 1_500, 1, off=True, came_in="accessory")
    work.part(2, "Lamp", 800, 1, came_in="missing")
    work.part(3, "Silencer", 4_000, 1, off=True, outcome="stays_off")
    # A step of 1 g is a rectangle of half a gram either way: 1/√12 (GUM 4.3.7). By another's arithmetic of errors:
    rack, lamp, silencer = [ufloat(grams, 1 / math.sqrt(12)) for grams in (1_500, 800, 4_000)]
    came_in = 180_000 + rack - lamp
    asked, left = 170_000 - came_in, 170_000 - (came_in - rack - silencer)
    own, found = change_asked(work.strip), plan_kept(work.strip, BEGUN)["mass"]
    assert (own.grams, own.expanded) == pytest.approx((asked.nominal_value, 2 * asked.std_dev))
    assert (found["asked"]["value"], found["asked"]["plus_minus"]) == ("-10.7000", "0.0008")
    expected = shown_grams(left.nominal_value, left.std_dev)
    assert found["left"] == expected and (expected["value"], expected["plus_minus"]) == ("-5.2000", "0.0008")


def test_a_decided_part_without_a_mass_is_told_beside_what_is_planned():
    work = Work("Plans", 0)
    work.part(1, "Rack", 1_500, 1, outcome="stays_off")
    work.set(uuid(work.at, 2), "part", 1, name="Lamp", outcome="stays_off")
    found = plan_kept(work.strip, BEGUN)["mass"]
    assert (found["undone"], found["undone_unweighed"], found["planned"]["value"]) == (2, 1, "-1.5000")


def test_a_part_that_came_back_with_the_next_strip_down_is_no_difference():
    first, second = Work("Off with it", 0), Work("Back to standard", 300)
    first.part(1, "Lamp", 800, 1, off=True, outcome="stays_off")
    second.part(1, "lamp ", 800, 301, came_in="missing", outcome="added", outcome_done=True)
    assert joined([first, second], -1, 400)["compared"]["parts"] == []
    [row] = joined([first, second], -1, 200)["compared"]["parts"]
    assert (row["from"], row["to"]) == ("on", "off")


def test_what_only_a_later_strip_down_tells_holds_from_its_beginning():
    first, second, _ = two_winters()
    rows = joined([first, second], 0, 400)["compared"]["parts"]
    # The rack is of the first too, which has begun by then; of the silencer nobody wrote before the second.
    assert [(row["name"], row["since"]) for row in rows] == [("RACK", None), ("Silencer", "Second winter")]
    assert [row["since"] for row in joined([first, second], 301, 400)["compared"]["parts"]] == [None, None]


def test_parts_without_a_name_are_not_taken_for_one():
    first, second = Work("One", 0), Work("Two", 300)
    for work in (first, second):
        work.set(uuid(work.at, 1), "part", off=True, outcome="stays_off", place="tail")
    assert len(joined([first, second], -1, 400)["compared"]["parts"]) == 2


def test_of_today_all_counts_also_what_a_clock_ahead_wrote():
    first, ahead = Work("First", 0), Work("By a clock ahead", 12)
    ahead.part(1, "Case", 2_000, 13, off=True, outcome="stays_off")
    now, days = BEGUN + 10 * DAY, [BEGUN - DAY, BEGUN + 10 * DAY + 5]
    chapters = [work.chapter(days, now) for work in (first, ahead)]
    found = history({"chapters": chapters, "days": days})["compared"]
    assert found["change"]["value"] == "-2.0000" and [row["name"] for row in found["parts"]] == ["Case"]
    same = [days[1], days[1]]
    again = history({"chapters": [work.chapter(same, now) for work in (first, ahead)], "days": same})["compared"]
    assert (again["change"]["value"], again["parts"], again["torques"], again["sure"]) == ("0", [], [], False)


def test_a_chapter_says_how_many_answers_differ():
    first, _, rack = two_winters()
    for n, outcome in enumerate(("swapped", "moved")):
        first.entry("set", 2, thing=rack, type="part", values={"outcome": outcome}, by=uuid(BEGUN, n), saw={})
    assert first.chapter()["disputes"] == first.strip.counts()["disputes"] > 0


@given(st.floats(0.01, 1e6), st.floats(-300_000, 300_000), st.floats(0.05, 50_000))
def test_a_gram_costs_no_more_and_no_less_than_the_ends_of_the_change_allow(spent, grams, standard):
    found = per_gram(spent, Amount(grams, {"scale": (standard, None)}))
    lost, within = -Fraction(grams), 2 * Fraction(standard)
    if lost <= within:
        assert found["shown"] is None and found["why"]
        return
    rounding = Fraction(10) ** -6 + Fraction(5, 1000) * Fraction(spent) / lost
    shown = {name: Fraction(found["shown"][name]) for name in ("value", "low", "high")}
    assert abs(shown["low"] - Fraction(spent) / (lost + within)) <= rounding
    assert abs(shown["value"] - Fraction(spent) / lost) <= rounding
    assert abs(shown["high"] - Fraction(spent) / (lost - within)) <= rounding
