"""The server's log: a file of JSON lines in the data folder, and faults on the terminal too.

A line holds the moment, what was asked (the route, never what stood in it), the answer's status and error code, how
long it took, and the identifier of the device. No name, token, code, picture or text that a person wrote: of a fault
the kind and the places in the program are kept, not its message, which may hold any of them.
"""

import json
import logging
import sys
import time
import traceback
from collections.abc import Mapping
from logging.handlers import RotatingFileHandler
from pathlib import Path
from types import TracebackType
from typing import Any

from flask import Flask, Response, g, got_request_exception, request

from .errors import Problem

FILE = "server.log"
BYTES, FILES = 2_000_000, 3
LOGGER = "cotterbook.server"
KNOWN_METHODS = ("GET", "HEAD", "POST", "PUT", "DELETE", "OPTIONS", "PATCH")


class OwnFiles(RotatingFileHandler):
    """Files for their owner alone; a disk that does not take a line stops no request."""

    def _open(self) -> Any:
        opened = super()._open()
        Path(self.baseFilename).chmod(0o600)
        return opened

    def handleError(self, record: logging.LogRecord) -> None:
        """Leave the line out."""


class JsonLines(logging.Formatter):
    """A record's fields as one line of JSON."""

    def format(self, record: logging.LogRecord) -> str:
        """The line, without its end."""
        fields: Mapping[str, Any] = getattr(record, "fields", {})
        said = {"at_ms": int(record.created * 1000), "event": record.getMessage(), **fields}
        return json.dumps({key: each for key, each in said.items() if each is not None}, separators=(",", ":"))


def places(error: BaseException) -> list[str]:
    """Where in the program a fault came from: file, line and function of each call."""
    at: TracebackType | None = error.__traceback__
    return [f"{Path(each.filename).name}:{each.lineno} {each.name}" for each in traceback.extract_tb(at)]


def open_log(folder: Path) -> logging.Logger:
    """The log of a data folder: three files of two megabytes at the most. A full disk stops no request."""
    logger = logging.getLogger(LOGGER)
    logger.setLevel(logging.INFO)
    logger.propagate = False
    for old in list(logger.handlers):
        logger.removeHandler(old)
        old.close()
    file = OwnFiles(folder / FILE, maxBytes=BYTES, backupCount=FILES - 1, encoding="utf-8", delay=True)
    file.setFormatter(JsonLines())
    logger.addHandler(file)
    return logger


def init_app(app: Flask, folder: Path) -> None:
    """Log each request of the program's own, and each fault."""
    log = open_log(folder)
    # Flask would write a fault with its message, and so with what a person typed.
    app.log_exception = lambda exc_info: None  # type: ignore[method-assign]

    @app.before_request
    def began() -> None:
        g.began = time.perf_counter()

    @app.after_request
    def answered(response: Response) -> Response:
        # A stranger who asks on and on is turned away without a line: he could turn the files over in minutes.
        if response.status_code != 429 and (request.path.startswith("/api/") or response.status_code >= 400):
            device = g.get("device")
            log.info("answered", extra={"fields": {
                "method": request.method if request.method in KNOWN_METHODS else "other",
                "route": request.endpoint, "status": response.status_code, "error": g.get("problem"),
                "device": device.id if device else None,
                "ms": round((time.perf_counter() - g.began) * 1000, 1) if "began" in g else None}})
        return response

    def fault(sender: Flask, exception: BaseException, **more: Any) -> None:
        if isinstance(exception, Problem):
            return
        fields = {"route": request.endpoint, "type": type(exception).__name__, "places": places(exception)}
        log.error("fault", extra={"fields": fields})
        print(f"cotterbook: a fault ({fields['type']}) at {' < '.join(reversed(places(exception)))}", file=sys.stderr,
              flush=True)

    got_request_exception.connect(fault, app, weak=False)
