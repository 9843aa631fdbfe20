"""Maps: masses against Python's `statistics`, what is in one and what never is, merging, what a bad file is told."""

import json
import math
import statistics
from copy import deepcopy
from functools import lru_cache
from pathlib import Path
from random import Random

import pytest
from hypothesis import given
from hypothesis import strategies as st
from machine_shop import MACHINE, STRIP, Shop

from cotterbook.core.entries import check
from cotterbook.core.map_masses import ordinary_words, outside, spread
from cotterbook.core.maps import FORMAT, in_short, map_text, read_map
from cotterbook.core.maps_make import disputes_of, map_of
from cotterbook.core.maps_merge import merge
from cotterbook.core.strip import Strip
from cotterbook.core.words import Refused, spoken
from vectors.cases import identifier

DEMO = Path(__file__).resolve().parents[2] / "demo_data"
LOG = [json.loads(line) for line in (DEMO / "entries.jsonl").read_text(encoding="utf-8").splitlines()]
OTHER = identifier("@other machine")
GRAMS = st.floats(0.5, 500_000.0)


def demo():
    strip = Strip(LOG[0]["strip"])
    strip.add(LOG)
    return strip


@lru_cache(1)
def demo_map():
    """The demo's map; nobody changes it."""
    return map_of(demo(), "Marlwick 410")


def small(**part):
    """A map of one part with four bolts, 400 g, 20 N·m."""
    bolts = {"count": 4, "thread": "M8", "length_millimetres": 25.0, "key": "12 mm socket", "head": "flange_hex",
             "torque_low_newton_metres": 20.0, "torque_page": "Manual 7-2"}  # fmt: skip
    seat = {"name": "Bracket", "place": "frame", "pieces": 1, "fasteners": [bolts],
            "seen_on": [{"machine": OTHER, "grams_a_piece": 400.0, "minutes": 10}]}  # fmt: skip
    return {"format": FORMAT, "machine": "Test hack", "parts": [seat | part]}


def refused(found):
    """What is said of a file that is no map as it should be, in English."""
    with pytest.raises(Refused) as wrong:
        read_map(found if isinstance(found, str) else json.dumps(found))
    return [spoken(each) for each in wrong.value.problems]


@given(st.lists(GRAMS, min_size=1, max_size=30))
def test_mean_and_spread_are_those_of_pythons_statistics(grams):
    found = spread(grams)
    assert found["machines"] == len(grams)
    assert math.isclose(found["mean"], statistics.fmean(grams), rel_tol=1e-12)
    if len(grams) == 1:
        assert found["deviation"] is None
    else:
        assert math.isclose(found["deviation"], statistics.stdev(grams), rel_tol=1e-6, abs_tol=1e-6)


@pytest.mark.parametrize("grams, mean, deviation", [
    # JCGM 100:2008 (GUM), 4.4.3 and table 1: twenty readings of a temperature, mean 100,14 and s 1,49.
    ([96.90, 98.18, 98.25, 98.61, 99.03, 99.49, 99.56, 99.74, 99.89, 100.07, 100.33, 100.42, 100.68, 100.95, 101.11,
      101.20, 101.57, 101.84, 102.36, 102.72], 100.145, 1.489),
    # NIST Statistical Reference Datasets, univariate: NumAcc1, 3 and 4, certified to all digits; from memory.
    ([10_000_001.0, 10_000_003.0, 10_000_002.0], 10_000_002.0, 1.0),
    ([1_000_000.2] + [1_000_000.1, 1_000_000.3] * 500, 1_000_000.2, 0.1),
    ([10_000_000.2] + [10_000_000.1, 10_000_000.3] * 500, 10_000_000.2, 0.1),
])  # fmt: skip
def test_mean_and_spread_are_the_published_ones(grams, mean, deviation):
    """The mean and the experimental standard deviation of GUM 4.2.1 and 4.2.2."""
    found = spread(grams)
    assert found["mean"] == pytest.approx(mean, rel=1e-12)
    # What a float leaves of figures of eight digits: NIST's own log relative error of 8 for the last of them.
    assert found["deviation"] == pytest.approx(deviation, rel=3e-4 if mean < 101 else 2e-8)
    assert found["deviation"] == pytest.approx(statistics.stdev(grams), rel=2e-8)
    assert statistics.fmean(grams) == pytest.approx(found["mean"], rel=1e-15)


