"""Finding a Chromium on this computer. Standard library only: tests/run.py asks before anything is installed."""

import shutil
import subprocess

CHROMIUM_NAMES = ("chromium", "chromium-browser", "google-chrome")


def find_chromium() -> str | None:
    """The path of a Chromium that runs, or None. Some systems have one in name only, which says how to get it."""
    for path in filter(None, map(shutil.which, CHROMIUM_NAMES)):
        if subprocess.run([path, "--version"], capture_output=True, check=False).returncode == 0:
            return path
    return None
