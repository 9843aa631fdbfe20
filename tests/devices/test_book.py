"""The book of devices: codes that work once, tokens, revoking, and a file that several processes share."""

import json
import os
import re
import stat
import subprocess
import sys
import threading

import pytest
from cryptography.hazmat.primitives.kdf.scrypt import Scrypt

from cotterbook.devices import HAND, LOOKER_ON, OWNER, DeviceBook
from cotterbook.devices.audit import Audit
from cotterbook.devices.book import MOST_CODES, MOST_DEVICES
from cotterbook.devices.records import CODE_LIVES_MS
from cotterbook.errors import Problem
from running import new_id

NOW = 1_790_000_000_000


@pytest.fixture
def book(tmp_path):
    return DeviceBook(tmp_path / "data")


def code_of(call, *arguments, **named):
    with pytest.raises(Problem) as found:
        call(*arguments, **named)
    return found.value.code


def kept(tmp_path):
    return (tmp_path / "data" / "devices.json").read_text()


def test_a_code_pairs_once_and_the_token_opens_from_then_on(book, tmp_path):
    code = book.make_code(HAND, NOW)
    assert len(code) == 8 and code.isdecimal()
    token, device = book.pair(code, new_id(), "  Phone at the lift ", NOW + 1)
    assert (device.name, device.role) == ("Phone at the lift", HAND)
    assert len(token) == 43  # 32 bytes in base64url without padding (RFC 4648)
    assert book.find(token) == DeviceBook(tmp_path / "data").find(token) == device
    assert book.find(token + "x") is None and book.find("") is None
    assert code_of(book.pair, code, new_id(), "A thief", NOW + 2) == "wrong_code"


def test_neither_code_nor_token_is_on_the_disk(book, tmp_path):
    code = book.make_code(OWNER, NOW)
    assert code not in kept(tmp_path)
    token, _ = book.pair(code, new_id(), "A phone", NOW)
    everything = "".join(path.read_text() for path in (tmp_path / "data").iterdir())
    assert token not in everything and code not in everything
    # Names stand in the list alone, not in the record of who was let in.
    assert "A phone" not in (tmp_path / "data" / "audit.jsonl").read_text()


def test_a_code_is_kept_as_slow_to_try_as_scrypt_makes_it(book, tmp_path):
    code = book.make_code(OWNER, NOW)
    data = json.loads((tmp_path / "data" / "devices.json").read_text())
    # By the scrypt (RFC 7914) of a general-purpose library.
    slow = Scrypt(salt=data["salt"].encode(), length=32, n=2**15, r=8, p=1).derive(code.encode())
    assert list(data["codes"]) == [slow.hex()] and len(data["salt"]) == 32
    other = DeviceBook(tmp_path / "other")
    other.make_code(OWNER, NOW)
    assert json.loads((tmp_path / "other" / "devices.json").read_text())["salt"] != data["salt"]


def test_a_list_of_before_codes_were_salted_is_read(book, tmp_path):
    token, device = book.pair(book.make_code(OWNER, NOW), new_id(), "A phone", NOW)
    path = tmp_path / "data" / "devices.json"
    data = json.loads(path.read_text())
    del data["salt"]
    path.write_text(json.dumps({**data, "codes": {"0" * 64: {"role": OWNER, "until_ms": NOW + 1}}}))
    again = DeviceBook(tmp_path / "data")
    assert again.find(token) == device
    assert again.pair(again.make_code(HAND, NOW), new_id(), "Another", NOW)
    assert DeviceBook(tmp_path / "data").find(token) == device


def test_a_code_lives_five_minutes(book):
    code = book.make_code(OWNER, NOW)
    assert code_of(book.pair, code, new_id(), "A phone", NOW + CODE_LIVES_MS) == "wrong_code"
    assert book.pair(code, new_id(), "A phone", NOW + CODE_LIVES_MS - 1)


def test_what_is_refused_leaves_the_code_good(book):
    code = book.make_code(OWNER, NOW)
    assert code_of(book.pair, code, "../../x", "A phone", NOW) == "bad_request"
    for name in ("", "  ", "x" * 61, "\u200d", "\xa0", "\u3164", "\u2800\u200d", 7, None):
        assert code_of(book.pair, code, new_id(), name, NOW) == "bad_name"
    assert book.pair(code, new_id(), "x" * 60, NOW)


