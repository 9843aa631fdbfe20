"""Builds the demo strip-down: entries.jsonl, and on request its pictures.

    python demo_data/build.py                  the log, with the pictures that lie in photos/
    python demo_data/build.py --draw           draws the pictures anew first
    python demo_data/build.py --into FOLDER    writes the log there instead
"""

import argparse
import hashlib
import json
from pathlib import Path
from typing import Any

import balance_day
import first_day
import pictures
import second_day
import settings_day
import third_day
from log import Entry, Log, Phone

HERE = Path(__file__).resolve().parent
SEED = 640


def draw(folder: Path) -> None:
    """Draw every picture, name it by its hash and list them in pictures.json."""
    (folder / "photos").mkdir(exist_ok=True)
    for old in (folder / "photos").glob("*.jpg"):
        old.unlink()
    listed: dict[str, Entry] = {}
    for name in pictures.DRAWINGS:
        content = pictures.jpeg(name)
        sha256 = hashlib.sha256(content).hexdigest()
        (folder / "photos" / f"{sha256}.jpg").write_bytes(content)
        listed[name] = {"sha256": sha256, "bytes": len(content), "width": pictures.WIDTH, "height": pictures.HEIGHT}
    (folder / "pictures.json").write_text(json.dumps(listed, indent=1) + "\n", encoding="utf-8")


def build(seed: int, listed: dict[str, Entry]) -> list[dict[str, Any]]:
    """The entries of the whole strip-down, in the order of the log."""
    log = Log(seed, listed)
    # The second phone's clock is slow, so its entries are ordered by what it has seen, not by its time.
    ilvane, torrec = Phone(log, "Ilvane", 0), Phone(log, "Torrec", 95_000)
    for day in (first_day, second_day, third_day):
        day.play(log, ilvane, torrec)
    balance_day.play(log, ilvane)
    settings_day.play(log, ilvane, torrec)
    return sorted(log.entries, key=lambda entry: (entry["at"], entry["id"]))


def lines(entries: list[dict[str, Any]]) -> str:
    return "".join(json.dumps(e, ensure_ascii=False, separators=(",", ":")) + "\n" for e in entries)


def main() -> None:
    parser = argparse.ArgumentParser(description="Build the demo strip-down.")
    parser.add_argument("--draw", action="store_true", help="draw the pictures anew; their hashes may change")
    parser.add_argument("--into", type=Path, default=HERE, help="folder for entries.jsonl")
    chosen = parser.parse_args()
    if chosen.draw:
        draw(HERE)
    listed = json.loads((HERE / "pictures.json").read_text(encoding="utf-8"))
    # newline: the same bytes on every system.
    (chosen.into / "entries.jsonl").write_text(lines(build(SEED, listed)), encoding="utf-8", newline="\n")


if __name__ == "__main__":
    main()
