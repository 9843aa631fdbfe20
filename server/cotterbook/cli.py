"""The command line: `cotterbook demo | serve | pair | export | import | move | convert`."""

import argparse
import contextlib
import signal
import sys
import tempfile
from pathlib import Path

from . import VERSION, demo, resources
from .bundles import Contents, take_in, write_bundle
from .core.words import Refused, say, spoken
from .devices import OWNER, DeviceBook
from .devices.greeting import invitation
from .devices.records import CODE_LIVES_MS, ROLES
from .devices.routes import now_ms
from .errors import Problem
from .moving import move
from .network.shop_network import Wanted, join
from .serving import Served, check_port, serve
from .settings import BY_NAME, HOST
from .store import TinyStore
from .store.opening import is_address, open_store, reading
from .trust.origin import kept_origin


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
    let_in = commands.add_parser("pair", help="make a code that pairs one phone or computer, also while it serves")
    let_in.add_argument("--role", choices=ROLES, default=OWNER, help="what it may do (default: owner)")
    quantity = commands.add_parser("convert", help="say a mass, torque, length or volume in other units")
    quantity.add_argument("quantity", nargs="+", help="with its unit, such as 8 lbf ft, 1,9 kg or 3 1/2 oz")
    for command in (first, real):
        command.add_argument("--port", type=_port, default=BY_NAME["port"].default, help=_help("port"))
    first.add_argument(
        "--browser", action=argparse.BooleanOptionalAction, default=BY_NAME["browser"].default, help=_help("browser"))
    add_network(real)
    for command in (real, let_in, into, out_of, away):
        command.add_argument("--data", type=Path, metavar="FOLDER", default=BY_NAME["data"].default, help=_help("data"))
    for command in (real, into, out_of, away):
        command.add_argument("--store", metavar="URL", default=BY_NAME["store"].default, help=_help("store"))
    return top


def add_network(command: argparse.ArgumentParser) -> None:
    """What `serve` knows of the shop's network."""
    command.add_argument("--lan", action="store_true", help=_help("lan"))
    command.add_argument("--host", metavar="NAME", help=_help("host"))
    command.add_argument("--lan-port", type=_port, metavar="PORT", help=_help("lan_port"))
    command.add_argument(
        "--trust-port", type=_port, metavar="PORT", default=BY_NAME["trust_port"].default, help=_help("trust_port"))
    command.add_argument("--new-origin", action="store_true", help=_help("new_origin"))
    for name in ("certificate", "certificate_key"):
        command.add_argument("--" + name.replace("_", "-"), type=Path, metavar="FILE", help=_help(name))


def _help(name: str) -> str:
    default = BY_NAME[name].default
    words = {None: "none", False: "no", True: "yes"}.get(default, default)
    return f"{BY_NAME[name].help} (default: {words})"


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
        if chosen.command == "pair":
            return run_pair(folder, chosen.role)
        return run_serve(folder, chosen)
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


def run_serve(folder: Path, chosen: argparse.Namespace) -> int:
    """Serve the folder, on this computer or on the shop's network too."""
    network = None
    if chosen.lan:
        wanted = Wanted(
            chosen.host, chosen.lan_port, chosen.trust_port, chosen.new_origin, chosen.certificate,
            chosen.certificate_key)
        network = join(folder, wanted, BY_NAME["lan_port"].default)
    return serve(Served(folder, chosen.port, browser=False, network=network, url=chosen.store))


def run_pair(folder: Path, role: str) -> int:
    """Make a pairing code and say it; the program may be serving."""
    origin = kept_origin(folder)
    address = str(origin) if origin else f"http://{HOST}:{BY_NAME['port'].default}"
    code = DeviceBook(folder).make_code(role, now_ms())
    print("\n".join(invitation(code, address, CODE_LIVES_MS // 60_000)))
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
        return serve(Served(Path(name), port, browser, demo=True))


if __name__ == "__main__":
    sys.exit(main())
