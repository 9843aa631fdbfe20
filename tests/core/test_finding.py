"""The search: everything is found by its own name, however it is written, and an index kept is one made anew."""

import json
import re
import unicodedata
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from random_logs import logs

from cotterbook.core.find_cautions import cautions_found_view, places_with, rules_with
from cotterbook.core.find_docs import CHOICES, to_be_spoken
from cotterbook.core.find_index import Index, index_of
from cotterbook.core.find_near import is_near
from cotterbook.core.find_search import Found
from cotterbook.core.find_words import asked, fold
from cotterbook.core.find_writings import called, writings
from cotterbook.core.limits import PLACES_ON_MACHINE
from cotterbook.core.place_cautions import PLACE_CAUTIONS
from cotterbook.core.strip import Strip
from cotterbook.core.things import THINGS
from cotterbook.core.threads import THREADS
from cotterbook.core.views import VIEWS
from cotterbook.core.views_find import AT_ONCE, around, find_view
from vectors.cases import FIRST_AT, identifier

DEMO = Path(__file__).resolve().parents[2] / "demo_data" / "entries.jsonl"
LABELS = Path(__file__).resolve().parents[2] / "webui" / "labels.js"
STRIP = identifier("@strip")
# Whatever has a letter or a figure; what is all marks has no words to be found by, and signs for machines no entry has.
letters = st.characters(exclude_categories=("Cc", "Cs"))
names = st.text(letters, min_size=1, max_size=40).filter(lambda text: any(each.isalnum() for each in fold(text)))


def strip_of(named: list[dict[str, Any]]) -> Strip:
    """A strip-down of things: {"type", "values"} each, with the id "@thing N"."""
    strip = Strip(STRIP)
    strip.add([
        {"id": identifier(f"@entry {n}"), "strip": STRIP, "kind": "set", "at": FIRST_AT + n, "by": identifier("@phone"),
         "who": "Ann", "thing": identifier(f"@thing {n}"), "type": each["type"], "values": each["values"]}
        for n, each in enumerate(named)])
    return strip


def found(strip: Strip, typed: str) -> set[str]:
    """Ids of all that a search finds."""
    answer = find_view(strip, {"typed": typed})
    whole = [find_view(strip, {"typed": typed, "only": kind["kind"]}) for kind in answer["kinds"]]
    return {row["id"] for each in whole for kind in each["kinds"] for row in kind["rows"]}


@given(st.lists(names, min_size=1, max_size=6))
@settings(max_examples=150)
def test_every_name_finds_its_thing(texts):
    things = [{"type": "part", "values": {"name": text}} for text in texts]
    strip = strip_of(things)
    for n, text in enumerate(texts):
        assert identifier(f"@thing {n}") in found(strip, text)
        # As another keyboard writes it: the letters whose marks the core knows.
        if max(text) < "\u0500":
            assert identifier(f"@thing {n}") in found(strip, unicodedata.normalize("NFD", text))


@given(names)
def test_folding_twice_is_folding_once(text):
    assert fold(fold(text)) == fold(text)


def test_folding_twice_is_folding_once_for_every_letter():
    letters = [chr(code) for code in range(0x20, 0x3100) if code < 0xD800]
    for text in letters + [f"a{each}b 1{each}2 m8{each}25" for each in letters]:
        assert fold(fold(text)) == fold(text), ascii(text)


def test_a_dot_of_hindi_is_found_however_it_was_typed_or_left_out():
    strip = strip_of([{"type": "part", "values": {"name": "फ़्लैंज"}}])
    for typed in ("\u092b\u093c\u094d\u0932", "\u095e\u094d\u0932", "\u092b\u094d\u0932"):
        assert found(strip, typed) == {identifier("@thing 0")}


@given(st.sampled_from(THREADS), st.sampled_from([None, 6, 12.5, 25, 25.4, 31.75, 100]))
def test_every_standard_thread_is_found_as_it_is_called_and_written(thread, length):
    values = {"part": identifier("@thing 0"), "count": 4, "thread": thread.name, "length_millimetres": length}
    strip = strip_of([{"type": "part", "values": {"name": "Cover"}}, {"type": "group", "values": values}])
    ways = [thread.name, thread.name.lower(), thread.name.replace("×", " x ")]
    if length and thread.metric:
        ways += [f"{thread.name}x{length}", f"{thread.name} × {length}".replace(".", ",")]
    for way in ways:
        assert identifier("@thing 1") in found(strip, way), way


