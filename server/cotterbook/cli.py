"""The command line: `cotterbook demo | serve | export | import | move | convert`."""

import argparse
import contextlib
import signal
import sys
import tempfile
from pathlib import Path

from . import VERSION, demo, resources
from .bundles import Contents, take_in, write_bundle
from .core.words import Refused, say, spoken
from .errors import Problem
from .moving import move
from .serving import check_port, serve
from .settings import BY_NAME
from .store import TinyStore
from .store.opening import is_address, open_store, reading


def parser() -> argparse.ArgumentParser:
    """The command line's grammar; its help and defaults are the settings'."""
    top = argparse.ArgumentParser(
        prog="cotterbook",
        description="Take a motorcycle apart and put it back together with every fastener and gram accounted for.",
    )
    top.add_argument("--version", action="version", version=f"cotterbook {VERSION}")
    commands = top.add_subparsers(dest="command", required=True)
    first = commands.add_parser("demo", help="show an invented strip-down in a fresh folder, deleted afterwards")
    real = commands.add_parser("serve", help="serve your own strip-downs")
    into = commands.add_parser("export", help="put strip-downs with their pictures into a bundle, also while it serves")
    into.add_argument("--strip", action="append", metavar="ID", help="one strip-down, as its address names it (default:"
                      " all; may be given several times)")
    out_of = commands.add_parser("import", help="take in a bundle; what is held already stays as it is")
    for command, what in ((into, "the zip file to make"), (out_of, "the zip file to read")):
        command.add_argument("bundle", type=Path, metavar="FILE", help=what)
    away = commands.add_parser("move", help="carry every entry and picture into another, empty store and read it back")
    away.add_argument("--to", required=True, metavar="URL or FOLDER", help="the empty database or folder to carry into")
    quantity = commands.add_parser("convert", help="say a mass, torque, length or volume in other units")
    quantity.add_argument("quantity", nargs="+", help="with its unit, such as 8 lbf ft, 1,9 kg or 3 1/2 oz")
    for command in (first, real):
        command.add_argument("--port", type=_port, default=BY_NAME["port"].default, help=_help("port"))
    first.add_argument(
        "--browser", action=argparse.BooleanOptionalAction, default=BY_NAME["browser"].default, help=_help("browser"))
    for command in (real, into, out_of, away):
        command.add_argument("--data", type=Path, metavar="FOLDER", default=BY_NAME["data"].default, help=_help("data"))
        command.add_argument("--store", metavar="URL", default=BY_NAME["store"].default, help=_help("store"))
    return top


def _help(name: str) -> str:
    return f"{BY_NAME[name].help} (default: {BY_NAME[name].default})"


def _port(text: str) -> int:
    if not text.isdecimal() or not 1 <= int(text) <= 65535:
        raise argparse.ArgumentTypeError("a port is a whole number from 1 to 65535")
    return int(text)


def main(arguments: list[str] | None = None) -> int:
    """Run a command; its exit code: 0 when it was stopped as meant, 1 when it could not run, 2 when not understood."""
    chosen = parser().parse_args(arguments)
    signal.signal(signal.SIGTERM, _stop)
    try:
        if chosen.command == "convert":
            return run_convert(" ".join(chosen.quantity))
        if chosen.command == "demo":
            return run_demo(chosen.port, chosen.browser)
        folder = chosen.data.expanduser().absolute()
        if chosen.command == "export":
            return run_export(folder, chosen.store, chosen.bundle, chosen.strip)
        if chosen.command == "import":
            return run_import(folder, chosen.store, chosen.bundle)
        if chosen.command == "move":
            return run_move(folder, chosen.store, chosen.to)
        return serve(folder, chosen.port, False, chosen.store)
    except Refused as refused:
        for each in refused.problems:
            print(f"cotterbook: {spoken(say(each['text'], **each['values']))}", file=sys.stderr)
        return 1
    except Problem as problem:
        print(f"cotterbook: {problem}", file=sys.stderr)
        return 1
    except KeyboardInterrupt:
        return 0


def _stop(*_: object) -> None:
    """SIGTERM before the server runs: nothing is open yet that a plain end could harm."""
    raise SystemExit(0)


def run_convert(quantity: str) -> int:
    """Print a quantity in the units that people use for what it measures."""
    from .units import conversions  # Pint takes a while to load, and nothing else here needs it.

    print("\n".join(conversions(quantity)))
    return 0


def run_export(folder: Path, url: str | None, bundle: Path, strips: list[str] | None) -> int:
    """Make a bundle of the store's strip-downs; the program may serve them at the same time."""
    with reading(folder, url) as reader:
        contents = write_bundle(reader, bundle, strips)
    for report in reader.reports:
        print(f"cotterbook: {spoken(report)}", file=sys.stderr)
    print(f"{bundle}: {held(contents)}. It was read back and is whole.")
    if contents.missing_photos:
        print(f"Pictures that are not on this computer and not in the bundle: {len(contents.missing_photos)}. The"
              " phones that took them still have them.", file=sys.stderr)
    return 0


def run_import(folder: Path, url: str | None, bundle: Path) -> int:
    """Take a bundle in, whole or not at all."""
    if not bundle.is_file():
        raise Problem("no_such_file", file=str(bundle))
    store = open_store(folder, url)
    try:
        contents, new = take_in(store, bundle)
    finally:
        store.close()
    print(f"{bundle}: {held(contents)}. New here: entries {new}.")
    return 0


def run_move(folder: Path, url: str | None, to: str) -> int:
    """Carry the store's entries and pictures into another one, and say what was read back there."""
    goal = Path() if is_address(to) else Path(to).expanduser().absolute()
    if url is None and goal.resolve() == folder.resolve():
        raise Problem("move_onto_itself")
    try:
        with reading(folder, url, alone=True) as source:
            with contextlib.closing(open_store(goal, to if is_address(to) else None)) as target:
                carried = move(source, target, lambda strip: print(f"{strip} is there", flush=True))
    except (KeyboardInterrupt, SystemExit):
        # A script must not take this for done.
        raise Problem("move_interrupted") from None
    for report in (*source.reports, *target.reports):
        print(f"cotterbook: {spoken(report)}", file=sys.stderr)
    for strip, (count, sha256) in carried.entries.items():
        print(f"{strip}: entries {count}, SHA-256 {sha256}")
    for sha256 in carried.damaged_photos:
        print(f"cotterbook: The picture {sha256} was damaged where it was and is not carried. The phone that took it"
              " may still have it.", file=sys.stderr)
    total = sum(count for count, _ in carried.entries.values())
    print(f"Carried to {target.shown}: strip-downs {len(carried.entries)}, entries {total}, pictures"
          f" {len(carried.photos)}. All of it was read back there and is the same. Phones send what they hold once"
          " more, for it is another store.")
    return 0


def held(contents: Contents) -> str:
    """What a bundle holds, in words."""
    entries = sum(contents.entries.values())
    return f"strip-downs {len(contents.entries)}, entries {entries}, pictures {len(contents.photos)}"


def run_demo(port: int, browser: bool) -> int:
    """Serve the demo from a temporary folder, which is deleted when it stops."""
    check_port(port)
    with tempfile.TemporaryDirectory(prefix="cotterbook-demo-", ignore_cleanup_errors=True) as name:
        store = TinyStore(Path(name))
        try:
            demo.load(store, resources.folder("demo_data"))
        finally:
            store.close()
        return serve(Path(name), port, browser)


if __name__ == "__main__":
    sys.exit(main())
