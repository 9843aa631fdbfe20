"""Tables for spreadsheets: their sums against the demo's, CSV by RFC 4180 as another reader takes it, no formulas."""

import csv
import io
import json
import re
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cotterbook.core import phone
from cotterbook.core.entries import check
from cotterbook.core.language import Language, language_of
from cotterbook.core.limits import TEXT_CHARACTERS
from cotterbook.core.spreadsheet import MARK, PARTING, cell_text, csv_lines, harmless, harmless_in_lines, moment
from cotterbook.core.strip import Strip
from cotterbook.core.views_tables import NAMES, table_view, tables_view
from cotterbook.core.words import say, spoken
from handed import handed, marked, unmarked
from vectors.cases import identifier

DEMO = Path(__file__).resolve().parents[2] / "demo_data"
LOG = [json.loads(line) for line in (DEMO / "entries.jsonl").read_text(encoding="utf-8").splitlines()]
EXPECTED = json.loads((DEMO / "expected_sums.json").read_text(encoding="utf-8"))
# OWASP, "CSV Injection"; ASVS 5.0, 1.2.10. The full-width ones: common practice, no source.
DANGEROUS = "=+-@\t\r＝＋－＠"


def folded(entries):
    strip = Strip(entries[0]["strip"])
    strip.add(entries)
    return strip


@pytest.fixture(scope="module")
def demo():
    return folded(LOG)


def read(table, delimiter=","):
    """The rows of a table's CSV as Python's own reader takes them, the heads first."""
    text = "".join(csv_lines(table))
    return list(csv.reader(io.StringIO(text.encode().decode("utf-8-sig"), newline=""), delimiter=delimiter))


def by_head(table):
    """The rows of its CSV, each by the head of its column."""
    heads, *rows = read(table)
    assert len(set(heads)) == len(heads) and {len(row) for row in rows} <= {len(heads)}
    return [dict(zip(heads, row, strict=True)) for row in rows]


def total(rows, head):
    return sum(float(row[head]) for row in rows if row[head])


def texts_of(*texts):
    """A table of one column of people's texts, between two columns of numbers."""
    heads = [{"key": key, "name": say(key), "unit": "", "kind": kind}
             for key, kind in (("part", "text"), ("grams", "number"), ("note", "text"))]
    return {"name": "notes", "title": say("Notes"), "heads": heads, "rows": [[each, -12.5, each] for each in texts]}


def test_the_lines_of_the_statement_add_up_to_the_sums_of_the_demo(demo):
    lines, sums = by_head(table_view(demo, {"table": "statement"})), by_head(table_view(demo, {"table": "sums"}))
    exact = {name: amount.grams for name, amount in demo.sums().items() if name != "unweighed"}
    told = {row["Sum"]: float(row["Mass (g)"]) for row in sums}
    for name, head in (("came_in", "Change since the machine came in"), ("spell", "Change since the spell began"),
                       ("standard", "Change against the standard machine")):
        assert total(lines, f"{head} (g)") == pytest.approx(exact[name], abs=1e-3)
        assert told[head] == pytest.approx(exact[name], abs=1e-6)
        # The sheet of sums beside the demo, made without the core.
        assert told[head] == pytest.approx(EXPECTED["sums"][name][0], abs=1e-6)
    # What the machine lost is a number below 0, and nothing else.
    assert any(row["Change since the machine came in (g)"].startswith("-") for row in lines)


def test_each_weighing_and_each_tightening_of_the_demo_is_there_once(demo):
    for name, kind in (("readings", "weigh"), ("torques", "tighten"), ("weigh_ins", "weigh_in")):
        table = table_view(demo, {"table": name})
        at = [head["key"] for head in table["heads"]].index("id")
        assert sorted(row[at] for row in table["rows"]) == sorted(e["id"] for e in LOG if e["kind"] == kind)
    struck = {entry["entry"] for entry in LOG if entry["kind"] == "strike"}
    rows = by_head(table_view(demo, {"table": "readings"}))
    assert {row["Identifier of the entry"] for row in rows if row["Struck as a mistake, because"]} == struck & {
        e["id"] for e in LOG if e["kind"] == "weigh"}


