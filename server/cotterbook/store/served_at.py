"""At which addresses a data folder is served now: `cotterbook pair` tells them to people.

Over a database several programs serve from one folder, so each has a place of its own there, by its port, that it
holds as long as it lives. A place that nobody holds is what a power cut left.
"""

from pathlib import Path

from .holder import Holder, held_by

FOLDER = "serving"
# Who looks whether a place is held has it for a moment.
WAIT_SECONDS = 5


def hold_address(folder: Path, port: int, address: str) -> Holder:
    """Note that this process serves the folder at this address, until `release`. Raises what Holder does."""
    return Holder(folder / FOLDER / str(port), address, WAIT_SECONDS)


def served_at(folder: Path) -> list[str]:
    """The addresses, those that phones can ask too in front; none where nobody serves. Raises "folder_unusable"."""
    # Systems put files of their own into any folder.
    places = sorted(place for place in (folder / FOLDER).glob("*") if place.name.isdecimal() and place.is_dir())
    held = [address for place in places if (address := held_by(place))]
    return sorted(held, key=lambda address: not address.startswith("https://"))
