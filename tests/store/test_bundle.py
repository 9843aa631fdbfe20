"""Bundles: what goes in comes out, and whatever is wrong with one is refused whole, with its reason."""

import hashlib
import json
import zipfile
from pathlib import Path

import pytest

from cotterbook import demo, resources
from cotterbook.bundles import layout, take_in, verify, write_bundle
from cotterbook.bundles.writing import entries_of
from cotterbook.errors import Problem
from cotterbook.store import TinyStore
from cotterbook.store.folder import FolderReader
from disk import full_at
from examples import OTHER_STRIP, STRIP, entry, identifier, photo_entry
from repacked import HASH, PICTURE, UNTRUE, changed, replaced, untrue


def everything(source):
    """All that a store holds: its entries by strip-down, and the picture."""
    return {strip: list(entries_of(source, strip)) for strip in source.strips()}, source.get_photo(HASH)


@pytest.fixture
def bundle(store, tmp_path):
    """A small bundle: two strip-downs and a picture."""
    store.append(STRIP, [entry(1, values={"note": 'Zoë, "µ"\nᚠ'}), photo_entry(2, PICTURE)])
    store.append(OTHER_STRIP, [entry(3, OTHER_STRIP)])
    store.put_photo(HASH, PICTURE)
    write_bundle(store, tmp_path / "small.zip")
    return tmp_path / "small.zip"


@pytest.fixture
def other(tmp_path):
    """Another computer's store."""
    store = TinyStore(tmp_path / "other")
    yield store
    store.close()


def refusal(other, path):
    """The problem that a bundle is refused with; nothing of it was kept."""
    before = everything(other)
    with pytest.raises(Problem) as caught:
        take_in(other, path)
    assert everything(other) == before
    return caught.value


def test_everything_that_goes_in_comes_out(bundle, store, other):
    contents, new = take_in(other, bundle)
    assert everything(other) == everything(store)
    assert (contents.entries, contents.photos, new) == ({STRIP: 2, OTHER_STRIP: 1}, [HASH], 3)


def test_the_same_bundle_twice_and_on_top_of_what_is_there_is_once(bundle, other):
    other.append(STRIP, [photo_entry(2, PICTURE), entry(9)])
    assert take_in(other, bundle)[1] == 2
    assert take_in(other, bundle)[1] == 0
    assert sorted(each["id"] for each in everything(other)[0][STRIP]) == [identifier(n) for n in (1001, 1002, 1009)]


def test_the_demo_goes_across_whole(store, other, tmp_path):
    demo.load(store, resources.folder("demo_data"))
    contents = write_bundle(store, tmp_path / "demo.zip")
    take_in(other, tmp_path / "demo.zip")
    assert everything(other)[0] == everything(store)[0]
    assert contents.photos and all(other.get_photo(each) == store.get_photo(each) for each in contents.photos)


def test_it_is_a_plain_zip_file_that_describes_itself(bundle):
    """Read with the standard library alone: zip (PKWARE APPNOTE), SHA-256 (FIPS 180-4), JSON Lines."""
    with zipfile.ZipFile(bundle) as packed:
        assert packed.testzip() is None
        manifest = json.loads(packed.read("manifest.json"))
        for name, told in manifest["files"].items():
            data = packed.read(name)
            assert told == {"bytes": len(data), "sha256": hashlib.sha256(data).hexdigest()}
        lines = packed.read(f"entries/{STRIP}.jsonl").decode().splitlines()
        assert [json.loads(line)["id"] for line in lines] == [entry(1)["id"], entry(2)["id"]]
    assert bundle.stat().st_mode & 0o777 == 0o600


def test_one_strip_down_alone_and_a_picture_that_is_not_here(store, tmp_path):
    store.append(STRIP, [photo_entry(2, PICTURE)])
    store.append(OTHER_STRIP, [entry(3, OTHER_STRIP)])
    contents = write_bundle(store, tmp_path / "one.zip", [STRIP])
    assert contents == verify(tmp_path / "one.zip") == ({STRIP: 1}, [], [HASH], (), ())
    with pytest.raises(Problem) as caught:
        write_bundle(store, tmp_path / "none.zip", [identifier(77)])
    assert caught.value.code == "no_such_strip" and not (tmp_path / "none.zip").exists()


def test_a_file_that_is_there_is_not_written_over(store, bundle):
    before = bundle.read_bytes()
    with pytest.raises(Problem) as caught:
        write_bundle(store, bundle)
    assert caught.value.code == "file_exists" and bundle.read_bytes() == before


