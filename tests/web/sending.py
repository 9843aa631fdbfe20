"""Sending, looked at from outside: what a phone adds, in which state it keeps it, and what goes out."""

import json

from web.phone import uuid

ALL_SENT = "(await m.log.counts()).unsent === 0 && m.sync.snapshot().phase === 'idle'"


def add(tab, *entries):
    tab.run("await m.log.addEntries(a)", list(entries))


def states(tab, strip=1):
    return {row["id"]: row["state"] for row in tab.run("return m.log.entriesOf(a)", uuid(strip))}


def ids_of(tab, strip=1):
    return sorted(states(tab, strip))


def watch_requests(phone):
    """The bodies of all sync requests of this phone, as bytes, as they are made."""
    bodies = []
    phone.context.on("request", lambda r: bodies.append(r.post_data_buffer) if r.url.endswith("/api/sync") else None)
    return bodies


def entries_in(body):
    return [each for strip in json.loads(body)["strips"].values() for each in strip["entries"]]


def refuse(phone, path, status, code, text, **values):
    """The PC answers `path` with an error, in the one shape that errors have."""
    error = json.dumps({"error": {"code": code, "text": text, "values": values}})
    phone.context.route(
        "**" + path, lambda route: route.fulfill(status=status, content_type="application/json", body=error)
    )
