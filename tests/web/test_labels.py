"""Labels for bags, boxes and parts: printed true to size, and their codes read by another people's reader."""

from collections.abc import Iterator
from typing import Any
from urllib.parse import unquote

import pytest
import zxingcpp
from playwright.sync_api import expect

from cotterbook.core.tag_papers import PAPERS, paper_of
from held_to_a_camera import millimetres, photographed, print_pages
from one_part import act, phone_with_one_part, view
from screens import open_screen

LONG = ("Auxiliary lamp bracket assembly with rubbers, the fairing stays behind it, second pattern, left " * 2)[:120]
RIGHT_TO_LEFT = "כיסוי מנוע שמאלי"


@pytest.fixture
def phone(chromium: Any, module_server: Any) -> Iterator[Any]:
    """A fresh phone with one part, in bag 7: (page, strip, part)."""
    with phone_with_one_part(chromium, module_server) as phone:
        yield phone


def choose(page: Any, what: str, paper: str) -> None:
    """Choose what to print on which paper, and wait until it is laid out."""
    page.get_by_label(what, exact=True).check()
    page.get_by_label("Paper").select_option(paper)
    expect(page.locator(f".tagpages[data-for='{what_of(what)} {paper}']")).to_be_visible()


def what_of(words: str) -> str:
    return {"Bags": "bags", "Parts": "parts", "Boxes and shelves": "boxes", "Empty bags": "empty"}[words]


def codes(picture: Any) -> list[Any]:
    return [each for each in zxingcpp.read_barcodes(picture) if each.format == zxingcpp.BarcodeFormat.QRCode]


def address(page: Any, place: str) -> str:
    return page.url.split("#")[0] + place


