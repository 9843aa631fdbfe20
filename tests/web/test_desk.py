"""The shop's PC: tables to sort and search by keyboard, the shop at a glance, and what phones send seen as it comes."""

import re
from collections.abc import Iterator
from typing import Any

import pytest
from playwright.sync_api import expect

from jpegs import jpeg
from one_part import act, phone_with_one_part
from screens import open_screen


def begin_more(phone: Any) -> None:
    for name, figure, kept in (("Ölkühler", "1250", "Box C"), ("Mirror 10", "80", ""), ("Mirror 9", "", "box c")):
        readings = [{"figure": figure, "unit": "g", "step": "1", "pieces": 1}] if figure else []
        part = act(phone, "take_off", name=name, place="side", readings=readings)["part"]
        if kept:
            act(phone, "change", thing=part, type="part", values={"kept": kept}, units={}, saw={})


@pytest.fixture
def phone(chromium: Any, module_server: Any) -> Iterator[Any]:
    """A fresh phone with one part of 2 × 400 g, by readings of one, and three more: (page, strip, part)."""
    with phone_with_one_part(chromium, module_server) as phone:
        begin_more(phone)
        yield phone


@pytest.fixture
def alone(chromium: Any, server: Any) -> Iterator[Any]:
    """The same phone at a PC that knows no other strip-down."""
    with phone_with_one_part(chromium, server) as phone:
        begin_more(phone)
        yield phone


def names(page: Any) -> list[str]:
    return page.locator(".wide_table tbody th").all_inner_texts()


def sort_by(page: Any, words: str) -> None:
    head = page.get_by_role("columnheader", name=words, exact=True).get_by_role("button")
    head.focus()
    page.keyboard.press("Enter")


def test_a_table_is_sorted_by_keyboard_and_searched(phone: Any) -> None:
    page, strip, part = phone
    open_screen(page, f"#/strip/{strip}/tables")
    expect(page.get_by_text("4 rows", exact=True)).to_be_visible()
    sort_by(page, "Part")
    # Figures in names by their size, letters with marks beside those without.
    sorted_names = names(page)
    assert sorted_names.index("Mirror 9") < sorted_names.index("Mirror 10") < sorted_names.index("Ölkühler")
    expect(page.get_by_role("columnheader", name="Part", exact=True)).to_have_attribute("aria-sort", "ascending")
    sort_by(page, "Mass as taken off, g")
    by_mass = names(page)
    # What was not weighed comes last, up and down.
    assert by_mass[0] == "Mirror 10" and by_mass[-1] == "Mirror 9"
    sort_by(page, "Mass as taken off, g")
    expect(page.locator(".wide_table tbody th").first).to_have_text("Ölkühler")
    assert names(page)[-1] == "Mirror 9"
    page.get_by_role("searchbox", name="Only rows with").fill("olkuhler 1250")
    expect(page.get_by_text("1 of 4 rows")).to_be_visible()
    page.get_by_role("link", name="Ölkühler").press("Enter")
    expect(page.get_by_role("heading", level=1, name="Ölkühler")).to_be_visible()


def test_a_long_note_makes_no_row_as_high_as_a_screen_and_no_column_hides_the_focus(phone: Any) -> None:
    page, strip, part = phone
    act(phone, "change", thing=part, type="part", values={"note": "A long note. " * 80}, units={}, saw={})
    page.set_viewport_size({"width": 1280, "height": 900})
    open_screen(page, f"#/strip/{strip}/tables")
    row = page.locator(".wide_table tbody tr").filter(has_text="A long note.")
    expect(row).to_have_count(1)
    assert row.bounding_box()["height"] < 450
    page.set_viewport_size({"width": 360, "height": 740})
    heads = page.locator(".wide_table thead button")
    heads.last.focus()
    for _ in range(heads.count() - 1):
        page.keyboard.press("Shift+Tab")
        hidden = page.evaluate("""() => {
          const name = document.querySelector('.wide_table th').getBoundingClientRect();
          const held = document.activeElement.getBoundingClientRect();
          return document.activeElement.closest('th').cellIndex > 0 && held.right <= name.right + 1;
        }""")
        assert not hidden
    page.get_by_role("searchbox", name="Only rows with").fill("long note")
    expect(page.get_by_text("1 of 4 rows")).to_be_visible()


