"""What is wrong on the PC stands on its owner's phone, and a picture that its disk spoiled comes back from there."""

import hashlib
import shutil
import time
from collections.abc import Callable
from typing import Any

import pytest
from playwright.sync_api import expect

from cotterbook.devices.audit import Audit
from cotterbook.store import TinyStore
from examples import STRIP, entry, picture
from running import RunningServer
from web.hands import PHONE

LOGGED = """async (bytes) => {
  const [shop, log] = await Promise.all([import('/shop.js'), import('/log.js')]);
  await shop.setPerson('Ann');
  const { strip } = await shop.act('begin_strip', { name: 'Runabout', machine_name: 'Marlwick' });
  const data = Uint8Array.from(bytes).buffer;
  const sha256 = [...new Uint8Array(await crypto.subtle.digest('SHA-256', data))]
    .map((each) => each.toString(16).padStart(2, '0')).join('');
  await log.addPhoto({ sha256, bytes: data, type: 'image/jpeg', width: 24, height: 24 });
  await shop.act('photo', { strip, photo: { sha256, bytes: data.byteLength, width: 24, height: 24 } });
  return sha256;
}"""

HELD = "async (strip) => (await import('/log.js')).countOf(strip)"
READ_ANEW = "async (strip) => (await (await import('/log.js')).strips()).find((each) => each.strip === strip)?.cursor"


def until(page: Any, so: Callable[[], bool]) -> None:
    """Let the page work until it is so."""
    end = time.monotonic() + 30
    while not so():
        assert time.monotonic() < end
        page.wait_for_timeout(50)


@pytest.fixture
def owner(chromium: Any, stopped_server: RunningServer) -> Any:
    stopped_server.start()
    context = chromium.new_context(**PHONE)
    page = context.new_page()
    page.goto(stopped_server.url)
    expect(page.locator("h1")).to_be_visible()
    # Installed before the PC goes away: a reload then is the service worker's.
    page.evaluate("navigator.serviceWorker.ready.then(() => null)")
    yield page
    context.close()


def test_an_owner_is_told_and_the_picture_comes_back(owner: Any, stopped_server: RunningServer) -> None:
    data = picture(1)
    sha256 = owner.evaluate(LOGGED, list(data))
    assert sha256 == hashlib.sha256(data).hexdigest()
    owner.goto(stopped_server.url + "/#/sending")
    owner.get_by_role("button", name="Send now").click()
    expect(owner.get_by_role("status").first).to_contain_text("All sent")
    expect(owner.get_by_text("Trouble on the PC")).to_have_count(0)
    kept = stopped_server.folder / "photos" / f"{sha256}.jpg"
    assert kept.read_bytes() == data
    # The disk spoils a byte of the picture, and one of a line of the journal; the program is started again.
    stopped_server.stop()
    kept.write_bytes(bytes([data[0]]) + bytes([data[1] ^ 4]) + data[2:])
    [journal] = (stopped_server.folder / "strips").glob("*.jsonl")
    lines = journal.read_bytes().split(b"\n")
    journal.write_bytes(b"\n".join([lines[0], lines[1].replace(b"Ann", b"Anm"), *lines[2:]]))
    stopped_server.start()
    owner.get_by_role("button", name="Send now").click()
    trouble = owner.locator("section", has=owner.get_by_role("heading", name="Trouble on the PC"))
    expect(trouble).to_contain_text("lines that are damaged and cannot be read: 1.")
    expect(owner.get_by_role("status").first).to_contain_text("Trouble on the PC: see Sending.")
    # The store has another identity because of the line, so the phone asks for each picture once more, and sends it.
    expect(owner.get_by_role("status").first).to_contain_text("All sent")
    assert kept.read_bytes() == data
    # What was said stays in sight without a network and after the page is loaded again.
    stopped_server.stop()
    owner.reload()
    expect(trouble).to_contain_text("lines that are damaged and cannot be read: 1.")


