"""Bundles on a phone: what it makes is what the PC reads, and what the PC refuses it refuses, whole and so said."""

import base64
import hashlib
import json
import random
import re
import zipfile
from pathlib import Path

import pytest

from cotterbook.bundles import layout, verify, write_bundle
from cotterbook.bundles import take_in as take_in_on_the_pc
from cotterbook.bundles.reading import Contents
from cotterbook.core import limits
from cotterbook.errors import TEXT
from cotterbook.store import TinyStore
from examples import OTHER_STRIP, STRIP, entry, identifier, photo_entry, picture
from repacked import HASH, PICTURE, UNTRUE, changed, replaced, untrue

FILE = "const file = new File([Uint8Array.from(atob(a), (each) => each.charCodeAt(0))], 'carried.zip');"
TAKING = "const { look, takeIn } = await import('/bundle-taking.js');"
LOOK = f"{FILE} {TAKING} const looked = await look(file);"
# Each tried on its own, so that one page can try thousands.
TRY = f"""{TAKING}
    const attempt = async (text) => {{
        const bytes = Uint8Array.from(atob(text), (each) => each.charCodeAt(0));
        try {{
            await look(new File([bytes], 'carried.zip'));
            return null;
        }} catch (error) {{
            if (!error.code || !error.sentence) throw error;
            return error.code;
        }}
    }};"""
HELD = """async () => {
    const log = await import('/log.js');
    const carried = await import('/carried.js');
    const rows = [];
    for (const strip of await carried.stripsHeld()) rows.push(...(await log.entriesOf(strip)).map((row) => [row.entry, row.state]));
    const pictures = await carried.picturesHere();
    return { rows, all: [...pictures.all], named: [...pictures.named], drafts: (await log.drafts()).length };
}"""  # noqa: E501


def text_of(path):
    return base64.b64encode(Path(path).read_bytes()).decode()


def held(tab):
    return tab.page.evaluate(HELD)


def refusal(tab, path):
    """What a bundle is refused with: {code, said}; nothing of it was kept."""
    before = held(tab)
    found = tab.run(
        f"""{FILE} {TAKING}
        try {{ await takeIn(await look(file)); return null; }} catch (error) {{
            if (!error.code) throw error;
            return {{code: error.code, said: m.words.t(error.sentence)}};
        }}""",
        text_of(path),
    )
    assert found is not None, "it was taken in"
    assert held(tab) == before
    return found


def taken(tab, path):
    """What was new of a bundle."""
    return tab.run(f"{LOOK} return takeIn(looked);", text_of(path))


@pytest.fixture
def store(tmp_path):
    """The PC's store."""
    store = TinyStore(tmp_path / "pc")
    yield store
    store.close()


@pytest.fixture
def bundle(store, tmp_path):
    """A small bundle that the PC made: two strip-downs and a picture."""
    store.append(STRIP, [entry(1, values={"note": 'Zoë, "µ"\nᚠ'}), photo_entry(2, PICTURE)])
    store.append(OTHER_STRIP, [entry(3, OTHER_STRIP)])
    store.put_photo(HASH, PICTURE)
    write_bundle(store, tmp_path / "small.zip")
    return tmp_path / "small.zip"


@pytest.fixture(scope="module")
def shared_phone(chromium, module_server):
    """One phone for what is refused: it stays empty."""
    from web.phone import Phone

    phone = Phone(chromium, module_server.url)
    yield phone.tab()
    phone.close()


def test_the_layout_the_limits_and_the_words_are_the_pcs(shared_phone):
    ours = shared_phone.run("return {...await import('/bundle-layout.js')}")
    pcs = {
        "FORMAT": layout.FORMAT, "VERSION": layout.VERSION, "MANIFEST": layout.MANIFEST,
        "MANIFEST_BYTES": layout.MANIFEST_BYTES, "PHOTO_BYTES": limits.PHOTO_BYTES_KEPT,
        "ENTRY_BYTES": limits.ENTRY_BYTES, "ENTRIES_A_STRIP": limits.ENTRIES_A_STRIP,
        "TIMES_PACKED": layout.TIMES_PACKED,
    }
    assert {name: ours[name] for name in pcs} == pcs
    names = shared_phone.run(
        "const l = await import('/bundle-layout.js'); return [l.entriesName(a[0]), l.photoName(a[1])]", [STRIP, HASH])
    assert names == [layout.entries_name(STRIP), layout.photo_name(HASH)]
    texts = shared_phone.run("return (await import('/bundle-errors.js')).TEXTS")
    shared = {code for code in TEXT if code.endswith("bundle") or code.startswith("bundle_")}
    assert shared <= set(texts) and {code: texts[code] for code in shared} == {code: TEXT[code] for code in shared}


