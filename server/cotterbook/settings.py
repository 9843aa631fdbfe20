"""What can be set, in one place: the command line's help and the program read it."""

import secrets
from pathlib import Path
from typing import Any, NamedTuple

from filelock import FileLock
from platformdirs import user_data_path

from .store.disk import disk_problems, read_or_nothing, write_whole

SECRET_BYTES = 32


class Setting(NamedTuple):
    """One setting: its name, its default and what it does."""

    name: str
    default: Any
    help: str


SETTINGS = (
    Setting("port", 8350, "the port on this computer where the pages are served"),
    Setting("data", user_data_path("cotterbook", appauthor=False), "the folder that holds every entry and picture"),
    Setting("store", None, "a PostgreSQL database that holds entries and pictures instead of the folder, as"
            " postgresql://USER@HOST/DATABASE; its password comes from the variable PGPASSWORD or the file .pgpass,"
            " so that no list of processes shows it"),
    Setting("browser", True, "open the page in a browser when the program is ready"),
    Setting("copies", 14, "how many daily copies are kept in the data folder; 0 makes none"),
    Setting("lan", False, "let phones on the shop's network in too, over HTTPS"),
    Setting("host", None, "this computer's name or private address for phones, chosen once; without one it gets"
            " a new name under .local"),
    Setting("lan_port", 8351, "the port for phones, chosen once"),
    Setting("trust_port", 8352, "the port of the page, over plain HTTP, where phones fetch the certificate"),
    Setting("new_origin", False, "choose what --host and --lan-port give anew, or without both another name, once; the"
            " rest stays, and every phone has to be paired again"),
    Setting("certificate", None, "a certificate of your own for that name, with its chain (PEM)"),
    Setting("certificate_key", None, "its key (PEM, without a password)"),
)
BY_NAME = {setting.name: setting for setting in SETTINGS}

HOST = "127.0.0.1"
# Names under which a browser may ask; any other is some web site that points its own name at this computer.
TRUSTED_HOSTS = [HOST, "localhost"]
BLOCKING_THREADS = 64
# How long a request may take to arrive: so many seconds, and one more for each so many bytes that it is to have.
# Whoever stalls for the first is given up; a picture of 2 MB may take as long as a slow network takes for it. A phone
# goes by the same seconds and twice this rate (requests.js), so whatever moves at all it gives up first, and says why.
BODY_SECONDS = 30
LEAST_BYTES_A_SECOND = 4_000
# A client that stalls in the middle of a request may not hold up the end of the program for longer.
STOP_SECONDS = 3


def secret_key(folder: Path) -> bytes:
    """The key that signs cookies and tokens, made once and kept in the data folder, for its owner alone.

    Several programs may share a folder and begin at once: all get the same key.
    """
    path = folder / "secret_key"
    with disk_problems(), FileLock(folder / "secret_key.lock"):
        kept = read_or_nothing(path)
        if len(kept) != SECRET_BYTES:
            kept = secrets.token_bytes(SECRET_BYTES)
            write_whole(path, kept)
    return kept


def flask_config(folder: Path) -> dict[str, Any]:
    """How Flask and Flask-WTF are set for this data folder."""
    return {
        "SECRET_KEY": secret_key(folder),
        "SESSION_COOKIE_SAMESITE": "Strict",
        # A phone may be away for a week and then send; its token ends with its session.
        "WTF_CSRF_TIME_LIMIT": None,
    }