def test_a_search_without_a_row_and_an_empty_table_say_so(phone: Any) -> None:
    page, strip, _ = phone
    open_screen(page, f"#/strip/{strip}/tables")
    page.get_by_role("searchbox", name="Only rows with").fill("nothing of the kind")
    expect(page.get_by_text("0 of 4 rows")).to_be_visible()
    page.get_by_label("Tightenings").check()
    expect(page.get_by_text("Nothing is written down for this table yet.")).to_be_visible()


def test_what_is_in_box_c_and_who_works_here(alone: Any) -> None:
    page, _, _ = alone
    act(alone, "add_scale", name="Bench scale", step="1", calibrated_on="2020-01-31")
    open_screen(page, "#/")
    page.get_by_role("link", name="In the shop").tap()
    expect(page.get_by_role("heading", level=1, name="In the shop")).to_be_visible()
    box = page.locator("section", has=page.get_by_role("heading", name=re.compile("^box c$", re.I), level=3)).last
    expect(box.get_by_role("link", name="Ölkühler")).to_be_visible()
    expect(box.get_by_role("link", name="Mirror 9")).to_be_visible()
    expect(page.get_by_text("Due now.")).to_be_visible()
    expect(page.get_by_text("in one strip-down")).to_be_visible()


def test_a_wrench_is_told_worn_by_what_it_tightened_in_all_strip_downs(alone: Any) -> None:
    page, strip, _ = alone
    made = """async (strip) => {
      const shop = await import('/shop.js');
      const second = await shop.act('begin_strip', { name: 'Another evening', machine_name: 'Test hack' });
      const wrenches = [];
      for (const each of [strip, second.strip]) {
        const { tool } = await shop.act('add_tool', { strip: each, name: 'Bench wrench' });
        wrenches.push([each, tool]);
      }
      return wrenches;
    }"""
    wear = """async (wrenches) => {
      const log = await import('/log.js');
      const { uuidv7 } = await import('/vendor/uuidv7-1.2.1.mjs');
      const [by, group] = [uuidv7(), uuidv7()];
      const of = { kind: 'set', type: 'group', thing: group, values: { count: 500 } };
      const entry = (strip, more) => ({ id: uuidv7(), strip, at: Date.now(), by, who: 'Ann', ...more });
      for (const [strip, with_tool] of wrenches) {
        const uses = Array.from({ length: 5 }, () => entry(strip,
          { kind: 'tighten', group, count: 500, newton_metres: 20, with_tool }));
        await log.addEntries([entry(strip, of), ...uses]);
      }
    }"""
    page.evaluate(wear, page.evaluate(made, strip))
    open_screen(page, "#/shop")
    card = page.get_by_role("listitem").filter(has=page.get_by_role("link", name="Bench wrench"))
    expect(card).to_contain_text("torque wrench · in 2 strip-downs")
    expect(card).to_contain_text("Used 5,000 times here; a calibration is due at 5,000 (ISO 6789-1).")
    # In either of them it was used half as often.
    open_screen(page, f"#/strip/{strip}/gear")
    expect(page.get_by_role("heading", name="Bench wrench")).to_be_visible()
    expect(page.get_by_text("a calibration is due at 5,000")).to_have_count(0)


# How often the sender took its place: the first thing that a turn does, before it lets anything else go on.
TURNS = """(() => {
  const request = navigator.locks.request.bind(navigator.locks);
  window.turns = 0;
  navigator.locks.request = (name, ...rest) => {
    window.turns += name === 'cotterbook-sender';
    return request(name, ...rest);
  };
})();"""
RESTED = "async () => { await (await import('/sync.js')).sendNow(); return window.turns; }"


@pytest.mark.parametrize(("width", "asked"), [(1280, 6), (412, 1)])
def test_a_wide_screen_asks_the_pc_again_after_five_seconds_and_a_phone_after_thirty(
    chromium: Any, module_server: Any, width: int, asked: int
) -> None:
    context = chromium.new_context(viewport={"width": width, "height": 900})
    page = context.new_page()
    page.add_init_script(TURNS)
    page.clock.install(time=0)
    page.goto(module_server.url + "/")
    expect(page.get_by_text(re.compile("^All sent"))).to_be_visible()
    # From here on no time goes by but what is let go by.
    page.clock.pause_at(3_600)
    found = []
    for _ in range(6):
        before = page.evaluate(RESTED)
        page.clock.run_for(5_000)
        found.append(page.evaluate("window.turns") > before)
    assert sum(found) == asked, found
    context.close()