def test_equal_masses_are_told_without_a_spread():
    assert spoken(ordinary_words([400.0, 400.0], 1)) == "It weighed 400 g on each of 2 machines."
    assert spoken(ordinary_words([400.0] * 3, 2)) == "One piece weighed 400 g on each of 3 machines."


def test_a_mass_is_outside_only_where_one_more_machine_would_not_weigh_so():
    # k for two degrees of freedom is 4.53 (GUM table G.2): 4.53 · 10 · sqrt(4/3) = 52.3 g about 410 g.
    three = [400.0, 410.0, 420.0]
    assert [outside(grams, 0.0, three) for grams in (357.0, 358.0, 462.0, 463.0)] == [True, False, False, True]
    # The weighing's own uncertainty widens it.
    assert not outside(463.0, 5.0, three)
    # Of one machine pieces may differ by 2 %: 2 · 400 · 0.02 / sqrt 3 · sqrt 2 = 13.1 g.
    assert [outside(grams, 0.0, [400.0]) for grams in (386.0, 388.0, 413.0, 414.0)] == [True, False, False, True]
    assert not outside(1.0, 0.0, [])
    assert spoken(ordinary_words(three, 1)).startswith("Ordinarily 410 ± 10 g on 3 machines")
    assert spoken(ordinary_words([4360.0], 2)) == "One piece weighed 4.36 kg on the one machine of the map."


def test_the_demos_map_holds_its_parts_in_order_and_nothing_of_people():
    strip = demo()
    found = map_of(strip, "Marlwick 410")
    text = map_text(found)
    assert read_map(text) == found
    parts = [each for each in strip.of_type("part")
             if each.values.get("came_in") in (None, "fitted") and "off" in each.values]  # fmt: skip
    assert [each["name"] for each in found["parts"]] == [each.values["name"] for each in parts]
    assert sum(row["count"] for part in found["parts"] for row in part["fasteners"]) == sum(
        group.values["count"] for part in parts for group in strip.groups_of(part.id))  # fmt: skip
    people = {entry["who"] for entry in LOG}
    notes = {entry["values"]["note"] for entry in LOG if entry["kind"] == "set" and entry["values"].get("note")}
    photos = {entry["sha256"] for entry in LOG if entry["kind"] == "photo"}
    assert people and notes and photos
    for each in sorted(people | notes | photos):
        assert json.dumps(each)[1:-1] not in text
    # The seat was weighed alone; the specification has its page.
    seat = next(part for part in found["parts"] if part["name"] == "Seat")
    assert seat["seen_on"][0]["grams_a_piece"] == 4360.0
    assert seat["fasteners"][0]["torque_page"] == "workshop book 5-3"


def test_a_kind_must_be_named_and_something_must_be_off():
    for strip, kind, codes in ((demo(), " ", ["missing"]), (demo(), "x" * 121, ["too_long"]),
                               (Strip(STRIP), "A twin", ["no_parts"])):  # fmt: skip
        with pytest.raises(Refused) as wrong:
            map_of(strip, kind)
        assert [each["code"] for each in wrong.value.problems] == codes


def test_what_is_estimated_or_weighed_with_its_fasteners_is_no_ordinary_mass():
    shop = Shop()
    for name, more in (("Weighed", {}), ("With bolts", {"with_fasteners": True}), ("Guessed", {"basis": "estimated"})):
        part = shop.part(name, off=True, pieces=2)
        of = {"part": part, "weighed_as": "taken_off", "pieces": 2, "basis": "weighed", "grams": 900.0}
        shop.write("weigh", **(of | more | ({"maturity": "guess"} if "basis" in more else {"step_grams": 1.0})))
    made = shop.call("make_map", json.dumps({"strip": STRIP, "machine": "Test hack"}))
    found = json.loads(json.loads(made)["result"]["text"])
    assert [part["seen_on"] for part in found["parts"]] == [
        [{"machine": MACHINE, "grams_a_piece": 450.0}], [{"machine": MACHINE}], [{"machine": MACHINE}]]  # fmt: skip


def test_a_map_merged_with_itself_is_itself():
    found = map_of(demo(), "Marlwick 410")
    merged = merge(found, found)
    assert merged["map"] == found and merged["differences"] == [] and not merged["of_other_kinds"]


def test_a_map_merged_with_itself_is_itself_where_a_part_stands_in_it_twice():
    found = small()
    found["parts"] += deepcopy(found["parts"]) + deepcopy(small(side="left")["parts"])
    found["parts"][1]["fasteners"][0]["count"] = 2
    merged = merge(found, found)
    assert merged["map"] == found and merged["differences"] == []


