"""Units that a field begins with: the country's, until somebody chooses another, who keeps it."""

from collections.abc import Iterator
from typing import Any

import pytest
from playwright.sync_api import expect

from one_part import act, entries, phone_with_one_part
from screens import open_screen


@pytest.fixture
def american(chromium: Any, module_server: Any) -> Iterator[Any]:
    """A fresh phone of somebody in the United States, with one part: (page, strip, part)."""
    with phone_with_one_part(chromium, module_server, locale="en-US") as phone:
        yield phone


@pytest.fixture
def british(chromium: Any, module_server: Any) -> Iterator[Any]:
    with phone_with_one_part(chromium, module_server) as phone:
        yield phone


def units(page: Any) -> list[str]:
    """The unit chosen beside each figure in sight."""
    lists = page.locator("form select:visible").all()
    return [each.evaluate("(list) => list.selectedOptions[0].text") for each in lists]


def begun_with(phone: Any) -> dict[str, list[str]]:
    page, strip, part = phone
    found = {}
    open_screen(page, f"#/strip/{strip}/part/{part}")
    page.get_by_role("button", name="Add a reading").click()
    expect(page.get_by_role("button", name="Save the reading")).to_be_visible()
    found["reading"] = units(page)
    for screen in ("weigh_in", "tally", "retorque"):
        open_screen(page, f"#/strip/{strip}/{screen}")
        expect(page.locator("form select").first).to_be_visible()
        found[screen] = units(page)
    return found


def test_a_phone_of_the_united_states_begins_with_pounds_and_miles(american: Any) -> None:
    found = begun_with(american)
    assert "lb" in found["reading"] and "lb" in found["weigh_in"] and "lb" in found["tally"], found
    assert found["retorque"][0] == "miles", found


def test_any_other_begins_with_grams_and_britain_with_miles(british: Any) -> None:
    found = begun_with(british)
    assert "g" in found["reading"] and "kg" in found["weigh_in"] and "kg" in found["tally"], found
    assert found["retorque"][0] == "miles", found
    usual = """async (locale) => { const w = await import('/words.js');
        w.setLanguage({ locale, texts: {} }); return w.usualUnits(); }"""
    said = {locale: british[0].evaluate(usual, locale) for locale in ("de-DE", "es-ES", "hi-IN", "en-US")}
    assert [said[each]["distance"] for each in said] == ["km", "km", "km", "mi"]
    # Common practice, no source.
    assert [said[each]["pressure"] for each in said] == ["bar", "bar", "psi", "psi"]


def test_a_sum_stands_in_pounds_too_where_people_weigh_so(american: Any, british: Any) -> None:
    for phone, pounds in ((american, True), (british, False)):
        page, strip, part = phone
        act(phone, "change", thing=part, type="part", values={"outcome": "stays_off", "outcome_done": True})
        open_screen(page, f"#/strip/{strip}/off")
        line = page.locator("dl.sums > div").filter(has_text="Since it came in").locator("dd")
        # 2 × 400 g; 1 lb is 453.59237 g (NIST Special Publication 811, 2008, appendix B.8): 800 g are 1.764 lb.
        expect(line).to_contain_text("−800")
        assert ("−1.764" in line.inner_text() and "lb" in line.inner_text()) is pounds


def test_a_tyre_s_pressure_is_typed_in_the_unit_that_stands_there(american: Any) -> None:
    page, strip, _ = american
    open_screen(page, f"#/strip/{strip}/settings")
    page.get_by_role("radio", name="tyre pressure").click()
    page.get_by_label("As found", exact=True).fill("30")
    assert units(page).count("psi") == 2
    page.get_by_label("How it stands now", exact=True).fill("33")
    page.get_by_role("button", name="Save the setting").click()
    expect(page.get_by_role("heading", name="tyre pressure")).to_be_visible()
    first, then = [entry["values"] for entry in entries(american) if entry.get("type") == "setting"]
    values = first | then
    # NIST Special Publication 811, 2008, appendix B.8: 1 psi is 6.894757 kPa.
    assert values["as_found_kilopascals"] == pytest.approx(30 * 6.894757, rel=1e-6)
    assert values["kilopascals"] == pytest.approx(33 * 6.894757, rel=1e-6)


def test_what_was_chosen_stays_where_the_country_says_another(american: Any) -> None:
    page, strip, part = american
    kept = "async () => (await import('/keep.js')).putSetting('last_reading', { unit: 'g', step: '1', scale: '' })"
    page.evaluate(kept)
    open_screen(page, f"#/strip/{strip}/part/{part}")
    page.get_by_role("button", name="Add a reading").click()
    expect(page.get_by_role("button", name="Save the reading")).to_be_visible()
    assert "g" in units(page)


def test_the_language_chosen_decides_before_the_browsers_own(american: Any) -> None:
    """German in an American browser is written and weighed as in Germany: 1,5 and grams."""
    page, strip, part = american
    open_screen(page, "#/")
    page.get_by_role("radio", name="Deutsch").check()
    expect(page.get_by_role("heading", level=1)).to_have_text("Maschinen und Zerlegungen")
    said = page.evaluate("""async () => { const w = await import('/words.js');
        const written = [w.figure({ value: '-1.5', unit: 'kg' }), w.t('{n}', { n: 0.25 }), w.day(1760000000000)];
        return [...written, w.usualUnits()]; }""")
    assert said[:3] == ["−1,5\u00a0kg", "0,25", "9. Okt. 2025"]
    assert said[3]["torque"] == "N.m" and said[3]["part"] == "g"


@pytest.mark.parametrize("code", ["Deutsch", "Español", "हिन्दी"])
def test_a_figure_is_read_with_a_comma_or_a_point_in_every_language(british: Any, code: str) -> None:
    page, strip, part = british
    open_screen(page, "#/")
    page.get_by_role("radio", name=code).check()
    read = "async (typed) => (await (await import('/shop.js')).readFigure(typed, 'g')).value"
    assert [page.evaluate(read, typed) for typed in ("12,5", "12.5", "१२,५", "12٫5")] == [12.5] * 4
