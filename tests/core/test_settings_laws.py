"""Laws of settings, tried on random logs: the state at a moment is the fold until then, and going back leads back."""

import json

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from random_logs import STRIP, logs, own_fields

from cotterbook.core.limits import READ_IN
from cotterbook.core.settings import at_end_of, settings_of, standing, unit_of
from cotterbook.core.settings_cautions import CAUTIONS
from cotterbook.core.settings_rules import AS_FOUND, BOUNDS, READS, rounded_value, setting_shown
from cotterbook.core.strip import Strip
from cotterbook.core.views import VIEWS
from cotterbook.core.words import spoken
from vectors.cases import FIRST_AT, identifier

SETTINGS = [identifier(f"@setting {n}") for n in range(3)]
UNITS = ("clicks", "turns", "kilopascals", "in_words")
figure = st.sampled_from([0, 1, 2, 12, 15])
value_of = {"clicks": figure, "turns": figure.map(lambda n: n / 4), "kilopascals": figure.map(lambda n: n * 6.894757),
            "in_words": st.sampled_from(["second notch", "third"])}  # fmt: skip


@st.composite
def set_of_a_setting(draw):
    """What one phone writes of a setting: its description, how it was found, how it stands; some with open eyes."""
    unit = draw(st.sampled_from(UNITS))
    described = {
        "adjusted": st.just("other"), "measured_in": st.just(unit),
        "counted": st.sampled_from(["out_from_in", "in_from_out"]),
        "inwards_is": st.sampled_from(["harder", "softer"]), "as_found_unknown": st.booleans(),
        "side": st.sampled_from(["left", "right"]), AS_FOUND + unit: value_of[unit], unit: value_of[unit],
    }  # fmt: skip
    values = draw(st.fixed_dictionaries({}, optional=described).filter(bool))
    seen = [identifier(f"@entry {n}", FIRST_AT + n) for n in draw(st.lists(st.integers(0, 30), max_size=2))]
    saw = {"saw": {unit: seen}} if seen else {}
    return {"kind": "set", "thing": draw(st.sampled_from(SETTINGS)), "type": "setting", "values": values, **saw}


of_settings = set_of_a_setting()
strikes = st.builds(lambda n: {"kind": "strike", "entry": n, "why": "slip"}, st.integers(0, 30))
begins = st.just({"kind": "work", "spell": identifier("@spell"), "act": "begins"})
setting_logs = logs(st.one_of(of_settings, of_settings, of_settings, strikes, begins, own_fields))


def folded(entries):
    strip = Strip(STRIP)
    strip.add(entries)
    return strip


def shown(strip, **arguments):
    view = VIEWS["settings"](strip, arguments)
    json.dumps(view)
    return view


def told(stands):
    return (stands.unit, stands.now, stands.disputed, stands.found, stands.found_disputed, stands.nobody_knows)


def until(entries, moment):
    """The entries until a moment; of later ones the strikes, and what they say of the past: all but how it stands."""
    fields = {row[0] for row in READ_IN}
    kept = []
    for entry in entries:
        if entry["at"] > moment and entry["kind"] == "set" and entry["type"] == "setting":
            past = {name: entry["values"][name] for name in entry["values"] if name not in fields}
            kept.append(entry | {"values": past or {"note": "nothing of the past"}})
        else:
            kept.append(entry)
    return kept


@given(setting_logs, st.integers(-1, 22))
@settings(max_examples=300, deadline=None)
def test_a_setting_at_a_moment_is_the_fold_of_the_entries_until_then(entries, tick):
    moment = FIRST_AT + tick
    whole, then = folded(entries), folded(until(entries, moment))
    for setting in settings_of(whole):
        assert told(standing(whole, setting, at_end_of(moment))) == told(standing(then, then.thing(setting.id)))


@given(setting_logs, st.randoms())
@settings(max_examples=150, deadline=None)
def test_settings_depend_on_the_entries_not_on_the_order_they_came_in(entries, random):
    shuffled = list(entries)
    random.shuffle(shuffled)
    one_by_one = Strip(STRIP)
    for entry in shuffled:
        one_by_one.add([entry])
        shown(one_by_one)  # what is worked out in between must not linger
    asked = {"until_ms": FIRST_AT + 9, "now_ms": FIRST_AT + 10**9}
    assert shown(one_by_one, **asked) == shown(folded(entries), **asked)