def test_a_struck_tightening_is_there_with_why_and_counts_no_more(demo):
    entry = next(e for e in LOG if e["kind"] == "tighten")
    at = LOG[-1]["at"] + 1
    strike = {"id": identifier("strike", at), "strip": entry["strip"], "kind": "strike", "by": entry["by"], "at": at,
              "who": "Ann", "entry": entry["id"], "why": "the other wrench"}
    assert check(strike) == []
    rows = by_head(table_view(folded([*LOG, strike]), {"table": "torques"}))
    (row,) = [each for each in rows if each["Identifier of the entry"] == entry["id"]]
    assert (row["Struck as a mistake, because"], row["Still counts"]) == ("the other wrench", "no")
    assert len(rows) == len(table_view(demo, {"table": "torques"})["rows"])


def test_the_whole_machine_on_scales_is_as_it_was_read(demo):
    rows = by_head(table_view(demo, {"table": "weigh_ins"}))
    entries = {e["id"]: e for e in LOG if e["kind"] == "weigh_in"}
    assert rows
    for row in rows:
        entry = entries[row["Identifier of the entry"]]
        assert float(row["On the front wheel, as the scale showed it (g)"]) == pytest.approx(entry["front_grams"])
        if entry.get("rear_grams") is None:
            assert row["Mass of the machine, without the rider (g)"] == row["Share on the rear wheel (%)"] == ""
            continue
        total = entry["front_grams"] + entry["rear_grams"] - (entry.get("rider_grams") or 0.0)
        assert float(row["Mass of the machine, without the rider (g)"]) == pytest.approx(total)
        if row["Share on the rear wheel (%)"]:
            assert float(row["Share on the rear wheel (%)"]) == pytest.approx(entry["rear_grams"] / total * 100)
            assert 0 < float(row["Share on the rear wheel, uncertainty (%)"]) < 5


def test_what_the_tables_say_is_what_the_core_says(demo):
    for row in by_head(table_view(demo, {"table": "statement"})):
        change = demo.line(row["Identifier of the part"]).change
        told = row["Change since the machine came in (g)"]
        assert told == "" if change is None else float(told) == pytest.approx(change.grams, abs=1e-6)
    for row in by_head(table_view(demo, {"table": "fasteners"})):
        ledger = demo.ledger(row["Identifier"])
        assert int(row["On the machine"]) == ledger.on and int(row["How many"]) == ledger.count
        places = sum(int(row[name]) for name in ("In bags", "In spares", "Scrapped", "Lost", "New, not on yet"))
        assert places == sum(count for _, _, count in ledger.elsewhere() + ledger.in_stock())


def test_every_head_has_its_words_and_its_unit_and_every_row_as_many_cells(demo):
    told = {each["name"]: each for each in tables_view(demo, {})}
    assert tuple(told) == NAMES
    for name in NAMES:
        table = table_view(demo, {"table": name})
        assert len(table["rows"]) > 0 and {len(row) for row in table["rows"]} == {len(table["heads"])}
        assert len({head["key"] for head in table["heads"]}) == len(table["heads"])
        assert [spoken(each) for each in told[name]["heads"]] == read(table)[0]
        for head in table["heads"]:
            assert spoken(head["name"]) and head["kind"] in (
                "text", "word", "words", "fields", "sentence", "yes_no", "number", "moment"), head
            # A number without a unit is a count.
            assert head["kind"] != "number" or head["unit"] or not head["key"].endswith(("grams", "metres")), head
    assert {"Mass (g)", "Mass, uncertainty (g)"} <= {spoken(each) for each in told["sums"]["heads"]}
    assert {"Torque (N·m)", "When (UTC)"} <= {spoken(each) for each in told["torques"]["heads"]}


