"""Torques from a table: CSV by RFC 4180's own examples and against Python's reader, and each row told what is wrong."""

import csv
import io
import json

import pytest
from hypothesis import given
from hypothesis import strategies as st
from machine_shop import STRIP, Shop

from cotterbook.core.csv_reading import DELIMITERS, likely_delimiter, read_csv
from cotterbook.core.specification_table import look_at_table
from cotterbook.core.torque_cell import unit_in_head
from cotterbook.core.words import Refused, spoken
from vectors.cases import identifier


def cells(text, delimiter=","):
    return [row for _, row in read_csv(text, delimiter)]


@pytest.mark.parametrize("text, rows", [
    ("aaa,bbb,ccc\r\nzzz,yyy,xxx\r\n", [["aaa", "bbb", "ccc"], ["zzz", "yyy", "xxx"]]),
    ("aaa,bbb,ccc\r\nzzz,yyy,xxx", [["aaa", "bbb", "ccc"], ["zzz", "yyy", "xxx"]]),
    ('"aaa","bbb","ccc"\r\nzzz,yyy,xxx', [["aaa", "bbb", "ccc"], ["zzz", "yyy", "xxx"]]),
    ('"aaa","b\r\nbb","ccc"\r\nzzz,yyy,xxx', [["aaa", "b\nbb", "ccc"], ["zzz", "yyy", "xxx"]]),
    ('"aaa","b""bb","ccc"', [["aaa", 'b"bb', "ccc"]]),
])  # fmt: skip
def test_the_examples_of_rfc_4180_are_read(text, rows):
    """RFC 4180, section 2, rules 1 to 7; a line end inside a cell is a line feed here."""
    assert cells(text) == rows


CELL = st.text(st.sampled_from('ab,;\t"\r\n é½م'), max_size=6)


@given(st.lists(st.lists(CELL, min_size=1, max_size=4), min_size=1, max_size=5), st.sampled_from(DELIMITERS))
def test_what_pythons_writer_writes_is_read_back(rows, delimiter):
    into = io.StringIO(newline="")
    csv.writer(into, delimiter=delimiter).writerows(rows)
    wanted = [[cell.replace("\r\n", "\n").replace("\r", "\n") for cell in row] for row in rows]
    wanted = [row for row in wanted if any(cell.strip() for cell in row)]
    if wanted:
        assert cells(into.getvalue(), delimiter) == wanted
    else:
        with pytest.raises(Refused):
            cells(into.getvalue(), delimiter)


@given(st.text(st.sampled_from('ab,;\t"\r\n'), max_size=30), st.sampled_from(DELIMITERS))
def test_whatever_stands_in_a_file_it_is_read_or_refused_with_its_line(text, delimiter):
    try:
        found = read_csv(text, delimiter)
    except Refused as wrong:
        assert all(spoken(each) for each in wrong.problems)
        return
    lines = [line for line, _ in found]
    assert lines == sorted(set(lines)) and lines[0] >= 1


@pytest.mark.parametrize("text, words", [
    ('a,b\n"c,d\n', "Line 2: a quotation mark is never closed."),
    ('a\n\n"c"d\n', "Line 3: something stands behind a closing quotation mark."),
    ("", "This file has no rows."),
    (" \n;\n", "This file has no rows."),
    ("PK\x03\x04\x00\x00", "This file is no table: it holds what is no text."),
    ("a\n" * 501, "A table here has at most 500 rows."),
    (";" * 60, "Line 1: more than 60 columns."),
    ("a" * 200_001, "This file is too large for a table."),
    (None, "This file is no table: it holds what is no text."),
    ("x" + "y" * 10_000, "Line 1: more than 10000 characters."),
    # Each of these took minutes where every cell was looked for through all that follows.
    ("a\n" * 90_000, "A table here has at most 500 rows."),
    ("é\n" * 10_000, "A table here has at most 500 rows."),
    ('""' * 90_000, "Line 1: more than 10000 characters."),
    ("a\n" * 100 + '"' + "b" * 99 * 1_000, "Line 101: more than 10000 characters."),
    ('"' + "b\n" * 9_000, "Line 1: a quotation mark is never closed."),
])  # fmt: skip
def test_a_broken_table_is_told_where(text, words):
    with pytest.raises(Refused) as wrong:
        read_csv("x" + text if text == ";" * 60 else text, ";")
    assert [spoken(each) for each in wrong.value.problems] == [words]