def test_what_a_phone_sends_appears_at_the_desk_by_itself(chromium: Any, module_server: Any, phone: Any) -> None:
    page, strip, _ = phone
    context = chromium.new_context(viewport={"width": 1280, "height": 900})
    desk = context.new_page()
    desk.goto(f"{module_server.url}/#/strip/{strip}/off")
    expect(desk.get_by_text("Ölkühler").first).to_be_visible(timeout=60_000)
    act(phone, "take_off", name="Handlebar end", place="handlebar", readings=[])
    expect(desk.get_by_text("Handlebar end").first).to_be_visible(timeout=60_000)
    context.close()


def test_pictures_stand_before_and_after_beside_each_other(phone: Any) -> None:
    page, strip, part = phone
    open_screen(page, f"#/strip/{strip}/part/{part}")
    for seed, name in enumerate(("before.jpg", "after.jpg")):
        picture = {"name": name, "mimeType": "image/jpeg", "buffer": jpeg(seed=seed)}
        page.get_by_label("Take a photo").first.set_input_files(picture)
        expect(page.get_by_role("button", name="Show large")).to_have_count(seed + 1)
        act(phone, "change", thing=part, type="part", values={"off": name == "before.jpg"}, units={}, saw={})
    page.set_viewport_size({"width": 1280, "height": 900})
    open_screen(page, f"#/strip/{strip}/pictures")
    expect(page.get_by_text("1 with pictures")).to_be_visible()
    sides = page.locator(".before-after > *")
    expect(sides).to_have_count(2)
    left, right = [sides.nth(n).bounding_box() for n in (0, 1)]
    assert left["y"] == right["y"] and left["x"] + left["width"] <= right["x"]
    page.get_by_role("searchbox", name="Only pictures of").fill("nothing")
    expect(page.get_by_text("0 with pictures")).to_be_visible()


def test_a_picture_is_there_as_soon_as_the_pc_has_it_and_a_damaged_one_is_told(phone: Any) -> None:
    page, strip, part = phone
    page.clock.install()
    asked: list[str] = []

    def answer(route: Any) -> None:
        asked.append(route.request.url)
        given = {"content_type": "image/jpeg", "body": jpeg(seed=3)} if len(asked) > 2 else {"status": 404}
        route.fulfill(**given)

    page.route("**/api/photos/" + "a" * 64, answer)
    page.route("**/api/photos/" + "b" * 64, lambda route: route.abort())
    for name, off in (("a" * 64, True), ("b" * 64, False)):
        act(phone, "change", thing=part, type="part", values={"off": off}, units={}, saw={})
        photo = {"thing": part, "sha256": name, "media_type": "image/jpeg", "bytes": 10, "width": 4, "height": 3}
        page.evaluate(OF_A_PICTURE, [strip, photo])
    open_screen(page, f"#/strip/{strip}/pictures")
    missing = page.get_by_text("This picture is not on this phone, and the PC does not give it now.")
    expect(missing).to_have_count(2)
    for wait in (5_000, 10_000, 20_000):
        page.clock.run_for(wait)
        # Until the answer is there, or the next time is set.
        page.evaluate("() => fetch('/api/hello').then(() => null)")
    expect(page.get_by_role("img", name=re.compile("^Caliper bracket"))).to_be_visible()
    expect(missing).to_have_count(1)
    assert len(asked) >= 3
    # Bytes of a picture of this phone that are none.
    page.evaluate(
        """async () => {
          const photo = { sha256: 'c'.repeat(64), bytes: new ArrayBuffer(9), type: 'image/jpeg', width: 4, height: 3 };
          await (await import('/log.js')).addPhoto(photo);
        }"""
    )
    photo = {"thing": part, "sha256": "c" * 64, "media_type": "image/jpeg", "bytes": 9, "width": 4, "height": 3}
    page.evaluate(OF_A_PICTURE, [strip, photo])
    expect(page.get_by_text("This picture’s file is damaged, and cannot be shown.")).to_be_visible()


