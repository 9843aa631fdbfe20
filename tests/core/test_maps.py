"""Maps: masses against Python's `statistics`, what is in one and what never is, merging, what a bad file is told."""

import json
import math
import statistics
from copy import deepcopy
from pathlib import Path
from random import Random

import pytest
from hypothesis import given
from hypothesis import strategies as st
from machine_shop import MACHINE, STRIP, Shop

from cotterbook.core.entries import check
from cotterbook.core.map_masses import ordinary_words, outside, spread
from cotterbook.core.maps import FORMAT, in_short, map_text, read_map
from cotterbook.core.maps_make import map_of
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
    first = map_of(demo(), "Marlwick 410")
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
    ("count", 3, "Bracket, 4 × M8×25: count: 4 in the first map, 3 in the second."),
    ("thread", "M6", "Bracket, 4 × M8×25: thread: M8 in the first map, M6 in the second."),
    ("length_millimetres", 30, "Bracket, 4 × M8×25: length millimetres: 25 mm in the first map, 30 mm in the second."),
    ("key", "13 mm socket",
     "Bracket, 4 × M8×25: key: 12 mm socket in the first map, 13 mm socket in the second."),
    ("torque_low_newton_metres", 24.0,
     "Bracket, 4 × M8×25: torque: 20 N·m (Manual 7-2) in the first map, 24 N·m (Manual 7-2) in the second."),
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
    assert words == ["Second: two masses of one machine: 400 g in the first map, 500 g in the second.",
                     "Bracket comes off at another turn in the second map: as 3, not as 1."]  # fmt: skip


def test_a_map_is_taken_once_and_a_second_time_adds_nothing():
    shop, text = Shop(), map_text(small())
    done = shop.act("take_map", {"map": text})["result"]
    assert not [check(entry) for entry in done["entries"] if check(entry)]
    shop.call("load", json.dumps({"strip": STRIP, "entries": done["entries"]}))
    assert [each["code"] for each in shop.act("take_map", {"map": text})["problems"]] == ["nothing_new"]
    [row] = shop.view("foreseen")["parts"]
    assert (row["state"], row["fasteners"], row["form"]["bag_label"]) == ("left", ["4 × M8×25"], "1")
    # A torque is never filled in from a map, and no reading is made of its masses.
    assert not [name for name in row["form"]["groups"][0] if name.startswith("torque") and name != "torque_unit"]
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
