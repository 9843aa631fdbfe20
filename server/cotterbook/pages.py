"""The web pages and the phone's Python, read once at the start and served from memory."""

import gzip
import hashlib
import json
import re
from pathlib import Path
from typing import NamedTuple

from flask import Blueprint, Flask, Response, request

from . import resources

TYPES = {
    ".html": "text/html; charset=utf-8",
    ".js": "text/javascript; charset=utf-8",
    ".mjs": "text/javascript; charset=utf-8",
    ".css": "text/css; charset=utf-8",
    ".json": "application/json",
    ".webmanifest": "application/manifest+json",
    ".svg": "image/svg+xml",
    ".png": "image/png",
    ".ico": "image/vnd.microsoft.icon",
    ".woff2": "font/woff2",
    ".wasm": "application/wasm",
    ".py": "text/x-python; charset=utf-8",
}
COMPRESSED_ALREADY = (".png", ".ico", ".woff2")
# The service worker keeps neither itself nor the list that tells it of a new version.
NOT_PRECACHED = ("/sw.js", "/precache.js")
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


class File(NamedTuple):
    """One file as it is served: its bytes, the same as gzip where that is shorter, and its type and hash."""

    data: bytes
    compressed: bytes | None
    type: str
    sha256: str
    caching: str


def make_file(address: str, ending: str, data: bytes) -> File:
    """Prepare a file for serving at an address."""
    compressed = None if ending in COMPRESSED_ALREADY else gzip.compress(data, mtime=0)
    if compressed is not None and len(compressed) >= len(data):
        compressed = None
    caching = IMMUTABLE if VENDORED.match(address) else "no-cache"
    return File(data, compressed, TYPES[ending], hashlib.sha256(data).hexdigest(), caching)


def read_files(webui: Path, core: Path) -> dict[str, File]:
    """Every file to serve by its address, the list for the service worker included."""
    own = [path for path in sorted(webui.rglob("*")) if _served(path, webui)]
    paths = {"/" + path.relative_to(webui).as_posix(): path for path in own}
    paths |= {f"/core/{path.name}": path for path in sorted(core.glob("*.py"))}
    paths = {"/" if address == "/index.html" else address: path for address, path in paths.items()}
    files = {address: make_file(address, path.suffix, path.read_bytes()) for address, path in paths.items()}
    files["/precache.js"] = make_file("/precache.js", ".js", precache(files))
    return files


def _served(path: Path, webui: Path) -> bool:
    """Whether a file of the tree belongs to the page: a known ending, nothing hidden, no script that fetches files."""
    parts = path.relative_to(webui).parts
    hidden = any(part.startswith((".", "_")) for part in parts)
    update_script = parts[0] == "vendor" and path.stem.startswith("update")
    return path.is_file() and path.suffix in TYPES and not hidden and not update_script


def precache(files: dict[str, File]) -> bytes:
    """The service worker's list: each address with its hash, and a version that is a hash over all of them."""
    hashes = {address: file.sha256 for address, file in sorted(files.items()) if address not in NOT_PRECACHED}
    version = hashlib.sha256(json.dumps(hashes).encode()).hexdigest()
    return f"self.PRECACHE = {json.dumps({'version': version, 'files': hashes}, indent=1)};\n".encode()


def make_blueprint() -> Blueprint:
    """One route for each file."""
    blueprint = Blueprint("pages", __name__)
    files = read_files(resources.folder("webui"), resources.PACKAGE / "core")

    def page(address: str) -> Response:
        return respond(files[address])

    for address in files:
        blueprint.add_url_rule(address, "page", page, defaults={"address": address})
    return blueprint


def respond(file: File) -> Response:
    """The file, or "not modified", compressed when the browser takes that."""
    zipped = file.compressed is not None and request.accept_encodings["gzip"] > 0
    response = Response(file.compressed if zipped else file.data, content_type=file.type)
    response.set_etag(file.sha256 + ("-gzip" if zipped else ""))
    response.headers["Cache-Control"] = file.caching
    if file.compressed is not None:
        response.vary.add("Accept-Encoding")
    if zipped:
        response.content_encoding = "gzip"
    response.make_conditional(request)
    return response


def init_app(app: Flask) -> None:
    """Put the security headers on every answer, and let nothing else be kept by a browser unasked."""

    @app.after_request
    def add_headers(response: Response) -> Response:
        response.headers.update(HEADERS)
        response.headers.setdefault("Cache-Control", "no-store")
        return response