# As another phone's entry: the picture itself comes later, or never.
OF_A_PICTURE = """async ([strip, photo]) => {
  const log = await import('/log.js');
  const { uuidv7 } = await import('/vendor/uuidv7-1.2.1.mjs');
  await log.addEntries([{ id: uuidv7(), strip, at: Date.now(), by: uuidv7(), who: 'Bo', kind: 'photo', ...photo }]);
}"""
RECEIVED = "async (entries) => (await import('/log.js')).receive(entries[0].strip, entries, 1)"


def written_elsewhere(phone: Any, names: list[str], at_ms: int, **values: Any) -> list[Any]:
    """Parts as another phone writes them: a screen hears of them as of what the PC sends."""
    _, strip, _ = phone
    entries = []
    for n, name in enumerate(names):
        at, tail = at_ms + n, f"{n:03x}-8000-{at_ms % 0x1000000000000:012x}"
        own = {"id": f"{at:012x}"[:8] + "-" + f"{at:012x}"[8:] + "-7" + tail, "strip": strip, "at": at, "who": "Bo"}
        thing = {"kind": "set", "thing": own["id"][:14] + "7" + "fff" + own["id"][18:], "type": "part"}
        entries.append(own | thing | {"by": own["id"], "values": {"name": name, "off": True} | values})
    phone[0].evaluate(RECEIVED, entries)
    return entries


def now_ms(page: Any) -> int:
    return int(page.evaluate("Date.now()"))


def test_what_comes_in_takes_nothing_out_of_anybodys_hands(phone: Any) -> None:
    page, strip, _ = phone
    open_screen(page, f"#/strip/{strip}/tables")
    expect(page.get_by_text("4 rows", exact=True)).to_be_visible()
    sort_by(page, "Mass as taken off, g")
    page.get_by_role("link", name="Mirror 9").focus()
    # Beside it in the order, for they are not weighed either; with a side, a column that was not there and comes first.
    written_elsewhere(phone, [f"Bracket {n}" for n in range(25)], now_ms(page), pieces=2, side="left")
    expect(page.get_by_text("29 rows", exact=True)).to_be_visible()
    expect(page.get_by_role("link", name="Mirror 9")).to_be_focused()
    by_mass = page.get_by_role("columnheader", name="Mass as taken off, g", exact=True)
    expect(by_mass).to_have_attribute("aria-sort", "ascending")
    assert names(page)[0] == "Mirror 10" and names(page).index("Ölkühler") == 2
    # Typed without a pause while more comes in.
    search = page.get_by_role("searchbox", name="Only rows with")
    search.focus()
    page.keyboard.type("mir")
    written_elsewhere(phone, ["Mirror 11"], now_ms(page) + 60)
    page.keyboard.type("ror")
    expect(search).to_be_focused()
    expect(search).to_have_value("mirror")
    expect(page.get_by_text("3 of 30 rows")).to_be_visible()
    assert names(page)[0] == "Mirror 10" and set(names(page)[1:]) == {"Mirror 9", "Mirror 11"}


def test_of_two_thousand_rows_the_one_in_sight_stays_there_while_others_come_in(phone: Any) -> None:
    page, strip, _ = phone
    page.set_viewport_size({"width": 1280, "height": 900})
    written_elsewhere(phone, [f"Part {n:04}" for n in range(2_000)], now_ms(page))
    open_screen(page, f"#/strip/{strip}/tables")
    expect(page.get_by_text(re.compile("^2,00[0-9] rows$"))).to_be_visible()
    sort_by(page, "Part")
    expect(page.get_by_role("table")).to_have_attribute("aria-rowcount", "2005")
    page.get_by_role("button", name="Show all").press("Enter")
    expect(page.locator(".wide_table tbody tr")).to_have_count(2_004)
    link = page.get_by_role("link", name="Part 1500")
    link.focus()
    link.scroll_into_view_if_needed()
    expect(page.locator("tr", has=link)).to_have_attribute("aria-rowindex", re.compile("^150[0-9]$"))
    before = link.bounding_box()["y"]
    written_elsewhere(phone, [f"Part 0000 {n}" for n in range(5)], now_ms(page) + 9_000)
    expect(page.locator(".wide_table tbody tr")).to_have_count(2_009)
    expect(link).to_be_focused()
    assert abs(link.bounding_box()["y"] - before) < 2
