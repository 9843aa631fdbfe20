"""The command line: `cotterbook demo`, `cotterbook serve` and `cotterbook convert`."""

import argparse
import signal
import sys
import tempfile
from pathlib import Path

from . import VERSION, demo, resources
from .core.words import Refused, say, spoken
from .errors import Problem
from .serving import check_port, serve
from .settings import BY_NAME
from .store import TinyStore


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
    quantity = commands.add_parser("convert", help="say a mass, torque, length or volume in other units")
    quantity.add_argument("quantity", nargs="+", help="with its unit, such as 8 lbf ft, 1,9 kg or 3 1/2 oz")
    for command in (first, real):
        command.add_argument("--port", type=_port, default=BY_NAME["port"].default, help=_help("port"))
    first.add_argument(
        "--browser", action=argparse.BooleanOptionalAction, default=BY_NAME["browser"].default, help=_help("browser"))
    real.add_argument("--data", type=Path, metavar="FOLDER", default=BY_NAME["data"].default, help=_help("data"))
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
        return serve(chosen.data.expanduser().absolute(), chosen.port, browser=False)
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