def gone_back(entries, strip, moment=None):
    """The log after somebody went back with every setting whose way back is known, all of it with open eyes."""
    more = []
    rows = (
        shown(strip)["settings"] if moment is None else shown(strip, until_ms=moment, now_ms=10**14)["day"]["settings"]
    )
    for n, row in enumerate(rows):
        if row["back"]["state"] != "differs":
            continue
        setting = strip.thing(row["setting"])
        then = standing(strip, setting, None if moment is None else at_end_of(moment))
        target = then.found if moment is None else then.now
        unit = unit_of(setting)
        field = setting.fields.get(unit)
        saw = {unit: [head["id"] for head in field.heads]} if field else {}
        more.append({"id": identifier(f"@back {n}"), "strip": STRIP, "at": FIRST_AT + 1000, "by": identifier("@phone"),
                     "who": "Ann", "kind": "set", "thing": setting.id, "type": "setting", "values": {unit: target},
                     "saw": saw})  # fmt: skip
    return entries + more, [entry["thing"] for entry in more]


@given(setting_logs)
@settings(max_examples=150, deadline=None)
def test_whoever_goes_back_has_it_as_found(entries):
    after, moved = gone_back(entries, folded(entries))
    for card in shown(folded(after))["settings"]:
        if card["setting"] in moved:
            assert card["back"]["state"] == "same" and not card["changed"] and card["now"] == card["found"]


@given(setting_logs, st.integers(-1, 22))
@settings(max_examples=150, deadline=None)
def test_whoever_goes_back_to_a_day_has_it_as_on_that_day(entries, tick):
    moment = FIRST_AT + tick
    after, moved = gone_back(entries, folded(entries), moment)
    view = shown(folded(after), until_ms=moment, now_ms=10**14)
    rows = {row["setting"]: row for row in view["day"]["settings"]}
    for card in view["settings"]:
        if card["setting"] in moved:
            assert rows[card["setting"]]["back"]["state"] == "same"
            assert rows[card["setting"]]["shown"] == card["now"]


@given(setting_logs)
@settings(max_examples=150, deadline=None)
def test_the_difference_that_is_said_leads_from_now_to_as_found(entries):
    """The words themselves are taken at their word: so much in or out, more or less, as it is counted."""
    strip = folded(entries)
    for card in shown(strip)["settings"]:
        back, values = card["back"], strip.thing(card["setting"]).values
        if back["state"] != "differs" or card["unit"] == "in_words":
            continue
        amount = float(back["says"]["values"].get("amount", {"value": "nan"})["value"])
        text = back["says"]["text"]
        sign = {"in": 1, "out": -1}.get(text.split("{amount} ")[-1].split(",")[0].split(":")[0], 0)
        if values.get("counted") == "out_from_in":
            sign = -sign
        if "more" in text or "less" in text:
            sign = 1 if "more" in text else -1
        if sign:
            assert float(card["now"]["value"]) + sign * amount == float(card["found"]["value"])
        else:
            assert values.get("counted") is None or card["unit"] not in ("clicks", "turns")


@given(setting_logs)
@settings(max_examples=100, deadline=None)
def test_changed_is_what_would_have_to_be_set_back(entries):
    view = shown(folded(entries))
    differing = [card for card in view["settings"] if card["back"]["state"] == "differs"]
    undisputed = [card for card in view["settings"] if card["changed"] and not card["disputed"]]
    assert differing == undisputed
    assert view["changed"] == sum(card["changed"] for card in view["settings"])
    short = VIEWS["strip"](folded(entries), {})["settings"]
    assert short == {"count": len(view["settings"]), "changed": view["changed"]}


def test_the_tables_agree():
    codes = {row[0] for row in READ_IN}
    assert set(READS) == set(CAUTIONS)
    assert all(set(units) <= codes for units in READS.values())
    kinds = {row[0]: row for row in READ_IN}
    for (adjusted, unit), (low, high) in BOUNDS.items():
        assert unit in READS[adjusted]
        assert kinds[unit][2][0] <= low < high <= kinds[unit][2][1]


@pytest.mark.parametrize(("unit", "value", "said"), [
    ("clicks", 10, "10 clicks"), ("clicks", 1, "1 one_click"), ("turns", 2.125, "2.125 turns"),
    ("turns", 2.5, "2.5 turns"),
    ("kilopascals", 250.0, "250 kPa"), ("kilopascals", 1000.4, "1000 kPa"), ("percent", -1.25, "-1.25 %"),
    ("millimetres", 31.75, "31.8 mm"), ("revolutions_per_minute", 1200, "1200 rpm"), ("degrees", 0, "0 degrees"),
])  # fmt: skip
def test_figures_are_shown_whole_and_as_fine_as_they_are_read(unit, value, said):
    assert spoken({"text": "{x}", "values": {"x": setting_shown(unit, value)}}) == said
    assert float(setting_shown(unit, value)["value"]) == rounded_value(unit, value)


def test_no_caution_says_that_something_is_safe_or_legal():
    said = "".join(text for text, _ in CAUTIONS.values()).lower()
    assert "legal" not in said
    assert "safe" not in said
