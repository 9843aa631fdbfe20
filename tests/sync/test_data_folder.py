"""Which folder a command may fill, at which address a folder is served, and what is said where a start is refused."""

import os
import re
import shutil
import signal

import pytest

from cotterbook.copies import make_copy
from cotterbook.errors import Problem
from cotterbook.store import TinyStore
from cotterbook.store.ours import check_ours, is_ours
from cotterbook.store.served_at import hold_address, served_at
from examples import STRIP, entry
from running import RunningServer, free_port, run


def code_of(call, *arguments):
    with pytest.raises(Problem) as found:
        call(*arguments)
    return found.value.code


def everything(folder):
    return {str(path.relative_to(folder)): path.read_bytes() if path.is_file() else None
            for path in sorted(folder.rglob("*"))}


@pytest.fixture
def foreign(tmp_path):
    """Somebody's own folder, with names that ours has too."""
    folder = tmp_path / "letters"
    (folder / "photos").mkdir(parents=True)
    (folder / "to the landlord.txt").write_text("Dear")
    return folder


@pytest.fixture
def copy(tmp_path):
    """A copy to go back to."""
    store = TinyStore(tmp_path / "shop")
    store.append(STRIP, [entry(1)])
    make_copy(store, tmp_path / "copy.zip")
    store.close()
    return tmp_path / "copy.zip"


def test_no_command_fills_a_folder_of_something_else(foreign, copy, tmp_path):
    before = everything(foreign)
    ports = [str(free_port()) for _ in range(3)]
    lan = ["--lan", "--lan-port", ports[1], "--trust-port", ports[2]]
    for command in (
        ["serve", "--port", ports[0]], ["serve", *lan, "--port", ports[0]],
        ["import", str(copy)], ["restore", str(copy)],
    ):
        code, said, errors = run(*command, "--data", str(foreign))
        assert (code, said) == (1, ""), command
        assert errors == (
            f"cotterbook: The folder {foreign} holds files of something else (photos) and nothing of Cotterbook."
            " Nothing was put there. Choose another: an empty one, a new one, or the one where your data are.\n")
    code, said, errors = run("move", "--data", str(tmp_path / "shop"), "--to", str(foreign))
    assert (code, said) == (1, "") and "holds files of something else" in errors
    assert everything(foreign) == before


def test_an_empty_a_missing_and_an_own_folder_are_filled(tmp_path, copy):
    (tmp_path / "disk" / "lost+found").mkdir(parents=True)
    for name in ("disk", "new", "shop"):
        code, _, errors = run("import", str(copy), "--data", str(tmp_path / name))
        assert (code, errors) == (0, ""), name
    (tmp_path / "shop" / "note.txt").write_text("beside it")
    assert run("import", str(copy), "--data", str(tmp_path / "shop"))[0] == 0
    # Where all but the copies is gone, they are the way back.
    shutil.copytree(tmp_path / "shop" / "strips", tmp_path / "left" / "copies")
    assert run("restore", str(copy), "--data", str(tmp_path / "left"))[0] == 0


def test_a_start_that_was_refused_is_no_reason_to_refuse_the_next(tmp_path):
    folder = tmp_path / "data"
    for name in ("lock", "trust/lock", "serving/8350/lock"):
        (folder / name).parent.mkdir(parents=True, exist_ok=True)
        (folder / name).touch()
    check_ours(folder)
    assert not is_ours(folder)
    (folder / "note.txt").touch()
    assert code_of(check_ours, folder) == "foreign_folder"
    (folder / "devices.json").touch()
    check_ours(folder)
    assert is_ours(folder)


@pytest.mark.parametrize("name", [
    "identity", "strips/letter.txt", "strips/11111111-1111-4111-8111-111111111111.jsonl", "strips/comic.jsonl"])
def test_a_name_that_others_use_too_makes_no_folder_ours(tmp_path, copy, name):
    folder = tmp_path / "own"
    (folder / name).parent.mkdir(parents=True)
    (folder / name).write_text("who I am\n")
    before = everything(folder)
    assert not is_ours(folder) and code_of(check_ours, folder) == "foreign_folder"
    for command in (["import", str(copy)], ["restore", str(copy)], ["serve", "--port", str(free_port())], ["pair"]):
        code, said, errors = run(*command, "--data", str(folder))
        assert (code, said) == (1, "") and folder.name in errors, command
    assert everything(folder) == before


def test_an_identity_of_something_else_is_never_written_over(tmp_path):
    """Whatever else says that the folder is ours. Beside journals it is ours and rotten, and gets a new one."""
    folder = tmp_path / "data"
    folder.mkdir()
    (folder / "devices.json").touch()
    (folder / "identity").write_bytes(b"-----BEGIN somebody's key\n")
    assert code_of(TinyStore, folder) == "foreign_folder"
    assert (folder / "identity").read_bytes() == b"-----BEGIN somebody's key\n"
    for empty in (b"", b"\0" * 36):
        (folder / "identity").write_bytes(empty)
        store = TinyStore(folder)
        first = store.identity
        store.append(STRIP, [entry(1)])
        store.close()
        (folder / "identity").write_bytes(b"rot")
        store = TinyStore(folder)
        assert store.identity != first and store.strips() == {STRIP: 1}
        store.close()
        shutil.rmtree(folder / "strips")