def test_a_bundle_of_the_pc_comes_in_whole_and_waits_to_be_sent(phone, bundle, store):
    tab = phone.tab()
    looked = tab.run(f"{LOOK} const {{bundle, ...rest}} = looked; return rest;", text_of(bundle))
    assert {**looked, "madeMs": 0} == {
        "strips": 2, "entries": 3, "fresh": 3, "photos": 1, "freshPhotos": [HASH], "missing": 0, "madeMs": 0}
    assert held(tab)["rows"] == [], "looking keeps nothing"
    assert taken(tab, bundle) == {"entries": 3, "photos": 1}
    assert sorted(row[0]["id"] for row in held(tab)["rows"]) == [identifier(n) for n in (1001, 1002, 1003)]
    assert {row[1] for row in held(tab)["rows"]} == {"unsent"} and held(tab)["named"] == [HASH]
    assert [row[0] for row in held(tab)["rows"] if row[0]["id"] == identifier(1001)] == [
        entry(1, values={"note": 'Zoë, "µ"\nᚠ'})]
    kept = tab.run("return Array.from(new Uint8Array((await m.log.photo(a)).bytes))", HASH)
    assert bytes(kept) == PICTURE
    assert taken(tab, bundle) == {"entries": 0, "photos": 0}
    tab.run("await m.sync.sendNow()")
    assert {row[1] for row in held(tab)["rows"]} == {"sent"}


def test_what_the_log_has_stays_as_it_stands_there(phone, bundle):
    tab = phone.tab()
    tab.run("await m.log.receive(a.strip, [a], 7)", photo_entry(2, PICTURE))
    assert taken(tab, bundle) == {"entries": 2, "photos": 1}
    states = {row[0]["id"]: row[1] for row in held(tab)["rows"]}
    assert states == {identifier(1001): "unsent", identifier(1002): "sent", identifier(1003): "unsent"}
    assert {line["strip"]: line["cursor"] for line in tab.run("return m.log.strips()")} == {STRIP: 7, OTHER_STRIP: 0}


MAKE = """const { contentsOf, makeBundle } = await import('/bundle-writing.js');
    const contents = await contentsOf(a);
    const file = await makeBundle(contents);
    const bytes = new Uint8Array(await file.arrayBuffer());
    const text = btoa(Array.from(bytes, (each) => String.fromCharCode(each)).join(''));
    return { contents, name: file.name, bytes: text };"""


def made(tab, choice, path):
    found = tab.run(MAKE, choice)
    path.write_bytes(base64.b64decode(found.pop("bytes")))
    return found


def fill(tab):
    """Two strip-downs: an entry sent, one refused, a picture named and unsent, one named and gone, one in a form."""
    gone = photo_entry(4, b"") | {"sha256": "0" * 64}
    tab.run("await m.log.addEntries(a)", [entry(1), photo_entry(2, PICTURE), entry(3, OTHER_STRIP), gone, entry(5)])
    tab.run("await m.log.settle([a[0], a[1]], [{id: a[2], code: 'x', field: '', text: 'No.', values: {}}])",
            [identifier(1001), identifier(1004), identifier(1005)])
    tab.run(
        """const bytes = Uint8Array.from(a[1]).buffer;
        await m.log.addPhoto({sha256: a[0], bytes, type: 'image/jpeg', width: 24, height: 24});
        await m.log.addPhoto({sha256: 'f'.repeat(64), bytes, type: 'image/jpeg', width: 24, height: 24});
        await m.database.write(['settings'], (tr) => tr.objectStore('settings').delete('held/' + a[0]));""",
        [HASH, list(PICTURE)])


