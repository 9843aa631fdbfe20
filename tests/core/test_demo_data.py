"""The demo strip-down: built the same each time, every awkward case in it, and the sums of the sheet beside it."""

import hashlib
import json
import re
import subprocess
import sys
from collections import Counter
from pathlib import Path

import pytest
from PIL import Image

from cotterbook.core import entries as rules
from cotterbook.core import kinds, phone
from cotterbook.core.guidance import guidance_view

DEMO = Path(__file__).resolve().parents[2] / "demo_data"
LOG = [json.loads(line) for line in (DEMO / "entries.jsonl").read_text(encoding="utf-8").splitlines()]
TINY = [json.loads(line) for line in (DEMO / "tiny.jsonl").read_text(encoding="utf-8").splitlines()]
EXPECTED = json.loads((DEMO / "expected_sums.json").read_text(encoding="utf-8"))
STRUCK = {entry["entry"] for entry in LOG if entry["kind"] == "strike"}


def kind(name):
    return [entry for entry in LOG if entry["kind"] == name]


def things(thing_type):
    """Values by id as they stand at the end of the log."""
    found = {}
    for entry in kind("set"):
        if entry["type"] == thing_type:
            found.setdefault(entry["thing"], {}).update(entry["values"])
    return found


def group_with(**values):
    """The first group that holds these."""
    return next(group for group in things("group").values() if values.items() <= group_items(group))


def group_items(group):
    return {(name, value) for name, value in group.items() if not isinstance(value, list)}


def title(part):
    return f"{part['name']}, {part['side']}" if part["name"] == "Side panel" else part["name"]


PARTS = things("part")
IDS = {title(part): thing for thing, part in PARTS.items()}


def part(name):
    return PARTS[IDS[name]]


def readings(name, weighed_as="taken_off", basis="weighed"):
    return [r for r in kind("weigh") if r["part"] == IDS[name] and r["id"] not in STRUCK
            and (r["weighed_as"], r["basis"]) == (weighed_as, basis)]


def groups(name):
    return [thing for thing, group in things("group").items() if group["part"] == IDS[name]]


def moved(name, **wanted):
    """How many of a part's fasteners were moved as wanted, say to="lost"."""
    return sum(m["count"] for m in kind("move") if m["group"] in groups(name)
               and all(m[side] == place for side, place in wanted.items()))


def held(name, entry_kind):
    return [e for e in kind(entry_kind) if e["group"] in groups(name)]


def is_part(name, **wanted):
    return all(part(name).get(field) == value for field, value in wanted.items())


def one_of_a_pair(name, weighed_as="taken_off"):
    return part(name)["pieces"] == 2 and [r["pieces"] for r in readings(name, weighed_as)] == [1]


def blind_counts():
    """The two counts of the inner mudguard's screws, made by two devices that saw the same earlier count."""
    group = groups("Inner rear mudguard")[0]
    first, *later = [e for e in kind("set") if e["thing"] == group and "count" in e["values"]]
    return ([e["values"]["count"] for e in later] == [7, 8] and len({e["by"] for e in later}) == 2
            and all(e["saw"]["count"] == [first["id"]] for e in later))


def typed_as_grams():
    slip = next(e for e in LOG if e["id"] in STRUCK)
    return slip["grams"] == 3.62 and [r["grams"] for r in readings("Centre stand")] == [3620]


def looks_again():
    first, *again = readings("Handlebar")
    return len(again) == 2 and all(r["again"] == first["id"] for r in again)


def below_then_within():
    group = things("group")[groups("Headlamp")[0]]
    low, high = group["torque_low_newton_metres"], group["torque_high_newton_metres"]
    first, second = [t["newton_metres"] for t in held("Headlamp", "tighten")]
    return first < low <= second <= high


def slow_clock():
    return [e for e in LOG if e["who"] == "Torrec" and e["at"] > rules.wall_clock_ms(e["id"])]


