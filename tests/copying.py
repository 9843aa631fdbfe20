"""What tests of copies share: a store with entries and pictures, and commands."""

import hashlib
import subprocess
import sys
from datetime import datetime

import pytest

from cotterbook.errors import Problem
from cotterbook.store.folder import FolderReader
from examples import STRIP, entry, picture

NOW = datetime(2026, 3, 1, 18, 30)
EVERYTHING = (1_000, 10_000_000)
PHOTOS = {hashlib.sha256(picture(n)).hexdigest(): picture(n) for n in (1, 2)}


def fill(store, numbers, photos=()):
    """Entries of these numbers and these pictures, kept; the entries."""
    for sha256 in photos:
        store.put_photo(sha256, PHOTOS[sha256])
    made = [entry(n) for n in numbers]
    assert store.append(STRIP, made).refused == []
    return made


def entries(folder):
    """All entries of the strip-down in a folder."""
    return FolderReader(folder).read(STRIP, 0, *EVERYTHING).entries


def code_of(call, *arguments):
    """The code of the Problem that this raises."""
    with pytest.raises(Problem) as found:
        call(*arguments)
    return found.value.code


def run(*arguments):
    """A command of the terminal, finished."""
    command = [sys.executable, "-m", "cotterbook.cli", *map(str, arguments)]
    return subprocess.run(command, capture_output=True, text=True, check=False)