def test_what_a_phone_makes_the_pc_reads(phone, tmp_path):
    tab, path = phone.tab(), tmp_path / "all.zip"
    fill(tab)
    found = made(tab, "all", path)
    assert re.fullmatch(r"cotterbook-\d{4}-\d\d-\d\d\.zip", found["name"])
    assert found["contents"] == {
        "strips": [STRIP, OTHER_STRIP], "unsent": False, "entries": 4, "refused": 1, "photos": [HASH],
        "missing": ["0" * 64]}
    assert verify(path) == Contents({STRIP: 3, OTHER_STRIP: 1}, [HASH], ["0" * 64])
    # Read with the standard library alone: zip (PKWARE APPNOTE), SHA-256 (FIPS 180-4), JSON Lines.
    with zipfile.ZipFile(path) as packed:
        assert packed.testzip() is None
        for name, told in json.loads(packed.read("manifest.json"))["files"].items():
            data = packed.read(name)
            assert told == {"bytes": len(data), "sha256": hashlib.sha256(data).hexdigest()}
        lines = packed.read(f"entries/{STRIP}.jsonl").decode().splitlines()
        assert [json.loads(line) for line in lines][:2] == [entry(1), photo_entry(2, PICTURE)]
        assert packed.read(f"photos/{HASH}.jpg") == PICTURE


def test_one_strip_down_alone_and_what_the_pc_lacks_alone(phone, tmp_path):
    tab = phone.tab()
    fill(tab)
    made(tab, OTHER_STRIP, tmp_path / "one.zip")
    assert verify(tmp_path / "one.zip") == Contents({OTHER_STRIP: 1}, [], [])
    made(tab, "unsent", tmp_path / "unsent.zip")
    assert verify(tmp_path / "unsent.zip") == Contents({STRIP: 1, OTHER_STRIP: 1}, [HASH], [])
    with zipfile.ZipFile(tmp_path / "unsent.zip") as packed:
        assert json.loads(packed.read(f"entries/{STRIP}.jsonl")) == photo_entry(2, PICTURE)


def test_an_empty_phone_makes_an_empty_bundle(phone, tmp_path):
    made(phone.tab(), "unsent", tmp_path / "empty.zip")
    assert verify(tmp_path / "empty.zip") == Contents({}, [], [])


def test_every_letter_goes_across_as_it_was_written(phone, second_phone, store, tmp_path):
    odd = [entry(1, values={"note": "\u2028 \ufeff 🔧 ퟿ ﷲ عجلة"}), entry(6, kind="chain_oiled", remark="퟿ 🔧")]
    tab, other = phone.tab(), second_phone.tab()
    tab.run("await m.log.addEntries(a)", odd)
    made(tab, "all", tmp_path / "odd.zip")
    taken(other, tmp_path / "odd.zip")
    take_in_on_the_pc(store, tmp_path / "odd.zip")
    assert store.read(STRIP, 0, 10, 10_000).entries == odd == [row[0] for row in held(other)["rows"]]


def prefixes(data):
    return [data[:length] for length in range(len(data))]


def test_a_bundle_cut_at_any_byte_is_refused(shared_phone, bundle):
    """Every prefix, not a sample."""
    texts = [base64.b64encode(each).decode() for each in prefixes(bundle.read_bytes())]
    codes = shared_phone.run(f"{TRY} const found = []; for (const each of a) found.push(await attempt(each)); return found", texts)  # noqa: E501
    assert set(codes) <= {"no_bundle", "bundle_damaged"}


def test_a_changed_byte_anywhere_is_refused_or_changes_nothing(shared_phone, bundle):
    """Every third byte, beginning anywhere: some of a zip file say nothing (times, the system that made it)."""
    data = bundle.read_bytes()
    places = range(random.randrange(3), len(data), 3)
    print("from byte", places.start)
    texts = [base64.b64encode(data[:at] + bytes([data[at] ^ 0xFF]) + data[at + 1 :]).decode() for at in places]
    codes = shared_phone.run(f"{TRY} const found = []; for (const each of a) found.push(await attempt(each)); return found", texts)  # noqa: E501
    assert set(codes) <= {
        None, "no_bundle", "bundle_damaged", "bundle_too_big", "bundle_newer", "bundle_too_big_here"}
    assert sum(code is not None for code in codes) > 0.8 * len(places)


