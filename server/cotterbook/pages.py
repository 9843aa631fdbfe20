"""The web pages and the phone's Python, read once at the start and served from memory."""

import gzip
import hashlib
import json
import re
from functools import cached_property
from pathlib import Path

import brotli
from flask import Blueprint, Flask, Response, request

from . import resources
from .bare_source import bare_source
from .compressed import cache_folder, made_short

TYPES = {
    ".html": "text/html; charset=utf-8",
    ".js": "text/javascript; charset=utf-8",
    ".mjs": "text/javascript; charset=utf-8",
    ".css": "text/css; charset=utf-8",
    ".json": "application/json",
    ".txt": "text/plain; charset=utf-8",
    ".webmanifest": "application/manifest+json",
    ".svg": "image/svg+xml",
    ".png": "image/png",
    ".ico": "image/vnd.microsoft.icon",
    ".woff2": "font/woff2",
    ".wasm": "application/wasm",
}
BYTES = "application/octet-stream"
COMPRESSED_ALREADY = (".png", ".ico", ".woff2")
# All that the service worker keeps, one file after the other, for a phone that has nothing yet.
PROGRAM = "/program"
# The service worker keeps neither itself nor the list that tells it of a new version. The PNG icons are for the
# moment of installing alone, when the browser fetches them by itself.
NOT_PRECACHED = (
    "/sw.js", "/precache.js", "/icons/icon-192.png", "/icons/icon-512.png",
    "/icons/icon-maskable-512.png", "/vendor/LICENCES.txt",
)
# A phone keeps the one language that somebody chose, not all of them.
CHOSEN = "/languages/"
VENDORED = re.compile(r"^/vendor/.*\d+\.\d+")
IMMUTABLE = "public, max-age=31536000, immutable"

HEADERS = {
    "Content-Security-Policy": (
        "default-src 'self'; script-src 'self' 'wasm-unsafe-eval'; worker-src 'self'; img-src 'self' blob: data:; "
        "style-src 'self'; connect-src 'self'; object-src 'none'; base-uri 'none'; frame-ancestors 'none'; "
        "form-action 'self'"
    ),
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "same-origin",
    "Permissions-Policy": "camera=(self), " + ", ".join(
        f"{feature}=()" for feature in (
            "accelerometer", "display-capture", "geolocation", "gyroscope", "magnetometer", "microphone", "midi",
            "payment", "usb",
        )
    ),
}


# Brotli takes a twentieth of the time of its best here, for a tenth more bytes.
WHILE_ONE_WAITS = 9


class File:
    """One file as it is served: its bytes, type and hash, and its bytes compressed once somebody asks for them."""

    def __init__(self, address: str, ending: str, data: bytes) -> None:
        self.data, self.type, self.sha256 = data, TYPES.get(ending, BYTES), hashlib.sha256(data).hexdigest()
        self.compressible = ending not in COMPRESSED_ALREADY
        self.caching = IMMUTABLE if VENDORED.match(address) else "no-cache"
        self.shortest = b""

    @property
    def brotli(self) -> bytes:
        """The bytes as Brotli (RFC 7932): as short as they go, or until that is there made while somebody waits."""
        return self.shortest or self._brotli_in_haste

    @cached_property
    def _brotli_in_haste(self) -> bytes:
        return bytes(brotli.compress(self.data, quality=WHILE_ONE_WAITS))

    @cached_property
    def gzip(self) -> bytes:
        """The bytes as gzip (RFC 1952)."""
        return gzip.compress(self.data, mtime=0)

    def encoded(self) -> tuple[str, bytes]:
        """The shortest form that this request's browser takes: the name of its encoding, or "", and its bytes."""
        taken = request.accept_encodings
        for name in ("br", "gzip"):
            if self.compressible and taken[name] > 0:
                data = self.brotli if name == "br" else self.gzip
                if len(data) < len(self.data):
                    return name, data
        return "", self.data


