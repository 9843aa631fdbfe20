"""The torque card: the manual's word as it was written, guidance apart from it, and the act that writes it down."""

import json
from itertools import count

import pytest

from cotterbook.core import phone
from cotterbook.core.shown_torque import known
from cotterbook.core.words import spoken
from vectors.cases import FIRST_AT, identifier

STRIP, PART, GROUP = identifier("@strip"), identifier("@part"), identifier("@group")
KNOWN = {
    "thread": "M8", "thread_confirmed": True, "head": "hex", "grade": "8.8", "finish": "zinc", "into": "steel",
    "engagement_millimetres": 16,
}  # fmt: skip
FIELDS = "torque_low_newton_metres", "torque_high_newton_metres", "torque_tolerance_newton_metres"


class Card:
    """A phone with one group, and its torque card."""

    def __init__(self, part=None, **group):
        numbers = count()
        self.call = phone.start(lambda: identifier(f"new {next(numbers)}"))
        self.entries, self.at = [], FIRST_AT
        self.put(STRIP, "strip", {"name": "Bench"})
        self.put(PART, "part", {"name": "Panel", "place": "side"} | (part or {}))
        self.put(GROUP, "group", {"part": PART, "count": 6} | group)

    def put(self, thing, type_, values, by="@phone"):
        self.at += 1000
        entry = {"strip": STRIP, "by": identifier(by), "who": "Ann", "kind": "set", "thing": thing, "type": type_}
        self.load([entry | {"values": values, "id": identifier(f"@e{self.at}"), "at": self.at}])

    def load(self, entries):
        self.call("load", json.dumps({"strip": STRIP, "entries": entries}))

    def view(self, group=GROUP):
        return json.loads(self.call("view", json.dumps({"strip": STRIP, "view": "torque", "group": group})))["result"]

    def act(self, name, **form):
        self.at += 1000
        stamp = {"now": self.at, "device": identifier("@phone"), "who": "Ann"}
        answer = json.loads(self.call("act", json.dumps({"act": name, "form": {"strip": STRIP} | form} | stamp)))
        self.load(answer.get("result", {}).get("entries", []))
        return answer

    def specify(self, **form):
        """The answer to the card's form with these changes."""
        return self.act("specify", group=GROUP, **(self.view()["form"] | form))

    def written(self, **form):
        return self.specify(**form)["result"]["entries"][0]["values"]


@pytest.mark.parametrize(
    ("torque", "tolerance", "shown"),
    [
        ("8", "0.5", ("10.85", "0.68")),
        ("100", "5", ("135.6", "6.8")),
        ("1000", "200", ("1356", "271")),
        ("100", "0.01", ("135.6", "0.014")),
    ],
)
def test_a_tolerance_in_another_unit_is_shown_no_finer_than_its_torque(torque, tolerance, shown):
    """1 lbf ft is 1.355 818 N m (NIST SP 811, B.8)."""
    card = Card()
    card.specify(torque=torque, torque_unit="lbf.ft", torque_tolerance=tolerance)
    spec = card.view()["specification"]["shown"]
    assert tuple(spec[name]["newton_metres"]["value"] for name in ("low", "tolerance")) == shown
    assert tuple(spec[name]["own"]["value"] for name in ("low", "tolerance")) == (torque, tolerance)


def test_nothing_is_known_of_a_group_that_is_not_in_the_log():
    assert Card().view(PART) is Card().view(identifier("@nothing")) is Card().view(7) is None


def test_a_torque_is_kept_as_it_was_written_and_shown_in_its_unit():
    """4.5 kgf.m is 44.13 N.m (9.80665 exactly); 10 % of it on either side is common practice, no source."""
    card = Card()
    values = card.written(torque="4.5", torque_unit="kgf.m", torque_page="book 7-3", torque_condition="dry")
    assert values["torque_as_written"] == "4.5 kgf.m"
    spec = card.view()["specification"]
    assert spec["low"] == spec["high"] == pytest.approx(44.129925)
    assert spec["unit"] == "kgf.m" and spec["shown"]["low"]["newton_metres"]["value"] == "44.13"
    assert spec["shown"]["low"]["own"] == {"value": "4.5", "plus_minus": None, "unit": "kgf.m"}
    assert spec["shown"]["accepted"]["low"]["value"] == "4.05" and "10 %" in spoken(spec["assumed"])
    assert (spec["page"], spec["condition"]) == ("book 7-3", "dry")