@pytest.mark.parametrize("paper", [paper["code"] for paper in PAPERS])
def test_twenty_empty_bags_are_labelled_before_the_work_on_every_paper(phone: Any, paper: str) -> None:
    page, strip, _ = phone
    open_screen(page, f"#/strip/{strip}/labels")
    choose(page, "Empty bags", paper)
    expect(page.get_by_role("button", name="Print 20 labels")).to_be_visible()
    sheet, pages = paper_of(paper), print_pages(page)
    each = sheet["columns"] * sheet["rows"]
    assert len(pages) == -(-20 // each)
    found = {}
    for n, picture in enumerate(pages):
        assert millimetres(picture.width) == pytest.approx(sheet["page_wide"], abs=0.5)
        assert millimetres(picture.height) == pytest.approx(sheet["page_high"], abs=0.5)
        for code in codes(picture):
            # The label on which the code is, by where it is on the paper.
            middle = [(code.position.top_left.x + code.position.bottom_right.x) / 2,
                      (code.position.top_left.y + code.position.bottom_right.y) / 2]  # fmt: skip
            column = (millimetres(middle[0]) - sheet["left"]) / sheet["across"]
            row = (millimetres(middle[1]) - sheet["top"]) / sheet["down"]
            assert 0.5 < column % 1 < 1, "the code is in the right half of its label"
            found[n * each + int(row) * sheet["columns"] + int(column)] = code.text
    # Bag 7 is taken, so the empty ones are 8 to 27.
    assert found == {n: address(page, f"#/strip/{strip}/bag/{n + 8}") for n in range(20)}


def test_codes_are_read_from_a_crooked_photograph_of_the_sheet(phone: Any) -> None:
    page, strip, _ = phone
    open_screen(page, f"#/strip/{strip}/labels")
    for paper in ("a4_21", "letter_30", "roll_58"):
        choose(page, "Empty bags", paper)
        sheet, (picture, *_) = paper_of(paper), print_pages(page)
        high = int(picture.height * sheet["down"] * 2 / sheet["page_high"]) if sheet["rows"] > 1 else picture.height
        seen = {code.text for code in codes(photographed(picture.crop((0, 0, picture.width, high))))}
        assert address(page, f"#/strip/{strip}/bag/8") in seen, paper


def test_a_sheet_of_which_some_labels_are_gone_begins_at_the_next(phone: Any) -> None:
    page, strip, _ = phone
    open_screen(page, f"#/strip/{strip}/labels")
    choose(page, "Bags", "a4_24")
    page.get_by_label("Labels gone from the first sheet", exact=True).fill("4")
    expect(page.locator(".tag")).to_have_count(1)
    (code,) = codes(print_pages(page)[0])
    assert code.text == address(page, f"#/strip/{strip}/bag/7")
    # The fifth of three columns: second row, second column.
    assert millimetres(code.position.top_left.x) == pytest.approx(70 + 38, abs=12)
    assert millimetres(code.position.top_left.y) == pytest.approx(37.5 + 6, abs=6)


def test_a_label_says_number_part_fasteners_place_and_day_and_nothing_is_cut_off_unsaid(phone: Any) -> None:
    page, strip, part = phone
    act(phone, "change", thing=part, type="part", values={"name": LONG, "kept": "box C"})
    act(phone, "take_off", name=RIGHT_TO_LEFT, place="engine", side="left", bag_label="12",
        groups=[{"count": 2, "thread": f"M{size}"} for size in (5, 6, 8, 10, 12, 14, 16, 18, 20, 22)])  # fmt: skip
    open_screen(page, f"#/strip/{strip}/labels")
    for paper in [paper["code"] for paper in PAPERS]:
        choose(page, "Bags", paper)
        seven, twelve = page.locator(".tag").nth(0), page.locator(".tag").nth(1)
        expect(seven.locator("strong")).to_have_text("7")
        expect(seven).to_contain_text(LONG)
        expect(twelve).to_contain_text(RIGHT_TO_LEFT)
        expect(twelve.locator(".title")).to_have_attribute("dir", "auto")
        for tag in (seven, twelve):
            inside = """(tag) => { const box = tag.getBoundingClientRect();
                return [...tag.querySelectorAll('p, svg')].every((each) => { const own = each.getBoundingClientRect();
                  return own.top >= box.top - 1 && own.bottom <= box.bottom + 1 && own.right <= box.right + 1; }); }"""
            assert tag.evaluate(inside), paper
    choose(page, "Bags", "a4_8")
    expect(page.locator(".tag").nth(0)).to_contain_text("4 × M8×25")
    expect(page.locator(".tag").nth(1)).to_contain_text("goes to: engine")
    choose(page, "Bags", "a4_21")
    expect(page.locator(".tag").nth(1)).to_contain_text("and 8 more")
    choose(page, "Parts", "a4_8")
    expect(page.locator(".tag").nth(0)).to_contain_text("kept: box C")
    choose(page, "Boxes and shelves", "a4_8")
    expect(page.locator(".tag strong")).to_have_text("box C")
    assert {code.text for code in codes(print_pages(page)[0])} == {address(page, f"#/strip/{strip}/kept/box%20C")}


def test_a_thousand_bags_are_refused_with_the_reason(phone: Any) -> None:
    page, strip, _ = phone
    open_screen(page, f"#/strip/{strip}/labels")
    choose(page, "Empty bags", "a4_plain")
    page.get_by_label("How many", exact=True).fill("1000")
    expect(page.get_by_text("At most 200 labels at once. Print these, then the next.").first).to_be_visible()
    expect(page.locator("button.main")).to_have_count(0)
    page.get_by_label("How many", exact=True).fill("200")
    expect(page.get_by_role("button", name="Print 200 labels")).to_be_visible()


def test_of_more_than_two_hundred_bags_all_can_be_printed(phone: Any) -> None:
    page, strip, _ = phone
    act(phone, "take_off", name="Fairing", groups=[{"count": 300, "thread": "M5"}], bag_label="500")
    (group,) = view(phone, "part", part=view(phone, "off")["parts"][0]["part"])["groups"]
    many = """async ([strip, group, bag]) => { const shop = await import('/shop.js');
      for (let n = 501; n < 705; n += 1)
        await shop.act('move', { strip, group, count: 1, from: 'bag', from_bag: bag, to: 'bag',
          to_bag_label: String(n) }); }"""
    page.evaluate(many, [strip, group["group"], group["places"][0]["bag"]])
    open_screen(page, f"#/strip/{strip}/labels")
    expect(page.get_by_text("At most 200 labels at once: here are 1 to 200.")).to_be_visible()
    first = page.locator(".tag strong").all_inner_texts()
    page.get_by_role("button", name="The next 6").click()
    expect(page.get_by_text("here are 201 to 206.")).to_be_visible()
    names = first + page.locator(".tag strong").all_inner_texts()
    assert sorted(names, key=int) == ["7", *(str(n) for n in range(500, 705))]
    page.get_by_role("button", name="From the first on").click()
    expect(page.get_by_text("here are 1 to 200.")).to_be_visible()


def test_the_paper_is_kept_for_the_next_time(phone: Any) -> None:
    page, strip, _ = phone
    open_screen(page, f"#/strip/{strip}/labels")
    choose(page, "Bags", "roll_80")
    page.reload()
    expect(page.get_by_label("Paper")).to_have_value("roll_80")


def test_labels_begin_with_the_paper_that_sheets_are_printed_on(phone: Any) -> None:
    page, strip, _ = phone
    open_screen(page, f"#/strip/{strip}/labels")
    expect(page.get_by_label("Paper")).to_have_value("a4_plain")
    open_screen(page, f"#/strip/{strip}/sheets")
    expect(page.get_by_role("radio", name="A4, 210 × 297 mm")).to_be_checked()
    page.get_by_role("radio", name="Letter, 8.5 × 11 in").check()
    open_screen(page, f"#/strip/{strip}/labels")
    expect(page.get_by_label("Paper")).to_have_value("letter_plain")


def test_sheets_begin_with_the_paper_that_labels_are_printed_on_and_a_roll_says_nothing_of_it(phone: Any) -> None:
    page, strip, _ = phone
    for paper, sheet in (("roll_58", "A4, 210 × 297 mm"), ("letter_30", "Letter, 8.5 × 11 in")):
        open_screen(page, f"#/strip/{strip}/labels")
        choose(page, "Bags", paper)
        open_screen(page, f"#/strip/{strip}/sheets")
        expect(page.get_by_role("radio", name=sheet)).to_be_checked()


def test_a_host_as_long_as_a_code_holds_is_told_short_with_its_end(phone: Any) -> None:
    page, strip, _ = phone
    read = "async ([text]) => (await import('/addresses.js')).readTag(text, location.origin)"
    long = "https://" + "a" * 2_000 + f".else.example:8351/#/strip/{strip}/bag/7"
    host = page.evaluate(read, [long])["host"]
    assert len(host) <= 61 and host.endswith(".else.example:8351") and "…" in host
    for text in ("javascript:alert(1)//#/strip/x/bag/7", "data:text/html,x#/strip/x/bag/7", "x" * 5_000, "", " ",
                 "https://a:b@[::1", f"file:///#/strip/{strip}/bag/7"):
        assert page.evaluate(read, [text]) == {}


def test_the_bag_of_a_label_opens_offline_and_says_what_is_in_it(phone: Any) -> None:
    page, strip, part = phone
    page.evaluate("() => navigator.serviceWorker.ready.then(() => true)")
    page.context.set_offline(True)
    open_screen(page, f"#/strip/{strip}/bag/7")
    expect(page.get_by_role("heading", level=1)).to_have_text("Bag 7")
    expect(page.locator(".line").first).to_contain_text("4 × M8×25")
    page.get_by_role("link", name="Caliper bracket").first.click()
    expect(page.get_by_role("heading", level=1)).to_have_text("Caliper bracket")
    (group,) = view(phone, "part", part=part)["groups"]
    bag = {"from": "bag", "from_bag": group["places"][0]["bag"]}
    act(phone, "move", group=group["group"], count=4, to="machine", **bag)
    act(phone, "part_on", part=part)
    open_screen(page, f"#/strip/{strip}/bag/7")
    expect(page.get_by_text("Nothing is in it, as far as is written down.")).to_be_visible()
    open_screen(page, f"#/strip/{strip}/bag/31")
    expect(page.get_by_text("No such bag is written down yet: nothing is in it.")).to_be_visible()
    open_screen(page, f"#/strip/{strip}/bag/%E0%A4%A")
    expect(page.get_by_role("heading", level=1)).to_have_text("Bag %E0%A4%A")


def test_a_bag_is_opened_by_the_number_that_is_typed(phone: Any) -> None:
    page, strip, _ = phone
    open_screen(page, f"#/strip/{strip}/off")
    page.get_by_text("Where the fasteners are").click()
    page.get_by_role("link", name="Read a label").click()
    expect(page.get_by_role("button", name="Open the bag")).to_be_disabled()
    page.get_by_label("What stands on the bag").fill(" 7 ")
    page.keyboard.press("Enter")
    expect(page.get_by_role("heading", level=1)).to_have_text("Bag 7")


@pytest.mark.parametrize(
    "label", ["सामने का फेंडर बोल्ट और वॉशर, बायाँ ओर १२", "غطاء المحرك الأيسر مع البراغي الطويلة ٤", "50 % / M8 #2 ? & ü"]
)
def test_the_code_of_a_label_in_any_script_is_coarse_enough_for_a_till_printer(phone: Any, label: str) -> None:
    page, strip, part = phone
    label = label[:40]
    act(phone, "change", thing=part, type="part", values={"bag_label": label})
    open_screen(page, f"#/strip/{strip}/labels")
    choose(page, "Bags", "roll_58")
    tag = page.locator(".tag").filter(has_text=label)
    wide = tag.locator("svg").evaluate("(svg) => [svg.viewBox.baseVal.width, svg.getBoundingClientRect().width]")
    read = [code for picture in print_pages(page) for code in codes(picture)]
    (code,) = [each for each in read if unquote(each.text).endswith(f"/strip/{strip}/bag/{label}")]
    across = millimetres(abs(code.position.top_right.x - code.position.top_left.x))
    # 203 dots an inch, the usual till printer (common practice, no source): two dots a module are 0.25 mm.
    assert across / (wide[0] - 8) > 0.25
    # What a camera reads opens that bag.
    page.goto(code.text)
    expect(page.get_by_role("heading", level=1)).to_contain_text(label)
