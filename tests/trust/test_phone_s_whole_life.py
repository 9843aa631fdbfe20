"""One phone in one shop, from the page of trust to the day it is taken off the list, over real TLS and by hand alone.

Nothing is set up behind the program's back: the certificate is the one that the phone downloaded, the codes are those
that the program printed, and what was not sent comes to the PC by the file that the phone made.
"""

import re
import subprocess

import pytest
from playwright.sync_api import Error, expect

from cotterbook.store.folder import FolderReader
from examples import picture
from trust.shop import Shop, launch, needs_certutil, trust_certificate
from web.carrying import command, make
from web.hands import PHONE, Hands, by_id, kept_entries
from web.seven_parts import begin

FINGERPRINT = re.compile(r"(?:[0-9A-F]{2}[:\s]*){32}")


@pytest.fixture
def shop(tmp_path):
    shop = Shop(tmp_path)
    shop.server.start()
    yield shop
    shop.server.stop()


@pytest.fixture
def owner(shop, chromium):
    """The browser of the PC itself, paired at the address that the terminal said."""
    page = chromium.unpaired.new_context().new_page()
    page.goto(re.search(r"http://\S+/#/pair/\d{8}", shop.server.hear("makes another"))[0])
    page.get_by_label("Name for this device").fill("The shop's PC")
    page.get_by_role("button", name="Pair", exact=True).click()
    expect(page.get_by_text("Paired as The shop's PC: owner.")).to_be_visible()
    yield page
    page.context.close()


def figures(text):
    """The SHA-256 that stands in a text, without what parts its figures."""
    return re.sub(r"[:\s]", "", FINGERPRINT.search(text)[0])


def fetch_certificate(shop, chromium, home):
    """What the phone downloads from the page of trust; the figures that the page shows."""
    browser = launch(chromium, home)
    with pytest.raises(Error, match="ERR_CERT_AUTHORITY_INVALID"):
        browser.new_page().goto(shop.url)
    page = browser.new_page()
    page.goto(f"http://{shop.host}:{shop.trust_port}/")
    with page.expect_download() as download:
        page.get_by_role("link", name="Fetch the certificate").click()
    assert download.value.suggested_filename == "cotterbook.crt"
    download.value.save_as(home / "cotterbook.crt")
    shown = figures(page.locator("main").inner_text())
    browser.close()
    return home / "cotterbook.crt", shown


def fingerprint_by_openssl(certificate):
    said = subprocess.run(
        ["openssl", "x509", "-in", certificate, "-inform", "DER", "-noout", "-fingerprint", "-sha256"],
        capture_output=True, text=True, check=True)
    return figures(said.stdout.partition("=")[2])


def take_off(hands, name, photo=None):
    """Take a part off, and save it."""
    hands.open(f"#/strip/{hands.strip}/take_off")
    hands.name(name)
    if photo:
        hands.page.get_by_label("Take a photo").set_input_files(
            {"name": "part.jpg", "mimeType": "image/jpeg", "buffer": photo})
        expect(hands.page.get_by_role("img", name="Photo 1")).to_be_visible()
    hands.saved(name)


def names(entries):
    parts = [each["values"] for each in entries.values() if each.get("type") == "part"]
    return {values["name"] for values in parts if "name" in values}


@needs_certutil
def test_from_the_page_of_trust_to_the_file_of_a_phone_that_was_taken_off_the_list(shop, owner, chromium, tmp_path):
    # The phone trusts what it fetched, once the figures on the page, in the terminal and of the file itself agree.
    home = tmp_path / "home"
    home.mkdir()
    certificate, shown = fetch_certificate(shop, chromium, home)
    assert shown == fingerprint_by_openssl(certificate) == figures(shop.server.hear("SHA-256"))
    trust_certificate(home, certificate)
    browser = launch(chromium, home)
    try:
        lead_its_life(shop, owner, browser, tmp_path)
    finally:
        browser.close()


def lead_its_life(shop, owner, browser, tmp_path):
    context = browser.new_context(**PHONE)
    hands = Hands(context.new_page(), shop.url)
    page = hands.page
    hands.install()
    assert page.evaluate("isSecureContext")

    # It pairs by the code that the program prints, typed as it is printed.
    printed = re.search(r"\d{4} \d{4}", command("pair", "--role", "hand", "--data", shop.server.folder))[0]
    hands.to("Sending")
    page.get_by_role("link", name="Pair with the PC").tap()
    hands.write("Pairing code", printed)
    hands.write("Name for this device", "Phone at the lift")
    hands.tap("Pair")
    expect(page.get_by_text("Paired as Phone at the lift: hand.")).to_be_visible()

    hands.to("Machines")
    begin(hands)
    take_off(hands, "Seat")
    hands.all_sent()
    assert names(by_id(kept_entries(shop.server.folder, hands.strip))) == {"Seat"}

    # Without a signal the program is there after a reload, and goes on; with it again, what waits goes by itself.
    context.set_offline(True)
    hands.reload()
    take_off(hands, "Mudguard")
    hands.to("Sending")
    expect(hands.sum("Entries not sent")).not_to_have_text("0")
    context.set_offline(False)
    hands.all_sent()
    sent = by_id(kept_entries(shop.server.folder, hands.strip))
    assert names(sent) == {"Seat", "Mudguard"} and sent == by_id(hands.entries())

    # The owner takes it off the list. The next thing it asks tells it, and it works on with all that it has.
    owner.get_by_role("link", name="Devices of this shop").click()
    row = owner.get_by_role("listitem").filter(has_text="Phone at the lift")
    row.get_by_text("Change").click()
    row.get_by_role("button", name="Take it off the list").click()
    owner.get_by_role("button", name="Take it off", exact=True).click()
    expect(row.get_by_text("off the list since")).to_be_visible()
    with page.expect_response(lambda answer: "/api/" in answer.url) as refusal:
        hands.tap("Send now")
    assert refusal.value.status == 401
    expect(page.get_by_text("The owner has taken this device off the PC's list.").first).to_be_visible()
    take_off(hands, "Lamp", picture(3, 64))
    mine = by_id(hands.entries())
    assert names(mine) == {"Seat", "Mudguard", "Lamp"} and sent.items() < mine.items()
    assert by_id(kept_entries(shop.server.folder, hands.strip)) == sent
    expect(hands.status()).to_contain_text("this device was taken off the PC's list")

    # By a file it comes in all the same.
    bundle, pictures = make(hands, tmp_path), hands.pictures()
    shop.server.stop()
    new = len(mine) - len(sent)
    assert f"New here: entries {new}." in command("import", bundle, "--data", shop.server.folder)
    reader = FolderReader(shop.server.folder)
    assert by_id(reader.read(hands.strip, 0, 10**6, 10**9).entries) == mine
    assert len(pictures) == 1 and {sha256: reader.get_photo(sha256) for sha256 in reader.photos()} == pictures