def test_a_form_that_was_not_touched_writes_nothing():
    card = Card()
    card.specify(torque="18,437", torque_high="22", torque_unit="lbf.ft", torque_steps="5 10,5", torque_angle="90")
    card.specify(prevailing="1.5", pattern="ring")
    assert [each["code"] for each in card.specify()["problems"]] == ["nothing"]
    assert card.view()["specification"]["as_written"] == "5 10,5 → 18,437 – 22 lbf.ft"


def test_only_what_changed_is_written_and_says_what_was_seen():
    card = Card()
    card.specify(torque="24", torque_tolerance="2", torque_page="book 1")
    fields = card.view()["fields"]
    page = [head["entry"] for head in fields["torque_page"]["heads"]]
    entry = card.specify(torque_page="book 2", saw={"torque_page": page})["result"]["entries"][0]
    assert entry["values"] == {"torque_page": "book 2"} and entry["saw"] == {"torque_page": page}
    assert card.view()["specification"]["as_written"] == "24 ± 2 N.m"


def test_a_specification_is_taken_back_by_blanks():
    card = Card()
    card.specify(torque="24", torque_tolerance="2", torque_steps="10", torque_angle="60")
    blank = dict.fromkeys(("torque", "torque_tolerance", "torque_steps", "torque_angle"), "")
    values = card.written(**blank)
    assert all(values[name] is None for name in (FIELDS[0], FIELDS[2], "torque_as_written", "torque_angle_degrees"))
    assert card.view()["specification"] is None


@pytest.mark.parametrize(
    ("form", "field", "code"),
    [
        ({"torque": "30", "torque_high": "20"}, "torque", "range_reversed"),
        ({"torque": "20", "torque_tolerance": "20"}, "torque_tolerance", "tolerance_too_wide"),
        ({"torque": "20", "torque_high": "24", "torque_tolerance": "1"}, "torque_tolerance", "range_or_tolerance"),
        ({"torque": "much"}, "torque", "not_a_number"),
        ({"torque": "5000"}, "torque", "out_of_range"),
        ({"torque_angle": "90"}, "torque", "missing"),
        ({"torque_steps": "10 20"}, "torque", "missing"),
        ({"torque": "20", "torque_steps": "1 2 3 4 5"}, "torque_steps", "not_a_list"),
        ({"torque": "20", "torque_unit": "stone"}, "torque", "unknown_unit"),
        ({"pattern": "heart"}, "pattern", "not_a_choice"),
        ({"prevailing": "501"}, "prevailing", "out_of_range"),
        ({"torque": "0"}, "torque", "out_of_range"),
        ({"torque": "0.000001"}, "torque", "out_of_range"),
        ({"torque": "-3"}, "torque", "out_of_range"),
        ({"torque": "nan"}, "torque", "not_a_number"),
        ({"torque": "1e999"}, "torque", "not_a_number"),
        ({"torque": "20 kg"}, "torque", "wrong_dimension"),
        ({"torque": "20", "torque_steps": "10 0.001"}, "torque_steps", "out_of_range"),
        ({"torque": "20", "torque_steps": "10 nan"}, "torque_steps", "not_a_number"),
        ({"torque": "20", "torque_angle": "-90"}, "torque_angle", "out_of_range"),
        ({"torque": "20", "torque_angle": "1081"}, "torque_angle", "out_of_range"),
        ({"torque": "20", "torque_condition": "wet"}, "torque_condition", "not_a_choice"),
    ],
)
def test_a_bad_specification_is_refused_whole(form, field, code):
    card = Card()
    problems = card.specify(**form)["problems"]
    assert (code, field) in [(each["code"], each["field"]) for each in problems]
    assert card.view()["specification"] is None


