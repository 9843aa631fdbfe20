"""All files of an export in a folder: each written beside its place, and put there only when all are whole."""

import contextlib
import os
from pathlib import Path

from ..core.strip import Strip
from ..errors import Problem
from ..store.disk import TEMPORARY, sync_file, sync_folder
from .files import NAMES, write_export


def write_tables(strip: Strip, folder: Path) -> list[Path]:
    """Write every file into the folder, which is made where there is none; where they lie.

    Raises Problem "file_exists" where one of them is there already, or "tables_not_written"; then nothing is added.
    """
    paths = [folder / name for name in NAMES]
    for path in paths:
        if os.path.lexists(path):
            raise Problem("file_exists", file=str(path))
    beside = [path.with_name(path.name + TEMPORARY) for path in paths]
    done: list[Path] = []
    try:
        folder.mkdir(parents=True, exist_ok=True)
        for name, path in zip(NAMES, beside, strict=True):
            _write(strip, name, path)
        for path, goal in zip(beside, paths, strict=True):
            os.replace(path, goal)
            done.append(goal)
        sync_folder(folder.absolute())
    except OSError as error:
        for path in done:
            with contextlib.suppress(OSError):
                path.unlink()
        raise Problem("tables_not_written", folder=str(folder), what=error.strerror or str(error)) from error
    finally:
        for path in beside:
            with contextlib.suppress(OSError):
                path.unlink(missing_ok=True)
    return paths


def _write(strip: Strip, name: str, path: Path) -> None:
    number = os.open(path, os.O_RDWR | os.O_CREAT | os.O_TRUNC | getattr(os, "O_BINARY", 0), 0o600)
    with os.fdopen(number, "w+b") as file:
        write_export(strip, name, file)
        file.flush()
        sync_file(file.fileno())
