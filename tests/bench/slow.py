"""A poor phone: the whole browser held to a share of one core, or the page alone where that is not allowed."""

import os
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

TIMES = 6
PERIOD_US = 60_000
FOLDERS = (Path("/sys/fs/cgroup/cpu"), Path("/sys/fs/cgroup"))


def processes_under(parent: int) -> list[int]:
    """A process and all that came from it, by what the system says of their parents."""
    parents = {}
    for stat in Path("/proc").glob("[0-9]*/stat"):
        try:
            parents[int(stat.parent.name)] = int(stat.read_text().rpartition(")")[2].split()[1])
        except (OSError, ValueError):
            continue
    found = [parent]
    for process in found:
        found += [child for child, its_parent in parents.items() if its_parent == process]
    return found


@contextmanager
def held_to_a_share(page: Any, parent: int) -> Iterator[str]:
    """Slows the browser whose processes come from `parent`; gives a word on how."""
    group = _make_group()
    if group is None:
        session = page.context.new_cdp_session(page)
        session.send("Emulation.setCPUThrottlingRate", {"rate": TIMES})
        yield f"page {TIMES}x slower by the debugging protocol, worker not slowed"
        session.send("Emulation.setCPUThrottlingRate", {"rate": 1})
        return
    try:
        for process in processes_under(parent):
            (group / "cgroup.procs").write_text(str(process))
        yield f"whole browser held to 1/{TIMES} of one core"
    finally:
        for process in (group / "cgroup.procs").read_text().split():
            (group.parent / "cgroup.procs").write_text(process)
        group.rmdir()


def _make_group() -> Path | None:
    for folder in FOLDERS:
        group = folder / f"cotterbook-bench-{os.getpid()}"
        try:
            group.mkdir()
        except OSError:
            continue
        try:
            if (group / "cpu.cfs_quota_us").exists():
                (group / "cpu.cfs_period_us").write_text(str(PERIOD_US))
                (group / "cpu.cfs_quota_us").write_text(str(PERIOD_US // TIMES))
                return group
            (group / "cpu.max").write_text(f"{PERIOD_US // TIMES} {PERIOD_US}")
            return group
        except OSError:
            group.rmdir()
    return None