def test_the_folder_is_read_beside_the_process_that_writes(bundle, store, data_folder, tmp_path):
    reader = FolderReader(data_folder)
    assert everything(reader) == everything(store)
    # A line that is being written just then is not part of it, and is told of.
    with open(data_folder / "strips" / f"{STRIP}.jsonl", "ab") as file:
        file.write(b'{"crc32":"0000')
    reader = FolderReader(data_folder)
    write_bundle(reader, tmp_path / "beside.zip")
    assert verify(tmp_path / "beside.zip").entries == {STRIP: 2, OTHER_STRIP: 1} and reader.reports
    with pytest.raises(Problem) as caught:
        FolderReader(tmp_path / "nowhere")
    assert caught.value.code == "no_such_folder"


def test_a_bundle_cut_at_any_byte_is_refused(bundle, other, tmp_path):
    """Every prefix, not a sample."""
    data = bundle.read_bytes()
    path = tmp_path / "cut.zip"
    for length in range(len(data)):
        path.write_bytes(data[:length])
        assert refusal(other, path).code in ("no_bundle", "bundle_damaged")


def test_a_changed_byte_anywhere_is_refused_or_changes_nothing(bundle, store, other, tmp_path):
    """Every byte, not a sample: some of a zip file say nothing (times, the system that made it)."""
    data = bundle.read_bytes()
    path, whole = tmp_path / "flipped.zip", verify(bundle)
    refused = 0
    for place in range(len(data)):
        path.write_bytes(data[:place] + bytes([data[place] ^ 0xFF]) + data[place + 1 :])
        try:
            assert verify(path) == whole
        except Problem as problem:
            assert problem.code in ("no_bundle", "bundle_damaged", "bundle_too_big", "bundle_newer"), (place, problem)
            refused += 1
        else:
            take_in(other, path)
            assert everything(other) == everything(store)
    assert refused > 0.8 * len(data)


@pytest.mark.parametrize(
    "name",
    ["../outside.jsonl", "/etc/motd", "entries/../../x.jsonl", "photos/" + "A" * 64 + ".jpg", "entries/x.jsonl",
     "notes.txt",
     f"entries/{STRIP}.jsonl/", "photos\\" + "a" * 64 + ".jpg", f"entries/{STRIP.upper()}.jsonl", "C:\\x.jsonl"],
)  # fmt: skip
def test_names_that_no_bundle_has_are_refused(bundle, other, tmp_path, name):
    path = changed(bundle, lambda files, manifest: files.update({name: b"x"}), tmp_path)
    assert refusal(other, path).code == "no_bundle"


@pytest.mark.filterwarnings("ignore:Duplicate name")
def test_a_name_that_stands_twice_is_refused(bundle, other):
    with zipfile.ZipFile(bundle, "a") as packed:
        packed.writestr(layout.entries_name(STRIP), b"")
    assert refusal(other, bundle).code == "no_bundle"


def test_what_bursts_is_refused_unread(bundle, other, tmp_path):
    def burst(files, manifest):
        replaced(files, manifest, layout.entries_name(STRIP), b" " * 50_000_000)

    assert refusal(other, changed(bundle, burst, tmp_path)).code == "bundle_too_big"


def test_a_picture_above_its_limit_is_refused(bundle, other, tmp_path):
    large = PICTURE + b"\0" * 2_000_000
    name = layout.photo_name(hashlib.sha256(large).hexdigest())
    path = changed(bundle, lambda files, manifest: replaced(files, manifest, name, large), tmp_path)
    assert refusal(other, path).code == "bundle_too_big"


def test_a_line_without_end_is_refused(bundle, other, tmp_path):
    line = json.dumps(entry(1, who="x")).encode()
    for data in (line, b"[" * 60_000):

        def cut(files, manifest, data=data):
            replaced(files, manifest, layout.entries_name(STRIP), data)

        assert refusal(other, changed(bundle, cut, tmp_path)).code == "bundle_damaged"


def test_a_hidden_second_length_is_found(bundle, other, tmp_path):
    """The list at the end of a zip file says another length than the file's own head."""
    data = bytearray(bundle.read_bytes())
    name = layout.photo_name(HASH).encode()
    place = data.rindex(b"PK\1\2", 0, data.rindex(name))
    data[place + 24 : place + 28] = (len(PICTURE) - 9).to_bytes(4, "little")
    (tmp_path / "lies.zip").write_bytes(data)
    assert refusal(other, tmp_path / "lies.zip").code == "bundle_damaged"


