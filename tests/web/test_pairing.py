"""Pairing, the list of devices and being taken off it, with two real browsers and the real program."""

import io
import re
import shutil
import subprocess
import sys

import pytest
import zxingcpp
from axe_playwright_python.sync_playwright import Axe
from PIL import Image
from playwright.sync_api import expect

from cotterbook.devices import DeviceBook
from cotterbook.devices.routes import now_ms
from running import RunningServer
from web.screens import sticking_out, unfold

PHONE = {"viewport": {"width": 360, "height": 740}, "has_touch": True}
SAVED = """async () => {
  const shop = await import('/shop.js');
  await shop.setPerson('Ann');
  await shop.act('begin_strip', { name: 'Winter', machine_name: 'Green one' });
}"""
ALL = """async () => {
  const log = await import('/log.js');
  return Promise.all((await log.strips()).map(({ strip }) => log.entriesOf(strip))).then((rows) => rows.flat());
}"""
COUNTS = """async () => {
  const log = await import('/log.js');
  return { ...await log.counts(), store: await log.setting('store') };
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
    drawn = owner.get_by_role("img", name="QR code of the address, with the pairing code")
    expect(drawn).to_be_visible()
    code = owner.get_by_text(re.compile(r"^\d{4} \d{4}$")).inner_text()
    # What is on the screen, by another people's reader of ISO/IEC 18004.
    [read] = zxingcpp.read_barcodes(Image.open(io.BytesIO(drawn.screenshot())))
    assert read.text == f"{lonely.url}/#/pair/{code.replace(' ', '')}"
    phone.get_by_role("link", name="Pair with the PC").click()
    pair(phone, "0000 0000", "Phone at the lift")
    expect(phone.get_by_text(WRONG)).to_be_visible()
    pair(phone, code, "Phone at the lift")
    expect(phone.get_by_text("Paired as Phone at the lift: hand.")).to_be_visible()
    expect(phone.get_by_text(re.compile("^All sent")).first).to_be_visible()
    expect(phone.get_by_role("link", name="Devices of this shop")).to_have_count(0)

    # Taken off the list, it says so, keeps what is written then, and comes back by another code.
    # The owner's screen has noticed who took the code, and shows it no more.
    expect(owner.get_by_text("A device has taken the code: see the list below.")).to_be_visible()
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


def test_a_code_stays_in_sight_until_this_very_one_is_taken(chromium, server, device):
    """Two codes at once, and a device that comes by one of the terminal: none of that is this code being used."""
    owner = chromium.new_context(**PHONE).new_page()
    owner.goto(server.url + "/#/devices")
    owner.get_by_text("Add a device").click()
    shown, taken = owner.locator(".code"), owner.get_by_text("A device has taken the code")
    first_by_terminal = device(server.url + "/#/pair")
    pair(first_by_terminal, code_of_the_terminal(server, "--role", "hand"), "Tablet")
    expect(first_by_terminal.get_by_text("Paired as Tablet: hand.")).to_be_visible()
    owner.get_by_role("button", name="Make a pairing code").click()
    first = shown.inner_text()
    owner.get_by_role("button", name="Make a pairing code").click()
    expect(shown).not_to_have_text(first)
    second = shown.inner_text()
    one, other = device(server.url + "/#/pair"), device(server.url + "/#/pair")
    pair(one, first, "Phone one")
    expect(owner.get_by_role("listitem").filter(has_text="Phone one")).to_be_visible()
    expect(taken).to_have_count(0)
    expect(shown).to_have_text(second)
    pair(other, second, "Phone two")
    expect(taken).to_be_visible()
    expect(shown).to_have_count(0)


def test_the_only_owner_without_its_cookies_comes_back_by_another_browser(lonely, device):
    owner = device(re.search(r"http://\S+/#/pair/\d{8}", lonely.hear("makes another"))[0])
    owner.get_by_label("Name for this device").fill("The shop's PC")
    owner.get_by_role("button", name="Pair", exact=True).click()
    expect(owner.get_by_text("Paired as The shop's PC: owner.")).to_be_visible()
    owner.evaluate(SAVED)
    owner.context.clear_cookies()
    owner.goto(lonely.url + "/#/pair")
    pair(owner, code_of_the_terminal(lonely), "The shop's PC")
    said = owner.get_by_role("alert")
    expect(said).to_contain_text("This device is on the list already, and this browser no longer has what lets it in.")
    # What it says can be done: the command as it stands there, and another browser.
    expect(said).to_contain_text("give “cotterbook pair” on the PC, pair another browser with its code")
    other = device(lonely.url + "/#/pair")
    pair(other, code_of_the_terminal(lonely), "Another browser")
    expect(other.get_by_text("Paired as Another browser: owner.")).to_be_visible()
    other.goto(lonely.url + "/#/devices")
    row = other.get_by_role("listitem").filter(has_text="The shop's PC")
    row.get_by_text("Change").click()
    row.get_by_role("button", name="Take it off the list").click()
    other.get_by_role("button", name="Take it off", exact=True).click()
    expect(row.get_by_text("off the list since")).to_be_visible()
    pair(owner, code_of_the_terminal(lonely), "The shop's PC")
    expect(owner.get_by_text("Paired as The shop's PC: owner.")).to_be_visible()
    expect(owner.get_by_text(re.compile("^All sent")).first).to_be_visible()


def owner_and_onlooker(chromium, server, device):
    """Two pages: an owner that has sent a strip-down, and a tablet that may look on and shows it."""
    owner = chromium.new_context(**PHONE).new_page()
    owner.goto(server.url)
    expect(owner.locator("h1")).to_be_visible()
    owner.evaluate(SAVED)
    onlooker = device(server.url + "/#/pair")
    pair(onlooker, code_of_the_terminal(server, "--role", "looker_on"), "Tablet on the wall")
    expect(onlooker.get_by_text("Paired as Tablet on the wall: looker-on.")).to_be_visible()
    onlooker.goto(server.url + "/#/")
    expect(onlooker.get_by_text("Winter")).to_be_visible()
    return owner, onlooker


def test_a_device_that_looks_on_claims_nothing_after_the_pc_went_to_other_data(chromium, server, device):
    _, onlooker = owner_and_onlooker(chromium, server, device)
    # The PC's data are gone; another identity stands in their place, and nothing else.
    server.stop()
    shutil.rmtree(server.folder / "strips")
    (server.folder / "identity").unlink()
    server.start()
    before = onlooker.evaluate(COUNTS)["store"]
    onlooker.goto(server.url + "/#/sending")
    onlooker.get_by_role("button", name="Send now").click()
    onlooker.wait_for_function(f"(before) => ({COUNTS})().then((now) => now.store !== before)", arg=before)
    assert onlooker.evaluate(COUNTS)["unsent"] == 0
    expect(onlooker.get_by_text("what was written here stays here")).to_have_count(0)
    # As soon as it may write, it brings what the PC lost, if nobody else has.
    held = len(onlooker.evaluate(ALL))
    [known] = [each for each in DeviceBook(server.folder).devices() if each.name == "Tablet on the wall"]
    DeviceBook(server.folder).change(known.id, known.name, "hand", now_ms())
    onlooker.get_by_role("button", name="Send now").click()
    onlooker.wait_for_function(f"() => ({COUNTS})().then((now) => now.unsent > 0)")
    onlooker.get_by_role("button", name="Send now").click()
    expect(onlooker.get_by_text(re.compile("^All sent")).first).to_be_visible()
    [journal] = (server.folder / "strips").glob("*.jsonl")
    assert len(journal.read_bytes().splitlines()) == held + 1


def test_a_device_that_looks_on_reads_and_keeps_what_it_writes(chromium, server, device):
    owner, onlooker = owner_and_onlooker(chromium, server, device)
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
