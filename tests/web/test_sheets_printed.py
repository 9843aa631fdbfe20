"""Sheets on paper: whole, in order, in black and white, on the paper that was chosen, with or without a network."""

from collections import Counter
from collections.abc import Iterator
from typing import Any

import pytest
from playwright.sync_api import expect

from printed import PAPERS, SHEETS, check_pages, plain, printed, show
from screens import PICK, STRETCH, open_screen, sticking_out

TITLES = {
    "back": "Way-back sheet", "buy": "Shopping list", "keys": "Keys and tools", "build": "Build sheet",
    "charts": "Pictures of the numbers",
    "standard": "Back-to-standard sheet",
}  # fmt: skip
VIEW = "async ([strip, name]) => (await import('/shop.js')).view(strip, name)"
SAID = "async (sentences) => { const { t } = await import('/words.js'); return sentences.map((each) => t(each)); }"
KINDS_OF_ROWS = ("take_off", "put_on", "cannot", "settings")
GROUPS = "[...document.querySelectorAll('.paper .group h4')].map((each) => each.textContent.replace('\\u00a0', ' '))"


@pytest.fixture(scope="module")
def demo(chromium: Any, demo_server: Any) -> Iterator[Any]:
    """A desk's browser with the demo strip-down, in the dark theme: (page, strip)."""
    context = chromium.new_context(viewport={"width": 1280, "height": 860}, color_scheme="dark")
    page = context.new_page()
    page.goto(demo_server.url + "/")
    expect(page.locator(".lines .line")).to_have_count(1, timeout=60_000)
    page.evaluate("navigator.serviceWorker.ready.then(() => true)")
    yield page, page.evaluate(PICK)["strip"]
    context.close()


@pytest.fixture(scope="module")
def long_names(chromium: Any, module_server: Any) -> Iterator[Any]:
    """A phone without a network, and a strip-down of long names, names from right to left and 100 parts."""
    context = chromium.new_context(viewport={"width": 360, "height": 740})
    page = context.new_page()
    page.goto(module_server.url + "/")
    expect(page.locator("h1")).to_be_visible()
    page.evaluate("navigator.serviceWorker.ready.then(() => true)")
    strip = page.evaluate(STRETCH)["strip"]
    page.evaluate(
        """async (strip) => { const shop = await import('/shop.js');
          const groups = [{ count: 2, thread: 'M6', length: '20', torque: '10', torque_page: '4-2' }];
          const again = { strip, outcome: 'goes_back', groups };
          for (let n = 1; n <= 98; n++)
            await shop.act('take_off', { ...again, name: `Part number ${n}`, bag_label: `${n}` });
          await shop.act('take_off', { ...again, name: 'W'.repeat(120) });
          await shop.act('take_off', { ...again, name: 'מגן בוץ קדמי 7 עם תושבת' }); }""",
        strip,
    )
    context.set_offline(True)
    yield page, strip
    context.close()


def in_turn(text: str, wanted: list[str]) -> None:
    """That each of these stands in the text, one after the other."""
    at = 0
    for each in wanted:
        found = text.find(plain(each), at)
        assert found >= 0, f"{each!r} is not on the paper after {text[max(0, at - 80) : at]!r}"
        at = found + len(plain(each))


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("sheet", SHEETS)
def test_every_page_is_of_its_paper_numbered_and_black_and_white(demo: Any, sheet: str, paper: str) -> None:
    page, strip = demo
    show(page, strip, sheet, paper)
    texts = check_pages(printed(page), paper, TITLES[sheet])
    for text in texts:
        assert "Harrowfen" in text and "Sidecar tug for the heather hives" in text and "Printed" in text
    assert "fit to ride" in texts[-1]
    assert "safe" not in plain(" ".join(texts)).lower().replace("safety wire", "")
    assert "legal" not in " ".join(texts).lower()


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("sheet", SHEETS)
def test_long_names_and_many_parts_lose_nothing_at_the_edge(long_names: Any, sheet: str, paper: str) -> None:
    page, strip = long_names
    show(page, strip, sheet, paper)
    assert sticking_out(page) == []
    check_pages(printed(page), paper, TITLES[sheet])