@pytest.mark.parametrize(
    ("line", "what"),
    [
        (json.dumps(entry(1, kind="set", values={"note": 5})), "line 1"),
        (json.dumps(entry(1, OTHER_STRIP)), "another strip-down"),
        (json.dumps(entry(1)) + "\n" + json.dumps(entry(1, who="Bo")), "line 2: its identifier stands for two"),
        ("{}", "line 1"), ("[1]", "line 1"), ("{", "line 1"), ("[" * 5_000, "nested"), ('{"id": NaN}', "NaN"),
        ("\ud800", "UTF-8"),
    ],
)  # fmt: skip
def test_an_entry_that_is_not_right_stops_the_whole(bundle, other, tmp_path, line, what):
    data = (line + "\n").encode(errors="surrogatepass")
    name = layout.entries_name(STRIP)
    problem = refusal(other, changed(bundle, lambda files, manifest: replaced(files, manifest, name, data), tmp_path))
    assert problem.code == "bundle_entry" and what in str(problem) and STRIP in str(problem)


def test_an_entry_of_a_kind_to_come_is_kept(bundle, other, tmp_path):
    unknown = entry(5, kind="chain_oiled", grams=3)
    name = layout.entries_name(STRIP)
    data = json.dumps(unknown).encode() + b"\n"
    take_in(other, changed(bundle, lambda files, manifest: replaced(files, manifest, name, data), tmp_path))
    assert everything(other)[0][STRIP] == [unknown]


def test_another_entry_under_the_same_identifier_here_stops_the_whole(bundle, other):
    other.append(STRIP, [entry(2, who="Somebody else")])
    problem = refusal(other, bundle)
    assert problem.code == "bundle_differs" and "line 2" in str(problem)


def test_another_entry_under_the_same_identifier_in_another_strip_down_stops_the_whole(bundle, other):
    other.append(identifier(0xD), [entry(3, identifier(0xD))])
    problem = refusal(other, bundle)
    assert problem.code == "bundle_differs" and f"entries/{OTHER_STRIP}.jsonl, line 1" in str(problem)
    assert other.photos() == [] and list(other.strips()) == [identifier(0xD)]


def test_there_is_room_for_all_strip_downs_or_none_is_taken(bundle, other, monkeypatch):
    for module in ("bundles.reading", "sync"):
        monkeypatch.setattr(f"cotterbook.{module}.STRIPS", 2)
    other.append(identifier(0xD), [entry(9, identifier(0xD))])
    assert refusal(other, bundle).code == "no_room_for_strips"
    assert other.photos() == [] and list(other.strips()) == [identifier(0xD)]
    monkeypatch.setattr("cotterbook.bundles.reading.STRIPS", 3)  # somebody else was quicker: it is said as it is
    with pytest.raises(Problem) as caught:
        take_in(other, bundle)
    assert caught.value.code == "import_overtaken" and "A part of the bundle is here" in str(caught.value)
    monkeypatch.setattr("cotterbook.sync.STRIPS", 3)
    take_in(other, bundle)
    assert len(other.strips()) == 3


def test_a_strip_down_has_room_for_all_or_takes_none(bundle, other, monkeypatch):
    monkeypatch.setattr("cotterbook.bundles.reading.ENTRIES_A_STRIP", 2)
    other.append(STRIP, [entry(8)])
    assert refusal(other, bundle).code == "bundle_no_room"


@pytest.mark.parametrize(("change", "code"), UNTRUE)
def test_a_manifest_that_is_not_true_is_refused(bundle, other, tmp_path, change, code):
    assert refusal(other, changed(bundle, untrue(change), tmp_path)).code == code


def test_what_is_no_picture_is_refused(bundle, other, tmp_path):
    data = b"<svg xmlns='http://www.w3.org/2000/svg'/>"
    name = layout.photo_name(hashlib.sha256(data).hexdigest())
    path = changed(bundle, lambda files, manifest: replaced(files, manifest, name, data), tmp_path)
    problem = refusal(other, path)
    assert problem.code == "bundle_picture" and name in str(problem)


@pytest.mark.parametrize("data", [b"", b"PK", b"not a zip file" * 100, b"PK\5\6" + b"\0" * 18])
def test_what_is_no_zip_file_is_refused(other, tmp_path, data):
    path = tmp_path / "letter.zip"
    path.write_bytes(data)
    assert refusal(other, path).code == "no_bundle"


def test_a_full_disk_leaves_no_half_bundle(store, bundle, tmp_path):
    folder = Path(tmp_path)
    before = sorted(folder.iterdir())
    with full_at(200), pytest.raises(Problem) as caught:
        write_bundle(store, tmp_path / "full.zip")
    assert caught.value.code == "bundle_not_written" and sorted(folder.iterdir()) == before