@pytest.mark.parametrize("name", [
    # ZWNJ inside Persian words and ZWJ inside Hindi ones: the Unicode Standard 15.0, chapter 23.2.
    "\u0646\u0627\u0645\u0647\u200c\u0627\u06cc", "\u0915\u094d\u200d\u0937",
    # Persons joined to one sign: Unicode Technical Standard 51, emoji-zwj-sequences.
    "\U0001f468\u200d\U0001f469\u200d\U0001f467",
    # The blanks before a colon and in a figure in French: from memory.
    "Atelier\xa0: \xe9tau 2", "3\u202f000",
    # A soft hyphen, a mark of direction without reach (UAX 9), a letter of somebody's own font.
    "Werk\xadstatt", "\u05d0\u200f 2", "\ue000",
])
def test_a_name_in_any_writing_is_kept_as_it_was_typed(book, tmp_path, name):
    token, device = book.pair(book.make_code(HAND, NOW), new_id(), name, NOW)
    assert device.name == name and DeviceBook(tmp_path / "data").find(token).name == name
    book.change(device.id, name + " 2", HAND, NOW)
    assert book.find(token).name == name + " 2"


# Control characters, a lone surrogate, line and paragraph separator, and the characters of direction of Unicode
# Standard Annex 9, table 4.
@pytest.mark.parametrize("character", [
    "\n", "\t", "\0", "\x1b", "\x7f", "\x85", "\ud800", "\u2028", "\u2029",
    *"\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069",
])
def test_a_character_that_makes_the_list_lie_is_refused_by_its_number(book, character):
    code = book.make_code(HAND, NOW)
    with pytest.raises(Problem, match=re.escape(f"U+{ord(character):04X}")) as found:
        book.pair(code, new_id(), f"a{character}b", NOW)
    assert found.value.code == "bad_name_character"
    assert book.devices() == [] and book.pair(code, new_id(), "ab", NOW)


def test_an_identifier_that_stands_in_every_entry_takes_nobodys_place(book):
    device_id = new_id()
    token, _ = book.pair(book.make_code(OWNER, NOW), device_id, "The owner's", NOW)
    assert code_of(book.pair, book.make_code(HAND, NOW), device_id, "A thief", NOW) == "device_known"
    assert code_of(book.pair, book.make_code(HAND, NOW), device_id, "A thief", NOW, "guessed") == "device_known"
    assert book.find(token).role == OWNER
    # With its own token it may pair again, which makes a new one.
    again, device = book.pair(book.make_code(HAND, NOW), device_id, "The same", NOW, token)
    assert device.role == HAND and book.find(token) is None and book.find(again) == device


def test_a_revoked_device_is_known_as_such_and_comes_in_by_a_new_code_alone(book, tmp_path):
    device_id = new_id()
    token, _ = book.pair(book.make_code(OWNER, NOW), device_id, "A phone", NOW)
    book.revoke(device_id, NOW + 5, by=device_id)
    assert book.find(token).revoked_ms == NOW + 5 and not book.find(token).may(LOOKER_ON)
    assert not book.has_owner()
    book.revoke(device_id, NOW + 9)
    assert DeviceBook(tmp_path / "data").find(token).revoked_ms == NOW + 5
    again, device = book.pair(book.make_code(HAND, NOW), device_id, "Back again", NOW + 10)
    assert book.find(again).may(HAND) and book.find(token) is None
    assert code_of(book.revoke, new_id(), NOW) == "no_such_device"


@pytest.mark.parametrize(("role", "may"), [(OWNER, [OWNER, HAND, LOOKER_ON]), (HAND, [HAND, LOOKER_ON]),
                                           (LOOKER_ON, [LOOKER_ON])])
def test_each_role_may_do_what_those_below_may(book, role, may):
    _, device = book.pair(book.make_code(role, NOW), new_id(), "x", NOW)
    assert [each for each in (OWNER, HAND, LOOKER_ON) if device.may(each)] == may
    assert code_of(book.make_code, "root", NOW) == "bad_request"


def test_a_name_and_role_can_be_changed(book):
    device_id = new_id()
    token, _ = book.pair(book.make_code(HAND, NOW), device_id, "Old", NOW)
    book.change(device_id, "New", LOOKER_ON, NOW)
    assert (book.find(token).name, book.find(token).role) == ("New", LOOKER_ON)
    assert code_of(book.change, device_id, "New", "root", NOW) == "bad_request"
    assert code_of(book.change, device_id, "", HAND, NOW) == "bad_name"
    assert code_of(book.change, new_id(), "New", HAND, NOW) == "no_such_device"