@pytest.mark.parametrize(
    "name",
    ["../outside.jsonl", "/etc/motd", "entries/../../x.jsonl", "photos/" + "A" * 64 + ".jpg", "entries/x.jsonl",
     "notes.txt",
     f"entries/{STRIP}.jsonl/", "photos\\" + "a" * 64 + ".jpg", f"entries/{STRIP.upper()}.jsonl", "C:\\x.jsonl",
     f"entries/{STRIP}.jsonl\n"],
)  # fmt: skip
def test_names_that_no_bundle_has_are_refused(shared_phone, bundle, tmp_path, name):
    path = changed(bundle, lambda files, manifest: files.update({name: b"x"}), tmp_path)
    assert refusal(shared_phone, path)["code"] == "no_bundle"


@pytest.mark.filterwarnings("ignore:Duplicate name")
def test_a_name_that_stands_twice_is_refused(shared_phone, bundle):
    with zipfile.ZipFile(bundle, "a") as packed:
        packed.writestr(layout.entries_name(STRIP), b"")
    assert refusal(shared_phone, bundle)["code"] == "no_bundle"


def test_what_bursts_is_refused_unread(shared_phone, bundle, tmp_path):
    def burst(files, manifest):
        replaced(files, manifest, layout.entries_name(STRIP), b" " * 50_000_000)

    assert refusal(shared_phone, changed(bundle, burst, tmp_path))["code"] == "bundle_too_big"


def test_what_bursts_and_says_that_it_is_small_is_refused(shared_phone, bundle, tmp_path):
    """The list at the end says another length than what comes out of the packed bytes."""

    def burst(files, manifest):
        replaced(files, manifest, layout.entries_name(STRIP), b" " * 50_000_000)
        manifest["files"][layout.entries_name(STRIP)] = {"bytes": 9, "sha256": "0" * 64}

    path = changed(bundle, burst, tmp_path)
    data, name = bytearray(path.read_bytes()), layout.entries_name(STRIP).encode()
    place = data.rindex(b"PK\1\2", 0, data.rindex(name))
    data[place + 24 : place + 28] = (9).to_bytes(4, "little")
    path.write_bytes(data)
    assert refusal(shared_phone, path)["code"] == "bundle_damaged"


def test_a_hidden_second_length_is_found(shared_phone, bundle, tmp_path):
    data = bytearray(bundle.read_bytes())
    name = layout.photo_name(HASH).encode()
    place = data.rindex(b"PK\1\2", 0, data.rindex(name))
    data[place + 24 : place + 28] = (len(PICTURE) - 9).to_bytes(4, "little")
    (tmp_path / "lies.zip").write_bytes(data)
    assert refusal(shared_phone, tmp_path / "lies.zip")["code"] == "bundle_damaged"


def test_a_picture_above_its_limit_is_refused(shared_phone, bundle, tmp_path):
    large = PICTURE + b"\0" * 2_000_000
    name = layout.photo_name(hashlib.sha256(large).hexdigest())
    path = changed(bundle, lambda files, manifest: replaced(files, manifest, name, large), tmp_path)
    assert refusal(shared_phone, path)["code"] == "bundle_too_big"


def test_a_line_without_end_is_refused(shared_phone, bundle, tmp_path):
    line = json.dumps(entry(1, who="x")).encode()
    for data in (line, b"[" * 60_000):

        def cut(files, manifest, data=data):
            replaced(files, manifest, layout.entries_name(STRIP), data)

        assert refusal(shared_phone, changed(bundle, cut, tmp_path))["code"] == "bundle_damaged"


