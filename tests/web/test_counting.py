"""The count on a phone: a lost bolt stops the machine on every screen until somebody rules it out with a word."""

from collections.abc import Iterator
from typing import Any

import pytest
from playwright.sync_api import expect

from one_part import act, entries, phone_with_one_part, view
from screens import open_screen

LOST = "Lost inside the machine? 1 of 4 M8×25 of Caliper bracket lost."


@pytest.fixture
def phone(chromium: Any, module_server: Any) -> Iterator[Any]:
    """A fresh phone with one part: (page, strip, part)."""
    with phone_with_one_part(chromium, module_server) as phone:
        yield phone


def lose_one(phone: Any) -> str:
    _, _, part = phone
    (group,) = view(phone, "part", part=part)["groups"]
    place = {"from": "bag", "from_bag": group["places"][0]["bag"]}
    act(phone, "move", group=group["group"], count=1, to="lost", **place)
    return str(group["group"])


def test_the_count_says_where_each_fastener_is(phone: Any) -> None:
    page, strip, _ = phone
    lose_one(phone)
    open_screen(page, f"#/strip/{strip}/off")
    page.get_by_role("link", name="Count", exact=True).click()
    expect(page.get_by_role("heading", level=1)).to_have_text("Count of fasteners")
    expect(page.locator("dl.sums").first).to_contain_text("lost1")
    line = page.locator("details.part", has=page.locator("summary .name", has_text="4\u00a0×\u00a0M8×25"))
    expect(line).to_contain_text("0 of 4 on the machine, 3 in bags and 1 lost")
    line.locator("summary").click()
    expect(line.get_by_role("listitem")).to_contain_text("0 of 4 on")
    expect(line.locator(".tape")).to_have_text("Bag 7")
    page.get_by_role("link", name="1 of 4 M8×25 of Caliper bracket lost").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("Caliper bracket")


def test_a_lost_bolt_stands_on_every_screen_until_it_is_ruled_out(phone: Any) -> None:
    page, strip, part = phone
    group = lose_one(phone)
    for place in ("off", "back", "statement", "take_off", f"part/{part}"):
        open_screen(page, f"#/strip/{strip}/{place}")
        expect(page.get_by_role("region", name="Stop")).to_contain_text(LOST)
    open_screen(page, "#/")
    expect(page.locator(f".line[href*='{strip}']")).to_contain_text("Stop: lost, and not ruled out")
    open_screen(page, f"#/strip/{strip}/off")
    page.get_by_role("link", name="Rule it out").click()
    # It comes before everything else that is open.
    expect(page.locator("main h2").first).to_have_text("Stop: before all else")
    page.get_by_role("button", name="Ruled out").click()
    question = page.get_by_role("dialog")
    expect(question).to_contain_text(LOST)
    question.get_by_role("button", name="Ruled out").click()
    expect(question).to_be_visible()
    question.get_by_label("How was it ruled out").fill("Magnet through the whole tray")
    question.get_by_role("button", name="Ruled out").click()
    expect(page.get_by_text(LOST)).to_have_count(0)
    written = {"rule": "lost_inside", "group": group, "part": part, "closed": True}
    assert written.items() <= entries(phone)[-1]["values"].items()
    open_screen(page, f"#/strip/{strip}/back")
    expect(page.get_by_role("region", name="Stop")).to_have_count(0)
    open_screen(page, f"#/strip/{strip}/count")
    expect(page.get_by_text("Magnet through the whole tray · Ann")).to_be_visible()
    expect(page.get_by_role("link", name="1 of 4 M8×25 of Caliper bracket lost")).to_contain_text("Ruled out")


