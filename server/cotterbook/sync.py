"""Sync: a phone hands over its new entries and takes away those that it lacks."""

import random
import re
import time
from typing import Any, NamedTuple

from flask import Blueprint, Response, g, jsonify, request
from flask_wtf.csrf import generate_csrf

from . import VERSION
from .bodies import read_json
from .concerns import Concerns
from .core.entries import check, size_in_bytes
from .core.limits import ENTRIES_A_REQUEST, STRIPS
from .core.values import is_id
from .core.words import problem
from .devices import HAND, LOOKER_ON, OWNER, Device, DeviceBook, gate
from .devices.decisions import Decisions
from .errors import Problem
from .less_than_told import LessThanTold, Told, lasts_of
from .store import Last, Store
from .store.contract import canonical

# The oldest program on a phone whose entries and questions this one understands. Raise it only when an older one
# would be misunderstood: kinds and fields that are new need no newer phone.
LEAST_PHONE = "0.1.0"
VERSION_NUMBERS = re.compile(r"([0-9]{1,4})\.([0-9]{1,4})\.([0-9]{1,4})")
ANSWER_ENTRIES = 1_000
ANSWER_BYTES = 1_000_000
WANTED_PHOTOS = 100
# What an owner alone may write.
OWNERS_KINDS = ("waive",)
HIGHEST_CURSOR = 2**53 - 1


class Sent(NamedTuple):
    """What a phone said of one strip-down: how far it has read, its new entries, not yet checked, and which entry it
    was told to be the last there; None where it was told of none, as by an older program."""

    cursor: int
    entries: list[Any]
    last: Last | None = None


def now_ms() -> int:
    """This computer's clock, in ms since 1970."""
    return time.time_ns() // 1_000_000


def make_blueprint(store: Store, book: DeviceBook | None, concerns: Concerns, less: LessThanTold) -> Blueprint:
    """The routes of sync, over a store, the book of devices and what an owner is told of the PC."""
    blueprint = Blueprint("sync", __name__, url_prefix="/api")

    @blueprint.get("/hello")
    def hello() -> Response:
        known: Device | None = g.device
        common = {"program": "cotterbook", "version": VERSION, "now": now_ms(), "csrf": generate_csrf()}
        if known is None or not known.may(LOOKER_ON):
            return jsonify(**common, paired=False, revoked=known is not None)
        response = jsonify(
            **common, paired=True, store=store.identity, role=known.role, name=known.name, alone=book is None)
        token = request.cookies.get(gate.cookie_name())
        if token:
            gate.give_token(response, token)
        return response

    @blueprint.post("/sync")
    def sync() -> Response:
        body = read_json()
        check_version(body.get("version"))
        sent = parse(body)
        if any(each.entries for each in sent.values()):
            gate.need(HAND, "only_looks_on")
        if book:
            book.seen(gate.device().id, now_ms(), _count(body, "unsent"), _count(body, "unsent_photos"))
        # What a phone that knew another store takes for sent may not be here, and its cursors say nothing here.
        identity = store.identity_now()
        known = body.get("store")
        told = {strip: Told(each.last, each.cursor >= each.last.number) for strip, each in sent.items() if each.last}
        if known not in (None, identity):
            less.learn_more(str(known), told)
            raise Problem("other_store", store=identity)
        if missing := less.missing(told):
            raise Problem("other_store", store=less.begin_anew(identity, missing))
        if known:
            less.look_whether_back(_count(body, "unsent") == 0)
        refused = {strip: receive(store, strip, each.entries, book) for strip, each in sent.items()}
        strips, more = collect(store, sent, refused)
        trouble = concerns.now() if gate.device().may(OWNER) else []
        return jsonify(
            version=VERSION, now=now_ms(), store=store.identity, role=gate.device().role, strips=strips, more=more,
            concerns=trouble, wanted_photos=wanted_photos(store))

    return blueprint


def wanted_photos(store: Store) -> list[str]:
    """Some of the pictures that a phone should send. Entries are kept already: what fails here is asked next time."""
    try:
        return some(store.awaited_photos())
    except Problem:
        return []


def some(wanted: list[str]) -> list[str]:
    """As many as an answer names, others each time: a phone may have only the last of them."""
    return random.sample(wanted, min(len(wanted), WANTED_PHOTOS))


def check_version(version: Any) -> None:
    """Raise Problem "phone_too_old" for a program older than LEAST_PHONE, "bad_request" for what is no version."""
    if _numbers(version) < _numbers(LEAST_PHONE):
        raise Problem("phone_too_old", version=version, least=LEAST_PHONE)


def _numbers(version: Any) -> tuple[int, ...]:
    found = VERSION_NUMBERS.fullmatch(version) if isinstance(version, str) else None
    if not found:
        raise Problem("bad_request", what="the field version")
    return tuple(int(each) for each in found.groups())


