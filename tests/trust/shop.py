"""The program on the shop's network, and browsers that find it there as phones do."""

import os
import shutil
import subprocess
import urllib.request
from pathlib import Path
from typing import Any

import pytest

from browsers import find_chromium
from running import RunningServer, free_port

HOST = "cotterbook-ab12.local"
OTHER = "bank.example"
needs_certutil = pytest.mark.skipif(
    not shutil.which("certutil") and not os.environ.get("CI"), reason="needs certutil (Debian's libnss3-tools)")


class Shop:
    """The program on the shop's network: its ports and the root that phones fetch."""

    def __init__(self, folder: Path) -> None:
        self.lan_port, self.trust_port = free_port(), free_port()
        options = ("--lan", "--host", HOST, "--lan-port", str(self.lan_port), "--trust-port", str(self.trust_port))
        self.server = RunningServer(folder / "data", paired=False, options=options)
        self.host, self.url = HOST, f"https://{HOST}:{self.lan_port}"

    def way_in(self, path: str) -> tuple[Any, bytes]:
        """Headers and body of what the page of trust hands out."""
        with urllib.request.urlopen(f"http://127.0.0.1:{self.trust_port}{path}", timeout=30) as answer:
            return answer.headers, answer.read()


def trust_certificate(home: Path, certificate: Path) -> None:
    """Put a certificate into the store of the browser whose home this is, as an authority for web pages."""
    store = home / ".pki" / "nssdb"
    store.mkdir(parents=True)
    for command in (["-N", "--empty-password"], ["-A", "-n", "shop", "-t", "C,,", "-i", str(certificate)]):
        subprocess.run(["certutil", "-d", f"sql:{store}", *command], check=True, capture_output=True)


def launch(chromium: Any, home: Path) -> Any:
    """A browser with a home of its own, and so its own trust, which finds two names on this computer."""
    options = [f"--host-resolver-rules=MAP {HOST} 127.0.0.1, MAP {OTHER} 127.0.0.1"]
    options += ["--no-sandbox"] if getattr(os, "geteuid", lambda: 1)() == 0 else []
    return chromium.unpaired.browser_type.launch(
        executable_path=find_chromium(), args=options, env={**os.environ, "HOME": str(home)})
