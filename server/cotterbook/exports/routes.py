"""A strip-down's tables and its page to send over HTTP, as files to save: for every device on the list, those that look
on too.
"""

import io
import threading
from datetime import date

from flask import Blueprint, Response, request, send_file

from ..bodies import read_json
from ..core.language import ENGLISH, Language, language_of
from ..core.words import Refused
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
        return _export(store, strip, file, ENGLISH)

    # The words of a language are the pages', and too many for an address.
    @blueprint.post("/<strip>/<file>")
    def export_in_a_language(strip: str, file: str) -> Response:
        gate.need(LOOKER_ON)
        try:
            language = language_of(read_json().get("language"))
        except Refused as refused:
            raise Problem("bad_request", what="the language") from refused
        return _export(store, strip, file, language)

    return blueprint


def _export(store: Store, strip: str, file: str, language: Language) -> Response:
    if file not in (*NAMES, SHARE):
        raise Problem("not_found")
    options = read_options(request.args) if file == SHARE else {}
    if not AT_ONCE.acquire(blocking=False):
        raise Problem("exports_busy")
    try:
        return _download(store, strip, file, options, language)
    finally:
        AT_ONCE.release()


def _download(store: Store, strip: str, name: str, options: dict[str, bool], language: Language) -> Response:
    made = io.BytesIO()
    if name == SHARE:
        write_share(folded(store, strip), store, options, now_ms(), made, language)
    else:
        write_export(folded(store, strip), name, made, language)
    made.seek(0)
    # Its name is ours: nothing that a person wrote is in it.
    called = f"cotterbook-{name.partition('.')[0]}-{date.today().isoformat()}.{name.rpartition('.')[2]}"
    mimetype = TYPES.get(name, "text/html")
    response = send_file(made, mimetype=mimetype, as_attachment=True, download_name=called)
    response.headers["Cache-Control"] = "no-store"
    return response