def test_when_it_was_seen_is_written_once_a_minute_and_never_lost_in_memory(book, tmp_path):
    token, device = book.pair(book.make_code(OWNER, NOW), new_id(), "x", NOW)
    book.seen(device.id, NOW + 100_000, 3, 1)
    written = kept(tmp_path)
    book.seen(device.id, NOW + 100_001, 2, 0)
    assert kept(tmp_path) == written
    [seen] = book.devices()
    assert (seen.seen_ms, seen.unsent, seen.unsent_photos) == (NOW + 100_001, 2, 0)
    book.write_seen(NOW + 100_002)
    [seen] = DeviceBook(tmp_path / "data").devices()
    assert (seen.seen_ms, seen.unsent) == (NOW + 100_001, 2)


def test_another_process_makes_codes_that_this_one_knows(stopped_server, tmp_path):
    stopped_server.start()
    book = DeviceBook(tmp_path / "data")
    done = subprocess.run(
        [sys.executable, "-m", "cotterbook.cli", "pair", "--role", "hand", "--data", str(tmp_path / "data")],
        capture_output=True, text=True, check=True)
    code = done.stdout.split("Pairing code: ")[1][:9].replace(" ", "")
    from cotterbook.devices.routes import now_ms

    token, device = book.pair(code, new_id(), "x", now_ms())
    assert device.role == HAND and book.find(token)


