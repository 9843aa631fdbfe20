"""Install what the tests need, then lint, types and all tests. Python 3.11 or newer, nothing else, is needed to begin.

Stops at the first step that fails, with its exit code.
"""

import os
import shutil
import subprocess
import sys
import venv
from pathlib import Path

from browsers import find_chromium
from postgres_programs import find_programs

ROOT = Path(__file__).resolve().parents[1]
ENVIRONMENT = ROOT / ".venv"
PROGRAMS = ENVIRONMENT / ("Scripts" if os.name == "nt" else "bin")
PYTHON = PROGRAMS / ("python.exe" if os.name == "nt" else "python")

CHECKS = (
    ("Lint of the Python", [PYTHON, "-m", "ruff", "check", "."]),
    ("Types of the Python", [PYTHON, "-m", "mypy"]),
    ("Lint of the pages", [PROGRAMS / "oxlint", "--deny-warnings", "--ignore-pattern", "webui/vendor/**", "webui"]),
    # A file at a time for each core: the tests of a file share their phone and its PC.
    ("Tests", [PYTHON, "-m", "pytest", "--numprocesses", "auto", "--dist", "loadfile", "--durations", "40"]),
)


# Debian's packages ask nobody anything.
os.environ.setdefault("DEBIAN_FRONTEND", "noninteractive")


def main() -> None:
    """All steps in order."""
    make_environment()
    install_chromium()
    install_postgres()
    install_certutil()
    for name, command in CHECKS:
        step(name, command)


def step(name: str, command: list[str | Path]) -> None:
    """Run a command from the top folder; end with its exit code if it fails."""
    print(f"== {name}", flush=True)
    code = subprocess.run(command, cwd=ROOT, check=False).returncode
    if code:
        print(f"== {name}: failed with exit code {code}", flush=True)
        sys.exit(code if code > 0 else 1)


def make_environment() -> None:
    """A virtual environment in .venv with the program, as it stands here, and what its tests need."""
    if not PYTHON.exists():
        print("== Virtual environment in .venv", flush=True)
        venv.create(ENVIRONMENT, with_pip=True)
    install = [PYTHON, "-m", "pip", "install", "--quiet", "--disable-pip-version-check"]
    step("Packages", [*install, "-e", ".[test]"])
    # Only its tables are read, as something to check ours against: what it needs to run is a kernel for solid
    # modelling of several hundred megabytes.
    step("Tables of fasteners", [*install, "--no-deps", "bd_warehouse==0.4.0"])


def install_chromium() -> None:
    """A browser for the tests where there is none: Debian's as root on Debian, elsewhere Playwright's own."""
    if find_chromium():
        return
    root = is_root()
    if root and is_debian():
        step("List of Debian's packages", ["apt-get", "update", "-q"])
        step("Chromium from Debian", ["apt-get", "install", "-q", "-y", "--no-install-recommends", "chromium"])
        return
    with_system_libraries = ["--with-deps"] if root and shutil.which("apt-get") else []
    step("Chromium from Playwright", [PYTHON, "-m", "playwright", "install", *with_system_libraries, "chromium"])


def install_postgres() -> None:
    """PostgreSQL's programs where there are none and apt has them. Its own default cluster is left alone: the tests
    begin theirs in a temporary folder. Without it those tests are skipped, and said so; in CI they fail."""
    if find_programs() or not is_root() or not shutil.which("apt-get"):
        return
    step("List of the system's packages", ["apt-get", "update", "-q"])
    step("PostgreSQL from the system", ["apt-get", "install", "-q", "-y", "--no-install-recommends", "postgresql"])


def install_certutil() -> None:
    """The program that puts a certificate into Chromium's store, where there is none and apt has it: without it the
    tests of the real chain of trust are skipped, and said so; in CI they fail."""
    if shutil.which("certutil") or not is_root() or not shutil.which("apt-get"):
        return
    step("List of the system's packages", ["apt-get", "update", "-q"])
    step("certutil from the system", ["apt-get", "install", "-q", "-y", "--no-install-recommends", "libnss3-tools"])


def is_root() -> bool:
    """Whether this may install packages of the system."""
    return hasattr(os, "geteuid") and os.geteuid() == 0


def is_debian() -> bool:
    """Whether this is Debian itself: elsewhere a package of that name may be a stand-in without a browser."""
    release = Path("/etc/os-release")
    return release.exists() and "ID=debian" in release.read_text(encoding="utf-8").splitlines()


if __name__ == "__main__":
    main()