def test_the_demo_finds_each_of_its_things_by_its_own_words():
    entries = [json.loads(line) for line in DEMO.read_text(encoding="utf-8").splitlines()]
    strip = Strip(entries[0]["strip"])
    strip.add(entries)
    fields = {"part": "name", "bag": "label", "item": "text", "tool": "name", "scale": "name"}
    for thing_type, field in fields.items():
        for thing in strip.of_type(thing_type):
            if thing.values.get(field):
                assert thing.id in found(strip, thing.values[field])
    for group in strip.of_type("group"):
        assert group.id in found(strip, writings(group.values)[0].split(" ")[0] or group.values["key"])


@given(logs(), st.integers(0, 30))
@settings(max_examples=60)
def test_an_index_brought_up_to_date_is_one_made_anew(entries, after):
    grown, anew = Strip(STRIP), Strip(STRIP)
    grown.add(entries[:after])
    index_of(grown).refresh(grown)
    grown.add(entries[after:])
    index_of(grown).refresh(grown)
    anew.add(entries)
    index_of(anew).refresh(anew)
    assert index_of(grown).docs == index_of(anew).docs and index_of(grown).ranges == index_of(anew).ranges


def test_no_other_screen_makes_an_index():
    strip = strip_of([{"type": "part", "values": {"name": "Seat"}}])
    for name in ("strip", "off", "back", "statement", "open_items", "handover"):
        VIEWS[name](strip, {"now_ms": FIRST_AT})
    assert strip.found_by is None


def test_an_index_is_made_ahead_some_things_at_a_time():
    strip = strip_of([{"type": "part", "values": {"name": f"Clip {n}"}} for n in range(3 * AT_ONCE)])
    asked_ahead = [find_view(strip, {"typed": " "})["ready"] for _ in range(5)]
    assert asked_ahead == [False, False, False, True, True]
    # Whoever types before it is made gets all of it.
    other = strip_of([{"type": "part", "values": {"name": f"Clip {n}"}} for n in range(3 * AT_ONCE)])
    assert find_view(other, {"typed": "clip"})["count"] == 3 * AT_ONCE


SLIPS = ("other", "less", "more", "swapped")


@given(st.text("abcde", min_size=6, max_size=9), st.integers(0, 8), st.sampled_from(SLIPS))
def test_one_slip_is_near(word, at, slip):
    at = min(at, len(word) - 2)
    slips = {
        "other": word[:at] + "z" + word[at + 1 :],
        "less": word[:at] + word[at + 1 :],
        "more": word[:at] + "z" + word[at:],
        "swapped": word[:at] + word[at + 1] + word[at] + word[at + 2 :],
    }
    if len(slips[slip]) >= 6:
        assert is_near(slips[slip], word)
    strip = strip_of([{"type": "part", "values": {"name": word}}])
    assert found(strip, slips[slip]) == {identifier("@thing 0")}


@pytest.mark.parametrize("other", ["xxxxx", "brxke", "kabre", "brazzing"])
def test_two_slips_are_not(other):
    assert not is_near("brakes", other)


@given(st.text(max_size=400), st.text(max_size=10))
def test_a_note_is_shown_where_its_words_stand(text, word):
    shown = around(text, asked(word))
    assert len(shown) <= 142 and shown.strip("…") in text
    if word and word == word.lower() and word in text and len(asked(word)) == 1 and asked(word)[0] == word:
        assert len(text) <= 140 or word in shown.lower() or " " in word


def test_choices_are_found_by_the_words_on_the_screens():
    words = dict(re.findall(r'(?:^|[ {,])"?([a-z_]+)"?: "([^"]*)"', LABELS.read_text(encoding="utf-8"), re.M))
    fields = ("place", "side", "outcome", "gone", "head", "finish", "into", "replace_each_time", "adjusted",
              "tool_type", "what", "torque_condition")  # fmt: skip
    rows = [row for of_type in THINGS.values() for row in of_type if row[0] in fields and row[1] == "choice"]
    codes = {code for row in rows for code in row[3]}
    assert len(codes) > 60
    lacking = {code: words[code] for code in codes if code in words
               and not set(fold(words[code]).split()) <= set(fold(called(code)).split())}
    assert lacking == {}


def german() -> dict[str, str]:
    """What the pages tell a search that is read in German."""
    texts = json.loads((LABELS.parent / "languages" / "de.json").read_text(encoding="utf-8"))
    words = dict(re.findall(r'(?:^|[ {,])"?([a-z_.]+)"?: "([^"]*)"', LABELS.read_text(encoding="utf-8"), re.M))
    wanted = to_be_spoken()
    labels = {code: words.get(f"{field}.{code}") or words[code] for field, code in wanted["choices"]}
    return {code: texts[word] for code, word in labels.items()} | {text: texts[text] for text in wanted["texts"]}