def parse(body: dict[str, Any]) -> dict[str, Sent]:
    """A request's strip-downs. Raises Problem "bad_request" or "too_many_entries"; nothing is stored then."""
    if not is_id(body.get("device")):
        raise Problem("bad_request", what="the field device")
    strips = body.get("strips")
    if not isinstance(strips, dict):
        raise Problem("bad_request", what="the field strips")
    sent = {strip: _parse_strip(strip, given) for strip, given in strips.items()}
    if sum(len(each.entries) for each in sent.values()) > ENTRIES_A_REQUEST:
        raise Problem("too_many_entries", limit=ENTRIES_A_REQUEST)
    return sent


def _count(body: dict[str, Any], field: str) -> int | None:
    """How many the phone says it has not sent: for people to read, and so never a reason to refuse."""
    value = body.get(field)
    return value if _is_number(value, 0) else None


def _parse_strip(strip: str, given: Any) -> Sent:
    if not is_id(strip):
        raise Problem("bad_request", what="a strip-down's identifier")
    if not isinstance(given, dict):
        raise Problem("bad_request", what="a strip-down")
    cursor, entries = given.get("cursor", 0), given.get("entries", [])
    if not _is_number(cursor, 0):
        raise Problem("bad_request", what="the field cursor")
    if not isinstance(entries, list):
        raise Problem("bad_request", what="the field entries")
    last = given.get("last")
    if last is not None and not (
        isinstance(last, dict) and _is_number(last.get("number"), 1) and is_id(last.get("id"))
    ):
        raise Problem("bad_request", what="the field last")
    return Sent(cursor, entries, Last(last["number"], last["id"]) if last else None)


def _is_number(value: Any, least: int) -> bool:
    return isinstance(value, int) and not isinstance(value, bool) and least <= value <= HIGHEST_CURSOR


def receive(
    store: Store, strip: str, entries: list[Any], book: DeviceBook | None = None, decisions: Decisions | None = None
) -> list[dict[str, Any]]:
    """Keep the entries that are right; a problem, with the entry's id, for each that is not.

    The one way in for entries, wherever they come from. What is not refused is on disk. With the `book`, what is an
    owner's to decide is refused from a device on its list that is none, but what was taken when it was one, or is held
    already, is taken again; whoever takes in a file at the terminal is one. What is decided is noted in `decisions`:
    the book's, unless they are given.
    """
    refused, right = [], []
    full = _full(store, strip) if entries else []
    for entry in entries:
        found = check(entry) or full
        if not found and entry["strip"] != strip:
            found = [problem("wrong_strip", "strip", "The entry belongs to another strip-down.")]
        if not found and book and entry["kind"] in OWNERS_KINDS:
            found = _not_an_owner(store, book, entry)
        if found:
            entry_id = entry.get("id") if isinstance(entry, dict) else None
            refused.append({"id": entry_id if is_id(entry_id) else None, **found[0]})
        else:
            right.append(entry)
    appended = store.append(strip, right)
    if noted := decisions or book and book.decisions:
        for entry in right:
            if entry["kind"] in OWNERS_KINDS and entry["id"] in appended.accepted:
                noted.note(entry, now_ms())
    return refused + appended.refused


def _not_an_owner(store: Store, book: DeviceBook, entry: dict[str, Any]) -> list[dict[str, Any]]:
    """The problem of a decision by a device that is on the list and is no owner's, unless it was taken before."""
    if all(each.id != entry["by"] or each.role == OWNER for each in book.devices()) or book.decisions.is_known(entry):
        return []
    # It may have come by a file, at the terminal.
    if any(canonical(each) == canonical(entry) for each in store.held([entry["id"]]).values()):
        return []
    return [problem("owner_decides", "kind", "Only an owner may decide to do without a second check.")]


def _full(store: Store, strip: str) -> list[dict[str, Any]]:
    """The problem of one strip-down more than the PC takes, if it is one."""
    held = store.strips()
    if strip in held or len(held) < STRIPS:
        return []
    text = "The PC holds {limit} strip-downs, and takes no new one."
    return [problem("too_many_strips", "strip", text, limit=STRIPS)]


def collect(
    store: Store, sent: dict[str, Sent], refused: dict[str, list[dict[str, Any]]]
) -> tuple[dict[str, Any], bool]:
    """The answer for each strip-down that the phone named or lacks entries of, and whether there is more."""
    strips: dict[str, Any] = {}
    entries_left, bytes_left, any_more = ANSWER_ENTRIES, ANSWER_BYTES, False
    for strip in [*sent, *(each for each in store.strips() if each not in sent)]:
        named = sent.get(strip, Sent(0, []))
        page = store.read(strip, named.cursor, entries_left, bytes_left)
        any_more = any_more or page.more
        if strip not in sent and not page.entries:
            continue
        entries_left -= len(page.entries)
        bytes_left -= sum(size_in_bytes(entry) for entry in page.entries)
        own = {entry["id"] for entry in named.entries if isinstance(entry, dict) and is_id(entry.get("id"))}
        own -= {each["id"] for each in refused.get(strip, [])}
        strips[strip] = {
            "entries": [entry for entry in page.entries if entry["id"] not in own],
            "cursor": page.cursor, "more": page.more, "refused": refused.get(strip, []),
        }
    lasts = lasts_of(store)  # read behind the pages, and so of no lower number
    for strip, part in strips.items():
        part["last"] = lasts[strip]._asdict() if strip in lasts else None
    return strips, any_more