@pytest.mark.parametrize(("text", "line"), [
    # RFC 4180, section 2, rules 5 to 7.
    ("Seat", "Seat,-12.5,Seat\r\n"),
    ('1/2" bolt', '"1/2"" bolt",-12.5,"1/2"" bolt"\r\n'),
    ("left, upper", '"left, upper",-12.5,"left, upper"\r\n'),
    ("two\nlines", '"two\nlines",-12.5,"two\nlines"\r\n'),
    ("two\r\nlines", '"two\r\nlines",-12.5,"two\r\nlines"\r\n'),
    (" spaces ", '" spaces ",-12.5," spaces "\r\n'),
    ("Ölfilter „7“ 🔧", "Ölfilter „7“ 🔧,-12.5,Ölfilter „7“ 🔧\r\n"),
    # A formula is a text here; the number beside it is a number.
    ("=1+1", "'=1+1,-12.5,'=1+1\r\n"),
    ("-3 mm shorter", "'-3 mm shorter,-12.5,'-3 mm shorter\r\n"),
    ('=HYPERLINK("x","y")', '"\'=HYPERLINK(""x"",""y"")",-12.5,"\'=HYPERLINK(""x"",""y"")"\r\n'),
    ("'tis the seat", "''tis the seat,-12.5,''tis the seat\r\n"),
    # Where cells are parted at ";", a formula may begin in the middle of a text.
    ("a;=1+1", "\"a;'=1+1\",-12.5,\"a;'=1+1\"\r\n"),
])
def test_a_line_of_csv(text, line):
    head, row = csv_lines(texts_of(text))
    assert head == "\ufeffpart,grams,note\r\n" and row == line
    assert read(texts_of(text))[1][1] == "-12.5"


def test_nothing_is_an_empty_cell_and_all_that_is_no_figure_may_be_in_another_language():
    table = texts_of(None)
    assert csv_lines(table)[1] == ",-12.5,\r\n"
    texts = {"part": "Teil", "note": "=Notiz", "yes": "ja", "because of {field}": "wegen {field}"}
    german = Language("de-DE", ",", texts, {"left": "links"}, {"length_millimetres": "Länge, mm"})
    assert csv_lines(table, german)[0] == "\ufeffTeil,grams,'=Notiz\r\n"
    assert cell_text("yes_no", True, german) == "ja" and cell_text("yes_no", False, german) == "no"
    assert cell_text("word", "left", german) == "links"
    assert cell_text("words", ["left", "both"], german) == "links, both sides"
    assert cell_text("fields", ["length_millimetres", "no_such"], german) == "Länge, mm, no such"
    sentence = say("because of {field}", field={"field": "length_millimetres"})
    assert cell_text("sentence", sentence, german) == "wegen Länge, mm"
    # A figure of a table is read by a spreadsheet: its mark is a point wherever it is made.
    assert cell_text("number", -12.5, german) == "-12.5"


def test_every_head_and_every_choice_of_every_table_has_its_words_in_each_language(demo):
    for code in ("de", "es", "hi"):
        words = handed(code)["texts"]
        for table in tables_view(demo, {}):
            names = [head["values"].get("name", head) for head in table["heads"]]
            figures = [name["values"].get("figure", name) for name in names]
            assert not {each["text"] for each in [table["title"], *figures] if each["text"] not in words}
    language = language_of(marked())
    for name in NAMES:
        table = table_view(demo, {"table": name})
        kinds = [head["kind"] for head in table["heads"]]
        for kind, column in zip(kinds, zip(*table["rows"], strict=True), strict=True):
            if kind in ("word", "words", "yes_no"):
                assert not re.search("[a-z]", unmarked(" ".join(cell_text(kind, each, language) for each in column)))


def told_back(text):
    """A text of a CSV file as somebody had written it: without the apostrophe wherever a cell may begin."""
    found, begins = [], True
    for character in text:
        if not (begins and character == MARK):
            found.append(character)
        begins = character in PARTING
    return "".join(found)