@pytest.mark.parametrize("paper", PAPERS)
def test_the_way_back_is_there_once_and_in_the_order_of_its_screen(demo: Any, paper: str) -> None:
    page, strip = demo
    open_screen(page, f"#/strip/{strip}/back")
    on_screen = page.locator("details.part > summary > .name").all_text_contents()
    show(page, strip, "back", paper)
    view = page.evaluate(VIEW, [strip, "back"])
    parts = view["parts"] + view["done"]
    assert [part["name"] for part in parts] == on_screen
    text = " ".join(check_pages(printed(page), paper, TITLES["back"]))
    in_turn(text, [f"{number}. {name}" for number, name in enumerate(on_screen, 1)])
    assert page.locator(".paper .piece").count() == len(parts)
    wanted = Counter(plain(each) for each in page.evaluate(GROUPS))
    assert sum(wanted.values()) == sum(len(part["groups"]) for part in parts) > 20
    for words, count in wanted.items():
        # A longer size may begin with the same letters.
        longer = sum(more for other, more in wanted.items() if other != words and words in other)
        assert text.count(words) == count + longer, words


def test_the_way_back_of_many_parts_is_whole(long_names: Any) -> None:
    page, strip = long_names
    show(page, strip, "back", "a4")
    text = " ".join(check_pages(printed(page), "a4", TITLES["back"]))
    view = page.evaluate(VIEW, [strip, "back"])
    names = [part["name"] for part in view["parts"]]
    assert len(names) == 101
    # Names from right to left stand in a PDF as they are seen, and a name longer than a line is broken anywhere.
    for name in [each for each in names if each.startswith("Part number")]:
        assert text.count(f"{name} on") == 1
    assert text.replace(" ", "").count("W" * 120) == 1


def test_a_box_is_crossed_for_what_the_log_has_and_a_second_check_stands_only_where_one_is_wanted(demo: Any) -> None:
    page, strip = demo
    show(page, strip, "back", "a4")
    boxes = "(group) => [...group.querySelectorAll('.ticked')].map((each) => each.innerText.trim())"
    seen = page.locator(".paper .group").evaluate_all(f"(groups) => groups.map({boxes})")
    view = page.evaluate(VIEW, [strip, "back"])
    groups = [group for part in view["parts"] + view["done"] for group in part["groups"]]
    for group, words in zip(groups, seen, strict=True):
        check = group["second_check"]
        assert any("second check" in each for each in words) == (check["wanted"] and check["waived"] is None)
        assert ("done" in words[0]) == (group["on"] == group["count"])


def test_the_button_prints(demo: Any) -> None:
    page, strip = demo
    show(page, strip, "back", "a4")
    page.evaluate("() => { window.asked = 0; window.print = () => { window.asked += 1; }; }")
    page.get_by_role("button", name="Print, or save as PDF").click()
    assert page.evaluate("window.asked") == 1


def test_the_paper_stays_chosen_and_both_screens_lead_to_the_sheets(demo: Any) -> None:
    page, strip = demo
    for screen in ("off", "back"):
        open_screen(page, f"#/strip/{strip}/{screen}")
        page.get_by_role("link", name="Sheets to print").click()
        expect(page.get_by_role("heading", level=1)).to_have_text("Sheets to print")
    for paper in ("a4", "letter", "a4"):
        page.get_by_label(PAPERS[paper]).check()
        expect(page.get_by_label(PAPERS[paper])).to_be_checked()
    page.get_by_role("link", name=TITLES["back"]).click()
    expect(page.locator(".paper.on_a4")).to_be_visible()


def test_the_shopping_list_has_all_that_its_screen_has(demo: Any) -> None:
    page, strip = demo
    show(page, strip, "buy", "a4")
    view = page.evaluate(VIEW, [strip, "buy"])
    text = " ".join(check_pages(printed(page), "a4", TITLES["buy"]))
    assert f"Fasteners to buy: {view['to_buy']}." in text
    bought = [line for line in view["lines"] if line["to_buy"] > 0]
    in_turn(text, [f"{line['to_buy']} × {line['called']}" for line in bought])
    assert sum(line["to_buy"] for line in bought) == view["to_buy"] > 0
    for line in bought:
        for group in line["groups"]:
            assert f"{group['to_buy']} for {group['name']}" in text
    in_turn(text, [item["text"] for item in view["items"]])