def test_each_choice_is_found_by_its_word_in_the_language_that_is_read_and_by_the_english_one():
    spoken = german()
    for of_type, field in CHOICES:
        for code in next(row[3] for row in THINGS[of_type] if row[0] == field):
            values = {field: code} | {"part": {"name": "Thing"}, "item": {"text": "Thing"}}.get(of_type, {})
            if field == "torque_condition":
                values |= {"torque_page": "Thing"}
            strip = strip_of([{"type": of_type, "values": values}])
            for told, word in ((spoken, spoken[code]), (spoken, called(code)), (None, called(code))):
                assert find_view(strip, {"typed": word, "spoken": told})["count"] > 0, (field, code, word)


def test_another_language_is_taken_in_at_once_and_left_again():
    strip = strip_of([
        {"type": "part", "values": {"name": "Cover", "side": "left"}},
        {"type": "bag", "values": {"label": "007"}},
    ])
    assert find_view(strip, {"typed": "links"})["count"] == 0
    assert find_view(strip, {"typed": "links", "spoken": german()})["count"] == 1
    assert find_view(strip, {"typed": "Beutel 007", "spoken": german()})["opens"] == {"screen": "bag", "of": "007"}
    assert find_view(strip, {"typed": "bag 007", "spoken": german()})["opens"] == {"screen": "bag", "of": "007"}
    assert find_view(strip, {"typed": "links"})["count"] == 0
    assert find_view(strip, {"typed": "Beutel 007"})["opens"] is None


@pytest.mark.parametrize("spoken", [[], 7, "de", {"left": None, "Bag": 7, "tank": {"a": 1}}])
def test_words_of_a_language_that_are_none_change_nothing(spoken):
    strip = strip_of([{"type": "part", "values": {"name": "Cover", "side": "left", "place": "tank"}}])
    assert find_view(strip, {"typed": "left tank", "spoken": spoken})["count"] == 1


def test_cautions_that_follow_are_found_by_a_word_of_their_sentence_once_for_all_parts():
    named = [{"type": "part", "values": {"name": name, "off": True, "outcome": "stays_off", "outcome_done": True}}
             for name in ("Front mudguard", "Rear mudguard")]
    strip = strip_of(named)
    for typed, spoken in (("plates", None), ("hose", None), ("HOSE lead", None), ("Schlauch", german())):
        answer = find_view(strip, {"typed": typed, "spoken": spoken})
        rows = cautions_found_view(strip, {"typed": typed, "spoken": spoken})["rows"]
        assert answer["cautions"] is bool(rules_with(asked(typed), spoken) or places_with(asked(typed), spoken))
        assert [row["id"] for row in rows] == ([] if typed == "plates" else ["free_line"])
    assert rows[0]["beside"] == ["Front mudguard", "Rear mudguard"]
    assert rows[0]["now"]["values"] == {"n": 2, "all": 2}
    # What does not follow is not told, and one or two letters say nothing.
    assert cautions_found_view(strip, {"typed": "brake fluid"})["rows"] == []
    assert not find_view(strip, {"typed": "it"})["cautions"]


def test_the_caution_of_a_place_is_found_where_parts_of_it_are_written_down():
    parts = [{"type": "part", "values": {"name": name, "place": "tank"}} for name in ("Tap", "Cap", "Pump", "Seal")]
    strip = strip_of(parts)
    for typed, spoken in (("spark", None), ("Flamme", german())):
        assert find_view(strip, {"typed": typed, "spoken": spoken})["cautions"]
        [row] = cautions_found_view(strip, {"typed": typed, "spoken": spoken})["rows"]
        assert row["id"] == "at_tank" and row["title"] == PLACE_CAUTIONS["tank"]
        assert (row["screen"], row["of"]) == ("part", strip.of_type("part")[0].id)
        assert row["beside"][:3] == ["Tap", "Cap", "Pump"] and row["beside"][3]["values"] == {"n": 1}
    # Nothing of the fork is written down.
    assert cautions_found_view(strip, {"typed": "springs hold"})["rows"] == []
    assert set(PLACE_CAUTIONS) < set(PLACES_ON_MACHINE)


@given(st.text(max_size=60) | st.none() | st.integers())
def test_whatever_is_typed_gets_an_answer(typed):
    strip = strip_of([{"type": "part", "values": {"name": "Ünder tray 8x25"}}])
    json.dumps(find_view(strip, {"typed": typed}))
    assert Found(Index(), asked(typed)).count == 0