WRITTEN = st.text(st.one_of(st.sampled_from(DANGEROUS + "' ;,\"\n\t\r|%a1\u00a0\u3000"), st.characters(
    blacklist_categories=["Cs"], blacklist_characters="\x00")), max_size=40)


def is_dangerous(cell):
    return cell.lstrip(" \n\u00a0\u3000\ufeff")[:1] in tuple(DANGEROUS)


@given(st.lists(WRITTEN, max_size=5))
def test_no_text_begins_like_a_formula_and_each_can_be_told_back(texts):
    rows = read(texts_of(*texts))[1:]
    assert [row[1] for row in rows] == ["-12.5"] * len(texts)
    for (first, _, last), text in zip(rows, texts, strict=True):
        assert first == last and not is_dangerous(first)
        assert told_back(first) == text
    for text in texts:
        assert not is_dangerous(harmless(text)) and harmless(text) in (text, MARK + text)
        # The two can be told apart: what has the mark in front had another one put there.
        assert text[:1] != MARK or harmless(text) == MARK + text


@pytest.mark.parametrize("delimiter", [";", "\t"])
@given(texts=st.lists(WRITTEN, max_size=5))
def test_nor_where_a_spreadsheet_parts_cells_elsewhere(delimiter, texts):
    """As spreadsheets of many countries do: the whole line is then one text that is cut at ";"."""
    for row in read(texts_of(*texts), delimiter):
        for cell in row:
            # Read so, a quotation mark may open at the end of a line, and the line's end is in the cell.
            assert not is_dangerous(cell.replace("\r\n", "\n"))
    for text in texts:
        for line in harmless_in_lines(text).replace("\r", "\n").split("\n"):
            assert not any(is_dangerous(cell) for cell in line.split(delimiter))


def test_a_moment_is_told_in_utc():
    # 951827696 s: 2000-02-29 12:34:56 UTC, by GNU date.
    assert moment(951_827_696_789) == "2000-02-29 12:34:56"
    assert moment(LOG[0]["at"]).startswith("2025-0")


def test_as_many_entries_and_names_as_long_as_there_may_be():
    """5,000 entries with names and notes at their limits, all of them formulas."""
    name, note = "=" + "W" * 119, "+" + "note;-x " * (TEXT_CHARACTERS // 8 - 1)
    strip, entries = identifier("@strip"), []
    for number in range(2_500):
        at, part = 1_760_000_000_000 + number * 1000, identifier(f"part {number}")
        common = {"strip": strip, "at": at, "by": identifier("@phone"), "who": "@" + "W" * 59}
        values = {"name": name, "off": True, "outcome": "stays_off", "note": note}
        entries += [
            common | {"id": identifier(f"a {number}", at), "kind": "set", "thing": part, "type": "part",
                      "values": values},
            common | {"id": identifier(f"b {number}", at), "kind": "weigh", "part": part, "weighed_as": "taken_off",
                      "pieces": 1, "basis": "weighed", "grams": 0.1, "step_grams": 0.1}]
    assert [check(each) for each in entries[:2]] == [[], []]
    folded_strip = folded(entries)
    for name_of in ("parts", "readings", "statement"):
        rows = by_head(table_view(folded_strip, {"table": name_of}))
        assert len(rows) == 2_500 and {row["Part"] for row in rows} == {MARK + name}
    assert {row["Note"] for row in by_head(table_view(folded_strip, {"table": "parts"}))} == {harmless_in_lines(note)}
    rows = by_head(table_view(folded_strip, {"table": "statement"}))
    assert total(rows, "Change since the machine came in (g)") == pytest.approx(-250.0, abs=1e-6)


def test_an_empty_strip_down_has_empty_tables():
    entry = dict(LOG[0])
    call = phone.start(lambda: identifier("unused"))
    call("load", json.dumps({"strip": entry["strip"], "entries": [entry]}))
    for name in NAMES:
        answer = call("view", json.dumps({"strip": entry["strip"], "view": "table_csv", "table": name}))
        assert len(json.loads(answer)["result"]["lines"]) == (4 if name == "sums" else 1)