def test_an_inch_mark_inside_a_cell_stands_as_it_is():
    assert cells('1/2",b\r\n') == [['1/2"', "b"]]


def test_what_parts_the_cells_is_told_by_the_rows_that_are_alike():
    assert [likely_delimiter(text) for text in ("a,b\nc,d\n", "a;b\n1,5;2,5\n", "a\tb\nc, d\te\n", "abc\n")] == [
        ",", ";", "\t", ","]  # fmt: skip


def test_blank_rows_of_a_spreadsheet_count_for_nothing():
    assert cells("a;b\n" + ";;\n" * 15_000 + "c;d\n", ";") == [["a", "b"], ["c", "d"]]


def test_a_line_for_spreadsheets_and_a_title_are_no_rows():
    """What spreadsheets take from a first line "sep=;" is common practice, no source."""
    assert likely_delimiter("sep=;\r\nPart,x;Torque\r\n") == ";"
    seen = look_at_table({"text": "\ufeffsep=;\nTorques, of my machine\n\nPart;Torque\nSeat;9\n"})
    assert (seen["delimiter"], seen["rows"], seen["likely"]) == (";", 2, {"part": 0, "torque": 1})
    assert [row["line"] for row in seen["preview"]] == [4, 5]
    [row] = checked(shop_with_parts(), "Torques\nPart;;;Torque;;Page\nLamp;;;9;;1\n")["rows"]
    assert (row["line"], row["state"]) == (3, "fine")


@pytest.mark.parametrize("head, code", [
    ("Torque (lbf ft)", "lbf.ft"), ("Torque [kgf·m]", "kgf.m"), ("ft-lb", "lbf.ft"), ("Nm", "N.m"), ("Torque", None),
    ("Torque, N·m", "N.m"), ("N·m (lbf·ft)", None), ("", None),
])  # fmt: skip
def test_a_head_names_the_unit_of_its_column(head, code):
    assert unit_in_head(head) == code
    rows = checked(shop_with_parts(), f"Part;Side;Thread;{head};Unit;Page\nLamp;;;10;;1\nSeat;;M6;9;N·m;2\n")["rows"]
    assert [row["torque"] for row in rows] == [f"10 {code or 'N.m'} (Own book, 1)", "9 N.m (Own book, 2)"]


@pytest.mark.parametrize("cell, low, high, tolerance, angle", [
    # One unit behind a range is that of both its ends.
    ("15–20 lbf ft", 15 * 1.3558179483, 20 * 1.3558179483, None, None),
    ("9 to 12 kgf·cm", 9 * 0.0980665, 12 * 0.0980665, None, None),
    ("9−12", 9, 12, None, None), ("9...12 Nm", 9, 12, None, None), ("٩–١٢", 9, 12, None, None),
    ("25 +/- 3 Nm", 25, None, 3, None), ("2,5 ± 0,3 kgf·m", 2.5 * 9.80665, None, 0.3 * 9.80665, None),
    ("20 N·m + 90°", 20, None, None, 90), ("15-20 + 45 °", 15, 20, None, 45),
    ("9.5 N-m", 9.5, None, None, None), ("9-12 N-m", 9, 12, None, None),
])  # fmt: skip
def test_one_cell_may_hold_a_range_a_tolerance_or_an_angle(cell, low, high, tolerance, angle):
    """Factors: NIST SP 811 (2008), B.8, for kilogram-force and foot pound-force."""
    done = shop_with_parts().act("take_specifications", {"csv": f"Lamp;;;{cell};;1"} | ASKED | {"heads": False})
    [entry] = done["result"]["entries"]
    for name, wanted in (("low_newton_metres", low), ("high_newton_metres", high),
                         ("tolerance_newton_metres", tolerance), ("angle_degrees", angle)):  # fmt: skip
        assert entry["values"].get("torque_" + name) == (wanted if wanted is None else pytest.approx(wanted))