def read_files(webui: Path, core: Path) -> dict[str, File]:
    """Every file to serve by its address; the core's Python and the service worker's list each as one."""
    own = [path for path in sorted(webui.rglob("*")) if _served(path, webui)]
    paths = {"/" + path.relative_to(webui).as_posix(): path for path in own}
    paths = {"/" if address == "/index.html" else address: path for address, path in paths.items()}
    files = {address: File(address, path.suffix, path.read_bytes()) for address, path in paths.items()}
    files["/core.json"] = File("/core.json", ".json", python_for_the_phone(webui, core))
    kept = {address: files[address] for address in sorted(files) if _is_kept(address)}
    files["/precache.js"] = File("/precache.js", ".js", precache(kept))
    files[PROGRAM] = File(PROGRAM, "", b"".join(file.data for file in kept.values()))
    return files


def python_for_the_phone(webui: Path, core: Path) -> bytes:
    """The core's modules, bare of what only people read, and the phone's stand-in for typing: JSON of name to text.

    In one file they are a third shorter on the wire than one by one.
    """
    modules = {f"core/{path.name}": bare_source(path.read_text(encoding="utf-8")) for path in sorted(core.glob("*.py"))}
    modules["typing.py"] = bare_source((webui / "typing.py").read_text(encoding="utf-8"))
    return json.dumps(modules, ensure_ascii=False).encode()


def _served(path: Path, webui: Path) -> bool:
    """Whether a file of the tree belongs to the page: a known ending, and nothing hidden."""
    hidden = any(part.startswith((".", "_")) for part in path.relative_to(webui).parts)
    return path.is_file() and path.suffix in TYPES and not hidden


def _is_kept(address: str) -> bool:
    """Whether the service worker keeps this file."""
    return not address.startswith(CHOSEN) and address not in NOT_PRECACHED


def precache(kept: dict[str, File]) -> bytes:
    """The service worker's list: each address with its hash, a version that is a hash over all of them, and in which
    pieces `PROGRAM` falls: address, bytes, type and how it may be kept, in their order."""
    hashes = {address: file.sha256 for address, file in kept.items()}
    version = hashlib.sha256(json.dumps(hashes).encode()).hexdigest()
    pieces = [[address, len(file.data), file.type, file.caching] for address, file in kept.items()]
    listed = {"version": version, "files": hashes, "program": PROGRAM, "pieces": pieces}
    return f"self.PRECACHE = {json.dumps(listed, indent=1)};\n".encode()


def make_blueprint() -> Blueprint:
    """One route for each file."""
    blueprint = Blueprint("pages", __name__)
    files = read_files(resources.folder("webui"), resources.PACKAGE / "core")

    def page(address: str) -> Response:
        return respond(files[address])

    for address in files:
        blueprint.add_url_rule(address, "page", page, defaults={"address": address})
    blueprint.record_once(lambda made: made.app.extensions.update({PROGRAM: files[PROGRAM]}))
    return blueprint


def make_program_short(app: Flask) -> None:
    """Make what a new phone fetches first as short as it goes, which takes a PC some seconds; until then it is a tenth
    longer."""
    program: File = app.extensions[PROGRAM]
    program.shortest = made_short(program.data, program.sha256, cache_folder())


def respond(file: File) -> Response:
    """The file, or "not modified", compressed when the browser takes that."""
    encoding, data = file.encoded()
    response = Response(data, content_type=file.type)
    # By its length too: what was made in haste and what was made well are not the same bytes.
    response.set_etag(f"{file.sha256}-{encoding}-{len(data)}" if encoding else file.sha256)
    response.headers["Cache-Control"] = file.caching
    if file.compressible:
        response.vary.add("Accept-Encoding")
    if encoding:
        response.content_encoding = encoding
    response.make_conditional(request)
    return response


def init_app(app: Flask) -> None:
    """Put the security headers on every answer, and let nothing else be kept by a browser unasked."""

    @app.after_request
    def add_headers(response: Response) -> Response:
        response.headers.update(HEADERS)
        response.headers.setdefault("Cache-Control", "no-store")
        return response
