"""A device that the PC does not know, knows no more, or lets look on only says so on every screen."""

import re
import subprocess
import sys
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Page, expect

from cotterbook.errors import TEXT
from running import RunningServer
from web.hands import PHONE

BEGIN = """async (name) => {
  const shop = await import('/shop.js');
  await shop.setPerson('Ann');
  return (await shop.act('begin_strip', { name, machine_name: 'Green one' })).strip;
}"""
UNPAIRED = "This device is not paired with the PC and gets nothing new."
REVOKED = "This device was taken off the PC's list and gets nothing new."
ALL_SENT = re.compile(r"All sent")

Open = Callable[[str], Page]


@pytest.fixture
def lonely(tmp_path: Path) -> Iterator[Any]:
    """The program as it is started the first time: nobody is on its list."""
    server = RunningServer(tmp_path / "data", paired=False).start()
    yield server
    server.stop()


@pytest.fixture
def device(chromium: Any) -> Iterator[Open]:
    """device(url) opens the program in a browser of its own, not paired with anything."""
    contexts = []

    def make(url: str) -> Page:
        contexts.append(chromium.unpaired.new_context(**PHONE))
        page: Page = contexts[-1].new_page()
        page.goto(url)
        return page

    yield make
    for context in contexts:
        context.close()


def state(page: Page) -> Any:
    return page.locator(".state")


def pair(page: Page, server: Any, name: str, role: str = "hand") -> None:
    asked = [sys.executable, "-m", "cotterbook.cli", "pair", "--data", str(server.folder), "--role", role]
    done = subprocess.run(asked, capture_output=True, text=True, check=True)
    found = re.search(r"\d{4} \d{4}", done.stdout)
    assert found
    page.goto(server.url + "/#/pair")
    page.get_by_label("Pairing code").fill(found[0])
    page.get_by_label("Name for this device").fill(name)
    page.get_by_role("button", name="Pair", exact=True).click()
    expect(page.get_by_text(f"Paired as {name}:")).to_be_visible()


def take_off_the_list(owner: Page, server: Any, name: str) -> None:
    owner.goto(server.url + "/#/devices")
    row = owner.get_by_role("listitem").filter(has_text=name)
    row.get_by_text("Change").click()
    row.get_by_role("button", name="Take it off the list").click()
    owner.get_by_role("button", name="Take it off", exact=True).click()
    expect(row.get_by_text("off the list since")).to_be_visible()


def test_a_first_start_says_that_it_is_not_paired_and_leads_to_pairing(lonely: Any, device: Open) -> None:
    page = device(lonely.url)
    expect(state(page)).to_contain_text(UNPAIRED)
    expect(page.get_by_text("Nothing to send.")).to_have_count(0)
    page.locator("main .notice").get_by_role("link", name="Pair with the PC").click()
    expect(page.get_by_label("Pairing code")).to_be_visible()
    pair(page, lonely, "The shop's PC", "owner")
    expect(state(page)).not_to_contain_text("gets nothing new")
    page.goto(lonely.url + "/#/")
    expect(page.get_by_role("link", name="Begin a strip-down")).to_be_visible()
    expect(page.get_by_role("link", name="Pair with the PC")).to_have_count(0)


def test_taken_off_the_list_with_all_sent_it_says_that_nothing_new_comes(lonely: Any, device: Open) -> None:
    owner, phone = device(lonely.url), device(lonely.url)
    pair(owner, lonely, "The shop's PC", "owner")
    pair(phone, lonely, "Phone at the lift")
    strip = phone.evaluate(BEGIN, "Winter")
    expect(state(phone)).to_contain_text(ALL_SENT)
    take_off_the_list(owner, lonely, "Phone at the lift")
    phone.get_by_role("button", name="Send now").click()
    for address in ("/#/sending", "/#/", f"/#/strip/{strip}/off", f"/#/strip/{strip}/take_off"):
        phone.goto(lonely.url + address)
        expect(state(phone)).to_contain_text(REVOKED)
        expect(phone.get_by_text(ALL_SENT)).to_have_count(0)
    phone.goto(lonely.url + "/#/")
    expect(phone.locator("main .notice").get_by_role("link", name="Pair with the PC")).to_be_visible()