def with_rows(count, start=1):
    return small(fasteners=[{"count": n, "length_millimetres": 10.0 * n} for n in range(start, start + count)])


def refused_merge(first, second, take=()):
    with pytest.raises(Refused) as wrong:
        merge(first, second, take)
    return [spoken(each) for each in wrong.value.problems]


def test_more_than_a_map_holds_is_refused_whole_and_nothing_is_left_out():
    forty, more = with_rows(40), with_rows(2, 41)
    assert len(merge(forty, more)["map"]["parts"][0]["fasteners"]) == 40
    both = [each["number"] for each in merge(forty, more)["differences"] if "second map" in spoken(each["sentence"])]
    text = "Bracket: both maps together have more than 40 kinds of fasteners here. Take fewer from the second."
    assert refused_merge(forty, more, both) == [text]
    ids = [{"machine": identifier(f"@seen {n}"), "grams_a_piece": 400.0} for n in range(101)]
    found = small(seen_on=ids[:60]), small(seen_on=ids[60:])
    assert refused_merge(*found) == ["Bracket: both maps together know more than 100 machines."]
    assert len(merge(small(seen_on=ids[:60]), small(seen_on=ids[:100]))["map"]["parts"][0]["seen_on"]) == 100
    # In all of it 1 000 kinds of fasteners, of which a phone reads so many before its core is held to be dead.
    assert refused(small() | {"parts": [small(fasteners=[{"count": 1}] * 40)["parts"][0]] * 26}) == [
        "A map has at most 1000 kinds of fasteners in all."]  # fmt: skip
    many = [{"format": FORMAT, "machine": "A", "parts": [
        {"name": f"{letter}{n}", "fasteners": [], "seen_on": []} for n in range(201)]} for letter in "ab"]  # fmt: skip
    assert refused_merge(*many) == ["Both maps together have more than 400 parts."]


def test_where_one_map_wrote_no_fasteners_down_the_other_fills_them_in():
    for first, second in ((small(), small(fasteners=[])), (small(fasteners=[]), small())):
        found = merge(first, second)
        assert found["differences"] == [] and found["map"] == small()


def test_a_torque_goes_with_its_thread():
    first, second = small(), small()
    second["parts"][0]["fasteners"][0] |= {"thread": "M10", "torque_low_newton_metres": 45.0}
    found = merge(first, second)
    told = [(each["what"], each["choice"]) for each in found["differences"]]
    assert told == [("thread", True), ("with_thread", False)]
    assert spoken(found["differences"][1]["sentence"]) == (
        "4 × M8×25: its torque goes with its thread: 20 N·m (Manual 7-2) in the first map, "
        "45 N·m (Manual 7-2) in the second.")  # fmt: skip
    for take, wanted in (([], ("M8", 20.0)), ([0], ("M10", 45.0)), ([1], ("M8", 20.0))):
        row = merge(first, second, take)["map"]["parts"][0]["fasteners"][0]
        assert (row["thread"], row["torque_low_newton_metres"]) == wanted
    # Where only one of them says a torque, it is none of the other's thread.
    del first["parts"][0]["fasteners"][0]["torque_low_newton_metres"]
    assert "torque_low_newton_metres" not in merge(first, second)["map"]["parts"][0]["fasteners"][0]


def test_two_times_of_one_machine_are_told():
    first, second = small(), small()
    second["parts"][0]["seen_on"][0]["minutes"] = 45
    [difference] = merge(first, second)["differences"]
    words = "Two times of one machine: 10 minutes in the first map, 45 in the second."
    assert spoken(difference["sentence"]) == words
    assert merge(first, second, [0])["map"]["parts"][0]["seen_on"][0]["minutes"] == 45


def test_what_was_merged_is_read_back_like_any_other_map():
    shop, long = Shop(), "N" * 119
    many = [{"format": FORMAT, "machine": "A", "parts": [
        {"name": f"{letter}{n:03} {long[:110]}", "fasteners": [
            {"count": k, "sits": long, "key": long[:40], "torque_low_newton_metres": 9.0, "torque_page": long}
            for k in range(1, 4)]} for n in range(199)]} for letter in "ab"]  # fmt: skip
    answer = json.loads(shop.call("merge_maps", json.dumps({"first": map_text(many[0]), "second": map_text(many[1])})))
    assert [spoken(each) for each in answer["problems"]] == ["This file is too large for a map."]


