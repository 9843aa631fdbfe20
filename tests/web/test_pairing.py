"""Pairing, the list of devices and being taken off it, with two real browsers and the real program."""

import re
import subprocess
import sys

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import expect

from running import RunningServer
from web.screens import sticking_out, unfold

PHONE = {"viewport": {"width": 360, "height": 740}, "has_touch": True}
SAVED = """async () => {
  const shop = await import('/shop.js');
  await shop.setPerson('Ann');
  await shop.act('begin_strip', { name: 'Winter', machine_name: 'Green one' });
}"""
NOT_SENT = re.compile(r"^\d+ not sent yet: this device is not paired with the PC and gets nothing new\.")
WRONG = "This code is not right, was used already, or is older than five minutes."


@pytest.fixture
def lonely(tmp_path):
    """The program as it is started the first time: nobody is on its list."""
    server = RunningServer(tmp_path / "data", paired=False).start()
    yield server
    server.stop()


@pytest.fixture
def device(chromium):
    """device(url) opens the program in a browser of its own, not paired with anything."""
    contexts = []

    def make(url):
        contexts.append(chromium.unpaired.new_context(**PHONE))
        page = contexts[-1].new_page()
        page.goto(url)
        return page

    yield make
    for context in contexts:
        context.close()


def code_of_the_terminal(server, *options):
    done = subprocess.run([sys.executable, "-m", "cotterbook.cli", "pair", "--data", str(server.folder), *options],
                          capture_output=True, text=True, check=True)
    return re.search(r"\d{4} \d{4}", done.stdout)[0]


def pair(page, code, name):
    page.get_by_label("Pairing code").fill(code)
    page.get_by_label("Name for this device").fill(name)
    page.get_by_role("button", name="Pair", exact=True).click()


def test_from_a_first_start_to_a_phone_that_is_taken_off_the_list(lonely, device):
    # The terminal's own address pairs the PC's browser.
    said = lonely.hear("makes another")
    owner = device(re.search(r"http://\S+/#/pair/\d{8}", said)[0])
    expect(owner.get_by_label("Pairing code")).to_have_value(re.compile(r"^\d{8}$"))
    owner.get_by_label("Name for this device").fill("The shop's PC")
    owner.get_by_role("button", name="Pair", exact=True).click()
    expect(owner.get_by_text("Paired as The shop's PC: owner.")).to_be_visible()

    # A phone that nobody let in works, keeps what it has, and says how it stands.
    phone = device(lonely.url)
    expect(phone.locator("h1")).to_be_visible()
    phone.evaluate(SAVED)
    phone.goto(lonely.url + "/#/sending")
    expect(phone.get_by_text("This device is not paired with the PC yet.")).to_be_visible()
    expect(phone.get_by_text(NOT_SENT).first).to_be_visible()

    # The owner makes a code, and the phone types it.
    owner.get_by_role("link", name="Devices of this shop").click()
    owner.get_by_text("Add a device").click()
    owner.get_by_role("button", name="Make a pairing code").click()
    expect(owner.get_by_role("img", name="QR code of the address, with the pairing code")).to_be_visible()
    code = owner.get_by_text(re.compile(r"^\d{4} \d{4}$")).inner_text()
    phone.get_by_role("link", name="Pair with the PC").click()
    pair(phone, "0000 0000", "Phone at the lift")
    expect(phone.get_by_text(WRONG)).to_be_visible()
    pair(phone, code, "Phone at the lift")
    expect(phone.get_by_text("Paired as Phone at the lift: hand.")).to_be_visible()
    expect(phone.get_by_text(re.compile("^All sent")).first).to_be_visible()
    expect(phone.get_by_role("link", name="Devices of this shop")).to_have_count(0)

    # Taken off the list, it says so, keeps what is written then, and comes back by another code.
    # The owner's screen has noticed who took the code, and shows it no more.
    expect(owner.get_by_text("New on the list: Phone at the lift. The code is used up;")).to_be_visible()
    expect(owner.get_by_text(re.compile(r"^\d{4} \d{4}$"))).to_have_count(0)
    row = owner.get_by_role("listitem").filter(has_text="Phone at the lift")
    row.get_by_text("Change").click()
    row.get_by_role("button", name="Take it off the list").click()
    owner.get_by_role("button", name="Take it off", exact=True).click()
    expect(row.get_by_text("off the list since")).to_be_visible()
    phone.evaluate(SAVED)
    expect(phone.get_by_text("The owner has taken this device off the PC's list.")).to_be_visible()
    assert phone.evaluate("async () => (await (await import('/log.js')).counts()).unsent") > 0
    phone.get_by_role("link", name="Pair with the PC").click()
    pair(phone, code_of_the_terminal(lonely, "--role", "hand"), "Phone at the lift")
    expect(phone.get_by_text(re.compile("^All sent")).first).to_be_visible()


def test_a_device_that_looks_on_reads_and_keeps_what_it_writes(chromium, server, device):
    owner = chromium.new_context(**PHONE).new_page()
    owner.goto(server.url)
    expect(owner.locator("h1")).to_be_visible()
    owner.evaluate(SAVED)
    onlooker = device(server.url + "/#/pair")
    pair(onlooker, code_of_the_terminal(server, "--role", "looker_on"), "Tablet on the wall")
    expect(onlooker.get_by_text("Paired as Tablet on the wall: looker-on.")).to_be_visible()
    onlooker.goto(server.url + "/#/")
    expect(onlooker.get_by_text("Winter")).to_be_visible()
    onlooker.evaluate(SAVED)
    onlooker.goto(server.url + "/#/sending")
    expect(onlooker.get_by_text("This device may look on, and not write.")).to_be_visible()
    assert onlooker.evaluate("async () => (await (await import('/log.js')).counts()).unsent") > 0
    # As an owner gives it another role, what was written there goes across.
    owner.goto(server.url + "/#/devices")
    row = owner.get_by_role("listitem").filter(has_text="Tablet on the wall")
    row.get_by_text("Change").click()
    row.get_by_role("radio", name="Hand").check()
    row.get_by_role("button", name="Save").click()
    onlooker.get_by_role("button", name="Send now").click()
    expect(onlooker.get_by_text(re.compile("^All sent")).first).to_be_visible()
    owner.context.close()


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_both_screens_can_be_read_by_everybody(chromium, module_server, scheme):
    context = chromium.new_context(viewport={"width": 320, "height": 640}, color_scheme=scheme, reduced_motion="reduce")
    page = context.new_page()
    page.goto(module_server.url + "/#/devices")
    page.get_by_text("Add a device").click()
    page.get_by_role("button", name="Make a pairing code").click()
    expect(page.get_by_role("img", name="QR code of the address, with the pairing code")).to_be_visible()
    unfold(page)
    for _ in range(2):
        found = Axe().run(page).response["violations"]
        assert [(each["id"], [node["html"][:200] for node in each["nodes"]]) for each in found] == []
        assert sticking_out(page) == []
        page.goto(module_server.url + "/#/pair/12345678")
        expect(page.get_by_label("Pairing code")).to_have_value("12345678")
    context.close()