@pytest.mark.parametrize("cell, unit, why", [
    ("9,5 N·m", "lbf ft", "It says more than one unit: N.m, lbf.ft."),
    ("9,5 N·m – 8 lbf ft", "", "It says more than one unit: N.m, lbf.ft."),
    ("=9.5", "", "“=9.5” is no number."),
    ("nan", "", "“nan” is no number."), ("9 bis", "", "The unit bis is not known here."),
    ("9", "=cmd", "Its unit is not known here."), ("1e3", "", "“1e3” is no number."),
])  # fmt: skip
def test_what_cannot_be_meant_is_refused_with_why(cell, unit, why):
    [row] = checked(shop_with_parts(), f"Lamp;;;{cell};{unit};1", heads=False)["rows"]
    assert row["state"] == "refused" and spoken(row["why"][0]) == why


def test_a_row_of_a_part_that_is_foreseen_waits_until_it_is_off():
    shop, text = shop_with_parts(), "Screen;;;9;;1\nBracket;middle;;9;;1\n"
    shop.put("foreseen", identifier("@f"), name="Screen")
    shop.put("foreseen", identifier("@m"), name="Bracket", side="middle")
    shop.put("foreseen", identifier("@d"), name="Clock", dropped=True)
    found = checked(shop, text + "Clock;;;9;;1\n", heads=False)
    assert [row["state"] for row in found["rows"]] == ["waits", "waits", "refused"] and found["waits"] == 2
    assert spoken(found["rows"][0]["why"][0]).startswith("This part is foreseen and not off yet.")
    form = {"csv": text} | ASKED | {"heads": False, "asked": True}
    assert [each["code"] for each in shop.act("take_specifications", form)["problems"]] == ["nothing"]
    shop.put("part", identifier("@screen"), name="Screen", off=True)
    shop.put("group", identifier("@screen bolts"), part=identifier("@screen"), count=2)
    assert [row["state"] for row in checked(shop, text, heads=False)["rows"]] == ["fine", "waits"]


def test_the_columns_are_told_by_their_heads():
    seen = look_at_table({"text": "\ufeffPart;Thread;Torque (Nm);Page\nSeat;M6;9,5;5-3\n"})
    assert (seen["delimiter"], seen["columns"], seen["rows"], seen["heads"]) == (";", 4, 2, True)
    assert seen["likely"] == {"part": 0, "thread": 1, "torque": 2, "torque_page": 3}
    assert look_at_table({"text": "Seat;M6;9,5\n"})["heads"] is False


TABLE = """Part;Side;Thread;Torque;Unit;Page
Seat;;M6;9,5;N·m;5-3
bracket;left;m8 x 1,25;15–20;lbf ft;7-2
Bracket;right;;25 ± 3;;7-2
Bracket;;;25;;7-2
Lamp;;;9;;
No such;;;9;;1
Seat;;M6;10;;5-3
Tank;;M10;30;;1
Tank;;;30;;1
Wheel;;;700;;9
Chain guard;;;heavy;furlongs;9
Horn;;;40;;2
Silencer;;;30;;3
"""


def shop_with_parts():
    shop = Shop()
    for name, side, groups in (
        ("Seat", None, [{"thread": "M6"}]), ("Bracket", "left", [{"thread": "M8"}]), ("Bracket", "right", [{}]),
        ("Lamp", None, [{}]), ("Tank", None, [{"thread": "M8"}, {"thread": "M6"}]), ("Wheel", None, [{"thread": "M6"}]),
        ("Chain guard", None, [{}]), ("Horn", None, [{"torque_low_newton_metres": 40, "torque_page": "2"}]),
        ("Silencer", None, [{"torque_low_newton_metres": 20, "torque_page": "3"}]),
    ):  # fmt: skip
        part = identifier(f"@{name} {side}")
        shop.put("part", part, **{"name": name, "off": True} | ({"side": side} if side else {}))
        for n, group in enumerate(groups):
            shop.put("group", identifier(f"@{name} {side} {n}"), **{"part": part, "count": 2} | group)
    return shop


ASKED = {"delimiter": ";", "heads": True, "unit": "N.m", "manual": "Own book",
         "columns": {name: str(n) for n, name in enumerate(
             ("part", "side", "thread", "torque", "unit", "torque_page"))}}  # fmt: skip