def test_what_waits_off_the_list_is_not_said_to_go_by_itself(lonely: Any, device: Open) -> None:
    owner, phone = device(lonely.url), device(lonely.url)
    phone.evaluate(BEGIN, "Winter")
    phone.goto(lonely.url + "/#/sending")
    expect(phone.get_by_text("kept on this phone until it is paired or you carry it by a file.")).to_be_visible()
    expect(phone.get_by_text("goes across by itself")).to_have_count(0)
    pair(owner, lonely, "The shop's PC", "owner")
    pair(phone, lonely, "Phone at the lift")
    expect(state(phone)).to_contain_text(ALL_SENT)
    take_off_the_list(owner, lonely, "Phone at the lift")
    phone.evaluate(BEGIN, "Spring")
    expect(state(phone)).to_contain_text(re.compile(r"\d not sent yet: this device was taken off the PC's list"))
    expect(phone.get_by_text("kept on this phone until it is paired again or you carry it by a file.")).to_be_visible()
    expect(phone.get_by_text("goes across by itself")).to_have_count(0)


def test_a_device_that_looks_on_is_told_before_and_after_it_writes(lonely: Any, device: Open) -> None:
    owner, onlooker = device(lonely.url), device(lonely.url)
    pair(owner, lonely, "The shop's PC", "owner")
    strip = owner.evaluate(BEGIN, "Winter")
    expect(state(owner)).to_contain_text(ALL_SENT)
    pair(onlooker, lonely, "Tablet on the wall", "looker_on")
    onlooker.evaluate("async () => (await import('/shop.js')).setPerson('Bo')")
    onlooker.goto(lonely.url + "/#/")
    onlooker.get_by_role("link", name="Winter").click()
    onlooker.goto(f"{lonely.url}/#/strip/{strip}/take_off")
    expect(state(onlooker)).to_contain_text("This device may look on only.")
    onlooker.get_by_label("Name of the part").fill("Horn")
    onlooker.get_by_role("button", name="Save", exact=True).click()
    expect(onlooker.get_by_role("heading", name="Saved: Horn")).to_be_visible()
    why = re.compile(r"\d not sent: this device may look on only, and what was written here stays here\.")
    expect(state(onlooker)).to_contain_text(why)
    onlooker.goto(lonely.url + "/#/sending")
    expect(onlooker.get_by_text("until the owner lets it write or you carry it by a file.")).to_be_visible()
    expect(onlooker.get_by_text("goes across by itself")).to_have_count(0)
    # As soon as it may write, the reason is gone with what it held back.
    owner.goto(lonely.url + "/#/devices")
    row = owner.get_by_role("listitem").filter(has_text="Tablet on the wall")
    # What tells two devices of one name apart.
    expect(row).to_contain_text(re.compile(r"Paired .+, seen last .+\."))
    row.get_by_text("Change").click()
    row.get_by_role("radio", name="Hand").check()
    row.get_by_role("button", name="Save").click()
    onlooker.get_by_role("button", name="Send now").click()
    expect(state(onlooker)).to_contain_text(ALL_SENT)


def test_at_an_address_that_was_given_up_the_way_is_a_file(chromium: Any, module_server: RunningServer) -> None:
    """What the PC answers under any other name than its own; see tests/trust/test_real_chain.py for the real answer."""
    context = chromium.new_context(**PHONE)
    page = context.new_page()
    page.goto(module_server.url)
    expect(page.locator("h1")).to_be_visible()
    error = {"error": {"code": "elsewhere", "text": TEXT["elsewhere"], "values": {"address": "https://shop.local:8351"}}}
    context.route("**/api/**", lambda route: route.fulfill(status=421, json=error))
    page.evaluate(BEGIN, "Left behind")
    page.goto(module_server.url + "/#/sending")
    notice = page.locator(".notice", has_text="https://shop.local:8351")
    expect(notice).to_contain_text("What this phone has stays on it: hand it over by a file")
    expect(page.get_by_text("It does not go across from here any more.")).to_be_visible()
    expect(page.get_by_text("goes across by itself")).to_have_count(0)
    context.close()


def test_a_pc_that_is_away_for_days_may_have_another_address(chromium: Any, module_server: RunningServer) -> None:
    context = chromium.new_context(**PHONE)
    page = context.new_page()
    page.goto(module_server.url + "/#/sending")
    expect(page.get_by_role("status").first).to_contain_text("All sent")
    page.evaluate("navigator.serviceWorker.ready.then(() => null)")
    context.set_offline(True)
    page.evaluate(BEGIN, "Far away")
    hint = page.get_by_text("If the owner gave it a new address, carry what waits by a file")
    expect(page.get_by_text("the PC is not in reach").first).to_be_visible()
    expect(hint).to_have_count(0)
    day_before_yesterday = "Date.now() - 2 * 86_400_000"
    page.evaluate(f"""() => import('/log.js').then((log) =>
        log.putSetting('contact', {{ last_contact_ms: {day_before_yesterday}, clock_off_ms: 0, concerns: [] }}))""")
    page.reload()
    expect(hint).to_be_visible()
    context.close()
