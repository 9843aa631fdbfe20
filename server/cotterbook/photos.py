"""Pictures: asked for, received, checked and given out, each under the SHA-256 of its bytes."""

import hashlib
import io
import threading
import warnings

from flask import Blueprint, Response, jsonify, request
from PIL import Image

from .bodies import read_body, read_json
from .core.limits import PHOTO_BYTES_KEPT
from .devices import HAND, gate
from .errors import Problem
from .jpeg import NoJpeg, more_than_the_picture
from .store import Store
from .store.photos import is_hash

HASHES_A_REQUEST = 500
PIXELS = 50_000_000
YEAR_SECONDS = 31_536_000

Image.MAX_IMAGE_PIXELS = PIXELS
# Pillow only warns of a picture up to twice its limit, before it has decoded it.
warnings.simplefilter("error", Image.DecompressionBombWarning)

# A whole picture of 50 megapixels takes 150 MB while it is looked at.
DECODING = threading.BoundedSemaphore(2)


def make_blueprint(store: Store) -> Blueprint:
    """The routes of pictures, over a store."""
    blueprint = Blueprint("photos", __name__, url_prefix="/api/photos")

    @blueprint.post("/missing")
    def missing() -> Response:
        hashes = read_json().get("hashes")
        if not isinstance(hashes, list) or not all(is_hash(each) for each in hashes):
            raise Problem("bad_request", what="the field hashes")
        if len(hashes) > HASHES_A_REQUEST:
            raise Problem("too_many_hashes", limit=HASHES_A_REQUEST)
        return jsonify(missing=store.missing_photos(hashes))

    @blueprint.put("/<sha256>")
    def put(sha256: str) -> Response:
        gate.need(HAND, "only_looks_on")
        receive(store, sha256, read_body())
        return jsonify(stored=True)

    @blueprint.get("/<sha256>")
    def get(sha256: str) -> Response:
        data = store.get_photo(sha256) if is_hash(sha256) else None
        if data is None:
            raise Problem("no_such_photo")
        response = Response(data, mimetype="image/jpeg")
        response.set_etag(sha256)
        response.cache_control.private = True
        response.cache_control.max_age = YEAR_SECONDS
        response.cache_control.immutable = True
        response.make_conditional(request)
        return response

    return blueprint


def receive(store: Store, sha256: str, data: bytes) -> None:
    """Check a picture and keep it: the one way in for pictures. It is on disk when this returns."""
    if len(data) > PHOTO_BYTES_KEPT:
        raise Problem("photo_too_big", limit=PHOTO_BYTES_KEPT)
    if not is_hash(sha256):
        raise Problem("bad_request", what="the picture's hash")
    if hashlib.sha256(data).hexdigest() != sha256:
        raise Problem("hash_differs")
    if store.missing_photos([sha256]):
        check_picture(data)
        store.put_photo(sha256, data)


def check_picture(data: bytes) -> None:
    """Raise Problem "not_a_picture", "picture_carries_more" or "too_many_pixels" unless the bytes are a JPEG picture
    that decodes to its end, and nothing else.

    It is not made anew here: entries name a picture by the hash of the bytes that its phone has.
    """
    try:
        more = more_than_the_picture(data)
    except NoJpeg:
        raise Problem("not_a_picture") from None
    if more:
        raise Problem("picture_carries_more", what=", ".join(more))
    try:
        with DECODING, Image.open(io.BytesIO(data), formats=("JPEG",)) as image:
            if image.width * image.height > PIXELS:
                raise Problem("too_many_pixels", limit=PIXELS)
            image.load()
    except (Image.DecompressionBombWarning, Image.DecompressionBombError):
        raise Problem("too_many_pixels", limit=PIXELS) from None
    except (OSError, SyntaxError, ValueError):
        raise Problem("not_a_picture") from None