def test_a_picture_found_spoiled_later_is_asked_for_by_itself(owner: Any, stopped_server: RunningServer) -> None:
    data = picture(2)
    sha256 = owner.evaluate(LOGGED, list(data))
    owner.goto(stopped_server.url + "/#/sending")
    owner.get_by_role("button", name="Send now").click()
    expect(owner.get_by_role("status").first).to_contain_text("All sent")
    kept = stopped_server.folder / "photos" / f"{sha256}.jpg"
    kept.write_bytes(data[:-2])
    # Somebody looks at it from another phone: the PC finds it spoiled, and gives nothing out.
    assert owner.evaluate("(sha256) => fetch('/api/photos/' + sha256).then(({ status }) => status)", sha256) == 404
    owner.get_by_role("button", name="Send now").click()
    until(owner, lambda: kept.exists())
    assert kept.read_bytes() == data and kept.with_suffix(".damaged").exists()
    # And then nothing is left to be told.
    owner.get_by_role("button", name="Send now").click()
    expect(owner.get_by_text("Trouble on the PC")).to_have_count(0)


def test_a_picture_whose_file_is_gone_comes_back_after_a_start(owner: Any, stopped_server: RunningServer) -> None:
    """As after a power cut, when the mending of the file system took it away."""
    data = picture(3)
    sha256 = owner.evaluate(LOGGED, list(data))
    owner.goto(stopped_server.url + "/#/sending")
    owner.get_by_role("button", name="Send now").click()
    expect(owner.get_by_role("status").first).to_contain_text("All sent")
    stopped_server.stop()
    kept = stopped_server.folder / "photos" / f"{sha256}.jpg"
    shutil.rmtree(stopped_server.folder / "copies", ignore_errors=True)  # nor is it whole beside a copy
    kept.unlink()
    stopped_server.start()
    owner.get_by_role("button", name="Send now").click()
    until(owner, kept.exists)
    assert kept.read_bytes() == data
    expect(owner.get_by_text("Trouble on the PC")).to_have_count(0)


def test_an_owner_is_told_who_still_knew_what_is_gone_and_gives_it_up(
    owner: Any, chromium: Any, stopped_server: RunningServer
) -> None:
    stopped_server.stop()
    store = TinyStore(stopped_server.folder)
    store.append(STRIP, [entry(1), entry(2)])
    store.close()
    # A tablet that looks on reads them, and nobody else does.
    stopped_server.start()
    context = chromium.unpaired.new_context(**PHONE)
    context.add_cookies([{**stopped_server.pair("looker_on"), "domain": "127.0.0.1", "path": "/"}])
    tablet = context.new_page()
    tablet.goto(stopped_server.url + "/#/sending")
    tablet.get_by_role("button", name="Send now").click()
    until(tablet, lambda: tablet.evaluate(HELD, STRIP) == 2)
    tablet.evaluate("navigator.serviceWorker.ready.then(() => null)")
    stopped_server.stop()
    (stopped_server.folder / "strips" / f"{STRIP}.jsonl").unlink()
    stopped_server.start()
    tablet.get_by_role("button", name="Send now").click()
    until(tablet, lambda: tablet.evaluate(READ_ANEW, STRIP) == 0)
    owner.goto(stopped_server.url + "/#/sending")
    owner.get_by_role("button", name="Send now").click()
    trouble = owner.locator("section", has=owner.get_by_role("heading", name="Trouble on the PC"))
    expect(trouble).to_contain_text(f"gone from it, of strip-downs: 1, among them {STRIP}.")
    expect(trouble).to_contain_text("A looker_on may only look on, and knew of entries that the PC has no more;")
    trouble.get_by_role("button", name="No more will come…").click()
    owner.get_by_role("button", name="Leave it").click()
    expect(trouble).to_contain_text("gone from it")
    trouble.get_by_role("button", name="No more will come…").click()
    owner.get_by_role("dialog").get_by_role("button", name="No more will come").click()
    expect(owner.get_by_text("Trouble on the PC")).to_have_count(0)
    assert [said["event"] for said in Audit(stopped_server.folder).read("given_up")] == ["given_up"]
    stopped_server.stop()
    store = TinyStore(stopped_server.folder)
    assert store.gaps() == ()
    store.close()
    context.close()
