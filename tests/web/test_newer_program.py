"""An older phone beside a newer PC, and the other way round: nothing is lost, and what to do is said."""

from pathlib import Path

import pytest
from playwright.sync_api import expect

from cotterbook import VERSION
from examples import picture
from web.hands import PHONE, Hands, by_id, kept_entries
from web.phone import Phone, entry, uuid
from web.sending import add, entries_in, states, watch_requests
from web.seven_parts import begin

ROOT = Path(__file__).parents[2]
NEWER = "0.2.0"


def release(checkout, server, least):
    """The newer program, whose PC takes phones from `least` on, started in place of the older."""
    for name, old, new in (
        ("webui/requests.js", f'VERSION = "{VERSION}"', f'VERSION = "{NEWER}"'),
        ("server/cotterbook/__init__.py", f'VERSION = "{VERSION}"', f'VERSION = "{NEWER}"'),
        ("server/cotterbook/sync.py", f'LEAST_PHONE = "{VERSION}"', f'LEAST_PHONE = "{least}"'),
        ("webui/labels.js", "export const", "// Another one.\nexport const"),
    ):
        text = (checkout / name).read_text("utf-8")
        assert old in text, name
        (checkout / name).write_text(text.replace(old, new, 1), "utf-8")
    server.stop()
    server.start()


@pytest.fixture
def hands(chromium, changing_server):
    """A phone with the older program, out of reach: a part with a photo is in its log, another one half typed."""
    context = chromium.new_context(**PHONE)
    hands = Hands(context.new_page(), changing_server.url)
    hands.install()
    context.set_offline(True)
    begin(hands)
    hands.name("Seat")
    hands.page.get_by_label("Take a photo").set_input_files(
        {"name": "seat.jpg", "mimeType": "image/jpeg", "buffer": picture(1, 64)})
    expect(hands.page.get_by_role("img", name="Photo 1")).to_be_visible()
    hands.saved("Seat")
    hands.name("Side cover")
    hands.until_draft(lambda draft: draft["name"] == "Side cover")
    yield hands
    context.close()


def kept(hands):
    """All that a phone holds that is nowhere else."""
    return by_id(hands.entries()), hands.pictures(), hands.draft()["name"]


@pytest.mark.parametrize("least", [VERSION, NEWER])
def test_what_is_unsent_survives_a_newer_program_and_goes_across(hands, checkout, changing_server, least):
    """Whether or not the newer PC still takes what the older program on the phone sends."""
    before = kept(hands)
    assert len(before[1]) == 1
    release(checkout, changing_server, least)
    hands.page.context.set_offline(False)
    hands.to("Sending")
    hands.tap("Send now")
    if least == NEWER:
        expect(hands.page.get_by_text(f"too old for the PC, which takes {NEWER} or later")).to_be_visible()
        expect(hands.page.get_by_text("Take the newer version on Sending")).to_be_visible()
        assert kept(hands) == before and not (changing_server.folder / "strips" / f"{hands.strip}.jsonl").exists()
        expect(hands.sum("Entries not sent")).to_have_text(str(len(before[0])))
    else:
        hands.all_sent()
    before = kept(hands)
    look, take = (hands.page.get_by_role("button", name=name) for name in
                  ("Look for a newer version", "Take the newer version"))
    expect(look.or_(take)).to_be_visible()
    if look.count():
        look.tap()
    expect(take).to_be_visible()
    with hands.page.expect_event("load"):
        take.tap()
    hands.look()
    assert hands.page.evaluate("async () => (await import('/requests.js')).VERSION") == NEWER
    assert by_id(hands.entries()) == before[0] and hands.draft()["name"] == "Side cover"
    hands.tap("Send now")
    hands.all_sent()
    assert by_id(kept_entries(changing_server.folder, hands.strip)) == before[0]
    (there,) = changing_server.folder.rglob("*.jpg")
    if least == NEWER:
        assert {there.stem: there.read_bytes()} == before[1]
    # What was half typed is here again in the newer program, and is saved by it.
    hands.open(f"#/strip/{hands.strip}/take_off")
    expect(hands.page.get_by_label("Name of the part")).to_have_value("Side cover")
    hands.saved("Side cover")
    hands.all_sent()
    assert len(kept_entries(changing_server.folder, hands.strip)) > len(before[0])


def test_an_older_phone_keeps_and_passes_on_what_only_a_newer_one_knows(phone, second_phone):
    unknown = entry(2, kind="chain_oiled", links=[1, {"x": None}], grams=3.5)
    newer, older = phone.tab(), second_phone.tab()
    add(newer, entry(1), unknown)
    newer.run("await m.sync.sendNow()")
    older.run("await m.sync.sendNow()")
    assert states(older)[unknown["id"]] == "sent"
    assert older.run("return (await m.shop.view(a, 'strip')).counts.parts", uuid(1)) == 0
    rows = older.run("return m.log.entriesOf(a)", uuid(1))
    assert [row["entry"] for row in rows if row["id"] == unknown["id"]] == [unknown]
    # A PC that lost its data gets it from the older phone as it was written.
    bodies = watch_requests(second_phone)
    older.run("await m.log.sendAllAgain(a)", uuid(1))
    older.run("await m.sync.sendNow()")
    assert [each for body in bodies for each in entries_in(body) if each["id"] == unknown["id"]] == [unknown]
    assert states(older)[unknown["id"]] == "sent"


def test_what_an_older_pc_does_not_take_stays_on_the_newer_phone_and_the_rest_goes(phone):
    """A field that this PC does not know, of a kind that it knows: a newer one would."""
    newer = entry(2, values={"note": "x", "torque_of_tomorrow": 5})
    tab = phone.tab()
    add(tab, entry(1), newer)
    tab.run("await m.sync.sendNow()")
    assert states(tab) == {entry(1)["id"]: "sent", newer["id"]: "refused"}
    (refusal,) = tab.run("return m.log.refused()")
    assert refusal["entry"] == newer and refusal["problem"]["field"] == "values.torque_of_tomorrow"
    tab.run("await m.log.sendAgain(a)", newer["id"])
    assert states(tab)[newer["id"]] == "unsent"


def test_what_an_older_pc_refused_goes_by_itself_once_its_program_is_newer(chromium, checkout, changing_server):
    phone = Phone(chromium, changing_server.url)
    newer = entry(2, values={"note": "x", "torque_of_tomorrow": 5})
    tab = phone.tab()
    add(tab, entry(1), newer)
    tab.run("await m.sync.sendNow()")
    assert states(tab) == {entry(1)["id"]: "sent", newer["id"]: "refused"}
    # The same program again is no reason to ask again.
    bodies = watch_requests(phone)
    tab.run("await m.sync.sendNow()")
    assert [entries_in(body) for body in bodies] == [[]]
    things, note = checkout / "server/cotterbook/core/things.py", '        ("note", "text", False, TEXT_CHARACTERS),\n'
    text = things.read_text("utf-8")
    assert note in text
    new = '        ("torque_of_tomorrow", "number", False, (0, 9)),\n'
    things.write_text(text.replace(note, note + new, 1), "utf-8")
    release(checkout, changing_server, VERSION)
    tab.run("await m.sync.sendNow()")
    tab.until("(async () => (await m.log.refused()).length === 0 && (await m.log.counts()).unsent === 0)()")
    assert set(states(tab).values()) == {"sent"}
    assert newer in kept_entries(changing_server.folder, uuid(1))
    phone.close()
