"""The command line: `cotterbook demo | serve | pair | backup | restore | export | import | tables | share | move |
convert`.
"""

import argparse
import signal
import sys
import tempfile
from pathlib import Path

from . import demo, resources
from .cli_carrying import run_backup, run_export, run_import, run_move, run_restore, run_share, run_tables
from .cli_options import parser
from .core.words import Refused, say, spoken
from .devices import DeviceBook
from .devices.greeting import invitation
from .devices.records import CODE_LIVES_MS
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
from .telling import tell, untold
from .trust.origin import checked_host, kept_origin, origin_before


def main(arguments: list[str] | None = None) -> int:
    """Run a command; its exit code: 0 when it was stopped as meant, 1 when it could not run, 2 when not understood."""
    try:
        code = run(arguments)
    except SystemExit as left:
        code = int(left.code or 0)
    if error := untold():
        print(f"cotterbook: {Problem('not_printed', what=error.strerror)}", file=sys.stderr)
    return code if error is None else 1


def run(arguments: list[str] | None) -> int:
    """Run a command, and say what stops it."""
    chosen = parser().parse_args(arguments)
    signal.signal(signal.SIGTERM, _stop)
    try:
        if chosen.command == "convert":
            return run_convert(" ".join(chosen.quantity))
        if chosen.command == "demo":
            return run_demo(chosen.port, chosen.browser)
        folder = chosen.data.absolute()
        if chosen.command == "export":
            return run_export(folder, chosen.store, chosen.bundle, chosen.strip)
        if chosen.command == "import":
            return run_import(folder, chosen.store, chosen.bundle)
        if chosen.command == "tables":
            return run_tables(folder, chosen.store, chosen.strip, chosen.into)
        if chosen.command == "share":
            return run_share(folder, chosen.store, chosen)
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

    tell("\n".join(conversions(quantity)))
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
    kept = origin_before(folder, chosen.new_origin)
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
    tell("\n".join(invitation(code, address, CODE_LIVES_MS // 60_000)))
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
