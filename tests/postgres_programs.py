"""Where PostgreSQL's programs are, for the tests and for what installs them. Needs nothing but Python."""

import shutil
from pathlib import Path


def find_programs() -> Path | None:
    """The folder of initdb and pg_ctl: the newest of Debian's, or where the path says."""
    found = sorted(Path("/usr/lib/postgresql").glob("*/bin/initdb"), key=lambda path: int(path.parts[-3]))
    on_path = shutil.which("initdb")
    if found:
        return found[-1].parent
    return Path(on_path).resolve().parent if on_path else None