@pytest.mark.parametrize(
    ("line", "what"),
    [
        (json.dumps(entry(1, kind="set", values={"note": 5})), "line 1"),
        (json.dumps(entry(1, OTHER_STRIP)), "another strip-down"),
        (json.dumps(entry(1)) + "\n" + json.dumps(entry(1, who="Bo")), "line 2: Its identifier stands for two"),
        ("{}", "line 1"), ("[1]", "line 1"), ("{", "line 1"), ("[" * 5_000, "JSON"), ('{"id": NaN}', "JSON"),
        (json.dumps(entry(1, kind="chain_oiled"))[:-1] + ', "grams": 1e999}', "JSON"), ("", "JSON"),
        (json.dumps(entry(1, kind="chain_oiled", deep=[[[[[[[[[[[[[[[[[1]]]]]]]]]]]]]]]]])), "JSON"),
        ("\ud800", "JSON"),
        # Half a picture letter, which JSON can write and UTF-8 cannot (RFC 3629, 3).
        (json.dumps(entry(1, kind="chain_oiled", remark="half \ud83d")), "no text"),
    ],
)  # fmt: skip
def test_an_entry_that_is_not_right_stops_the_whole(shared_phone, bundle, tmp_path, line, what):
    data = (line + "\n").encode(errors="surrogatepass")
    name = layout.entries_name(STRIP)
    path = changed(bundle, lambda files, manifest: replaced(files, manifest, name, data), tmp_path)
    found = refusal(shared_phone, path)
    assert found["code"] == "bundle_entry" and what in found["said"] and STRIP in found["said"]
    assert "{" not in found["said"]


def test_the_same_entry_twice_is_one_entry(phone, bundle, tmp_path):
    name, line = layout.entries_name(STRIP), json.dumps(entry(1)).encode() + b"\n"
    path = changed(bundle, lambda files, manifest: replaced(files, manifest, name, line * 600), tmp_path)
    tab = phone.tab()
    assert taken(tab, path) == {"entries": 2, "photos": 1}
    assert len(held(tab)["rows"]) == 2


def test_an_entry_of_a_kind_to_come_is_kept_as_it_is(phone, bundle, tmp_path):
    unknown = entry(5, kind="chain_oiled", grams=3, links=[1, {"x": None}])
    name, data = layout.entries_name(STRIP), json.dumps(unknown).encode() + b"\n"
    tab = phone.tab()
    taken(tab, changed(bundle, lambda files, manifest: replaced(files, manifest, name, data), tmp_path))
    assert [row[0] for row in held(tab)["rows"] if row[0]["id"] == unknown["id"]] == [unknown]


@pytest.mark.parametrize("other", [entry(2, who="Somebody else"), entry(2, OTHER_STRIP)])
def test_another_entry_under_the_same_identifier_here_stops_the_whole(phone, bundle, other):
    tab = phone.tab()
    tab.run("await m.log.addEntries([a])", other)
    found = refusal(tab, bundle)
    assert found["code"] == "bundle_differs" and "line 2" in found["said"]


def test_what_came_between_the_look_and_the_taking_counts_too(phone, bundle):
    tab = phone.tab()
    found = tab.run(
        f"""{FILE.replace("atob(a)", "atob(a[0])")} {TAKING}
        const looked = await look(file);
        await m.log.addEntries([a[1]]);
        return takeIn(looked).catch((error) => error.code);""",
        [text_of(bundle), entry(1, who="Somebody else")])
    assert found == "bundle_differs"
    assert len(held(tab)["rows"]) == 1 and held(tab)["all"] == [], "no picture of a bundle that was refused stays"


PUT = ("await m.log.addPhoto({sha256: a[0], bytes: Uint8Array.from(a[1]).buffer, type: 'image/jpeg', width: 1,"
       " height: 1});")
SENT = (PUT + "await m.database.write(['settings'], (tr) => tr.objectStore('settings').delete('held/' + a[0]));"
        " await m.log.photosSent([a[0]])")


@pytest.mark.parametrize(("before", "goes"), [(PUT, "m.log.dropUnnamedPhotos([a[1]])"),
                                              (SENT, "m.log.dropSentPhotos([a[1]])")])
