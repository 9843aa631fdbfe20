"""Phones with a server of their own, for tests that look at what is stored and sent."""

import shutil
from pathlib import Path

import pytest

from running import RunningServer
from web.phone import Phone

ROOT = Path(__file__).resolve().parents[2]


@pytest.fixture
def phone(chromium, server):
    phone = Phone(chromium, server.url)
    yield phone
    phone.close()


@pytest.fixture
def second_phone(chromium, server):
    phone = Phone(chromium, server.url)
    yield phone
    phone.close()


@pytest.fixture
def checkout(tmp_path, monkeypatch):
    """A copy of the program of which a test may make another."""
    for name in ("webui", "server"):
        shutil.copytree(ROOT / name, tmp_path / name, ignore=shutil.ignore_patterns("__pycache__"))
    monkeypatch.setenv("PYTHONPATH", str(tmp_path / "server"))
    return tmp_path


@pytest.fixture
def changing_server(checkout):
    """The copy, serving from a data folder beside it."""
    server = RunningServer(checkout / "data").start()
    yield server
    server.stop()
