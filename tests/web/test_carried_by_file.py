"""Carry by file, by hand on the screen: from a phone to the PC and to another phone, and from the PC to a phone."""

import zipfile

import pytest
from playwright.sync_api import expect

from cotterbook.bundles import verify
from examples import STRIP, entry, photo_entry, picture
from repacked import changed, replaced
from web.carrying import command, make, to_the_screen
from web.hands import PHONE, Hands, by_id, kept_entries
from web.offline import hands_without_signal
from web.phone import Phone

DOTS = picture(3, 64)


@pytest.fixture
def hands(chromium, server):
    """A phone without a signal that has a part with a photo in its log, and nothing sent."""
    with hands_without_signal(chromium, server) as hands:
        hands.name("Seat")
        hands.page.get_by_label("Take a photo").set_input_files(
            {"name": "seat.jpg", "mimeType": "image/jpeg", "buffer": DOTS})
        expect(hands.page.get_by_role("img", name="Photo 1")).to_be_visible()
        hands.saved("Seat")
        yield hands


@pytest.fixture
def other(chromium, make_server):
    """Another phone, of another PC, without a signal and with an empty log."""
    server = make_server()
    # A phone brings the pairing of the servers that run when it is switched on.
    context = chromium.new_context(**PHONE)
    hands = Hands(context.new_page(), server.url)
    hands.install()
    context.set_offline(True)
    yield hands
    context.close()


def counts(place):
    """The lines of counts, by their words."""
    texts = place.locator("dl.sums > div").all_inner_texts()
    return dict(text.split("\n\n" if "\n\n" in text else "\n") for text in texts)


def look_at(hands, path):
    """Choose the file on the screen for carrying; what it is said to hold."""
    hands.page.get_by_label("Choose a file").set_input_files(path)
    found = hands.page.locator(".block.open")
    expect(found).to_be_visible()
    return counts(found)


def take_in(hands, path):
    """Take the file in; what was told before and after."""
    to_the_screen(hands)
    before = look_at(hands, path)
    hands.tap("Take it in")
    expect(hands.page.get_by_text("Taken in", exact=True)).to_be_visible()
    return before, counts(hands.page.locator(".block.done"))


def log_of(hands, strip):
    hands.strip = strip
    return by_id(hands.entries())


def test_from_a_phone_to_the_pc(hands, server, tmp_path, make_server):
    path, ours = make(hands, tmp_path), by_id(hands.entries())
    assert verify(path).entries == {hands.strip: len(ours)} and len(verify(path).photos) == 1
    said = command("import", path, "--data", tmp_path / "pc")
    assert f"strip-downs 1, entries {len(ours)}, pictures 1" in said and f"New here: entries {len(ours)}." in said
    assert by_id(kept_entries(tmp_path / "pc", hands.strip)) == ours
    (kept,) = (tmp_path / "pc").rglob("*.jpg")
    assert kept.read_bytes() == hands.pictures()[kept.stem]
    # What was carried goes across by the network too, once there is one, and is there once.
    hands.page.context.set_offline(False)
    hands.to("Sending")
    hands.tap("Send now")
    hands.all_sent()
    assert by_id(kept_entries(server.folder, hands.strip)) == ours


def test_from_a_phone_to_another_and_from_there_to_its_pc(hands, other, tmp_path):
    path, ours = make(hands, tmp_path, "All strip-downs"), by_id(hands.entries())
    before, after = take_in(other, path)
    told = str(len(ours))
    assert before == {
        "Entries": told, "of these new here": told, "Strip-downs": "1", "Photos": "1", "of the photos new here": "1"}
    assert after == {"New entries": told, "New photos": "1"}
    assert log_of(other, hands.strip) == ours and other.pictures() == hands.pictures()
    # It is there like any other, with its picture, and waits for the PC.
    other.to("Sending")
    expect(other.sum("Entries not sent")).to_have_text(told)
    other.to("Machines")
    other.page.get_by_role("link").filter(has_text="Harbour runabout").tap()
    other.look()
    other.to_part("Seat")
    expect(other.page.get_by_role("img").first).to_be_visible()
    # The same file once more brings nothing, and says so.
    other.open("#/carry")
    assert "of these new here" not in look_at(other, path)
    expect(other.page.get_by_text("All of it is here already.")).to_be_visible()
    expect(other.page.get_by_role("button", name="Take it in")).to_have_count(0)
    other.page.context.set_offline(False)
    other.to("Sending")
    other.tap("Send now")
    other.all_sent()
    other.open("#/carry")
    expect(other.page.get_by_text("The PC has everything that is on this phone.")).to_be_visible()


def test_from_the_pc_to_a_phone(other, stopped_server, chromium, tmp_path):
    """Made by the program beside the server that serves; the phone's part is worked on, and the PC gets that alone."""
    server = stopped_server.start()
    phone = Phone(chromium, server.url)
    tab = phone.tab()
    tab.run("await m.shop.ready(); await m.shop.setPerson('Ilka')")
    strip = tab.run(
        """const { strip } = await m.shop.act('begin_strip', {name: 'Harbour runabout', machine_name: 'Marlwick 410'});
        await m.shop.act('take_off', {strip, name: 'Seat'});
        await m.sync.sendNow();
        return strip;""")
    tab.until("(await m.log.counts()).unsent === 0")
    phone.close()
    command("export", tmp_path / "pc.zip", "--data", server.folder)
    _, after = take_in(other, tmp_path / "pc.zip")
    ours = by_id(kept_entries(server.folder, strip))
    assert after == {"New entries": str(len(ours))}
    assert log_of(other, strip) == ours
    other.open(f"#/strip/{strip}/part/{next(each['thing'] for each in ours.values() if each.get('type') == 'part')}")
    expect(other.page.get_by_role("heading", level=1)).to_have_text("Seat")
    back = make(other, tmp_path, "All strip-downs")
    server.stop()
    assert "New here: entries 0." in command("import", back, "--data", server.folder)