def test_the_keys_on_paper_add_up_to_the_fasteners_still_to_be_turned(demo: Any) -> None:
    page, strip = demo
    show(page, strip, "keys", "a4")
    view = page.evaluate(VIEW, [strip, "keys_sheet"])
    text = " ".join(check_pages(printed(page), "a4", TITLES["keys"]))
    sizes = [row["size"] for row in view["keys"]]
    in_turn(text, sizes)
    counts = page.locator(".paper section").first.locator(".last").all_text_contents()
    without = sum(each["count"] for each in view["unknown"])
    assert sum(int(each.removeprefix("for ")) for each in counts) + without == view["fasteners"] > 0
    assert f"turned on the way back: {view['fasteners']}." in text
    for wrench in view["wrenches"]:
        assert wrench["name"] in text


def figures_of(page: Any, shown: list[Any]) -> list[str]:
    """Figures of the core in the page's own words."""
    script = "async (shown) => { const { figure } = await import('/words.js'); return shown.map(figure); }"
    return [plain(each) for each in page.evaluate(script, shown)]


def test_the_build_sheet_has_what_changed_each_mass_setting_torque_open_item_and_picture(demo: Any) -> None:
    page, strip = demo
    show(page, strip, "build", "a4")
    text = " ".join(check_pages(printed(page), "a4", TITLES["build"]))
    off, statement = (page.evaluate(VIEW, [strip, name]) for name in ("off", "statement"))
    changed = [row["name"] for row in reversed(off["parts"]) if row["outcome"] not in (None, "goes_back")]
    masses, torques = text.split(" Masses ")[1].split(" Settings ")[0], text.split(" Torques ")[1]
    in_turn(text.split(" What changed ")[1], changed)
    in_turn(masses, figures_of(page, [statement["sums"]["came_in"], statement["sums"]["standard"]]))
    in_turn(masses, [line["name"] for line in statement["lines"]])
    for figure in figures_of(page, [line["off"] for line in statement["lines"] if line["off"]]):
        assert f"off {figure}" in masses
    settings = page.evaluate(VIEW, [strip, "settings"])["settings"]
    in_turn(
        text.split(" Settings ")[1], figures_of(page, [each["now"] for each in settings if type(each["now"]) is dict])
    )
    build = page.evaluate(VIEW, [strip, "build_sheet"])
    back = page.evaluate(VIEW, [strip, "back"])
    last = [group["last"] for part in back["parts"] + back["done"] for group in part["groups"] if group["last"]]
    for each in last:
        [torque] = figures_of(page, [each["shown"]])
        assert f"× {torque} · {each['tool']}" in torques and each["who"] in torques
    assert len(build["torques"]) >= len(last) > 10
    for part in [part for group in build["open"]["groups"] for part in group["parts"]]:
        for item in part["items"]:
            assert plain(item["text"]) in torques
    assert page.locator(".paper .prints img").count() == len(build["pictures"]) > 5


def test_back_to_standard_has_every_part_of_its_screen_in_order(demo: Any) -> None:
    page, strip = demo
    show(page, strip, "standard", "a4")
    view = page.evaluate(VIEW, [strip, "to_standard"])
    text = " ".join(check_pages(printed(page), "a4", TITLES["standard"]))
    assert f"{view['on']} of {view['standard']} standard parts are on as they were." in text
    in_turn(text, ["Comes off first", *(row["name"] for row in view["take_off"])])
    in_turn(text, ["Goes on again", *(row["name"] for row in view["put_on"])])
    in_turn(text, [row["name"] for row in view["cannot"]])
    assert page.locator(".paper h3").count() == sum(len(view[name]) for name in KINDS_OF_ROWS)
    turned = [each for each in page.evaluate(VIEW, [strip, "settings"])["settings"] if each["back"]["state"] != "same"]
    assert [row["setting"] for row in view["settings"]] == [each["setting"] for each in turned] != []
    for row in view["settings"]:
        [says] = page.evaluate(SAID, [row["back"]["says"]])
        assert plain(says) in text


@pytest.mark.parametrize("sheet", ["back", "build"])
def test_what_stops_the_machine_stands_on_a_sheet_once_and_whole(demo: Any, sheet: str) -> None:
    page, strip = demo
    show(page, strip, sheet, "a4")
    text = " ".join(check_pages(printed(page), "a4", TITLES[sheet]))
    stops = page.evaluate(VIEW, [strip, "back"])["stops"]
    assert stops
    for said in page.evaluate(SAID, stops):
        assert text.count(plain(said)) == 1
