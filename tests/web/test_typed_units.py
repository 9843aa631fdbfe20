"""Figures typed with a unit of their own, on a phone without signal: read with it, said back, kept as written."""

from collections.abc import Iterator
from typing import Any

import pytest
from playwright.sync_api import expect

from one_part import entries, phone_with_one_part, view

FOOT_POUND = 1.3558179483314004  # N.m, exact: international foot and pound, standard acceleration of gravity


@pytest.fixture
def phone(chromium: Any, server: Any) -> Iterator[Any]:
    """A phone on the page of its one part, its signal gone."""
    with phone_with_one_part(chromium, server) as phone:
        page, strip, part = phone
        page.evaluate("navigator.serviceWorker.ready.then(() => true)")
        page.context.set_offline(True)
        page.goto(f"{server.url}/#/strip/{strip}/part/{part}")
        expect(page.get_by_role("heading", name="Caliper bracket")).to_be_visible()
        yield phone


def weigh(page: Any, figure: str) -> None:
    page.get_by_role("button", name="Add a reading").tap()
    page.get_by_label("Figure", exact=True).fill(figure)


def test_a_mass_is_read_with_its_own_unit_and_said_back(phone: Any) -> None:
    page, _, _ = phone
    weigh(page, "1 lb 4 oz")
    expect(page.get_by_text("That is 567 g.")).to_be_visible()
    page.get_by_role("button", name="Save the reading").tap()
    expect(page.get_by_text("1 lb 4 oz")).to_be_visible()
    kept = [each for each in entries(phone) if each["kind"] == "weigh"][-1]
    assert kept["grams"] == pytest.approx(566.9904625, rel=1e-12)
    assert (kept["as_read"], kept["step_grams"]) == ("1 lb 4 oz", pytest.approx(28.349523125, rel=1e-12))


def test_a_unit_typed_counts_before_the_one_chosen(phone: Any) -> None:
    page, _, _ = phone
    weigh(page, "0,9")
    page.get_by_label("Unit of: Figure").select_option("kg")
    expect(page.get_by_text("That is 900 g.")).to_be_visible()
    page.get_by_label("Figure", exact=True).fill("1,9 g")
    expect(page.get_by_text("That is 900 g.")).to_have_count(0)
    # A question that comes in under the figure moves what stands below it.
    expect(page.get_by_role("group", name="Question")).to_be_visible()
    page.get_by_role("button", name="Save the reading").tap()
    expect(page.get_by_text("1,9 g")).to_be_visible()
    assert [each for each in entries(phone) if each["kind"] == "weigh"][-1]["grams"] == 1.9


@pytest.mark.parametrize(
    ("typed", "reason"),
    [
        ("5 parsnips", "The unit parsnips is not known here."),
        ("12 mm", "“mm” is a unit of length; what is wanted here is mass."),
        ("3 ton", "“ton” may be t or a short or long ton: write which."),
        ("7-10", "“7-10” is a range. Type its two ends apart."),
        ("1 lb 20 oz", "“1 lb 20 oz” cannot be read as one quantity, such as 1.9 kg."),
    ],
)
def test_what_cannot_be_read_is_refused_and_stays_in_its_field(phone: Any, typed: str, reason: str) -> None:
    page, _, _ = phone
    before = len(entries(phone))
    weigh(page, typed)
    page.get_by_role("button", name="Save the reading").tap()
    expect(page.get_by_role("alert")).to_contain_text(reason)
    expect(page.get_by_label("Figure", exact=True)).to_have_value(typed)
    assert len(entries(phone)) == before


def test_a_torque_is_read_with_its_own_unit_and_kept_as_written(phone: Any) -> None:
    page, _, part = phone
    page.get_by_role("button", name="Add fasteners").tap()
    row = page.get_by_role("group", name="Fasteners 1")
    row.get_by_label("How many", exact=True).fill("2")
    row.locator("summary", has_text="Torque from the manual").tap()
    row.get_by_label("Torque from the manual", exact=True).fill("8 lbf ft")
    expect(page.get_by_text("That is 10.85 N·m.")).to_be_visible()
    page.get_by_role("button", name="Save", exact=True).tap()
    expect(page.get_by_text("8 lbf ft").first).to_be_visible()
    group = view(phone, "part", part=part)["groups"][-1]
    assert group["specification"]["low"] == pytest.approx(8 * FOOT_POUND, rel=1e-12)
    assert group["fields"]["torque_as_written"]["value"] == "8 lbf ft"


def test_corrections_take_units_too(phone: Any) -> None:
    page, _, part = phone
    page.locator("summary", has_text="All about these").first.tap()
    page.get_by_role("button", name="Change: Length").tap()
    page.get_by_label("Length, mm", exact=True).fill('1 1/4"')
    page.get_by_role("button", name="Save", exact=True).tap()
    expect(page.get_by_text("M8×31.8").or_(page.get_by_text("M8×31.75")).first).to_be_visible()
    assert view(phone, "part", part=part)["groups"][0]["fields"]["length_millimetres"]["value"] == 31.75