def test_a_spell_asks_what_is_missing_before_it_ends(phone: Any) -> None:
    page, strip, part = phone
    act(phone, "spell", act="begins", people=["Ann"])
    group = lose_one(phone)
    open_screen(page, f"#/strip/{strip}/off")
    page.get_by_role("button", name="End the spell").click()
    missing = page.get_by_role("region", name="Missing")
    expect(missing).to_contain_text("1 of 4 M8×25 of Caliper bracket lost")
    page.get_by_role("button", name="End it now").click()
    expect(page.get_by_role("alert")).to_contain_text("Say what is known of it")
    assert entries(phone)[-1]["kind"] == "move"
    page.get_by_label("What is known of it").fill("Fell behind the engine")
    page.get_by_label("What comes next").fill("Look behind the engine")
    page.get_by_role("button", name="End it now").click()
    expect(page.get_by_role("button", name="End it now")).to_have_count(0)
    expect(page.get_by_role("button", name="End the spell")).to_have_count(0)
    ended, item = entries(phone)[-2:]
    said = {"act": "ends", "missing": "Fell behind the engine", "next": "Look behind the engine", "people": ["Ann"]}
    assert said.items() <= ended.items()
    assert {"rule": "lost_inside", "group": group, "part": part}.items() <= item["values"].items()
    page.get_by_role("link", name="Hand over", exact=True).click()
    expect(page.get_by_role("heading", level=1)).to_have_text("Handing over")
    for words in ("Look behind the engine", "Fell behind the engine", "There: Ann.", "Caliper bracket", "Bag 7"):
        expect(page.locator("main")).to_contain_text(words)
    open_screen(page, f"#/strip/{strip}/count")
    expect(page.get_by_text("Said at the end of a spell: Fell behind the engine")).to_be_visible()


# A spell that this phone began so many hours ago: its clock stands in the first 48 bits of the id (RFC 9562, 5.7).
BEGAN = """async ([strip, hours]) => {
  const log = await import('/log.js');
  const at = Date.now() - hours * 3_600_000;
  const clock = at.toString(16).padStart(12, '0');
  const id = `${clock.slice(0, 8)}-${clock.slice(8)}-7000-8000-${crypto.randomUUID().slice(24)}`;
  const by = await log.setting('device');
  await log.addEntries([{ id, strip, kind: 'work', at, by, who: 'Ann', spell: id, act: 'begins', people: ['Ann'] }]);
  return at;
}"""


def test_a_spell_that_was_left_open_is_ended_when_it_did_end(phone: Any) -> None:
    page, strip, _ = phone
    began_ms = page.evaluate(BEGAN, [strip, 20])
    last_ms = max(int(entry["id"].replace("-", "")[:12], 16) for entry in entries(phone))
    open_screen(page, f"#/strip/{strip}/off")
    expect(page.get_by_text("It runs for 20 h already. Was its end forgotten?")).to_be_visible()
    page.get_by_role("button", name="End the spell").click()
    page.get_by_role("button", name="End it now").click()
    expect(page.get_by_role("alert")).to_contain_text("This spell has run for 20 hours. Say when it ended.")
    typed = page.get_by_label("When it ended")
    typed.fill("2020-01-01T10:00")
    page.get_by_role("button", name="End it now").click()
    expect(page.get_by_role("alert")).to_contain_text("The spell began later than that.")
    page.get_by_role("button", name="At the last entry").click()
    page.get_by_role("button", name="End it now").click()
    expect(page.get_by_role("button", name="End it now")).to_have_count(0)
    expect(page.get_by_role("button", name="End the spell")).to_have_count(0)
    assert began_ms < entries(phone)[-1]["ended_at_ms"] == last_ms


def test_two_spells_begun_apart_are_each_ended(phone: Any) -> None:
    page, strip, _ = phone
    before = len(entries(phone))
    page.evaluate(BEGAN, [strip, 3])
    page.evaluate(BEGAN, [strip, 2])
    begun = [entry["spell"] for entry in entries(phone)[before:]]
    open_screen(page, f"#/strip/{strip}/off")
    expect(page.get_by_text("2 spells of work have no end")).to_be_visible()
    # Each button says which spell it ends.
    names = [each.get_attribute("aria-label") for each in page.get_by_role("button", name="End the spell").all()]
    assert len(set(names)) == 2 and all(name.startswith("End the spell of ") for name in names), names
    # The older one first, so that it is the one that was tapped that ends, and not the newest.
    page.get_by_role("button", name="End the spell").last.click()
    page.get_by_role("button", name="End it now").click()
    expect(page.get_by_role("button", name="End it now")).to_have_count(0)
    expect(page.get_by_role("button", name="End the spell")).to_have_count(1)
    page.get_by_role("button", name="End the spell").click()
    page.get_by_role("button", name="End it now").click()
    expect(page.get_by_role("button", name="End it now")).to_have_count(0)
    expect(page.get_by_role("button", name="End the spell")).to_have_count(0)
    assert [entry["spell"] for entry in entries(phone) if entry.get("act") == "ends"][-2:] == begun