def test_a_map_says_to_what_two_answers_stand_and_takes_no_torque_of_two():
    shop = Shop()
    part = shop.part("Bracket", off=True)
    group, other = identifier("@bolts"), identifier("@nuts")
    shop.put("group", group, part=part, count=4, thread="M8", torque_low_newton_metres=20.0, torque_page="7-2")
    shop.put("group", other, part=part, count=2, thread="M6")
    # Two phones that did not know of one another: the second's entry saw nothing of the first's.
    shop.put("group", group, torque_low_newton_metres=60.0)
    shop.put("group", other, count=3)
    shop.put("part", part, pieces=2)
    shop.put("part", part, pieces=3)
    made = json.loads(shop.call("make_map", json.dumps({"strip": STRIP, "machine": "Test hack"})))["result"]
    assert [spoken(each) for each in made["short"]["doubts"]] == [
        "Bracket: two answers stand, and the map has the newest: pieces.",
        "Bracket, 4 × M8: two answers stand to its torque, and the map has none of them.",
        "Bracket, 3 × M6: two answers stand, and the map has the newest: count.",
    ]
    [found] = json.loads(made["text"])["parts"]
    assert found["fasteners"] == [{"count": 4, "thread": "M8"}, {"count": 3, "thread": "M6"}]
    # Of the demo, two counted the same fasteners differently.
    strip = demo()
    assert ["two answers stand" in spoken(each) for each in disputes_of(strip)] == [True]


def test_a_part_with_more_kinds_of_fasteners_than_a_map_holds_is_told():
    shop = Shop()
    part = shop.part("Engine", off=True)
    for n in range(41):
        shop.put("group", identifier(f"@g{n}"), part=part, count=1)
    answer = json.loads(shop.call("make_map", json.dumps({"strip": STRIP, "machine": "Test hack"})))
    assert [spoken(each) for each in answer["problems"]] == [
        "Engine: a map holds at most 40 kinds of fasteners of a part."]  # fmt: skip


def changed(found, rng):
    """Another machine's map: some parts gone or new, some turned, counts, lengths, torques and masses otherwise."""
    other = deepcopy(found)
    parts = other["parts"]
    for part in parts:
        for row in part["fasteners"]:
            if rng.random() < 0.3:
                row["count"] = row["count"] % 40 + 1
            if "length_millimetres" in row and rng.random() < 0.3:
                row["length_millimetres"] += rng.choice([-5, 5, 0.01])
            if "torque_low_newton_metres" in row and rng.random() < 0.3:
                row["torque_low_newton_metres"] = row["torque_high_newton_metres"] = rng.uniform(1.0, 100.0)
                row.pop("torque_as_written", None)
        for seen in part["seen_on"]:
            seen["machine"] = OTHER
            if "grams_a_piece" in seen:
                seen["grams_a_piece"] *= rng.uniform(0.98, 1.02)
    if rng.random() < 0.5:
        parts.pop(rng.randrange(len(parts)))
    if rng.random() < 0.5:
        parts.insert(rng.randrange(len(parts)), {"name": "Only here", "fasteners": [{"count": 2}], "seen_on": []})
    if rng.random() < 0.5:
        parts.append(parts.pop(0))
    return other


@given(st.randoms(use_true_random=False))
def test_whatever_differs_is_told_and_all_of_it_can_be_taken_from_the_second(rng):
    first = demo_map()
    second = changed(first, Random(rng.random()))
    merged = merge(first, second)
    assert read_map(map_text(merged["map"])) == merged["map"]
    # Merged again with either, nothing of the parts or masses is new.
    for again in (first, second):
        assert {part["name"] for part in merge(merged["map"], again)["map"]["parts"]} == {
            part["name"] for part in merged["map"]["parts"]}  # fmt: skip
    # Where the second stands in all of it, its map says of the result that fasteners and torques are its own.
    take = [each["number"] for each in merged["differences"]]
    taken = merge(first, second, take)
    assert [each["number"] for each in taken["differences"]] == take
    left = {each["what"] for each in merge(taken["map"], second)["differences"]}
    assert left <= {"only_first", "only_second", "order"}
    # Masses are the same whichever comes first.
    masses = [{(part["name"], part.get("side")): sorted(seen.get("grams_a_piece", 0.0) for seen in part["seen_on"])
               for part in merge(*both)["map"]["parts"]} for both in ((first, second), (second, first))]  # fmt: skip
    assert masses[0] == masses[1]