def test_one_strip_down_of_two_goes_alone(hands, tmp_path):
    first = hands.strip
    hands.open("#/begin")
    hands.write("Machine", "Marlwick 410")
    hands.write("Name of the strip-down", "Second winter")
    hands.tap("Begin")
    expect(hands.page.get_by_role("heading", name="Take off")).to_be_visible()
    hands.look()
    assert hands.strip != first
    to_the_screen(hands)
    hands.choose("What goes in", "One strip-down")
    hands.page.get_by_label("Which strip-down").select_option(label="Harbour runabout, Marlwick 410")
    hands.tap("Make the file")
    with hands.page.expect_download() as download:
        hands.page.get_by_role("link", name="Save it").tap()
    download.value.save_as(tmp_path / "one.zip")
    assert list(verify(tmp_path / "one.zip").entries) == [first]


def test_a_file_that_is_not_right_is_told_and_nothing_is_taken(other, stopped_server, tmp_path):
    letter = tmp_path / "letter.zip"
    letter.write_text("Dear Ann")
    to_the_screen(other)
    other.page.get_by_label("Choose a file").set_input_files(letter)
    expect(other.refused()).to_have_text("letter.zip is no bundle of Cotterbook. Nothing was taken from it.")
    with zipfile.ZipFile(tmp_path / "small.zip", "w") as packed:
        packed.writestr("manifest.json", '{"format":"cotterbook bundle","version":1,"files":{},"missing_photos":[]}')
    name = f"entries/{STRIP}.jsonl"
    path = changed(
        tmp_path / "small.zip", lambda files, manifest: replaced(files, manifest, name, b'{"id":"x"}\n'), tmp_path)
    other.page.get_by_label("Choose a file").set_input_files(path)
    expect(other.refused()).to_contain_text("An entry of the bundle is not right")
    expect(other.refused()).to_contain_text("line 1")
    expect(other.refused()).to_contain_text("Nothing was taken from it.")
    other.to("Machines")
    expect(other.page.get_by_role("link", name="Begin a strip-down")).to_be_visible()
    expect(other.page.locator(".lines .line")).to_have_count(0)


# No browser of a desk computer hands files over: what a phone's would get is looked at.
SHARES = """() => { navigator.canShare = ({ files }) => files.every((file) => file instanceof File);
    navigator.share = async ({ files }) => {
        if (!navigator.userActivation.isActive) throw new DOMException('no tap', 'NotAllowedError');
        if (globalThis.turnedDown) throw new DOMException('x', 'AbortError');
        globalThis.shared = files.map((file) => [file.name, file.type, file.size]);
    }; }"""


def test_a_browser_that_shares_files_hands_it_over(hands):
    hands.page.evaluate(SHARES)
    to_the_screen(hands)
    hands.tap("Make the file")
    hands.page.evaluate("globalThis.turnedDown = true")
    hands.tap("Hand it over")
    expect(hands.page.get_by_text("did not hand it over")).to_have_count(0)
    hands.page.evaluate("globalThis.turnedDown = false")
    hands.tap("Hand it over")
    expect(hands.status()).to_contain_text("Handed over.")
    ((name, kind, size),) = hands.page.evaluate("shared")
    assert name.startswith("cotterbook-") and kind == "application/zip" and size > 1_000
    expect(hands.page.get_by_role("link", name="Save it")).to_be_visible()


def test_three_hundred_pictures_go_in_and_come_out(phone, second_phone, tmp_path):
    """As many as a long job has; the file comes from the browser's own list of files, and goes to it."""
    tab, other = phone.tab(), second_phone.tab()
    photos = [(photo_entry(number, data), data) for number, data in ((n, picture(n, 40)) for n in range(300))]
    for at in range(0, 300, 50):
        tab.run(
            """for (const [entry, bytes] of a) {
                await m.log.addPhoto({sha256: entry.sha256, bytes: Uint8Array.from(bytes).buffer, type: 'image/jpeg',
                                      width: 40, height: 40});
                await m.log.addEntries([entry]);
            }""",
            [[named, list(data)] for named, data in photos[at : at + 50]])
    tab.run("await m.log.addEntries([a])", entry(999))
    tab.run(
        """const { contentsOf, makeBundle } = await import('/bundle-writing.js');
        const file = await makeBundle(await contentsOf('all'));
        const input = document.body.appendChild(document.createElement('a'));
        Object.assign(input, {href: URL.createObjectURL(file), download: file.name, textContent: 'Save'});""")
    with tab.page.expect_download() as download:
        tab.page.get_by_text("Save", exact=True).click()
    download.value.save_as(tmp_path / "many.zip")
    assert len(verify(tmp_path / "many.zip").photos) == 300
    other.page.evaluate("document.body.appendChild(Object.assign(document.createElement('input'), {type: 'file'}))")
    other.page.locator("input").set_input_files(tmp_path / "many.zip")
    told = other.run(
        """const { look, takeIn } = await import('/bundle-taking.js');
        const steps = [];
        const looked = await look(document.querySelector('input').files[0], (done, of) => steps.push([done, of]));
        return [await takeIn(looked), steps.at(-1)];""")
    assert told == [{"entries": 301, "photos": 300}, [301, 301]]
    assert len(other.run("return m.log.unsentPhotos(1000)")) == 300
