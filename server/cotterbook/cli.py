"""The command line: `cotterbook demo | serve | pair | backup | restore | export | import | move | convert`."""

import argparse
import os
import signal
import sys
import tempfile
from pathlib import Path

from . import VERSION, demo, resources
from .cli_carrying import run_backup, run_export, run_import, run_move, run_restore
from .core.words import Refused, say, spoken
from .devices import OWNER, DeviceBook
from .devices.greeting import invitation
from .devices.records import CODE_LIVES_MS, ROLES
from .devices.routes import now_ms
from .errors import Problem
from .network.addresses import leads_here
from .network.shop_network import TRUST, Wanted, join
from .serving import EVERYWHERE, Served, check_port, serve
from .settings import BY_NAME, HOST
from .store import TinyStore
from .store.holder import Holder
from .store.opening import check_store
from .store.ours import is_ours
from .store.served_at import served_at
from .trust.origin import checked_host, kept_origin


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
    kept = commands.add_parser("backup", help="copy everything into one file, also while it serves")
    kept.add_argument("--to", type=Path, metavar="FOLDER", help="where to (default: the folder copies of the data)")
    back = commands.add_parser("restore", help="go back to a copy; what is there now is copied and moved aside first")
    back.add_argument("bundle", type=Path, metavar="FILE", help="the copy")
    real.add_argument("--copies", type=_count, metavar="COUNT", default=BY_NAME["copies"].default, help=_help("copies"))
    let_in = commands.add_parser("pair", help="make a code that pairs one phone or computer, while it serves")
    let_in.add_argument("--role", choices=ROLES, default=OWNER, help="what it may do (default: owner)")
    quantity = commands.add_parser("convert", help="say a mass, torque, length or volume in other units")
    quantity.add_argument("quantity", nargs="+", help="with its unit, such as 8 lbf ft, 1,9 kg or 3 1/2 oz")
    for command in (first, real):
        command.add_argument("--port", type=_port, default=BY_NAME["port"].default, help=_help("port"))
    first.add_argument(
        "--browser", action=argparse.BooleanOptionalAction, default=BY_NAME["browser"].default, help=_help("browser"))
    add_network(real)
    for command in (real, let_in, kept, back, into, out_of, away):
        command.add_argument("--data", type=Path, metavar="FOLDER", default=BY_NAME["data"].default, help=_help("data"))
    for command in (real, kept, into, out_of, away):
        command.add_argument("--store", metavar="URL", default=BY_NAME["store"].default, help=_help("store"))
    return top


def add_network(command: argparse.ArgumentParser) -> None:
    """What `serve` knows of the shop's network."""
    command.add_argument("--lan", action="store_true", help=_help("lan"))
    command.add_argument("--host", type=_host, metavar="NAME", help=_help("host"))
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


def _host(text: str) -> str:
    if not text.strip():
        raise argparse.ArgumentTypeError("a host is a name such as shop.local, or an address such as 192.168.1.20")
    return text


def _port(text: str) -> int:
    if not text.isdecimal() or not 1 <= int(text) <= 65535:
        raise argparse.ArgumentTypeError("a port is a whole number from 1 to 65535")
    return int(text)


def _count(text: str) -> int:
    if not text.isdecimal() or int(text) > 3_660:
        raise argparse.ArgumentTypeError("a count is a whole number from 0 to 3660")
    return int(text)


def main(arguments: list[str] | None = None) -> int:
    """Run a command; its exit code: 0 when it was stopped as meant, 1 when it could not run, 2 when not understood."""
    try:
        try:
            return run(arguments)
        finally:
            sys.stdout.flush()
    except BrokenPipeError:
        # Whoever read what is said has gone, such as head; what is still to be said at the end goes nowhere.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return 1


def run(arguments: list[str] | None) -> int:
    """Run a command, and say what stops it."""
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
        if chosen.command == "backup":
            return run_backup(folder, chosen.store, chosen.to)
        if chosen.command == "restore":
            return run_restore(folder, chosen.bundle)
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
    if not chosen.lan:
        for name in ("host", "lan_port", "new_origin", "certificate", "certificate_key"):
            if getattr(chosen, name):
                raise Problem("only_with_lan", option="--" + name.replace("_", "-"))
        return serve(Served(folder, chosen.port, browser=False, url=chosen.store, copies=chosen.copies))
    check_store(folder, chosen.store)
    # Over a database several may serve from one folder; its address on the network belongs to one of them.
    holder = Holder(folder / TRUST)
    try:
        check_ports(folder, chosen)
        check_host(folder, chosen)
        wanted = Wanted(
            chosen.host, chosen.lan_port, chosen.trust_port, chosen.new_origin, chosen.certificate,
            chosen.certificate_key)
        network = join(folder, wanted, BY_NAME["lan_port"].default)
        return serve(Served(
            folder, chosen.port, browser=False, network=network, url=chosen.store, copies=chosen.copies))
    finally:
        holder.release()


def check_ports(folder: Path, chosen: argparse.Namespace) -> None:
    """Raise Problem "same_port" or "port_taken" before an address is chosen for good."""
    kept = None if chosen.new_origin else kept_origin(folder)
    lan_port = chosen.lan_port or (kept.port if kept else BY_NAME["lan_port"].default)
    ports = [chosen.port, lan_port, chosen.trust_port]
    for port in ports:
        if ports.count(port) > 1:
            raise Problem("same_port", port=port)
        check_port(port, HOST if port == chosen.port else EVERYWHERE)


def check_host(folder: Path, chosen: argparse.Namespace) -> None:
    """Raise Problem "bad_host" or "other_computer" before a host that phones would not find us at is chosen for good.

    A certificate of the owner's own shows by itself that the name is his.
    """
    kept = None if chosen.new_origin else kept_origin(folder)
    if chosen.host is None or chosen.certificate or kept:
        return
    if not leads_here(checked_host(chosen.host)):
        raise Problem("other_computer", host=chosen.host)


def run_pair(folder: Path, role: str) -> int:
    """Make a pairing code and say it, with the address at which the folder is served.

    Raises Problem "nothing_of_ours" or "not_served".
    """
    if not is_ours(folder):
        raise Problem("nothing_of_ours", folder=str(folder))
    addresses = served_at(folder)
    if not addresses:
        raise Problem("not_served", folder=str(folder))
    address = addresses[0]
    code = DeviceBook(folder).make_code(role, now_ms())
    print("\n".join(invitation(code, address, CODE_LIVES_MS // 60_000)))
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
        return serve(Served(Path(name), port, browser, demo=True))


if __name__ == "__main__":
    sys.exit(main())
