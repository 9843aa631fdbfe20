"""The program without an administrator's right to read and write whatever there is: tests may run as one.

No mode of a file holds an administrator back, until this right is given up for good (prctl(2), capabilities(7)).
"""

import subprocess
import sys

import pytest

HELD_BACK = """
import ctypes, os, sys
PR_CAPBSET_DROP, CAP_DAC_OVERRIDE, CAP_DAC_READ_SEARCH = 24, 1, 2
for right in (CAP_DAC_OVERRIDE, CAP_DAC_READ_SEARCH):
    if os.geteuid() == 0 and ctypes.CDLL(None, use_errno=True).prctl(PR_CAPBSET_DROP, right, 0, 0, 0):
        sys.exit(os.strerror(ctypes.get_errno()))
os.execv(sys.executable, [sys.executable, "-m", "cotterbook.cli", *sys.argv[1:]])
"""
on_linux = pytest.mark.skipif(not sys.platform.startswith("linux"), reason="holds an administrator back as Linux does")


def run_held_back(*arguments: object) -> tuple[int, str, str]:
    """A command of the terminal, finished: exit code, output, errors."""
    command = [sys.executable, "-c", HELD_BACK, *map(str, arguments)]
    done = subprocess.run(command, capture_output=True, text=True, timeout=60, check=False)
    return done.returncode, done.stdout, done.stderr
