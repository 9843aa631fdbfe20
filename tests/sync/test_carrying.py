"""`cotterbook export` and `cotterbook import` as they are run by hand, beside a program that serves."""

import zipfile

import pytest
from test_program import run, sync

from cotterbook.bundles import verify
from examples import STRIP, entry


def test_a_bundle_is_made_while_the_program_serves_and_read_on_another_computer(stopped_server, tmp_path):
    server = stopped_server.start()
    data, other, bundle = tmp_path / "data", tmp_path / "other", tmp_path / "carried.zip"
    sync(server, [entry(n) for n in range(40)])
    code, said, errors = run("export", str(bundle), "--data", str(data))
    assert (code, errors) == (0, "")
    assert "strip-downs 1, entries 40, pictures 0. It was read back and is whole." in said
    # It goes on serving, and what comes now is not in the bundle.
    assert len(sync(server, [entry(100)])["strips"][STRIP]["entries"]) == 40
    assert verify(bundle).entries == {STRIP: 40}
    # Its folder belongs to it: nothing is taken in beside it.
    code, _, errors = run("import", str(bundle), "--data", str(data))
    assert code == 1 and "is in use by another Cotterbook" in errors

    code, said, errors = run("import", str(bundle), "--data", str(other))
    assert (code, errors) == (0, "") and "New here: entries 40." in said
    code, said, _ = run("import", str(bundle), "--data", str(other))
    assert code == 0 and "New here: entries 0." in said
    server.stop()
    server.folder = other
    assert sync(server.start(), [])["strips"][STRIP]["entries"] == [entry(n) for n in range(40)]


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (("export", "{tmp}/new.zip", "--data", "{tmp}/nowhere"), "There are no strip-downs in the folder"),
        (("export", "{tmp}/letter.txt", "--data", "{tmp}/kept"), "There is a file {tmp}/letter.txt already."),
        (("export", "{tmp}/new.zip", "--data", "{tmp}/kept", "--strip", "x"), "There is no strip-down x here."),
        (("export", "{tmp}/no/new.zip", "--data", "{tmp}/kept"), "could not be written (No such file or directory)"),
        (("import", "{tmp}/none.zip", "--data", "{tmp}/kept"), "There is no file {tmp}/none.zip."),
        (("import", "{tmp}/letter.txt", "--data", "{tmp}/kept"), "letter.txt is no bundle of Cotterbook. Nothing was"),
    ],
)
def test_what_cannot_be_done_is_said(tmp_path, arguments, said):
    (tmp_path / "letter.txt").write_text("Dear Ann")
    (tmp_path / "kept" / "strips").mkdir(parents=True)
    (tmp_path / "kept" / "lock").touch()  # as a start leaves it that kept nothing
    code, _, errors = run(*(each.format(tmp=tmp_path) for each in arguments))
    assert code == 1 and said.format(tmp=tmp_path) in errors and "Traceback" not in errors
    assert (tmp_path / "letter.txt").read_text() == "Dear Ann" and not (tmp_path / "new.zip").exists()


def test_damage_in_the_folder_and_pictures_that_are_away_are_told(stopped_server, tmp_path):
    server = stopped_server.start()
    sync(server, [entry(n) for n in range(3)])
    path = tmp_path / "data" / "strips" / f"{STRIP}.jsonl"
    path.write_bytes(path.read_bytes().replace(b"note 1", b"note 7"))
    code, said, errors = run("export", str(tmp_path / "rest.zip"), "--data", str(tmp_path / "data"))
    assert code == 0 and "entries 2" in said and "damaged and cannot be read" in errors
    with zipfile.ZipFile(tmp_path / "rest.zip") as packed:
        assert b"note 7" not in packed.read(f"entries/{STRIP}.jsonl")