def test_a_single_value_that_is_corrected_stays_single():
    card = Card(torque_low_newton_metres=25, torque_high_newton_metres=25)
    unit = {FIELDS[0]: "N.m"}
    card.act("change", thing=GROUP, type="group", values={FIELDS[0]: "30"}, units=unit)
    spec = card.view()["specification"]
    assert (spec["low"], spec["high"], spec["as_written"]) == (30, 30, "30 N.m")


@pytest.mark.parametrize("name", FIELDS[1:])
def test_what_was_written_goes_when_one_figure_of_it_changes(name):
    card = Card()
    card.specify(torque="25")
    figure = "27" if name == FIELDS[1] else "2"
    card.act("change", thing=GROUP, type="group", values={name: figure}, units={name: "N.m"})
    assert card.view()["specification"]["as_written"] is None


def test_one_value_typed_as_both_ends_is_one_value():
    card = Card()
    assert card.written(torque="20", torque_high="20")[FIELDS[0]] == pytest.approx(20)
    assert card.view()["specification"]["low"] == card.view()["specification"]["high"] == pytest.approx(20)
    assert card.view()["form"]["torque_high"] == ""
    # Logged as a range of nothing it reads the same, and a form that was not touched writes nothing.
    older = Card(torque_low_newton_metres=20, torque_high_newton_metres=20)
    assert older.specify()["problems"][0]["code"] == "nothing"


def test_the_two_answers_are_named_by_their_field():
    card = Card(**KNOWN)
    card.put(GROUP, "group", {"thread_confirmed": False}, by="@other")
    why = [each["why"] for each in card.view()["why_no_guidance"] if each["code"] == "disputed"]
    assert why == [{"text": "Two answers stand for: {field}.", "values": {"field": {"field": "thread_confirmed"}}}]
    assert spoken(why[0]) == "Two answers stand for: thread confirmed."


def test_the_turn_comes_after_the_last_stage_and_a_rule_of_thumb_has_two_digits():
    """70 % of 136.7 lbf.ft is 95.69; a rule of thumb is not known to four digits (GUM 7.2.6)."""
    card = Card()
    card.specify(torque="123.4", torque_high="150", torque_unit="lbf.ft", torque_angle="60", pattern="ring")
    pattern = card.view()["pattern"]
    assert [each["shown"]["value"] for each in pattern["stages"]] == ["96", "136.7"]
    assert [each["also"]["value"] for each in pattern["stages"]] == ["130", "185.3"]
    assert pattern["angle_degrees"] == 60


def test_guidance_stands_apart_and_only_where_nothing_speaks_against_it():
    card = Card(**KNOWN)
    found = card.view()
    assert found["specification"] is None and found["why_no_guidance"] == []
    assert found["guidance"]["low"]["unit"] == "N.m"
    assert found["form"]["torque"] == "" and found["pattern"]["stages"] == []
    card.act("change", thing=PART, type="part", values={"place": "rear_brake"})
    found = card.view()
    assert found["guidance"] is None
    assert [each["code"] for each in found["why_no_guidance"]] == ["place"]
    assert [each["code"] for each in found["why_no_conversion"]] == ["place"]
    assert any("A second person" in each["text"] for each in found["cautions"])


def test_two_blind_answers_end_guidance_and_show():
    card = Card(**KNOWN)
    card.put(GROUP, "group", {"grade": "12.9"}, by="@other")
    found = card.view()
    assert found["disputed"] == ["grade"]
    assert (found["guidance"], [each["code"] for each in found["why_no_guidance"]]) == (None, ["disputed"])


def codes(card):
    found = card.view()
    assert (found["guidance"] is None) == (found["why_no_guidance"] != [])
    return [each["code"] for each in found["why_no_guidance"]], [each["code"] for each in found["why_no_conversion"]]