@pytest.mark.parametrize("field, value, what", [
    ("count", 3, "4 × M8×25: count: 4 in the first map, 3 in the second."),
    ("thread", "M6", "4 × M8×25: thread: M8 in the first map, M6 in the second."),
    ("length_millimetres", 30, "4 × M8×25: length millimetres: 25 mm in the first map, 30 mm in the second."),
    ("key", "13 mm socket",
     "4 × M8×25: key: 12 mm socket in the first map, 13 mm socket in the second."),
    ("torque_low_newton_metres", 24.0,
     "4 × M8×25: torque: 20 N·m (Manual 7-2) in the first map, 24 N·m (Manual 7-2) in the second."),
])  # fmt: skip
def test_each_difference_is_told_in_words(field, value, what):
    other = small()
    other["parts"][0]["fasteners"][0][field] = value
    [difference] = merge(small(), other)["differences"]
    assert spoken(difference["sentence"]) == what and difference["choice"] and not difference["second"]
    stands = merge(small(), other, [0])["map"]["parts"][0]["fasteners"][0][field]
    assert stands == value


def test_other_writings_of_the_same_are_no_difference():
    one, other = small(name="Bremsträger"), small(name="  BREMSTRA\u0308GER ")
    other["parts"][0]["fasteners"][0] |= {"thread": "m 8 x 1,25", "key": "12 socket", "length_millimetres": 25.02}
    assert merge(one, other)["differences"] == []


def test_order_and_masses_of_one_machine_are_told_too():
    one = small()
    one["parts"] += [deepcopy(one["parts"][0]) | {"name": name} for name in ("Second", "Third")]
    other = deepcopy(one)
    other["parts"].append(other["parts"].pop(0))
    other["parts"][0]["seen_on"][0]["grams_a_piece"] = 500.0
    words = [spoken(each["sentence"]) for each in merge(one, other)["differences"]]
    assert words == ["Two masses of one machine: 400 g in the first map, 500 g in the second.",
                     "It comes off at another turn in the second map: as 3, not as 1."]  # fmt: skip


@pytest.mark.parametrize("written, kept, unit", [
    ("18 – 20 lbf.ft", 18 * 1.3558179483, "lbf.ft"), ("2,5 kgf·m", 2.5 * 9.80665, "kgf.m"),
    ("20 lbf ft, with locking compound", 20 * 1.3558179483, "lbf.ft"), ("10 → 20 Nm", 20, "N.m"),
    ("1500 cN.m", 15, None), ("hand tight", 20, None), (None, 20, None),
])  # fmt: skip
def test_the_form_for_taking_off_begins_in_the_unit_of_the_maps_torque(written, kept, unit):
    """The figure is shown as the map has it, and typed anew from the manual. NIST SP 811 (2008), B.8: the factors."""
    one = small()
    group = one["parts"][0]["fasteners"][0]
    for name in [name for name in group if name.startswith("torque")]:
        del group[name]
    group |= {"torque_low_newton_metres": kept, "torque_page": "7-2"}
    if written:
        group["torque_as_written"] = written
    if written and written.startswith("18"):
        group["torque_high_newton_metres"] = 20 * 1.3558179483
    if written and written.startswith("10"):
        group["torque_steps_newton_metres"] = [10.0]
    shop = Shop()
    done = shop.act("take_map", {"map": map_text(one)})["result"]
    shop.call("load", json.dumps({"strip": STRIP, "entries": done["entries"]}))
    [row] = shop.view("foreseen")["parts"]
    assert row["form"]["groups"][0].get("torque_unit") == unit
    assert row["torques"][0].startswith(written or "20 N·m")


def test_a_map_is_taken_once_and_a_second_time_adds_nothing():
    shop, text = Shop(), map_text(small())
    done = shop.act("take_map", {"map": text})["result"]
    assert not [check(entry) for entry in done["entries"] if check(entry)]
    shop.call("load", json.dumps({"strip": STRIP, "entries": done["entries"]}))
    assert [each["code"] for each in shop.act("take_map", {"map": text})["problems"]] == ["nothing_new"]
    [row] = shop.view("foreseen")["parts"]
    assert (row["state"], row["fasteners"], row["form"]["bag_label"]) == ("left", ["4 × M8×25"], "1")
    # A torque is never filled in from a map, and no reading is made of its masses.
    assert not [name for name in row["form"]["groups"][0] if name.startswith("torque")]
    assert spoken(row["ordinary"]) == "It weighed 400 g on the one machine of the map."
    # What two phones took apart from each other is foreseen once all the same.
    twice = json.loads(json.dumps(shop.act("take_map", {"map": map_text(small(side="left"))})["result"]["entries"]))
    for entry in twice:
        entry["values"] = {name: value for name, value in entry["values"].items() if name != "side"}
    shop.call("load", json.dumps({"strip": STRIP, "entries": twice}))
    assert len(shop.view("foreseen")["parts"]) == 1


