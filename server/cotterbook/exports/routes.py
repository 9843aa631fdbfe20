"""A strip-down's tables and its page to send over HTTP, as files to save: for every device on the list, those that look
on too.
"""

import io
import threading
from datetime import date

from flask import Blueprint, Response, request, send_file

from ..devices import LOOKER_ON, gate
from ..devices.routes import now_ms
from ..errors import Problem
from ..store import Store
from .files import NAMES, TYPES, write_export
from .folding import folded
from .share import SHARE, read_options, write_share

# A whole strip-down is folded for each: so many at once, and the others are asked to come again.
AT_ONCE = threading.BoundedSemaphore(2)


def make_blueprint(store: Store) -> Blueprint:
    """The route of exports, over a store."""
    blueprint = Blueprint("exports", __name__, url_prefix="/api/exports")

    @blueprint.get("/<strip>/<file>")
    def export(strip: str, file: str) -> Response:
        gate.need(LOOKER_ON)
        if file not in (*NAMES, SHARE):
            raise Problem("not_found")
        options = read_options(request.args) if file == SHARE else {}
        if not AT_ONCE.acquire(blocking=False):
            raise Problem("exports_busy")
        try:
            return _download(store, strip, file, options)
        finally:
            AT_ONCE.release()

    return blueprint


def _download(store: Store, strip: str, name: str, options: dict[str, bool]) -> Response:
    made = io.BytesIO()
    if name == SHARE:
        write_share(folded(store, strip), store, options, now_ms(), made)
    else:
        write_export(folded(store, strip), name, made)
    made.seek(0)
    # Its name is ours: nothing that a person wrote is in it.
    called = f"cotterbook-{name.partition('.')[0]}-{date.today().isoformat()}.{name.rpartition('.')[2]}"
    mimetype = TYPES.get(name, "text/html")
    response = send_file(made, mimetype=mimetype, as_attachment=True, download_name=called)
    response.headers["Cache-Control"] = "no-store"
    return response