DONE = {"off": True, "outcome_done": True}
CASES = {
    "a pair weighed once": lambda: one_of_a_pair("Pillion footrests") and one_of_a_pair(
        "Rear suspension units", "going_on"),
    "two readings of different pieces": lambda: len(readings("Rear suspension units")) == 2
    and not any("again" in r for r in readings("Rear suspension units")),
    "a swap": lambda: is_part("Handlebar", outcome="swapped", **DONE) and readings("Handlebar", "going_on"),
    "a swap not yet done": lambda: is_part("Number plate holder", outcome="swapped", off=True, outcome_done=None),
    "a cut, before and after": lambda: readings("Rear mudguard") and readings("Rear mudguard", "after_cut"),
    "a cut by its offcut": lambda: readings("Front mudguard", "offcut") and not readings("Front mudguard"),
    "a range read by eye": lambda: readings("Handlebar fairing with screen")[0]["low_grams"] == 2600,
    "a document figure": lambda: readings("Battery", "going_on", "document")[0]["step_grams"] == 100
    and readings("Fork springs", "going_on", "document")[0]["plus_minus_grams"] == 8
    and not {"step_grams", "plus_minus_grams"} & set(readings("Carrier rack", basis="document")[0]),
    "an estimate": lambda: [readings(name, basis="estimated")[0]["maturity"] for name in (
        "Fork springs", "Tool kit", "Alarm unit")] == ["known", "similar", "guess"],
    "a worked-out figure": lambda: "plus_minus_grams" not in readings("Headlamp brackets", "going_on", "worked_out")[0]
    and "plus_minus_grams" in readings("Plate for the hive straps", "going_on", "worked_out")[0],
    "a step and a ± together": lambda: {"step_grams", "plus_minus_grams"} <= set(
        readings("Sidecar subframe", "going_on")[0]),
    "a part put back, with torque and marks": lambda: is_part("Seat", outcome="goes_back", off=False)
    and held("Seat", "tighten") and held("Seat", "witness"),
    "a part that goes back and is still off": lambda: is_part("Silencer", outcome="goes_back", off=True),
    "a part half back": lambda: is_part("Sprocket cover", off=True) and moved("Sprocket cover", to="machine") == 2
    and held("Sprocket cover", "tighten") and not held("Sprocket cover", "witness"),
    "a part with its place on the machine, and one without": lambda: "along_millimetres" in part("Silencer")
    and "along_millimetres" not in part("Lower chain guard"),
    "a part ahead of the front axle": lambda: is_part("Front mudguard", along_millimetres=-20),
    "a part moved": lambda: is_part("Mirrors", outcome="moved", outcome_done=True)
    and is_part("Horn", outcome="moved", outcome_done=None),
    "a part that is to stay off and is still on": lambda: is_part("Toolbox bracket", outcome="stays_off", off=None),
    "nothing decided": lambda: is_part("Heat shield of the exhaust", outcome=None, off=True)
    and is_part("Ignition coil cover", outcome=None, off=False),
    "an accessory added": lambda: is_part("Sidecar subframe", came_in="new", outcome_done=True)
    and moved("Sidecar subframe", **{"from": "stock"}) == 6,
    "an addition not yet on": lambda: is_part("Steering damper", came_in="new", outcome_done=None),
    "a standard part missing from the start": lambda: is_part("Lower chain guard", came_in="missing", outcome=None)
    and is_part("Tool kit", came_in="missing", outcome="added"),
    "an accessory fitted before, taken off": lambda: is_part("Engine guard bars", came_in="accessory", off=True),
    "an accessory fitted before, still on": lambda: is_part("Carrier rack", came_in="accessory", off=None),
    "a dispute": blind_counts,
    "a struck entry": typed_as_grams,
    "a missing bolt": lambda: (moved("Grab rail", to="bag"), moved("Grab rail", to="lost")) == (3, 1),
    "a replaced nut": lambda: (moved("Rear suspension units", to="scrapped"),
                               moved("Rear suspension units", **{"from": "stock"})) == (1, 1),
    "a repeated look at the scale": looks_again,
    "a part not weighed": lambda: not [r for r in kind("weigh") if r["part"] in (
        IDS["Hive straps"],)],
    "bolts in spares": lambda: moved("Centre stand", to="spares") == 2,
    "weighed with its fasteners": lambda: readings("Pillion heel guards")[0]["with_fasteners"],
    "a tightening below the manual's range, done again": below_then_within,
    "the whole machine weighed": lambda: len([e for e in kind("weigh_in") if "rear_grams" in e]) == 2,
    "a lift test": lambda: [e["rear_raised_millimetres"] for e in kind("weigh_in") if "rear_grams" not in e] == [400],
    "a total that somebody got wrong": lambda: "9,20 kg" in next(iter(things("strip").values()))["note"],
    "a scale with a gain, and one without": lambda: {
        s["name"]: s.get("gain_percent") for s in things("scale").values()} == {
        "hanging scale": 0.5, "kitchen scale": None, "platform scale": 0.4},
    "checks of a scale, one of them no calibration": lambda: [e["against"] for e in kind("scale_check")] == [
        "coin", "reference_weight"],
    "a tare": lambda: [r["tare_grams"] for r in readings("Front brake master cylinder")] == [250],
    "a fluid by its litres": lambda: [r["litres"] for r in kind("weigh") if "litres" in r] == [0.94, 0.96],
    "a wrench below its lowest mark": lambda: min(
        t["setting_newton_metres"] for t in kind("tighten") if t["tool"].startswith("torque wrench A")) < 5,
    "a wrench overdue, then checked": lambda: [
        e["values"]["calibrated_on"] for e in kind("set") if e["type"] == "tool" and "0977" in str(e["values"])
        or "B 1102" in str(e["values"])] == ["2024-02-10", "2025-03-24"],
    "an adapter on a wrench": lambda: [e["adapter_millimetres"] for e in held("Sidecar subframe", "tighten")
                                       if "adapter_millimetres" in e] == [40],
    "an order of tightening, with a step before the last": lambda: group_with(pattern="cross")[
        "torque_steps_newton_metres"] == [10],
    "no torque from the manual, but guidance": lambda: guidance_view(group_with(grade="A2-70"), {})["low"],
    "a torque in another unit": lambda: group_with(torque_as_written="4.5 kgf.m")["torque_low_newton_metres"]
    == pytest.approx(4.5 * 9.80665),
    "a pattern": lambda: sorted(g["pattern"] for g in things("group").values() if "pattern" in g) == [
        "cross", "cross", "cross", "row", "star"],
    "prevailing torque": lambda: [things("group")[g].get("prevailing_newton_metres") for g in groups("Side stand")] == [
        None, 3],
    "a second check, one that found fault, and a decision to do without": lambda: (
        [(e["who"], e["found"]) for e in kind("second_check")], [e["who"] for e in kind("waive")]) == (
        [("Torrec", "not_right"), ("Torrec", "right"), ("Ilvane", "right")], ["Ilvane"]),
    "a retorque by distance, from an odometer reading": lambda: (
        group_with(retorque_kilometres=100)["retorque_once"], [e["kilometres"] for e in kind("machine_use")]) == (
        True, [61_240]),
    "a slow clock": slow_clock,
    "a kind of entry not known here": lambda: {e["kind"] for e in LOG} - set(kinds.KINDS) == {"colour_note"},
}


