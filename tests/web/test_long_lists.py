"""Lists of a few hundred parts: drawn as somebody comes to them, and no row out of anybody's reach."""

import json
import re
import uuid
from collections.abc import Iterator
from typing import Any

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import expect

from cotterbook.core import phone
from screens import double_the_text, sticking_out

OFF, BACK, FEW = 200, 100, 60
MANY = OFF + BACK
# Up to so many stand ready before anybody scrolls.
READY = 60
STAMP = {"device": "0195a000-0000-7000-8000-000000000909", "who": "Ann"}
BEGUN_MS = 1_760_000_000_000
RECEIVE = "async (entries) => (await import('/log.js')).receive(entries[0].strip, entries, entries.length)"
# What a list of each screen is made of, a row.
ROWS = {
    "off": ".lines > li:has(> a.line)",
    "statement": ".statement tbody tr:not(.beneath)",
    "back": "details.part",
    "balance": ".lines > li.line",
}
LENGTHS = {"off": MANY, "statement": MANY, "back": BACK, "balance": MANY}
BEGUN = """async () =>
  (await (await import('/log.js')).drafts()).some((draft) => draft.key.startsWith('tighten/'))"""
TOP = "(row) => row.getBoundingClientRect().top"


def log_of(off: int, back: int, seed: int) -> list[dict[str, Any]]:
    """So many parts that stay off, 101 g and each next one 1 g more, then so many that go back, 5 g each."""
    numbers = iter(range(1, 10**9))

    def new_id() -> str:
        number = next(numbers)
        return str(uuid.UUID(int=((BEGUN_MS + number) << 80) | (7 << 76) | (2 << 62) | (seed << 32) | number))

    call, found = phone.start(new_id), []

    def act(name: str, /, **form: Any) -> Any:
        stamp = STAMP | {"now": BEGUN_MS + 1_000 * len(found)}
        answer = json.loads(call("act", json.dumps({"act": name, "form": form} | stamp)))["result"]
        found.extend(answer["entries"])
        call("load", json.dumps({"strip": found[0]["strip"], "entries": answer["entries"]}))
        return answer

    strip = act("begin_strip", name="Long", machine_name="Test hack")["strip"]
    for number in range(1, off + back + 1):
        stays = number <= off
        act(
            "take_off",
            strip=strip,
            name=f"Part {number}",
            outcome="stays_off" if stays else "goes_back",
            outcome_done=stays,
            bag_label=str(number % 7),
            groups=[{"count": 1, "thread": "M6", "length": "20", "torque": "10"}],
            readings=[{"figure": str(100 + number) if stays else "5", "unit": "g", "step": "1"}],
        )
    return found


@pytest.fixture(scope="module")
def place(chromium: Any, module_server: Any) -> Iterator[Any]:
    """A small phone with a long strip-down and a short one: (page, address, long one's id, short one's id)."""
    context = chromium.new_context(viewport={"width": 360, "height": 740}, locale="en-GB")
    page = context.new_page()
    page.goto(module_server.url + "/")
    expect(page.locator("h1")).to_be_visible()
    page.evaluate("async () => (await import('/shop.js')).setPerson('Ann')")
    strips = []
    for entries in (log_of(OFF, BACK, 1), log_of(FEW, 0, 2)):
        page.evaluate(RECEIVE, entries)
        strips.append(entries[0]["strip"])
    yield page, module_server.url, *strips
    context.close()


def opened(place: Any, screen: str, short: bool = False) -> tuple[Any, Any]:
    """The page with a screen opened anew, and the rows of its list."""
    page, url, long_one, short_one = place
    page.goto("about:blank")
    page.goto(f"{url}/#/strip/{short_one if short else long_one}/{screen}")
    expect(page.get_by_text("Reading the log…")).to_have_count(0)
    rows = page.locator(ROWS[screen])
    if screen == "balance":
        page.locator("summary", has_text="All parts").click()
    expect(rows.first).to_be_visible()
    return page, rows


def names(rows: Any) -> list[str]:
    """The names of the rows, in the order in which they stand."""
    found = rows.evaluate_all("(all) => all.map((row) => row.textContent.match(/Part \\d+/)[0])")
    return list(found)


@pytest.mark.parametrize("screen", ROWS)
def test_rows_come_as_one_scrolls_until_all_are_there(place: Any, screen: str) -> None:
    page, rows = opened(place, screen)
    many = LENGTHS[screen]
    assert rows.count() <= READY
    expect(page.locator(".list-end p").filter(has_text=f"of {many} shown.").last).to_be_attached()
    first = names(rows)
    while rows.count() < many:
        rows.last.scroll_into_view_if_needed()
        page.mouse.wheel(0, 700)
    found = names(rows)
    assert found[: len(first)] == first
    assert len(set(found)) == many
    expect(page.get_by_text(f"All {many} shown.").last).to_be_attached()


