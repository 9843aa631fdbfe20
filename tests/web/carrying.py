"""Carrying by a file: the screen that makes it, by hand, and the program that takes it in."""

import re
import subprocess
import sys

from playwright.sync_api import expect


def command(*arguments):
    """What `cotterbook` says of it; it has to go well."""
    done = subprocess.run(
        [sys.executable, "-m", "cotterbook.cli", *map(str, arguments)], capture_output=True, text=True, timeout=60,
        check=False)
    assert done.returncode == 0, done.stderr
    return done.stdout


def to_the_screen(hands):
    hands.to("Sending")
    hands.page.get_by_role("link", name="Carry by file").tap()
    expect(hands.page.get_by_role("heading", level=1)).to_have_text("Carry by file")


def make(hands, folder, what="What the PC does not have"):
    """Make the file and save it; where it lies."""
    to_the_screen(hands)
    hands.choose("What goes in", what)
    hands.tap("Make the file")
    expect(hands.page.get_by_text("Made, read back, and whole")).to_be_visible()
    with hands.page.expect_download() as download:
        hands.page.get_by_role("link", name="Save it").tap()
    assert re.fullmatch(r"cotterbook-\d{4}-\d\d-\d\d\.zip", download.value.suggested_filename)
    download.value.save_as(folder / download.value.suggested_filename)
    return folder / download.value.suggested_filename
