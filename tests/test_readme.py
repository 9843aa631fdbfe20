"""The README's commands are run as they stand, and what its words name is there."""

import os
import re
import shutil
import signal
import subprocess
import urllib.request
from pathlib import Path

import pytest

from cotterbook import settings
from cotterbook.core import limits
from running import free_port

ROOT = Path(__file__).resolve().parents[1]
README = (ROOT / "README.md").read_text(encoding="utf-8")


def command_under(heading: str) -> str:
    """The one line of the code block under a heading."""
    found = re.search(rf"^## {heading}\n.*?^```\n(.*?)^```", README, re.M | re.S)
    assert found and found[1].count("\n") == 1, f"no single command under {heading}"
    return found[1].strip()


def fresh_copy(folder: Path) -> Path:
    """What a clone would hold: the files that git tracks, and nothing that was built here."""
    names = subprocess.run(["git", "ls-files", "-z"], cwd=ROOT, capture_output=True, check=True).stdout
    for name in names.decode().rstrip("\0").split("\0"):
        if (ROOT / name).is_file():
            (folder / name).parent.mkdir(parents=True, exist_ok=True)
            shutil.copy2(ROOT / name, folder / name)
    return folder


def test_the_run_command_works_in_a_fresh_copy(tmp_path):
    port = free_port()
    line = f"{command_under('Run')} --no-browser --port {port}"
    environment = {name: value for name, value in os.environ.items() if not name.startswith(("PYTHON", "VIRTUAL_ENV"))}
    process = subprocess.Popen(
        line, shell=True, cwd=fresh_copy(tmp_path), env=environment, start_new_session=True,
        stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True,
    )  # fmt: skip
    try:
        assert process.stdout is not None
        said = []
        for each in process.stdout:
            said.append(each)
            if f"http://127.0.0.1:{port}" in each:
                break
        else:
            pytest.fail("".join(said))
        with urllib.request.urlopen(f"http://127.0.0.1:{port}/core.json", timeout=30) as answer:
            assert answer.status == 200
    finally:
        os.killpg(process.pid, signal.SIGTERM)
        process.wait(timeout=60)
        process.stdout.close()


def test_the_test_command_is_what_the_ci_runs():
    assert command_under("Test") == "python3 tests/run.py"
    assert command_under("Test") in (ROOT / ".ci" / "run").read_text(encoding="utf-8").splitlines()


def test_the_readme_names_the_real_limits():
    for row in (
        f"| an entry | {limits.ENTRY_BYTES // 1024} kB, a text {limits.TEXT_CHARACTERS:,} characters |",
        f"| a request | {limits.ENTRIES_A_REQUEST:,} entries, {limits.REQUEST_BYTES // 10**6} MB |",
        f"| a picture | {limits.PHOTO_BYTES_IN // 10**6} MB from the camera, "
        f"{limits.PHOTO_BYTES_KEPT // 10**6} MB kept,",
        f"| a strip-down | {limits.ENTRIES_A_STRIP:,} entries |",
    ):
        assert row in README


def test_the_readme_names_the_real_settings_and_files():
    assert "--data FOLDER" in README and any(name == "data" for name, _, _ in settings.SETTINGS)
    for path in re.findall(r"\]\(([^)]+\.png)\)", README) + re.findall(
        r"`((?:server|webui|tests|demo_data)/[^`]*)`", README
    ):
        assert (ROOT / path).exists(), path
    assert README.startswith("# Cotterbook\n\nSomebody takes a motorcycle apart")


def test_the_house_map_names_every_module_of_the_program():
    house = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    for path in (ROOT / "server" / "cotterbook").glob("*.py"):
        assert path.name in house, path.name
    core = (ROOT / "server" / "cotterbook" / "core" / "README.md").read_text(encoding="utf-8")
    for path in (ROOT / "server" / "cotterbook" / "core").glob("*.py"):
        assert path.stem == "__init__" or f"`{path.stem}`" in core, path.stem


def test_the_top_level_holds_what_was_agreed_and_nothing_else():
    names = subprocess.run(["git", "ls-files"], cwd=ROOT, capture_output=True, check=True, text=True).stdout
    top = {name.split("/")[0] for name in names.splitlines()}
    agreed = {"README.md", "DEVELOPERS.md", "LICENSE", "pyproject.toml", "server", "webui", "tests", "demo_data"}
    assert {name for name in top if not name.startswith(".")} == agreed
