"""The demo strip-down, put into an empty store by the same way in as a phone's entries."""

import json
from pathlib import Path

from . import photos, sync
from .core.words import spoken
from .errors import Problem
from .store import Store


def load(store: Store, folder: Path) -> None:
    """Put demo_data's entries and pictures into the store. Raises Problem "demo_damaged" on the first that is refused.
    """
    strips: dict[str, list[object]] = {}
    try:
        for line in (folder / "entries.jsonl").read_text(encoding="utf-8").splitlines():
            entry = json.loads(line)
            strips.setdefault(entry["strip"], []).append(entry)
        for path in sorted((folder / "photos").glob("*.jpg")):
            photos.receive(store, path.stem, path.read_bytes())
    except (OSError, ValueError, KeyError, TypeError) as error:
        raise Problem("demo_damaged", what=str(error)) from error
    for strip, entries in strips.items():
        for refused in sync.receive(store, strip, entries):
            raise Problem("demo_damaged", what=f"{refused['id']}: {spoken(refused)}")
