"""Tables for a spreadsheet, as a person takes them from Handing over: CSV made on the phone, a workbook by the PC."""

import csv
import io
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import expect
from python_calamine import CalamineWorkbook

from one_part import act, phone_with_one_part
from screens import open_screen
from texts import table


@pytest.fixture
def phone(chromium: Any, module_server: Any) -> Iterator[Any]:
    """A fresh phone with one part of 2 × 400 g, by readings of one: (page, strip, part)."""
    with phone_with_one_part(chromium, module_server) as phone:
        yield phone


def unfold_tables(phone: Any) -> Any:
    page, strip, _ = phone
    open_screen(page, f"#/strip/{strip}/handover")
    page.get_by_text("For a spreadsheet").click()
    expect(page.get_by_role("button", name="All tables in one workbook (XLSX)")).to_be_visible()
    return page


def unfold_in_german(phone: Any) -> Any:
    """All is sent, and all that is said is German."""
    page, strip, _ = phone
    expect(page.get_by_role("status").first).to_contain_text("All sent")
    open_screen(page, "#/")
    page.get_by_role("radio", name="Deutsch").click()
    expect(page.locator("html")).to_have_attribute("lang", "de-DE")
    open_screen(page, f"#/strip/{strip}/handover")
    page.get_by_text(table("de")["For a spreadsheet"]).click()
    return page


def save(page: Any, button: str, folder: Path, link: str = "Save it") -> Path:
    page.get_by_role("button", name=button, exact=True).click()
    with page.expect_download() as download:
        page.get_by_role("link", name=link).click()
    path = folder / download.value.suggested_filename
    download.value.save_as(path)
    return path


def test_each_table_is_made_on_the_phone_without_a_network(phone: Any, tmp_path: Path) -> None:
    page, _, part = phone
    act(phone, "change", thing=part, type="part", values={"note": '=HYPERLINK("https://example.org")'})
    page.evaluate("() => navigator.serviceWorker.ready.then(() => true)")
    page.context.set_offline(True)
    unfold_tables(phone)
    for title, name in (("Parts", "parts"), ("Fasteners", "fasteners"), ("Weighings", "readings"),
                        ("Tightenings", "torques"), ("Mass statement", "statement")):  # fmt: skip
        path = save(page, title, tmp_path)
        assert re.fullmatch(rf"cotterbook-{name}-\d{{4}}-\d\d-\d\d\.csv", path.name)
        heads, *rows = csv.reader(io.StringIO(path.read_bytes().decode("utf-8-sig"), newline=""), strict=True)
        assert all(len(row) == len(heads) for row in rows)
        assert len(rows) == (0 if name == "torques" else 1)
        assert not any(cell.startswith("=") for row in rows for cell in row)
    [path] = tmp_path.glob("*statement*")
    [row] = csv.DictReader(io.StringIO(path.read_bytes().decode("utf-8-sig"), newline=""), strict=True)
    # Two of 400 g came off, and go back on.
    assert (row["Came off (g)"], row["Change since the machine came in (g)"], row["Counted"]) == ("800", "0", "no")


def test_in_another_language_all_words_of_the_files_are_of_it_and_the_figures_are_the_same(phone, tmp_path) -> None:
    page, words = unfold_in_german(phone), table("de")

    def saved(button: str) -> Path:
        return save(page, words[button], tmp_path, words["Save it"])

    path = saved("Mass statement")
    [row] = csv.DictReader(io.StringIO(path.read_bytes().decode("utf-8-sig"), newline=""), strict=True)
    assert (row[f"{words['Came off']} (g)"], row[words["Counted"]]) == ("800", words["no"])
    assert row[words["What becomes of it"]] == words["goes back"] and words["weighed"] in row.values()
    path = saved("Parts")
    [row] = csv.DictReader(io.StringIO(path.read_bytes().decode("utf-8-sig"), newline=""), strict=True)
    # Two answers stand for its place, and the table says for which field.
    assert row[words["Two values written apart"]] == words["Place on the machine"]
    book = CalamineWorkbook.from_path(str(saved("All tables in one workbook (XLSX)")))
    heads, row = book.get_sheet_by_name(words["Mass statement"]).to_python()
    assert dict(zip(heads, row, strict=True))[f"{words['Came off']} (g)"] == 800


def test_a_pc_of_an_older_program_makes_it_in_english_and_that_is_said(phone: Any, tmp_path: Path) -> None:
    page, words = unfold_in_german(phone), table("de")
    # What a program answers that knows this address for reading alone.
    refused = {"error": {"code": "wrong_method", "text": "This address cannot be used that way.", "values": {}}}
    page.context.route("**/api/exports/**", lambda route: route.fulfill(status=405, json=refused)
                       if route.request.method == "POST" else route.continue_())  # fmt: skip
    page.get_by_role("button", name=words["All tables in one workbook (XLSX)"]).click()
    expect(page.get_by_text(words["It is in English: the PC’s program is older than this one."])).to_be_visible()
    with page.expect_download() as download:
        page.get_by_role("link", name=words["Save it"]).click()
    path = tmp_path / "tables.xlsx"
    download.value.save_as(path)
    assert CalamineWorkbook.from_path(str(path)).sheet_names[0] == "Parts"


def test_the_workbook_comes_from_the_pc_and_says_so_when_the_pc_is_away(phone: Any, tmp_path: Path) -> None:
    page, *_ = phone
    expect(page.get_by_role("status").first).to_contain_text("All sent")
    unfold_tables(phone)
    path = save(page, "All tables in one workbook (XLSX)", tmp_path)
    assert path.read_bytes()[:4] == b"PK\x03\x04"
    sheets = CalamineWorkbook.from_path(str(path)).sheet_names
    assert sheets[0] == "Parts" and len(sheets) == 7
    page.evaluate("() => navigator.serviceWorker.ready.then(() => true)")
    page.context.set_offline(True)
    page.get_by_role("button", name="All tables in one workbook (XLSX)").click()
    expect(page.get_by_role("alert").filter(has_text="The PC does not answer.")).to_be_visible()
    # What can be made here still can.
    save(page, "Parts", tmp_path)