@pytest.mark.parametrize("case", CASES)
def test_awkward_case_is_there(case):
    assert CASES[case]()


def test_readme_lists_the_awkward_cases():
    table = (DEMO / "README.md").read_text(encoding="utf-8").split("## Awkward cases")[1].split("\n## ")[0]
    assert re.findall(r"^\| (.+?) \|", table, re.M)[1:] == list(CASES)


def test_readme_tells_the_sizes():
    told = re.search(r"(\d+) parts, (\d+) fasteners in (\d+) groups, (\d+) bags, (\d+) pictures, (\d+) open items "
                     r"\(one closed\), (\d+) entries", (DEMO / "README.md").read_text(encoding="utf-8"))
    group = things("group")
    assert told is not None
    assert [int(figure) for figure in told.groups()] == [
        len(PARTS), sum(g["count"] for g in group.values()), len(group), len(things("bag")), len(kind("photo")),
        len(things("item")), len(LOG)]


def test_builder_gives_the_same_log(tmp_path):
    subprocess.run([sys.executable, str(DEMO / "build.py"), "--into", str(tmp_path)], check=True)
    assert (tmp_path / "entries.jsonl").read_bytes() == (DEMO / "entries.jsonl").read_bytes()


@pytest.mark.parametrize("log", [LOG, TINY], ids=["demo", "tiny"])
def test_every_entry_passes(log):
    assert [(entry["id"], found) for entry in log if (found := rules.check(entry))] == []
    assert log == sorted(log, key=lambda entry: (entry["at"], entry["id"]))
    assert len({entry["id"] for entry in log}) == len(log)


def test_story_in_numbers():
    assert [e["act"] for e in kind("work")] == ["begins", "ends"] * 3
    assert Counter(e["who"] for e in LOG).keys() == {"Ilvane", "Torrec"}
    assert len({e["by"] for e in LOG}) == 2
    with_torque = [g for g in things("group").values() if "torque_page" in g]
    assert len(with_torque) >= 20


def test_photos_are_what_the_entries_say():
    named = {e["sha256"]: e for e in kind("photo")}
    assert {path.stem for path in (DEMO / "photos").iterdir()} == set(named)
    for sha256, entry in named.items():
        path = DEMO / "photos" / f"{sha256}.jpg"
        content = path.read_bytes()
        with Image.open(path) as picture:
            assert (picture.format, picture.size) == ("JPEG", (entry["width"], entry["height"]))
        assert hashlib.sha256(content).hexdigest() == sha256
        assert len(content) == entry["bytes"] <= 60_000
        assert entry["width"] == 1200