def test_a_picture_that_went_from_here_between_the_look_and_the_taking_comes_in(phone, bundle, before, goes):
    """It was in a form and was taken out again; or the PC had it, and room was made."""
    tab = phone.tab()
    tab.run(before, [HASH, list(PICTURE)])
    found = tab.run(
        f"""{FILE.replace("atob(a)", "atob(a[0])")} {TAKING}
        const looked = await look(file);
        await {goes};
        return takeIn(looked);""", [text_of(bundle), HASH])
    assert found == {"entries": 3, "photos": 1}
    assert held(tab)["named"] == [HASH]
    assert tab.run("return m.log.counts()") == {"unsent": 3, "refused": 0, "unsent_photos": 1}


def test_a_picture_of_a_form_stays_when_a_bundle_that_brings_it_too_is_refused(phone, bundle):
    """The form took it in after the look."""
    tab = phone.tab()
    found = tab.run(
        f"""{FILE.replace("atob(a)", "atob(a[2])")} {TAKING}
        const looked = await look(file);
        {PUT}
        await m.log.addEntries([a[3]]);
        return takeIn(looked).catch((error) => error.code);""",
        [HASH, list(PICTURE), text_of(bundle), entry(1, who="Somebody else")])
    assert found == "bundle_differs" and held(tab)["all"] == [HASH]


def test_a_picture_of_a_form_that_is_open_here_stays_when_the_bundle_is_refused(phone, bundle):
    tab = phone.tab()
    tab.run("await m.log.addEntries([a])", entry(2, who="Somebody else"))
    tab.run(
        "await m.log.addPhoto({sha256: a[0], bytes: Uint8Array.from(a[1]).buffer, type: 'image/jpeg', width: 1, height: 1})",  # noqa: E501
        [HASH, list(PICTURE)])
    refusal(tab, bundle)
    assert held(tab)["all"] == [HASH]


@pytest.mark.parametrize(("change", "code"), UNTRUE)
def test_a_manifest_that_is_not_true_is_refused(shared_phone, bundle, tmp_path, change, code):
    assert refusal(shared_phone, changed(bundle, untrue(change), tmp_path))["code"] == code


@pytest.mark.parametrize("data", [b"<svg xmlns='http://www.w3.org/2000/svg'/>", b"\xff\xd8\xff", PICTURE[:40]])
def test_what_is_no_picture_is_refused(shared_phone, bundle, tmp_path, data):
    name = layout.photo_name(hashlib.sha256(data).hexdigest())
    path = changed(bundle, lambda files, manifest: replaced(files, manifest, name, data), tmp_path)
    found = refusal(shared_phone, path)
    assert found["code"] == "bundle_picture" and name in found["said"]


@pytest.mark.parametrize("data", [b"", b"PK", b"not a zip file" * 100, b"PK\5\6" + b"\0" * 18])
def test_what_is_no_zip_file_is_refused(shared_phone, tmp_path, data):
    (tmp_path / "letter.zip").write_bytes(data)
    assert refusal(shared_phone, tmp_path / "letter.zip")["code"] == "no_bundle"


def test_a_zip_file_of_the_larger_kind_is_left_to_the_pc(shared_phone, bundle):
    """One of 65,535 members or more says so by the highest number at its end (APPNOTE 4.4.1.4)."""
    data = bytearray(bundle.read_bytes())
    end = data.rindex(b"PK\5\6")
    data[end + 8 : end + 12] = b"\xff" * 4
    bundle.write_bytes(data)
    assert refusal(shared_phone, bundle)["code"] == "bundle_too_big_here"


def test_a_phone_without_room_takes_nothing(phone, store, tmp_path):
    noise = [picture(number, side=1000) for number in range(4)]
    for number, data in enumerate(noise):
        digest = hashlib.sha256(data).hexdigest()
        store.append(STRIP, [photo_entry(number, data)])
        store.put_photo(digest, data)
    write_bundle(store, tmp_path / "large.zip")
    assert (tmp_path / "large.zip").stat().st_size > 2_000_000
    tab = phone.tab()
    phone.quota(tab, 1_500_000)
    tab.run("await m.log.addEntries([a])", entry(99))
    found = refusal(tab, tmp_path / "large.zip")
    assert found["code"] == "bundle_phone_full" and "Nothing was taken" in found["said"]
    phone.quota(tab, None)
    assert taken(tab, tmp_path / "large.zip") == {"entries": 4, "photos": 4}