def checked(shop, text, **more):
    answer = json.loads(shop.call("check_table", json.dumps({"strip": STRIP, "text": text} | ASKED | more)))
    return answer["result"]


def test_each_row_says_what_would_become_of_it():
    found = checked(shop_with_parts(), TABLE)
    said = [(row["line"], row["state"], row["torque"], " ".join(spoken(each) for each in row["why"]))
            for row in found["rows"]]  # fmt: skip
    assert said == [
        (2, "fine", "9,5 N.m (Own book, 5-3)", ""),
        (3, "fine", "15 – 20 lbf.ft (Own book, 7-2)", ""),
        (4, "fine", "25 ± 3 N.m (Own book, 7-2)", ""),
        (5, "refused", "", "More than one part has this name: say which side."),
        (6, "fine", "9 N.m (Own book)", ""),
        (7, "refused", "", "No part of this name is written down here."),
        (8, "refused", "10 N.m (Own book, 5-3)", "Line 2 speaks of the same fasteners."),
        (9, "refused", "", "The part has no such fasteners written down."),
        (10, "refused", "", "More than one kind of its fasteners fits: say the thread, or where they sit."),
        (11, "asked", "700 N.m (Own book, 9)",
         "700 N.m is more than M6 stands: look at the figure and its unit again."),
        (12, "refused", "–", "Its unit is not known here."),
        (13, "same", "40 N.m (Own book, 2)", "This stands there already."),
        (14, "refused", "30 N.m (Own book, 3)", "Another torque stands there: 20 N·m (3). Change it on its card."),
    ]
    assert {state: found[state] for state in ("fine", "asked", "same", "refused")} == {
        "fine": 4, "asked": 1, "same": 1, "refused": 7}  # fmt: skip


def test_only_what_is_fine_is_taken_and_once():
    shop = shop_with_parts()
    form = {"csv": TABLE} | ASKED
    done = shop.act("take_specifications", form)["result"]
    assert [entry["values"]["torque_low_newton_metres"] for entry in done["entries"]] == pytest.approx(
        [9.5, 15 * 1.3558179483, 25.0, 9.0])  # fmt: skip
    assert done["entries"][1]["values"]["torque_as_written"] == "15 – 20 lbf.ft"
    assert len(shop.act("take_specifications", form | {"asked": True})["result"]["entries"]) == 5
    shop.call("load", json.dumps({"strip": STRIP, "entries": done["entries"]}))
    assert [each["code"] for each in shop.act("take_specifications", form)["problems"]] == ["nothing"]
    assert checked(shop, TABLE)["same"] == 5


def test_a_row_without_a_page_or_a_figure_is_refused():
    shop = shop_with_parts()
    rows = checked(shop, "Seat;;M6;;;\nLamp;;;-3;;1\nBracket;left;;20;;\n", heads=False, manual="")["rows"]
    assert [[spoken(each) for each in row["why"]] for row in rows] == [
        ["It says no torque.", "Its page in the manual is missing."],
        ["A figure below 0 cannot be right here."],
        ["Its page in the manual is missing."],
    ]


def test_names_of_two_hundred_characters_and_right_to_left_ones_are_read():
    shop, name = Shop(), "מושב אחורי"
    shop.put("part", identifier("@p"), name=name, off=True)
    shop.put("group", identifier("@g"), part=identifier("@p"), count=2)
    rows = checked(shop, f"{name};;;9;;1\n{'N' * 200};;;9;;1\n", heads=False)["rows"]
    assert [row["state"] for row in rows] == ["fine", "refused"]
    assert spoken(rows[1]["why"][0]) == "No part of this name is written down here."


def test_the_columns_of_part_and_torque_must_be_said():
    asked = {"strip": STRIP, "text": "a;b"} | ASKED | {"columns": {}}
    answer = json.loads(Shop().call("check_table", json.dumps(asked)))
    assert [each["field"] for each in answer["problems"]] == ["columns.part", "columns.torque"]
    asked["columns"] = {"part": "", "torque": "3"}
    assert [each["code"] for each in json.loads(Shop().call("check_table", json.dumps(asked)))["problems"]] == [
        "bad_form"]  # fmt: skip