def test_sums_and_counts_are_of_all_rows_not_of_those_that_are_drawn(place: Any) -> None:
    page, rows = opened(place, "statement")
    assert rows.count() <= READY
    # 101 g to 300 g: 200 times the mean of both.
    grams = OFF * (101 + 300) / 2
    line = page.locator("dl.sums > div").filter(has_text="Since it came in").locator("dd")
    expect(line).to_contain_text(f"\u2212{grams / 1000:.3f}")
    # ARIA in HTML and WAI-ARIA 1.2, aria-rowcount: all rows of the table, those that are not there too.
    expect(page.locator("table.statement")).to_have_attribute("aria-rowcount", str(1 + 2 * MANY))
    expect(rows.nth(3)).to_have_attribute("aria-rowindex", str(2 + 2 * 3))
    page, rows = opened(place, "off")
    # WAI-ARIA 1.2, aria-setsize and aria-posinset: place and size of the whole set, where not all is in the page.
    expect(rows.nth(3)).to_have_attribute("aria-setsize", str(MANY))
    expect(rows.nth(3)).to_have_attribute("aria-posinset", "4")
    expect(page.get_by_text(f"{MANY} of {MANY} parts off.")).to_be_visible()


@pytest.mark.parametrize("screen", ["off", "statement"])
def test_the_end_key_leads_to_the_last_row(place: Any, screen: str) -> None:
    page, rows = opened(place, screen)
    page.keyboard.press("End")
    expect(rows).to_have_count(LENGTHS[screen])
    expect(page.get_by_text(f"All {MANY} shown.")).to_be_in_viewport()


def test_end_in_a_field_belongs_to_the_field(place: Any) -> None:
    page, rows = opened(place, "off")
    page.locator("summary", has_text="Begin a spell of work").click()
    page.get_by_label("Who is there").press("End")
    assert rows.count() <= READY


def test_tab_finds_every_row(place: Any) -> None:
    page, rows = opened(place, "off")
    rows.first.locator("a").focus()
    seen = [0]
    while seen[-1] < MANY:
        found = page.evaluate("Number(document.activeElement.closest('li')?.getAttribute('aria-posinset') ?? 0)")
        # Whoever is faster than the rows comes to the button, and is led on from there.
        if found == 0:
            expect(page.get_by_role("button", name=f"Show all {MANY}")).to_be_focused()
            page.keyboard.press("Enter")
            expect(rows).to_have_count(MANY)
            expect(page.get_by_role("button", name=f"Show all {MANY}")).to_have_count(0)
            expect(rows.nth(seen[-1]).locator("a")).to_be_focused()
            continue
        assert found == seen[-1] + 1
        seen.append(found)
        page.keyboard.press("Tab")


def test_the_button_shows_all_and_goes_on_from_the_first_new_row(place: Any) -> None:
    page, rows = opened(place, "back")
    notices = page.get_by_role("region", name="Short or left over")
    before = notices.get_by_role("listitem").count()
    assert before < OFF
    notices.get_by_role("button", name=f"Show all {OFF}").press("Enter")
    expect(notices.get_by_role("listitem")).to_have_count(OFF)
    # Nothing in such a row can be pressed: the row itself is where one reads on.
    expect(notices.get_by_role("listitem").nth(before)).to_be_focused()
    said = notices.locator(".list-end p")
    expect(said).to_have_text(f"All {OFF} shown.")
    expect(said).to_have_attribute("aria-live", "polite")


@pytest.mark.parametrize("screen", ["off", "statement"])
def test_the_way_back_leads_to_the_same_place(place: Any, screen: str) -> None:
    page, rows = opened(place, screen)
    while rows.count() < 130:
        rows.last.scroll_into_view_if_needed()
        page.mouse.wheel(0, 700)
    row = rows.nth(110)
    name = names(rows)[110]
    row.evaluate("(row) => scrollBy(0, row.getBoundingClientRect().top - 300)")
    top = row.evaluate(TOP)
    link = row.get_by_role("link")
    link.click()
    expect(page.get_by_role("heading", level=1)).to_have_text(name)
    assert page.evaluate("scrollY") == 0
    page.go_back()
    again = page.locator(ROWS[screen]).filter(has_text=re.compile(rf"{name}\b"))
    expect(again.get_by_role("link")).to_be_focused()
    # Half a pixel each way is what rounding may take.
    assert abs(again.evaluate(TOP) - top) <= 1
    # By the bar one comes anew, and begins at the top.
    page.get_by_role("navigation", name="Screens").get_by_role("link", name="Sending").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("Sending")
    name = "Off" if screen == "off" else "Masses"
    page.get_by_role("navigation", name="Screens").get_by_role("link", name=name, exact=True).click()
    expect(rows.first).to_be_attached()
    assert page.evaluate("scrollY") == 0
    assert rows.count() <= READY


