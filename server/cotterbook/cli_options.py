"""The command line's grammar: every command, its options and what they take."""

import argparse
from pathlib import Path

from . import VERSION
from .core.share_page import OPTIONS
from .devices import OWNER
from .devices.records import ROLES
from .settings import BY_NAME

TOLD = {
    "names": "who did what; without them it is person 1, person 2 and so on",
    "pictures": "the pictures of parts, made smaller",
    "number": "the number of the machine's frame or plate",
    "costs": "what things to do cost",
    "notes": "notes, reasons and the words under pictures; only with names",
}


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
        command.add_argument("bundle", type=_path, metavar="FILE", help=what)
    tabled = commands.add_parser("tables", help="one strip-down as tables: XLSX, CSV and JSON, also while it serves")
    tabled.add_argument("strip", metavar="ID", help="the strip-down, as its address names it")
    tabled.add_argument("into", type=_path, metavar="FOLDER", help="where to; no file there is written over")
    shared = commands.add_parser("share", help="one strip-down as one page to send (HTML), also while it serves")
    shared.add_argument("strip", metavar="ID", help="the strip-down, as its address names it")
    shared.add_argument("page", type=_path, metavar="FILE", help="the file to make; none is written over")
    for name, usual in OPTIONS:
        said = f"{TOLD[name]} (default: {'yes' if usual else 'no'})"
        shared.add_argument(f"--{name}", action=argparse.BooleanOptionalAction, default=usual, help=said)
    away = commands.add_parser("move", help="carry every entry and picture into another, empty store and read it back")
    away.add_argument(
        "--to", type=_named, required=True, metavar="URL or FOLDER", help="the empty database or folder to carry into")
    kept = commands.add_parser("backup", help="copy everything into one file, also while it serves")
    kept.add_argument("--to", type=_path, metavar="FOLDER", help="where to (default: the folder copies of the data)")
    back = commands.add_parser("restore", help="go back to a copy; what is there now is copied and moved aside first")
    back.add_argument("bundle", type=_path, metavar="FILE", help="the copy")
    real.add_argument("--copies", type=_count, metavar="COUNT", default=BY_NAME["copies"].default, help=_help("copies"))
    let_in = commands.add_parser("pair", help="make a code that pairs one phone or computer, while it serves")
    let_in.add_argument("--role", choices=ROLES, default=OWNER, help="what it may do (default: owner)")
    quantity = commands.add_parser("convert", help="say a mass, torque, length, volume or pressure in other units")
    quantity.add_argument("quantity", nargs="+", help="with its unit, such as 8 lbf ft, 1,9 kg or 3 1/2 oz")
    for command in (first, real):
        command.add_argument("--port", type=_port, default=BY_NAME["port"].default, help=_help("port"))
    first.add_argument(
        "--browser", action=argparse.BooleanOptionalAction, default=BY_NAME["browser"].default, help=_help("browser"))
    add_network(real)
    for command in (real, let_in, kept, back, into, out_of, tabled, shared, away):
        command.add_argument(
            "--data", type=_path, metavar="FOLDER", default=BY_NAME["data"].default, help=_help("data"))
    for command in (real, kept, into, out_of, tabled, shared, away):
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
        command.add_argument("--" + name.replace("_", "-"), type=_path, metavar="FILE", help=_help(name))


def _help(name: str) -> str:
    default = BY_NAME[name].default
    words = {None: "none", False: "no", True: "yes"}.get(default, default)
    return f"{BY_NAME[name].help} (default: {words})"


def _host(text: str) -> str:
    if not text.strip():
        raise argparse.ArgumentTypeError("a host is a name such as shop.local, or an address such as 192.168.1.20")
    return text


def _named(text: str) -> str:
    if not text:
        raise argparse.ArgumentTypeError("a name is needed")
    return text


def _path(text: str) -> Path:
    return Path(_named(text)).expanduser()


def _port(text: str) -> int:
    if not text.isdecimal() or not 1 <= int(text) <= 65535:
        raise argparse.ArgumentTypeError("a port is a whole number from 1 to 65535")
    return int(text)


def _count(text: str) -> int:
    if not text.isdecimal() or int(text) > 3_660:
        raise argparse.ArgumentTypeError("a count is a whole number from 0 to 3660")
    return int(text)
