"""Torques from a table on a phone: any writing of one, a mapping step, each row checked, nothing by itself."""

from collections.abc import Iterator
from typing import Any

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import expect

from one_part import act, phone_with_one_part, view
from screens import open_screen, sticking_out

# The part of the phone has its torque; this one has none yet. The name has letters beyond ASCII.
NAME = "Tankhälfte"
ROWS = [["Bauteil / Part", "Thread", "Torque", "Page"], [NAME, "M6", "9,5", "5-3"]]


@pytest.fixture
def phone(chromium: Any, module_server: Any) -> Iterator[Any]:
    """A fresh phone with a part whose bolts have no torque yet: (page, strip, part)."""
    with phone_with_one_part(chromium, module_server) as phone:
        act(phone, "take_off", name=NAME, groups=[{"count": 2, "thread": "M6"}])
        yield phone


def choose(phone: Any, content: bytes) -> Any:
    page, strip, _ = phone
    open_screen(page, f"#/strip/{strip}/specifications")
    page.get_by_label("Choose a table").set_input_files(
        {"name": "torques.csv", "mimeType": "text/csv", "buffer": content})  # fmt: skip
    return page


def torque_of(phone: Any) -> Any:
    part = next(row["part"] for row in view(phone, "off")["parts"] if row["name"] == NAME)
    [group] = view(phone, "part", part=part)["groups"]
    return view(phone, "torque", group=group["group"])["specification"]


@pytest.mark.parametrize("encoding, delimiter, quoted, line_end", [
    ("utf-8", ",", True, "\r\n"), ("utf-8-sig", ";", False, "\n"), ("utf-16", "\t", False, "\r\n"),
    ("utf-16-be", ";", False, "\r"), ("cp1252", ";", False, "\r\n"),
])  # fmt: skip
def test_a_table_is_read_however_it_was_written(
    phone: Any, encoding: str, delimiter: str, quoted: bool, line_end: str
) -> None:
    cell = '"{}"' if quoted else "{}"
    text = "".join(delimiter.join(cell.format(each) for each in row) + line_end for row in ROWS)
    page = choose(phone, text.encode(encoding))
    expect(page.get_by_text("can be taken", exact=True)).to_be_visible()
    expect(page.get_by_text("9,5 N·m (5-3)")).to_be_visible()
    assert torque_of(phone) is None
    page.get_by_label("Which manual").fill("Own book")
    expect(page.get_by_text("9,5 N·m (Own book, 5-3)")).to_be_visible()
    page.get_by_role("button", name="Take one torque").click()
    expect(page.get_by_text("One torque taken")).to_be_visible()
    expect(page.get_by_text("This stands there already.")).to_be_visible()
    assert torque_of(phone)["page"] == "Own book, 5-3" and torque_of(phone)["low"] == 9.5


def test_a_person_says_which_column_is_what_and_refused_rows_say_why(phone: Any) -> None:
    text = f"5-3;{NAME};9,5\n5-4;No such part;20\n7-2;Caliper bracket;30\n;{'N' * 200};x\n5-3;{NAME};700\n"
    page = choose(phone, text.encode())
    expect(page.get_by_text("Its rows, checked")).to_have_count(0)
    for role, column in (("Name of the part", "1"), ("Torque", "2"), ("Manual and page", "0")):
        page.get_by_label(role, exact=True).select_option(column)
    rows = page.locator("section", has=page.get_by_role("heading", name="Its rows, checked")).locator("li.line")
    for row, words in enumerate((
        "can be taken", "No part of this name is written down here.",
        "Another torque stands there: 25 N.m (workshop book 7-2). Change it on its card.",
        "No part of this name is written down here.", "Line 1 speaks of the same fasteners.",
    )):  # fmt: skip
        expect(rows.nth(row)).to_contain_text(words)
        expect(rows.nth(row)).to_contain_text(f"Line {row + 1}:")
    expect(page.get_by_text("Refused means not kept. Mend the row in the table")).to_be_visible()
    assert not sticking_out(page)
    found = Axe().run(page, options={"runOnly": ["wcag2a", "wcag2aa", "wcag21aa", "wcag22aa", "best-practice"]})
    assert found.violations_count == 0, found.generate_report()
    page.get_by_role("button", name="Take one torque").click()
    expect(page.get_by_text("One torque taken")).to_be_visible()
    assert torque_of(phone)["page"] == "5-3"