def test_pictures_can_be_drawn_anew(monkeypatch):
    monkeypatch.syspath_prepend(str(DEMO))
    import pictures
    listed = json.loads((DEMO / "pictures.json").read_text(encoding="utf-8"))
    assert list(listed) == list(pictures.DRAWINGS)
    drawn = {name: pictures.jpeg(name) for name in pictures.DRAWINGS}
    assert len(set(drawn.values())) == len(drawn)
    assert all(content[:3] == b"\xff\xd8\xff" and len(content) <= 60_000 for content in drawn.values())


class Door:
    """The core's door with one log loaded."""

    def __init__(self, log):
        self.call = phone.start(lambda: pytest.fail("views make no ids"))
        self.strip = log[0]["strip"]
        self.answer("load", entries=log)

    def answer(self, name, **arguments):
        return json.loads(self.call(name, json.dumps({"strip": self.strip} | arguments)))["result"]

    def view(self, name, **arguments):
        return self.answer("view", view=name, **arguments)


@pytest.fixture(scope="module")
def door():
    return Door(LOG)


@pytest.fixture(scope="module")
def exact(door):
    return door.view("exact")


def agrees(pair, expected):
    """A (grams, standard uncertainty) pair with the sheet's (grams, expanded uncertainty)."""
    if pair is None or expected is None:
        return pair is expected
    return [pair[0], 2 * pair[1]] == pytest.approx(expected, rel=1e-6, abs=1e-6)


@pytest.mark.parametrize("name", EXPECTED["lines"])
def test_line_agrees_with_the_sheet(exact, name):
    line, expected = exact["lines"][IDS[name]], EXPECTED["lines"][name]
    for column, ours in (("off", "off"), ("on", "on"), ("change", "came_in"), ("standard_change", "standard"),
                         ("spell_change", "spell")):
        assert agrees(line[column], expected[ours]), (column, line[column], expected[ours])


def test_the_sheet_has_every_part():
    assert set(EXPECTED["lines"]) == set(IDS)


@pytest.mark.parametrize("which", EXPECTED["sums"])
def test_sum_agrees_with_the_sheet(exact, which):
    assert agrees(exact[which], EXPECTED["sums"][which])
    assert exact["unweighed"] == EXPECTED["unweighed"]


@pytest.mark.parametrize("which", EXPECTED["sums"])
def test_shown_sum_is_the_sheet_rounded(door, which):
    shown = door.view("strip")["sums"][which]
    for field, expected in zip(("value", "plus_minus"), EXPECTED["sums"][which], strict=True):
        whole, _, decimals = shown["plus_minus"].partition(".")
        # Noughts at the end of a whole number tell nothing.
        last_digit = 10.0 ** (-len(decimals) if decimals else len(whole) - len(whole.rstrip("0")))
        in_unit = expected / {"g": 1, "kg": 1000}[shown["unit"]]
        # An uncertainty may be rounded up; a value is rounded to the nearest.
        assert abs(float(shown[field]) - in_unit) <= last_digit * (0.5 if field == "value" else 1.0) + 1e-9


def test_fasteners_agree_with_the_sheet(door, exact):
    expected, found = EXPECTED["fasteners"], exact["groups"].values()
    assert sum(group["count"] for group in found) == expected["taken_in"]
    assert sum(group["on"] for group in found) == expected["on_the_machine"]
    places = {(p["where"], p["label"]): p["count"] for p in door.view("off")["places"]}
    assert places == {("bag", label): n for label, n in expected["bags"].items()} | {
        (where, None): expected[where] for where in ("spares", "scrapped", "lost")}
    counts = door.view("strip")["counts"]
    assert (counts["fasteners"], counts["fasteners_out"]) == (expected["taken_in"], expected["out"])


def test_fasteners_in_the_log_agree_with_the_sheet():
    """The sheet's new and unused stock, from the moves themselves."""
    expected = EXPECTED["fasteners"]
    from_stock = sum(m["count"] for m in kind("move") if (m["from"], m["to"]) == ("stock", "machine"))
    in_new_parts = sum(g["count"] for g in things("group").values() if PARTS[g["part"]].get("came_in") == "new")
    replaced = moved("Rear suspension units", **{"from": "stock"})
    assert from_stock == expected["new_on_the_machine"]
    assert in_new_parts + replaced - from_stock == expected["in_stock"]


def test_counts_agree_with_the_sheet(door):
    counts = door.view("strip")["counts"]
    assert {name: counts[name] for name in EXPECTED["counts"]} == EXPECTED["counts"]


def test_tiny_log_comes_to_what_its_readme_says():
    exact = Door(TINY).view("exact")
    for which in ("spell", "came_in", "standard"):
        assert agrees(exact[which], [-300, 3.651484])
    (group,) = exact["groups"].values()
    assert (group["count"], group["on"]) == (4, 0)
    assert [place[::2] for place in group["elsewhere"]] == [["bag", 4]]
