"""What holds for every test of the core, and the demo strip-down as they share it."""

import json
from pathlib import Path

import pytest
from several_phones import Phone

from cotterbook.core.strip import Strip

DEMO = Path(__file__).resolve().parents[2] / "demo_data" / "entries.jsonl"


def pytest_runtest_setup(item):
    """Ids begin anew with each test, so that entries of one millisecond stand in the same order in every run."""
    Phone.made = 0


@pytest.fixture(scope="module")
def demo_log():
    """The entries of the demo strip-down, in order."""
    return [json.loads(line) for line in DEMO.read_text(encoding="utf-8").splitlines()]


@pytest.fixture(scope="module")
def demo(demo_log):
    """The demo strip-down, folded; nothing adds to it."""
    strip = Strip(demo_log[0]["strip"])
    strip.add(demo_log)
    return strip
