"""Whether a folder is one of ours: a slip in --data fills nobody's own folder, and pairs nobody with an empty one."""

from pathlib import Path

from ..errors import Problem

# What only this program makes: a folder with one of these is ours, whatever else lies in it.
MARKS = ("strips", "identity", "secret_key", "devices.json", "origin.json", "restoring", "restoring.json")
# What is left where a start was refused before anything was kept, or where all but the copies was taken away.
BEGUN = (
    "lock", "held_by", "trust", "copies", "serving", "devices.lock", "secret_key.lock", "audit.jsonl", "server.log")
# What systems put into folders and disks by themselves.
BY_SYSTEMS = ("lost+found", ".DS_Store", "Thumbs.db", "desktop.ini", "System Volume Information", "$RECYCLE.BIN")


def is_ours(folder: Path) -> bool:
    """Whether Cotterbook has kept something in this folder. Raises Problem "folder_unusable"."""
    return not {*MARKS}.isdisjoint(_names(folder))


def check_ours(folder: Path) -> None:
    """Raise Problem "foreign_folder" where there are files and none is ours; an empty or missing folder will do."""
    names = {*_names(folder)}
    others = names - {*BEGUN, *BY_SYSTEMS}
    if others and names.isdisjoint(MARKS):
        raise Problem("foreign_folder", folder=str(folder), example=min(others)[:100])


def _names(folder: Path) -> list[str]:
    try:
        return [path.name for path in folder.iterdir()]
    except FileNotFoundError:
        return []
    except OSError as error:
        raise Problem("folder_unusable", folder=str(folder), what=error.strerror or str(error)) from error