def test_where_many_fasteners_are_is_there_once_it_is_unfolded(place: Any) -> None:
    page, rows = opened(place, "off")
    title = "Where the fasteners are"
    section = page.locator("details").filter(has=page.locator("summary", has_text=title))
    # One link to each group's part, beside those to the bags.
    assert section.locator(".line p a").count() == 0
    section.locator("summary").first.click()
    expect(section.locator(".line p a")).to_have_count(MANY)


@pytest.mark.parametrize("screen", ["off", "statement"])
def test_printing_prints_all(place: Any, screen: str) -> None:
    page, rows = opened(place, screen)
    assert rows.count() <= READY
    page.pdf()
    assert rows.count() == MANY


@pytest.mark.parametrize("screen", ["off", "statement"])
def test_printing_prints_all_however_soon_it_is_asked_for(place: Any, screen: str) -> None:
    page, _, long_one, _ = place
    page.goto("about:blank")
    page.goto(f"{place[1]}/#/strip/{long_one}/spells")
    expect(page.get_by_text("Reading the log…")).to_have_count(0)
    # In the same breath in which the first rows come to stand in the page, before they are painted.
    counted = page.evaluate(
        """([selector, hash]) => new Promise((resolve) => {
          new MutationObserver(async (_, watch) => {
            if (!document.querySelector(selector)) return;
            watch.disconnect();
            dispatchEvent(new Event("beforeprint"));
            await null;
            resolve(document.querySelectorAll(selector).length);
          }).observe(document.body, { childList: true, subtree: true });
          location.hash = hash;
        })""",
        [ROWS[screen], f"#/strip/{long_one}/{screen}"],
    )
    assert counted == MANY


def test_a_tightening_that_was_begun_far_down_is_in_sight_again(place: Any) -> None:
    page, rows = opened(place, "back")
    while rows.count() < BACK:
        rows.last.scroll_into_view_if_needed()
        page.mouse.wheel(0, 700)
    last = names(rows)[-1]
    rows.last.locator("summary").first.click()
    rows.last.get_by_role("button", name="Put 1 back").click()
    rows.last.get_by_label("Which wrench", exact=True).fill("The long one")
    while not page.evaluate(BEGUN):
        pass
    page, rows = opened(place, "back")
    expect(rows.filter(has=page.get_by_text(last, exact=True))).to_have_attribute("open", "")


@pytest.mark.parametrize("screen", ["off", "statement"])
def test_a_short_list_is_drawn_whole_and_says_no_more_than_it_did(place: Any, screen: str) -> None:
    page, rows = opened(place, screen, short=True)
    assert rows.count() == FEW
    for attribute in ("data-row", "aria-posinset", "aria-setsize", "aria-rowindex", "aria-rowcount"):
        assert page.locator(f"main [{attribute}]").count() == 0
    assert page.locator(".list-end").count() == 0
    assert page.evaluate("history.state") is None


@pytest.mark.parametrize("screen", ROWS)
def test_a_long_list_is_accessible_and_fits_at_twice_the_text(place: Any, screen: str) -> None:
    page, rows = opened(place, screen)
    # What lies half under the bar below is too small a target only until somebody scrolls: it covers nothing here.
    page.set_viewport_size({"width": 360, "height": 2_000})
    page.evaluate(
        """() => { const sheet = new CSSStyleSheet(); sheet.replaceSync('.foot { position: static !important; }');
                  document.adoptedStyleSheets = [sheet]; }"""
    )
    answer = Axe().run(page, options={"runOnly": {"type": "tag", "values": ["wcag2a", "wcag2aa", "wcag22aa"]}}).response
    page.set_viewport_size({"width": 360, "height": 740})
    assert [(each["id"], each["nodes"][0]["html"][:120]) for each in answer["violations"]] == []
    double_the_text(page)
    assert sticking_out(page) == []
    page.evaluate("document.adoptedStyleSheets = []")