def test_the_usual_columns_stand_first_and_a_foreseen_part_is_told_to_wait(phone: Any) -> None:
    act(phone, "take_map", other_machine=True,
        map='{"format": "cotterbook-map/1", "machine": "A twin", "parts": [{"name": "Screen"}]}')  # fmt: skip
    rows = f"Part;Torque (lbf ft);Side;Page\n{NAME};7;;5-3\nScreen;9;;5-4\n"
    page = choose(phone, rows.encode())
    expect(page.get_by_label("Thread", exact=True)).to_be_visible()
    expect(page.get_by_label("Manual and page", exact=True)).to_be_visible()
    expect(page.get_by_label("Side", exact=True)).to_be_hidden()
    # What is chosen among the folded ones is told on their fold.
    page.get_by_text("Other columns").click()
    expect(page.locator("summary", has_text="Other columns")).to_contain_text("Side")
    expect(page.get_by_label("Side", exact=True)).to_have_value("2")
    expect(page.get_by_text("7 lbf·ft (5-3)")).to_be_visible()
    waiting = page.locator("li.line", has_text="Screen")
    expect(waiting).to_contain_text("not kept, for later")
    expect(waiting).to_contain_text("This part is foreseen and not off yet.")
    expect(page.get_by_text("For later, not kept: the part is not off yet")).to_be_visible()
    expect(page.get_by_text("Take the parts off, then choose this table again.")).to_be_visible()
    expect(page.get_by_text("Refused means not kept.")).to_have_count(0)
    page.get_by_role("button", name="Take one torque").click()
    expect(page.get_by_text("One torque taken")).to_be_visible()
    assert torque_of(phone)["low"] == pytest.approx(7 * 1.3558179483)


def test_a_table_far_too_large_is_refused_at_once(phone: Any) -> None:
    page = choose(phone, b"Seat;9;5-3\n" * 15_000)
    expect(page.get_by_role("alert")).to_contain_text("A table here has at most 500 rows.")
    page = choose(phone, b"Seat;9;5-3\n" * 900_000)
    expect(page.get_by_role("alert")).to_contain_text("This file is too large for a table.")


def test_a_torque_that_the_thread_does_not_stand_is_taken_only_where_somebody_says_so(phone: Any) -> None:
    page = choose(phone, f"Part;Torque;Page\n{NAME};70;5-3\n".encode())
    expect(page.get_by_text("70 N·m is more than M6 stands: look at the figure and its unit again.")).to_be_visible()
    expect(page.get_by_role("button", name="Take one torque")).to_have_count(0)
    page.get_by_label("Those asked about are right: take them too").check()
    page.get_by_role("button", name="Take one torque").click()
    expect(page.get_by_text("One torque taken")).to_be_visible()
    assert torque_of(phone)["low"] == 70


@pytest.mark.parametrize("content, words", [
    (b'a;b\n"c;d\n', "Line 2: a quotation mark is never closed."),
    (b"PK\x03\x04\x00\x00\x00", "This file is no table: it holds what is no text."),
    (b"\n\n", "This file has no rows."),
])  # fmt: skip
def test_a_broken_table_is_told_and_nothing_is_taken(phone: Any, content: bytes, words: str) -> None:
    page = choose(phone, content)
    expect(page.get_by_role("alert")).to_contain_text(words)
    assert torque_of(phone) is None


def test_another_mark_between_the_cells_reads_the_table_anew(phone: Any) -> None:
    page = choose(phone, f"Part,with a comma;Torque;Page\n{NAME};9;5-3\n".encode())
    page.get_by_role("radio", name="Comma").check()
    expect(page.get_by_label("Name of the part", exact=True).locator("option")).to_have_count(3)
    page.get_by_role("radio", name="Semicolon").check()
    expect(page.get_by_text("can be taken", exact=True)).to_be_visible()