def do(shop, name, form):
    """An act, and its entries in the log; what the act gave back."""
    done = shop.act(name, form)["result"]
    shop.call("load", json.dumps({"strip": STRIP, "entries": done["entries"]}))
    return done


def take_off_as_foreseen(shop, **otherwise):
    do(shop, "take_map", {"map": map_text(small())})
    form = shop.view("foreseen")["parts"][0]["form"]
    grams = otherwise.pop("grams", None)
    form["groups"][0] |= otherwise
    form["readings"] = [{"figure": grams, "unit": "g", "step": "1"}] if grams else []
    done = shop.act("take_off", form)["result"]
    shop.call("load", json.dumps({"strip": STRIP, "entries": done["entries"]}))
    return done["part"], done["entries"]


def test_what_comes_off_as_foreseen_is_done_and_what_differs_is_told():
    shop = Shop()
    part, made = take_off_as_foreseen(shop, grams="405")
    assert [entry["kind"] for entry in made].count("move") == 1
    assert shop.view("part", part=part)["otherwise"] == []
    assert [row["state"] for row in shop.view("foreseen")["parts"]] == ["done"]
    shop = Shop()
    part, _ = take_off_as_foreseen(shop, count=3, length="30", key="13 mm socket", grams="450")
    words = [spoken(each) for each in shop.view("part", part=part)["otherwise"]]
    assert words == [
        "3 × M8×30: count: 3, foreseen 4.",
        "3 × M8×30: length millimetres: 30 mm, foreseen 25 mm.",
        "3 × M8×30: key: 13 mm socket, foreseen 12 mm socket.",
        "Mass of a piece: 450.0 ± 0.6 g. It weighed 400 g on the one machine of the map.",
    ]
    assert shop.view("foreseen")["otherwise"] == 1


def test_a_torque_of_the_map_counts_for_nothing_until_somebody_found_it_in_the_manual():
    shop = Shop()
    part, _ = take_off_as_foreseen(shop)
    [group] = shop.view("part", part=part)["groups"]
    card = shop.view("torque", group=group["group"])
    assert card["specification"] is None
    assert card["from_map"] == {"words": "20 N·m (Manual 7-2)", "page": "Manual 7-2"}
    assert [each["code"] for each in shop.act("confirm_specification", {"group": group["group"]})["problems"]] == [
        "missing"]  # fmt: skip
    done = shop.act("confirm_specification", {"group": group["group"], "page": "This manual 7-3"})["result"]
    shop.call("load", json.dumps({"strip": STRIP, "entries": done["entries"]}))
    card = shop.view("torque", group=group["group"])
    assert card["from_map"] is None and card["specification"]["page"] == "This manual 7-3"
    assert card["form"]["torque"] == "20"


def test_a_torque_of_the_map_for_another_thread_is_not_offered():
    shop = Shop()
    part, _ = take_off_as_foreseen(shop, thread="M6")
    [group] = shop.view("part", part=part)["groups"]
    assert shop.view("torque", group=group["group"])["from_map"] is None
    form = {"group": group["group"], "page": "7-3"}
    assert [each["code"] for each in shop.act("confirm_specification", form)["problems"]] == ["no_specification"]


def test_a_torque_of_the_map_is_never_written_over_one_of_this_machines_manual():
    shop = Shop()
    part, _ = take_off_as_foreseen(shop)
    [group] = shop.view("part", part=part)["groups"]
    shop.put("group", group["group"], torque_low_newton_metres=12.0, torque_page="Own 1")
    [wrong] = shop.act("confirm_specification", {"group": group["group"], "page": "7-3"})["problems"]
    assert spoken(wrong) == "Another torque stands there: 12 N·m (Own 1). Change it on its card."


def test_this_machine_may_have_no_such_part():
    shop = Shop()
    do(shop, "take_map", {"map": map_text(small())})
    [row] = shop.view("foreseen")["parts"]
    for dropped, state in ((True, "dropped"), (False, "left")):
        done = shop.act("drop_foreseen", {"foreseen": row["foreseen"], "dropped": dropped})["result"]
        shop.call("load", json.dumps({"strip": STRIP, "entries": done["entries"]}))
        assert shop.view("foreseen")["parts"][0]["state"] == state