def test_a_code_taken_by_many_at_once_pairs_one(book, tmp_path):
    code = book.make_code(OWNER, NOW)
    books = [book, *(DeviceBook(tmp_path / "data") for _ in range(3))]
    came: list[object] = []

    def take(own):
        try:
            came.append(own.pair(code, new_id(), "x", NOW))
        except Problem as problem:
            came.append(problem.code)

    threads = [threading.Thread(target=take, args=(books[n % 4],)) for n in range(12)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert sorted(str(each) for each in came if each == "wrong_code") == ["wrong_code"] * 11
    assert len(book.devices()) == 1


def test_limits_are_said(book):
    for _ in range(MOST_CODES):
        book.make_code(HAND, NOW)
    assert code_of(book.make_code, HAND, NOW) == "many_codes"
    code = book.make_code(HAND, NOW + CODE_LIVES_MS)
    # As full as it gets, by its own file.
    path = book._path
    data = json.loads(path.read_text())
    row = {"id": "", "name": "x", "role": HAND, "token_sha256": "", "paired_ms": NOW}
    data["devices"] = [{**row, "id": new_id(), "token_sha256": f"{n:064}"} for n in range(MOST_DEVICES)]
    path.write_text(json.dumps(data))
    assert code_of(book.pair, code, new_id(), "x", NOW + CODE_LIVES_MS) == "many_devices"


@pytest.mark.parametrize("data", [b"", b"{}", b"[]", b"\xff", b'{"version":1,"devices":[{"id":1}],"codes":{}}'])
def test_a_damaged_file_is_reported_lets_nobody_in_and_stays(tmp_path, data):
    (tmp_path / "data").mkdir()
    (tmp_path / "data" / "devices.json").write_bytes(data)
    assert code_of(DeviceBook, tmp_path / "data") == "devices_damaged"
    assert (tmp_path / "data" / "devices.json").read_bytes() == data


def test_a_newer_file_is_left_alone(tmp_path):
    (tmp_path / "data").mkdir()
    (tmp_path / "data" / "devices.json").write_text('{"version": 2}')
    assert code_of(DeviceBook, tmp_path / "data") == "newer_format"


@pytest.mark.skipif(not os.path.exists("/dev/full"), reason="needs a device that is always full")
def test_a_full_disk_pairs_nobody_and_the_code_stays_good(book, monkeypatch):
    from cotterbook.devices import book as module

    code = book.make_code(OWNER, NOW)

    def full(path, data):
        with open("/dev/full", "wb", buffering=0) as file:
            file.write(data)

    with monkeypatch.context() as patched:
        patched.setattr(module, "write_whole", full)
        assert code_of(book.pair, code, new_id(), "x", NOW) == "disk_full"
    assert book.devices() == []
    assert book.pair(code, new_id(), "x", NOW)


@pytest.mark.skipif(not os.path.exists("/dev/full"), reason="needs a device that is always full")
def test_nobody_is_let_in_of_whom_no_record_can_be_kept(book, tmp_path):
    code = book.make_code(OWNER, NOW)
    record = tmp_path / "data" / "audit.jsonl"
    aside = record.rename(tmp_path / "aside")
    record.symlink_to("/dev/full")
    assert code_of(book.pair, code, new_id(), "x", NOW) == "disk_full"
    assert code_of(book.make_code, HAND, NOW) == "disk_full"
    assert book.devices() == [] == DeviceBook(tmp_path / "data").devices()
    record.unlink()
    aside.rename(record)
    assert book.pair(code, new_id(), "x", NOW)


@pytest.mark.skipif(os.name == "nt", reason="Windows keeps no such modes")
def test_the_files_are_for_their_owner_alone(book, tmp_path):
    book.pair(book.make_code(OWNER, NOW), new_id(), "x", NOW)
    for name in ("devices.json", "audit.jsonl"):
        assert stat.S_IMODE((tmp_path / "data" / name).stat().st_mode) == 0o600


def test_the_record_says_who_was_let_in_and_by_whom(book, tmp_path):
    owner_id, hand_id = new_id(), new_id()
    book.pair(book.make_code(OWNER, NOW), owner_id, "x", NOW + 1)
    book.pair(book.make_code(HAND, NOW + 2, owner_id), hand_id, "y", NOW + 3)
    book.change(hand_id, "y", LOOKER_ON, NOW + 4, owner_id)
    book.revoke(hand_id, NOW + 5, owner_id)
    said = [json.loads(line) for line in (tmp_path / "data" / "audit.jsonl").read_text().splitlines()]
    assert said == [
        {"at_ms": NOW, "event": "code_made", "role": OWNER},
        {"at_ms": NOW + 1, "event": "paired", "device": owner_id, "role": OWNER},
        {"at_ms": NOW + 2, "event": "code_made", "role": HAND, "by": owner_id},
        {"at_ms": NOW + 3, "event": "paired", "device": hand_id, "role": HAND},
        {"at_ms": NOW + 4, "event": "changed", "device": hand_id, "role": LOOKER_ON, "by": owner_id},
        {"at_ms": NOW + 5, "event": "revoked", "device": hand_id, "by": owner_id},
    ]


def test_a_list_that_cannot_be_written_just_now_is_no_reason_to_refuse_what_a_phone_brings(book, monkeypatch):
    from cotterbook.devices import book as module

    _, device = book.pair(book.make_code(HAND, NOW), new_id(), "x", NOW)

    def full(path, data):
        raise OSError(28, "No space left on device")

    with monkeypatch.context() as patched:
        patched.setattr(module, "write_whole", full)
        book.seen(device.id, NOW + 60_000, 1, 2)
    [seen] = book.devices()
    assert (seen.seen_ms, seen.unsent, seen.unsent_photos) == (NOW + 60_000, 1, 2)


def test_a_line_cut_short_spoils_no_line_after_it(tmp_path):
    """A power cut or a full disk cut the record short; and an older program wrote on in the same line."""
    record, audit = tmp_path / "audit.jsonl", Audit(tmp_path)
    audit.write("decided", 1, entry="first")
    whole = record.read_bytes()
    for kept in range(len(whole) + 1):
        record.write_bytes(whole[:kept])
        audit.write("decided", 2, entry="second")
        audit.write("refused", 3, entry='{"at_ms":')
        entries = [each["entry"] for each in audit.read("decided")]
        assert entries == (["first"] if kept >= len(whole) - 1 else []) + ["second"]
        assert len(audit.read("refused")) == 1
        record.write_bytes(whole[:kept] + whole.replace(b"first", b"third"))
        assert [each["entry"] for each in audit.read("decided")][-1] == "third"


LITTLE_ROOM = """
import resource, signal, sys
from pathlib import Path
from cotterbook.devices.audit import Audit
from cotterbook.errors import Problem
folder = Path(sys.argv[1])
signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
resource.setrlimit(resource.RLIMIT_FSIZE, (20, resource.RLIM_INFINITY))
try:
    Audit(folder).write("decided", 1, entry="x" * 64)
except Problem as problem:
    print(problem.code)
resource.setrlimit(resource.RLIMIT_FSIZE, (resource.RLIM_INFINITY, resource.RLIM_INFINITY))
Audit(folder).write("decided", 2, entry="y")
print([each["entry"] for each in Audit(folder).read("decided")])
"""


def test_a_line_for_which_there_is_room_in_part_is_not_taken_for_written(tmp_path):
    said = subprocess.run(
        [sys.executable, "-c", LITTLE_ROOM, str(tmp_path)], capture_output=True, text=True, check=True)
    assert said.stdout.splitlines() == ["disk_full", "['y']"]