def test_a_gauge_held_to_one_thread_confirms_no_other():
    """Two phones: one confirms M8, the other, later, writes M10 and knows of no gauge."""
    card = Card(**KNOWN)
    assert codes(card) == ([], [])
    card.put(GROUP, "group", {"thread": "M10"})
    assert [each[-1] for each in codes(card)] == ["not_confirmed", "not_confirmed"]
    card.put(GROUP, "group", {"thread_confirmed": True})
    assert "not_confirmed" not in codes(card)[0] + codes(card)[1]
    # Confirmed before any thread stood there.
    card = Card(thread_confirmed=True)
    card.put(GROUP, "group", {name: KNOWN[name] for name in KNOWN if name != "thread_confirmed"})
    assert codes(card) == (["not_confirmed"], ["not_confirmed"])


def test_the_outside_of_one_part_is_not_that_of_another():
    card, other = Card({"name": "Belly pan", "place": "engine"}, **KNOWN), identifier("@other part")
    card.put(GROUP, "group", {"outside_engine": True})
    assert codes(card) == ([], [])
    card.put(other, "part", {"name": "Casing", "place": "engine"})
    saw = {"part": [card.view()["fields"]["part"]["heads"][0]["entry"]]}
    card.act("change", thing=GROUP, type="group", values={"part": other}, saw=saw)
    assert codes(card) == (["engine"], ["engine"])


def test_two_answers_to_whose_fasteners_they_are_end_guidance():
    """One phone has them on the rear brake; the newer of two blind answers does not win where a life hangs on it."""
    card, brake = Card(**KNOWN), identifier("@brake")
    card.put(brake, "part", {"name": "Bracket", "place": "rear_brake"})
    card.put(GROUP, "group", {"part": brake}, by="@other")
    card.put(GROUP, "group", {"part": PART})
    assert card.view()["part"] == PART
    assert codes(card) == (["disputed"], ["disputed"])


@pytest.mark.parametrize(
    ("name", "sits", "refused"),
    [
        ("BRAKE Calipers", None, True), ("front-axle clamp", None, True), ("Cylinder head", None, True),
        ("Bracket", "under the fork yoke", True), ("Rear sprocket", None, True),
        ("Sprocket cover", None, False), ("Side panels", "upper", False), ("Forklift sticker", None, False),
    ],
)  # fmt: skip
def test_a_part_filed_in_a_wrong_place_is_known_by_its_name(name, sits, refused):
    for place in ({"place": "side"}, {"place": "engine"}):
        card = Card({"name": name} | place, **KNOWN, outside_engine=True, **({"sits": sits} if sits else {}))
        assert codes(card) == ((["name"], ["name"]) if refused else ([], []))


def test_a_form_saved_with_both_answers_seen_settles_them_and_one_with_one_seen_does_not():
    card = Card()
    card.specify(torque="25", torque_page="book 1")
    before = [head["entry"] for head in card.view()["fields"]["torque_page"]["heads"]]
    card.put(GROUP, "group", {"torque_low_newton_metres": 30, "torque_page": "book 2"}, by="@other")
    seen = {name: [head["entry"] for head in field["heads"]] for name, field in card.view()["fields"].items()}
    assert set(card.view()["disputed"]) >= {"torque_low_newton_metres", "torque_page"}
    card.specify(prevailing="1", saw={"torque_page": before})
    assert "torque_page" in card.view()["disputed"]
    card.specify(saw=seen)
    assert card.view()["disputed"] == [] and card.view()["specification"]["low"] == 30


def test_the_pattern_has_its_order_in_words_and_stages_in_the_manuals_unit():
    """70 % first above 41 N.m (Army TM 5-3805-298-23-2); pairs as MIL-HDBK-60 5.7: 1 and 4 of six, then between."""
    card = Card()
    card.specify(torque="40", torque_unit="lbf.ft", pattern="ring")
    pattern = card.view()["pattern"]
    assert spoken(pattern["counted"]) == "Counted clockwise from the top."
    assert pattern["order"] == [1, 4, 2, 5, 3, 6]
    shown = [(each["shown"]["value"], each["shown"]["unit"]) for each in pattern["stages"]]
    assert shown == [("28", "lbf.ft"), ("40", "lbf.ft")]
    assert [spot["number"] for spot in pattern["places"]] == [1, 3, 5, 2, 4, 6]


