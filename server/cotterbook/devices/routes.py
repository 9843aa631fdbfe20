"""Pairing and the list of devices, over HTTP."""

import time
from typing import Any

import segno
from flask import Blueprint, Response, jsonify, request

from ..bodies import read_json
from ..errors import Problem
from ..network.shop_network import ShopNetwork
from ..trust.certificates import fingerprint
from . import gate
from .book import DeviceBook
from .greeting import pairing_address
from .limits import Attempts
from .records import CODE_LIVES_MS, OWNER, Device


def now_ms() -> int:
    """This computer's clock, in ms since 1970."""
    return time.time_ns() // 1_000_000


def make_blueprint(book: DeviceBook | None, attempts: Attempts, network: ShopNetwork | None) -> Blueprint:
    """The routes of devices; `network` is where phones find the pages, or None where they don't."""
    blueprint = Blueprint("devices", __name__, url_prefix="/api")
    if book is None:
        return blueprint

    @blueprint.post("/pairing")
    def pair() -> Response:
        attempts.a_code(request.remote_addr or "")
        body = read_json()
        code, held = _text(body, "code"), request.cookies.get(gate.cookie_name())
        try:
            token, device = book.pair(code, _text(body, "device"), _text(body, "name"), now_ms(), held)
        except Problem as problem:
            book.audit.write("refused", now_ms(), why=problem.code, address=request.remote_addr)
            raise
        response = jsonify(role=device.role, name=device.name)
        gate.give_token(response, token)
        return response

    @blueprint.get("/devices")
    def devices() -> Response:
        gate.need(OWNER)
        return jsonify(devices=[_told(each) for each in book.devices()], codes=book.waiting_codes(now_ms()))

    @blueprint.post("/devices/codes")
    def code() -> Response:
        by = gate.need(OWNER)
        made_ms = now_ms()
        made = book.make_code(_text(read_json(), "role"), made_ms, by.id)
        at = str(network.origin) if network else request.host_url.rstrip("/")
        url = pairing_address(at, made)
        trust = _trust(network) if network else None
        return jsonify(
            code=made, until_ms=made_ms + CODE_LIVES_MS, lives_ms=CODE_LIVES_MS, address=at, url=url, qr=qr_rows(url),
            trust=trust)

    @blueprint.post("/devices/<device_id>")
    def change(device_id: str) -> Response:
        by, body = gate.need(OWNER), read_json()
        book.change(device_id, _text(body, "name"), _text(body, "role"), now_ms(), by.id)
        return jsonify(devices=[_told(each) for each in book.devices()])

    @blueprint.post("/devices/<device_id>/revoke")
    def revoke(device_id: str) -> Response:
        by = gate.need(OWNER)
        book.revoke(device_id, now_ms(), by.id)
        return jsonify(devices=[_told(each) for each in book.devices()])

    return blueprint


def _trust(network: ShopNetwork) -> dict[str, Any] | None:
    """Where a phone fetches the certificate, and the figures to compare; None where it needs none of ours."""
    if network.authority is None:
        return None
    address = network.trust_address
    return {"address": address, "qr": qr_rows(address), "fingerprint": fingerprint(network.authority.root)}


def qr_rows(text: str) -> list[str]:
    """A QR code (ISO/IEC 18004) as rows of 0 and 1, with its quiet zone of four."""
    rows = segno.make(text, micro=False).matrix_iter(border=4)
    return ["".join("1" if dark else "0" for dark in row) for row in rows]


def _text(body: dict[str, Any], field: str) -> str:
    value = body.get(field)
    if not isinstance(value, str):
        raise Problem("bad_request", what=f"the field {field}")
    return value


def _told(device: Device) -> dict[str, Any]:
    told = device._asdict()
    del told["token_sha256"]
    return {**told, "here": device.id == gate.device().id}
