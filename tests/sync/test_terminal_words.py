"""What the commands say where they can't do what they were asked: what happened, what was kept, what to do."""

import hashlib
import json
import os
import resource
import subprocess
import sys
import zipfile

import pytest

from cotterbook.bundles import write_bundle
from cotterbook.errors import ERRORS, Problem
from cotterbook.store import TinyStore
from cotterbook.store.folder import FolderReader
from cotterbook.terminal_words import AT_THE_TERMINAL
from examples import STRIP, entry, photo_entry, picture
from running import run

KILOBYTES_OF_THE_DISK = 64


@pytest.fixture
def shop(tmp_path):
    """A folder with more entries than a small disk holds, a bundle of it, a letter and a folder."""
    store = TinyStore(tmp_path / "data")
    store.append(STRIP, [entry(n) for n in range(1_000)])
    write_bundle(store, tmp_path / "bundle.zip")
    store.close()
    (tmp_path / "letter").write_text("Dear")
    (tmp_path / "shelf").mkdir()
    return tmp_path


def everything(folder):
    return {path: path.read_bytes() for path in folder.rglob("*") if path.is_file() and path.name != "lock"}


CANNOT_WRITE = "Nothing was changed. Choose another folder, or let yourself write there."


@pytest.mark.parametrize(("command", "told"), [
    ("backup --data data --to letter",
     "There is no folder letter for the copy, and none can be made (File exists). No copy was made, and the data are as"
     " they were. Choose another with --to."),
    ("backup --data data --to letter/x",
     "There is no folder letter/x for the copy, and none can be made (Not a directory). No copy was made, and the data"
     " are as they were. Choose another with --to."),
    ("backup --data none",
     "There are no strip-downs in the folder {here}/none. Nothing was changed. Choose another with --data."),
    ("export --data data shelf", "shelf is a folder. Nothing was changed. Give the name of a file."),
    ("export --data data letter", "There is a file letter already. It was not touched: choose another name."),
    ("export --data data none/x.zip",
     "The bundle none/x.zip could not be written (No such file or directory). There is no half of it, and what it was"
     " made of is as it was. See that the folder is there and has room, then give the command again."),
    ("export --data data --strip x y.zip",
     "There is no strip-down x here. No bundle was made. Take its name from its address."),
    ("import --data data shelf", "shelf is a folder. Nothing was changed. Give the name of a file."),
    ("import --data data none", "There is no file none. Nothing was changed. Give the name of a bundle or a copy."),
    ("import --data data letter", "letter is no bundle of Cotterbook. Nothing was taken from it."),
    ("import --data letter bundle.zip",
     "Cotterbook cannot write in the folder {here}/letter (Not a directory). " + CANNOT_WRITE),
    ("restore --data data shelf", "shelf is a folder. Nothing was changed. Give the name of a file."),
    ("restore --data data none", "There is no file none. Nothing was changed. Give the name of a bundle or a copy."),
    ("restore --data letter bundle.zip",
     "Cotterbook cannot write in the folder {here}/letter (Not a directory). " + CANNOT_WRITE),
    ("move --data data --to letter",
     "Cotterbook cannot write in the folder {here}/letter (Not a directory). " + CANNOT_WRITE),
    ("move --data data --to data", "That is the store itself. Nothing was changed. Choose another with --to."),
])
def test_a_slip_is_told_and_changes_nothing(shop, command, told):
    before = everything(shop)
    code, said, errors = run(*command.split(), cwd=shop)
    assert (code, said) == (1, "") and errors == f"cotterbook: {told.format(here=shop)}\n"
    assert everything(shop) == before


@pytest.mark.parametrize("command", [
    ("backup", "--data", "data", "--to", ""), ("backup", "--data", ""), ("export", "--data", "data", ""),
    ("import", "--data", "data", ""), ("restore", "--data", "data", ""), ("move", "--data", "data", "--to", ""),
    ("serve", "--data", "")])
