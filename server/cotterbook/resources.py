"""Where the web pages and the demo data lie: beside the package, or in the checkout."""

from pathlib import Path

from .errors import Problem

PACKAGE = Path(__file__).resolve().parent


def folder(name: str, package: Path = PACKAGE) -> Path:
    """The folder `name` ("webui" or "demo_data").

    An installed wheel carries it inside the package; a checkout has it two
    folders up, beside "server". Raises Problem "no_resource" when neither is there.
    """
    for place in (package / name, package.parent.parent / name):
        if place.is_dir():
            return place
    raise Problem("no_resource", name=name)