def test_what_is_new_each_time_is_bought_and_does_not_go_in_used_without_a_reason(phone: Any) -> None:
    page, strip, part = phone
    (group,) = view(phone, "part", part=part)["groups"]
    act(phone, "change", thing=group["group"], type="group", values={"replace_each_time": "self_locking_nut"})
    open_screen(page, f"#/strip/{strip}/back")
    page.locator("details.part", has_text="Caliper bracket").locator("summary").first.click()
    expect(page.get_by_text("New each time: self-locking nut")).to_be_visible()
    page.get_by_role("button", name="Put 4 back").click()
    expect(page.get_by_role("alert")).to_contain_text("4 of 4 were used before")
    page.get_by_label("Why these are used again").fill("They still drag 4 N·m, manual 7-2")
    open_screen(page, f"#/strip/{strip}/buy")
    line = page.get_by_role("listitem").filter(has_text="self-locking nut: new each time")
    expect(line).to_contain_text("4\u00a0×\u00a0M8×25")
    line.get_by_role("button", name="One is here").click()
    expect(line).to_contain_text("1 here already")
    line.get_by_role("button", name="Here: 3").click()
    expect(line).to_contain_text("all here")
    assert [entries(phone)[-1][name] for name in ("kind", "count", "from", "to")] == ["move", 3, "stock", "bag"]
    open_screen(page, f"#/strip/{strip}/back")
    page.locator("details.part", has_text="Caliper bracket").locator("summary").first.click()
    page.get_by_role("button", name="Put 4 back").click()
    expect(page.get_by_role("button", name="Put 4 back")).to_have_count(0)
    assert "used_again_why" not in entries(phone)[-1]


def test_used_again_with_a_reason_is_kept_and_shown(phone: Any) -> None:
    page, strip, part = phone
    (group,) = view(phone, "part", part=part)["groups"]
    act(phone, "change", thing=group["group"], type="group", values={"replace_each_time": "stretch_bolt"})
    open_screen(page, f"#/strip/{strip}/back")
    page.locator("details.part", has_text="Caliper bracket").locator("summary").first.click()
    page.get_by_role("button", name="Put 4 back").click()
    page.get_by_label("Why these are used again").fill("Manual 7-2 allows it once")
    page.get_by_role("button", name="Put 4 back").click()
    expect(page.get_by_role("button", name="Put 4 back")).to_have_count(0)
    assert entries(phone)[-1]["used_again_why"] == "Manual 7-2 allows it once"
    open_screen(page, f"#/strip/{strip}/buy")
    expect(page.get_by_text("4 M8×25 of Caliper bracket: Manual 7-2 allows it once")).to_be_visible()


def test_the_shop_s_way_with_self_locking_nuts_goes_with_the_next_strip_down(phone: Any) -> None:
    page, strip, _ = phone
    act(phone, "change", thing=strip, type="strip", values={"self_locking_nuts": "while_they_drag"})
    open_screen(page, "#/begin")
    nuts = page.locator("summary", has_text="Self-locking nuts in this shop")
    expect(nuts).to_contain_text("Again while they drag")
    page.get_by_label("Name of the strip-down").fill("Next winter")
    page.get_by_label("Machine", exact=True).fill("Another hack")
    page.get_by_role("button", name="Begin", exact=True).click()
    expect(page.get_by_label("Name of the part")).to_be_visible()
    another = page.url.split("/strip/")[1].split("/")[0]
    assert another != strip
    assert view((page, another, None), "buy")["policy"] == "while_they_drag"