def test_journals_alone_are_ours_also_where_the_first_line_is_damaged(tmp_path):
    store = TinyStore(tmp_path)
    store.append(STRIP, [entry(1)])
    store.close()
    for path in tmp_path.iterdir():
        if path.is_file():
            path.unlink()
    assert is_ours(tmp_path)
    [journal] = (tmp_path / "strips").iterdir()
    journal.write_bytes(b"#" + journal.read_bytes()[1:])
    assert is_ours(tmp_path)
    check_ours(tmp_path)


def test_what_systems_and_a_start_that_was_cut_short_leave_is_nothing_foreign(tmp_path):
    for name in (".Trashes", ".fseventsd", ".Trash-1000", "System Volume Information", "$RECYCLE.BIN"):
        (tmp_path / name).mkdir()
    for name in (".DS_Store", "desktop.ini", "Thumbs.db", "lock"):
        (tmp_path / name).touch()
    (tmp_path / "strips").mkdir()
    (tmp_path / "photos").mkdir()
    check_ours(tmp_path)
    assert not is_ours(tmp_path)
    (tmp_path / "photos" / "holiday.jpg").touch()
    assert code_of(check_ours, tmp_path) == "foreign_folder"


def test_a_file_that_a_system_put_beside_the_addresses_stops_no_code(stopped_server):
    server = stopped_server.start()
    (server.folder / "serving" / ".DS_Store").touch()
    (server.folder / "serving" / "note").mkdir()
    code, said, errors = run("pair", "--data", str(server.folder))
    assert (code, errors) == (0, "") and f"Address: {server.url}/#/pair/" in said
    assert [*(server.folder / "serving" / "note").iterdir()] == []


def test_a_slip_in_the_folder_pairs_nobody_and_makes_nothing(tmp_path, foreign):
    (tmp_path / "empty").mkdir()
    for folder in (tmp_path / "typo", tmp_path / "empty", foreign):
        before = everything(tmp_path)
        code, said, errors = run("pair", "--data", str(folder))
        assert (code, said) == (1, "") and everything(tmp_path) == before
        assert errors == (
            f"cotterbook: There is nothing of Cotterbook in the folder {folder}. No code was made, and no folder."
            " Correct --data, or start cotterbook serve with that folder first.\n")


def test_a_code_comes_with_the_address_that_is_served(stopped_server):
    server = stopped_server.start()
    code, said, errors = run("pair", "--data", str(server.folder))
    assert (code, errors) == (0, "")
    assert re.search(rf"^Address: {server.url}/#/pair/\d{{8}}$", said, re.M)
    before = (server.folder / "devices.json").read_bytes()
    # Killed, as by a power cut, it serves no more; stopped neither.
    for end in (server.kill, server.stop):
        end()
        code, said, errors = run("pair", "--data", str(server.folder))
        assert (code, said) == (1, "")
        assert errors == (
            f"cotterbook: The folder {server.folder} is not served now, and a code opens only what is served. No code"
            " was made. Start cotterbook serve with that folder first, and ask for a code from another terminal.\n")
        assert (server.folder / "devices.json").read_bytes() == before
        server.start()
        before = (server.folder / "devices.json").read_bytes()
    assert run("pair", "--data", str(server.folder))[0] == 0


def test_phones_get_the_address_of_the_network(tmp_path):
    options = ("--lan", "--lan-port", str(free_port()), "--trust-port", str(free_port()), "--host", "bench.local")
    server = RunningServer(tmp_path / "data", options=options, paired=False).start()
    try:
        assert re.search(rf"^Address: https://bench\.local:{options[2]}/#/pair/\d{{8}}$",
                         run("pair", "--data", str(server.folder))[1], re.M)
    finally:
        server.stop()
    # Served on this computer alone, the network's address leads nowhere.
    server = RunningServer(tmp_path / "data", paired=False).start()
    try:
        assert f"Address: {server.url}/#/pair/" in run("pair", "--data", str(server.folder))[1]
    finally:
        server.stop()


def test_of_several_addresses_the_one_for_phones_is_in_front(tmp_path):
    held = [hold_address(tmp_path, port, address)
            for port, address in ((1, "http://127.0.0.1:1"), (2, "https://shop.local"), (3, "http://127.0.0.1:3"))]
    assert served_at(tmp_path) == ["https://shop.local", "http://127.0.0.1:1", "http://127.0.0.1:3"]
    held[1].release()
    assert served_at(tmp_path) == ["http://127.0.0.1:1", "http://127.0.0.1:3"]
    held[0].release()
    held[2].release()
    assert served_at(tmp_path) == [] == served_at(tmp_path / "missing")


def test_a_refused_start_says_its_reason_and_nothing_else(tmp_path):
    """Found in the second process, which has no way back but its own end."""
    (tmp_path / "data").mkdir()
    (tmp_path / "data" / "devices.json").write_text('{"version": 99}')
    code, said, errors = run("serve", "--data", str(tmp_path / "data"), "--port", str(free_port()))
    assert (code, said) == (1, "")
    assert errors == ("cotterbook: The file devices.json was written by a newer Cotterbook. It was not touched. Install"
                      " that version or a later one.\n")


def test_an_end_by_itself_is_said_in_words(stopped_server):
    server = stopped_server.start()
    worker = re.match(r"process (\d+),", (server.folder / "held_by").read_text())[1]
    os.kill(int(worker), signal.SIGKILL)
    rest = server.process.stdout.read()
    assert server.wait() == 1 and rest == b""
    assert server.log.read_text() == (
        "cotterbook: What serves the pages ended by itself. What was acknowledged is on the disk, and what was not"
        " stays on the phones. Start Cotterbook again.\n")