@pytest.mark.parametrize(
    ("group", "words"),
    [
        ({"torque_low_newton_metres": 20, "torque_angle_degrees": 90}, "Tightened by angle"),
        ({"torque_low_newton_metres": 20, "torque_condition": "locking_compound"}, "until it is cured"),
        ({"torque_low_newton_metres": 20, "prevailing_newton_metres": 2}, "TB 43-0218"),
        ({"torque_low_newton_metres": 20, "torque_steps_newton_metres": [50]}, "A step lies above the last torque"),
        ({}, "Without the manual’s figure"),
    ],
)
def test_cautions_of_what_is_on_the_card(group, words):
    told = [spoken(each) for each in Card(**group).view()["cautions"]]
    assert told[0].startswith("The machine’s manual first")
    assert any(words in each for each in told)


def test_the_wrench_to_offer_is_the_last_used_where_it_reaches_and_the_next_that_does_elsewhere():
    card = Card(torque_low_newton_metres=44.0, torque_high_newton_metres=44.0)
    small, large = identifier("@small"), identifier("@large")
    card.put(small, "tool", {"name": "A", "low_newton_metres": 5, "high_newton_metres": 25})
    card.put(large, "tool", {"name": "B", "low_newton_metres": 20, "high_newton_metres": 110})
    assert card.view()["last_tool"] == large
    card.act("tighten", group=GROUP, count=6, torque="20", with_tool=small)
    assert card.view()["last_tool"] == large
    card.put(GROUP, "group", {"torque_low_newton_metres": 20.0, "torque_high_newton_metres": 20.0})
    assert card.view()["last_tool"] == small
    # The locking nut's own torque counts too: 20 and 8 are more than the small one reaches.
    card.put(GROUP, "group", {"prevailing_newton_metres": 8.0})
    assert card.view()["last_tool"] == large
    card.put(large, "tool", {"put_away": True})
    assert card.view()["last_tool"] == small


def test_a_gauge_confirms_what_was_on_that_screen():
    """One phone corrects the thread out of contact; another, later, confirms the old one that it still shows."""
    card = Card(**KNOWN | {"thread_confirmed": None})
    first = card.view()["fields"]["thread"]["heads"][0]["entry"]
    confirm = card.act("change", thing=GROUP, type="group", values={"thread_confirmed": True})["result"]["entries"][0]
    assert confirm["saw"]["thread"] == [first]
    assert codes(card) == ([], [])
    # The correction was made before the confirmation, and came in after it.
    correction = {
        "strip": STRIP, "by": identifier("@other"), "who": "Bo", "kind": "set", "thing": GROUP, "type": "group",
        "id": identifier("@correction"), "at": confirm["at"] - 1, "values": {"thread": "M8x1"},
        "saw": {"thread": [first]},
    }  # fmt: skip
    card.load([correction])
    assert codes(card) == (["not_confirmed"], ["not_confirmed"])
    # Struck again, what was confirmed stands as it was.
    card.act("strike", entry=correction["id"], why="the wrong group")
    assert codes(card) == ([], [])
    card.act("strike", entry=first, why="another thread")
    assert "not_confirmed" in codes(card)[0] or "unknown_thread" in codes(card)[0]


@pytest.mark.parametrize("expanded", [5e-324, 1e-310, 2.3e-308, 1e-300, 1e-9])
def test_the_smallest_uncertainty_that_a_number_can_be_is_shown_as_none_finer_than_ours(expanded):
    assert known(2000.0, expanded) == {"value": "2000.000", "plus_minus": "0.001", "unit": "N.m"}
