"""A data folder belongs to one process at a time."""

import os
import stat
import subprocess
import sys

import pytest

from cotterbook.core.words import say, spoken
from cotterbook.errors import TEXT, Problem
from cotterbook.settings import secret_key
from cotterbook.store import TinyStore

MAKE_THE_SECRET = """
import sys
from pathlib import Path
from cotterbook.settings import secret_key
sys.stdin.readline()
print(secret_key(Path(sys.argv[1])).hex())
"""

OPEN_AND_WAIT = """
import sys
from pathlib import Path
from cotterbook.store import TinyStore
store = TinyStore(Path(sys.argv[1]))
print("open", flush=True)
sys.stdin.read()
"""


def test_a_second_process_is_told_who_holds_the_folder(data_folder):
    holder = subprocess.Popen(
        [sys.executable, "-c", OPEN_AND_WAIT, data_folder], stdin=subprocess.PIPE, stdout=subprocess.PIPE)
    try:
        assert holder.stdout.readline() == b"open\n"
        with pytest.raises(Problem, match=f"in use by another Cotterbook .process {holder.pid}, since "):
            TinyStore(data_folder)
    finally:
        holder.kill()
        holder.communicate()
    TinyStore(data_folder).close()


def test_a_folder_that_cannot_be_made_is_said(tmp_path):
    (tmp_path / "file").write_text("")
    with pytest.raises(Problem) as caught:
        TinyStore(tmp_path / "file" / "data")
    assert str(caught.value) == spoken(say(TEXT["folder_unusable"], **caught.value.values))
    assert caught.value.values["folder"] == str(tmp_path / "file" / "data")


def test_what_is_kept_is_for_its_owner_alone(data_folder, store):
    assert stat.S_IMODE(os.stat(data_folder).st_mode) == 0o700


def test_the_secret_is_made_once_and_is_for_its_owner_alone(data_folder, store):
    made = secret_key(data_folder)
    assert len(made) == 32 and secret_key(data_folder) == made
    assert stat.S_IMODE((data_folder / "secret_key").stat().st_mode) == 0o600
    (data_folder / "secret_key").write_bytes(b"short")
    assert secret_key(data_folder) not in (made, b"short")


def test_programs_that_begin_at_once_get_the_same_secret(tmp_path):
    programs = [
        subprocess.Popen([sys.executable, "-c", MAKE_THE_SECRET, tmp_path], stdin=subprocess.PIPE,
                         stdout=subprocess.PIPE, text=True)
        for _ in range(6)
    ]
    for each in programs:
        each.stdin.write("\n")
        each.stdin.flush()
    said = {each.communicate(timeout=60)[0] for each in programs}
    assert said == {secret_key(tmp_path).hex() + "\n"}