def test_a_map_of_another_machine_is_taken_only_where_somebody_says_that_it_fits():
    shop, text = Shop(), map_text(small() | {"machine": "A large four"})
    [wrong] = shop.act("take_map", {"map": text})["problems"]
    words = "This map is of A large four, and this machine is Test hack. Take it only if they are built alike."
    assert spoken(wrong) == words
    assert shop.act("take_map", {"map": text, "other_machine": True})["result"]["entries"]


def test_wrong_units_in_a_map_are_refused_or_asked_about():
    other = small()
    other["parts"][0]["fasteners"][0] |= {"length_inches": 1, "torque_as_written": "20 lbf.ft"}
    other["parts"][0]["seen_on"][0]["kilograms"] = 0.4
    words = refused(other)
    units = " Its lengths are in millimetres, its torques in newton metres, its masses in grams, its times in minutes."
    assert words == [
        "A map has no field length_inches." + units,
        "Part 1, Bracket, fasteners 1. Its torque is written as 20 lbf.ft, but kept as 20 N.m: one of them is in a "
        "wrong unit.",
        "A map has no field kilograms." + units,
    ]
    # A mass that can be read, and that no such part has.
    seat = small(name="Seat", place="seat")
    seat["parts"][0]["seen_on"][0]["grams_a_piece"] = 4.36
    assert [spoken(each) for each in in_short(seat)["doubts"]] == [
        "Seat: 4.36 g a piece is far from what such a part weighs. Is its unit right?"]  # fmt: skip
    assert in_short(small())["doubts"] == []


def test_whole_numbers_of_hundreds_of_digits_are_refused_like_any_other_entry():
    values = {"name": "Seat", "along_millimetres": 10**400}
    entry = Shop().entries[0] | {"type": "part", "thing": identifier("@p"), "values": values}
    assert [each["code"] for each in check(entry)] == ["out_of_range"]


BOLTS = {"count": 4, "thread": "M8", "torque_page": "7-2"}


@pytest.mark.parametrize("torque, kept", [
    ({"torque_low_newton_metres": 14.75, "torque_high_newton_metres": 20.0, "torque_as_written": "14.75 – 20 N.m"},
     None),
    ({"torque_low_newton_metres": 20.0, "torque_as_written": "14.75 – 20 lbf.ft", "torque_high_newton_metres": 20.0},
     "20 N.m"),
    ({"torque_low_newton_metres": 20.0, "torque_as_written": "20 – 25 N.m"}, "20 N.m"),
    ({"torque_low_newton_metres": 20.0, "torque_as_written": "2.04 ± 0.2 kgf.m", "torque_tolerance_newton_metres": 0.2},
     "0.2 N.m"),
    ({"torque_low_newton_metres": 20.0, "torque_as_written": "10 15 → 20 N.m", "torque_steps_newton_metres": [10, 150]},
     "10 150 N.m"),
    ({"torque_low_newton_metres": 20.0, "torque_as_written": "10 15 → 20 N.m", "torque_steps_newton_metres": [10, 15]},
     None),
    ({"torque_low_newton_metres": 18, "torque_high_newton_metres": 22, "torque_as_written": "18 to 22 N.m, oiled"},
     None),
    ({"torque_low_newton_metres": 10.8, "torque_high_newton_metres": 12, "torque_as_written": "8 lbf ft – 12 N.m"},
     None),
])  # fmt: skip
def test_a_torque_must_be_kept_as_it_is_written(torque, kept):
    found = json.dumps(small(fasteners=[BOLTS | torque]))
    if kept is None:
        read_map(found)
        return
    [words] = refused(found)
    assert words.endswith(f"but kept as {kept}: one of them is in a wrong unit.")


@pytest.mark.parametrize("bolts, words", [
    ({"torque_as_written": "two hundred"}, "its torque is written as “two hundred” and kept as 20 N.m."),
    ({"torque_page": None}, "no page stands beside its torque."),
    ({"torque_low_newton_metres": 300}, "300 N.m is more than M8 stands: look at the figure and its unit again."),
])  # fmt: skip
def test_what_may_be_wrong_with_a_torque_is_asked_about(bolts, words):
    found = read_map(json.dumps(small(fasteners=[BOLTS | {"torque_low_newton_metres": 20} | bolts])))
    doubts = [spoken(each) for each in in_short(found)["doubts"]]
    assert words in [each.split("M8, ")[-1].split("M8: ")[-1] for each in doubts] and len(doubts) == 1