def test_no_name_at_all_is_not_taken_for_the_folder_one_stands_in(shop, command):
    before = everything(shop)
    code, said, errors = run(*command, cwd=shop)
    assert (code, said) == (2, "") and "a name is needed" in errors and everything(shop) == before


def full_disk():
    size = KILOBYTES_OF_THE_DISK * 1024
    resource.setrlimit(resource.RLIMIT_FSIZE, (size, size))


def test_a_full_disk_is_told_and_the_same_command_goes_on_later(shop):
    told = ("cotterbook: The disk is full. Nothing that was kept is lost, and phones keep what was not stored. Make"
            " room, then give the command again; phones send by themselves.\n")
    for command in ("import --data new bundle.zip", "restore --data other bundle.zip", "move --data data --to third"):
        code, said, errors = run(*command.split(), cwd=shop, preexec_fn=full_disk)
        assert (code, said, errors) == (1, "", told), command
        code, said, errors = run(*command.split(), cwd=shop)
        assert (code, errors) == (0, ""), command
    for name in ("new", "other", "third"):
        assert FolderReader(shop / name).read(STRIP, 0, 10_000, 10_000_000).entries == [entry(n) for n in range(1_000)]


def test_a_bundle_with_no_room_leaves_no_half_of_it(shop):
    big = TinyStore(shop / "big")
    pictures = [picture(n, 400) for n in range(3)]
    for data in pictures:
        big.put_photo(hashlib.sha256(data).hexdigest(), data)
    big.append(STRIP, [photo_entry(n, data) for n, data in enumerate(pictures)])
    big.close()
    assert sum(map(len, pictures)) > KILOBYTES_OF_THE_DISK * 1024
    for command in ("export --data big out/full.zip", "backup --data big --to out"):
        (shop / "out").mkdir(exist_ok=True)
        code, said, errors = run(*command.split(), cwd=shop, preexec_fn=full_disk)
        assert (code, said) == (1, "") and " could not be written (File too large). There is no half of it" in errors
        assert list((shop / "out").iterdir()) == []


@pytest.mark.parametrize(("line", "told"), [
    (b"[1]\n", "it is no object of JSON."), (b"{,}\n", "it is not proper JSON ("),
    (b'{"a":NaN}\n', "NaN is no number")])
def test_an_entry_that_is_none_is_told_without_a_phone(shop, line, told):
    name = f"entries/{STRIP}.jsonl"
    listed = {name: {"bytes": len(line), "sha256": hashlib.sha256(line).hexdigest()}}
    manifest = {"format": "cotterbook bundle", "version": 1, "files": listed, "missing_photos": []}
    with zipfile.ZipFile(shop / "made.zip", "w") as packed:
        packed.writestr(name, line)
        packed.writestr("manifest.json", json.dumps(manifest))
    code, _, errors = run("import", "--data", "data", "made.zip", cwd=shop)
    assert code == 1 and told in errors and "this phone" not in errors and "PC" not in errors


def test_the_terminal_never_speaks_as_if_to_a_phone():
    gaps = dict.fromkeys(("what", "file", "limit"), "x")
    codes = {code for code, _, _ in ERRORS}
    for code in AT_THE_TERMINAL:
        assert code in codes
        said = str(Problem(code, **gaps))
        assert "this phone" not in said and "the PC" not in said and "{" not in said


@pytest.mark.parametrize("unbuffered", ["", "1"])
def test_an_output_on_a_full_disk_is_told(unbuffered):
    with open("/dev/full", "wb") as full:
        done = subprocess.run([sys.executable, "-m", "cotterbook.cli", "convert", "8 lbf ft"], stdout=full,
                              stderr=subprocess.PIPE, text=True, check=False,
                              env={**os.environ, "PYTHONUNBUFFERED": unbuffered})
    assert (done.returncode, done.stderr) == (
        1, "cotterbook: What was to be printed could not be written (No space left on device). What the command did is"
           " done. Print to somewhere with room.\n")