def test_a_part_that_stands_in_a_map_twice_is_told():
    found = small()
    found["parts"] += deepcopy(found["parts"]) * 2
    assert [spoken(each) for each in in_short(read_map(map_text(found)))["doubts"]] == [
        "Bracket stands in it more than once: it is foreseen once, with the fasteners of the first."]  # fmt: skip


def test_names_of_two_hundred_characters_are_refused_and_right_to_left_ones_taken():
    [words] = refused(small(name="N" * 200))
    assert words == "Part 1, " + "N" * 40 + "…: name. This is longer than 120 characters."
    assert refused(small() | {"machine": "N" * 200}) == ["The kind of machine. This is longer than 120 characters."]
    shop, name = Shop(), "מושב אחורי"
    entries = shop.act("take_map", {"map": map_text(small(name=name))})["result"]["entries"]
    shop.call("load", json.dumps({"strip": STRIP, "entries": entries}))
    assert shop.view("foreseen")["parts"][0]["form"]["name"] == name


@pytest.mark.parametrize("text, words", [
    ("", "This file is no map: it cannot be read as one."),
    ("name,count\nSeat,4\n", "This file is no map: it cannot be read as one."),
    ("[" * 100_000, "This file is no map: it cannot be read as one."),
    ("{}", "This file is no map: it cannot be read as one."),
    ('{"format": "cotterbook-map/2"}', "This map was made by a newer version. Take the newer version first."),
    ('{"format": "cotterbook-map/0"}', "This file is no map: it cannot be read as one."),
    ('{"format": "cotterbook-map/"}', "This file is no map: it cannot be read as one."),
    ('{"format": ["cotterbook-map/1"]}', "This file is no map: it cannot be read as one."),
    (map_text(small()).replace("400.0", "1" + "0" * 400), "Part 1, Bracket. This must lie between 0 and 500000."),
    (map_text(small()).replace("400.0", "NaN"), "Part 1, Bracket. This must be a number."),
    (map_text(small()).replace("400.0", "1e999"), "Part 1, Bracket. This must be a number."),
    (map_text(small()).replace("400.0", "-1"), "Part 1, Bracket. This must be more than 0."),
    (json.dumps(small(fasteners=[{"count": -4}])),
     "Part 1, Bracket, fasteners 1: count. This must lie between 1 and 500."),
    (json.dumps(small(fasteners=[{"count": 1, "torque_high_newton_metres": 20}])),
     "Part 1, Bracket, fasteners 1. Give the lower torque too."),
    (json.dumps(small(fasteners=[{"count": 1}] * 41)), "Part 1, Bracket. This must be a list of at most 40."),
    (json.dumps(small() | {"parts": []}), "This map has no parts."),
    (json.dumps(small() | {"parts": [1]}), "Part 1. This must be an object with named fields."),
    (json.dumps(small(pieces="2")), "Part 1, Bracket: pieces. This must be a whole number."),
    (json.dumps(small(fasteners=[{"thread": "M8"}])), "Part 1, Bracket, fasteners 1: count. This is missing."),
    (json.dumps(small(fasteners=[{"count": 10**9}])),
     "Part 1, Bracket, fasteners 1: count. This must lie between 1 and 500."),
    (json.dumps(small(note="Ann’s own")), "A map has no field note. Its lengths are in millimetres, its torques in "
     "newton metres, its masses in grams, its times in minutes."),
    (json.dumps(small(seen_on=[{"machine": "AB 12 CDE"}])),
     "Part 1, Bracket. A machine that it was seen on has no identifier."),
])  # fmt: skip
def test_a_bad_file_is_told_what_is_wrong_with_it(text, words):
    assert refused(text) == [words]


ANY_JSON = st.recursive(
    st.none() | st.booleans() | st.floats() | st.integers() | st.text(max_size=9),
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(st.sampled_from(
        ["name", "count", "thread", "fasteners", "seen_on", "machine", "grams_a_piece", "torque_as_written", "x"]),
        inner, max_size=5), max_leaves=12)  # fmt: skip


@given(st.lists(ANY_JSON, max_size=3), ANY_JSON)
def test_whatever_is_in_a_file_it_is_refused_in_words_or_taken_whole(parts, machine):
    text = json.dumps({"format": FORMAT, "machine": machine, "parts": parts})
    try:
        found = read_map(text)
    except Refused as wrong:
        assert wrong.problems and all(spoken(each) for each in wrong.problems)
        return
    answer = Shop().act("take_map", {"map": text, "other_machine": True})
    assert "result" in answer or {each["code"] for each in answer["problems"]} <= {"not_json"}
    assert read_map(map_text(found)) == found
