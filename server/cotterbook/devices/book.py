"""The book of devices: one small file, written whole under a lock that processes share.

What is in it changes seldom; when a device was last seen is kept in memory and written once a minute. A second process
on the same folder (another server, or `cotterbook pair`) reads what the first wrote, because the file has changed.
"""

import json
import secrets
import threading
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import Any, NamedTuple

from filelock import FileLock

from ..core.values import is_id
from ..errors import Problem
from ..store.disk import disk_problems, read_or_nothing, write_whole
from .audit import Audit
from .decisions import Decisions
from .names import checked_name
from .records import (
    CODE_DIGITS,
    CODE_LIVES_MS,
    ROLES,
    Code,
    Device,
    code_hash,
    new_code,
    new_token,
    secret_hash,
)  # fmt: skip

FILE, LOCK, VERSION = "devices.json", "devices.lock", 1
SEEN_WRITTEN_MS = 60_000
# A book of more would be a mistake or an attack.
MOST_DEVICES = 200
MOST_CODES = 20


class Seen(NamedTuple):
    """When a device last asked, and what it said it had not sent."""

    seen_ms: int
    unsent: int | None
    unsent_photos: int | None


class DeviceBook:
    """The devices of a data folder, and the record of who was let in.

    Raises Problem "devices_damaged", "newer_format" or a disk's problem wherever the file is read.
    """

    def __init__(self, folder: Path) -> None:
        with disk_problems():
            folder.mkdir(mode=0o700, parents=True, exist_ok=True)
        self._path, self.audit = folder / FILE, Audit(folder)
        self.decisions = Decisions(self.audit)
        self._between_processes = FileLock(folder / LOCK, thread_local=False)
        self._lock = threading.RLock()
        self._stamp: tuple[int, int, int] | None = None
        self._devices: dict[str, Device] = {}
        self._codes: dict[str, Code] = {}
        # With the codes in the file: they live for minutes, and another salt is made with the next file.
        self._salt = secrets.token_hex(16)
        self._by_token: dict[str, Device] = {}
        self._seen: dict[str, Seen] = {}
        self._seen_written_ms = 0
        self._refresh()

    # What is asked of every request -------------------------------------------

    def find(self, token: str) -> Device | None:
        """The device whose token this is, revoked or not; None for an unknown one."""
        with self._lock:
            self._refresh()
            return self._by_token.get(secret_hash(token))

    def seen(self, device_id: str, now_ms: int, unsent: int | None, unsent_photos: int | None) -> None:
        """Note that a device asked, and what it says it has not sent."""
        with self._lock:
            self._seen[device_id] = Seen(now_ms, unsent, unsent_photos)
            if now_ms - self._seen_written_ms >= SEEN_WRITTEN_MS:
                self._seen_written_ms = now_ms
                # A folder that cannot be written just now is no reason to refuse what a phone brings.
                with suppress(Problem):
                    self.write_seen(now_ms)

    def write_seen(self, now_ms: int) -> None:
        """Put on the disk when each device was last seen."""
        if self._seen:
            with self._changing():
                self._seen_written_ms = now_ms

    def devices(self) -> list[Device]:
        """All devices, the one paired last in front."""
        with self._lock:
            self._refresh()
            found = [each._replace(**self._seen[each.id]._asdict()) if each.id in self._seen else each
                     for each in self._devices.values()]
        return sorted(found, key=lambda each: -each.paired_ms)

    def names(self) -> dict[str, str]:
        """What each device is called, by its identifier."""
        return {each.id: each.name for each in self.devices()}

    def has_owner(self) -> bool:
        """Whether some device may pair others."""
        return any(each.may(ROLES[0]) for each in self.devices())

    # Letting in and out -------------------------------------------------------

    def make_code(self, role: str, now_ms: int, by: str | None = None) -> str:
        """A new pairing code for one device, which then has this role. Raises Problem "bad_request" or "many_codes"."""
        if role not in ROLES:
            raise Problem("bad_request", what="the field role")
        code = new_code()
        with self._changing():
            self._codes = {key: each for key, each in self._codes.items() if each.until_ms > now_ms}
            if len(self._codes) >= MOST_CODES:
                raise Problem("many_codes")
            self._codes[code_hash(code, self._salt)] = Code(role, now_ms + CODE_LIVES_MS)
            self.audit.write("code_made", now_ms, role=role, by=by)
        return code

    def waiting_codes(self, now_ms: int) -> list[int]:
        """Until when each code is good that nobody has taken yet, in ms since 1970: that tells one from another."""
        with self._lock:
            self._refresh()
            return sorted(each.until_ms for each in self._codes.values() if each.until_ms > now_ms)

    def pair(self, code: str, device_id: str, name: str, now_ms: int, token: str | None = None) -> tuple[str, Device]:
        """Take a code, once, for a device: its new token and its record.

        `token` is what the device holds already. Raises Problem "bad_request", what `checked_name` does,
        "wrong_code", "device_known" or "many_devices"; a right code stays good then, but for "wrong_code".
        """
        if not is_id(device_id):
            raise Problem("bad_request", what="the field device")
        name = checked_name(name)
        if not (code.isascii() and code.isdecimal() and len(code) == CODE_DIGITS):
            raise Problem("wrong_code")
        made = new_token()
        with self._changing():
            kept_as = code_hash(code, self._salt)
            waiting = self._codes.get(kept_as)
            if waiting is None or waiting.until_ms <= now_ms:
                raise Problem("wrong_code")
            self._check_room(device_id, token)
            del self._codes[kept_as]
            device = Device(device_id, name, waiting.role, secret_hash(made), now_ms)
            self._devices[device_id] = device
            # Before the list is written: nobody is let in of whom no record can be kept, and no token is lost.
            self.audit.write("paired", now_ms, device=device_id, role=device.role)
        return made, device

    def _check_room(self, device_id: str, token: str | None) -> None:
        known = self._devices.get(device_id)
        # An identifier stands in every entry, for all to read: it alone takes nobody's place.
        if known and known.revoked_ms is None and (token is None or secret_hash(token) != known.token_sha256):
            raise Problem("device_known")
        if not known and len(self._devices) >= MOST_DEVICES:
            raise Problem("many_devices", limit=MOST_DEVICES)

    def revoke(self, device_id: str, now_ms: int, by: str | None = None) -> None:
        """Let a device in no longer, from the next request on. Raises Problem "no_such_device"."""
        with self._changing():
            device = self._known(device_id)
            self._devices[device_id] = device._replace(revoked_ms=device.revoked_ms or now_ms)
        self.audit.write("revoked", now_ms, device=device_id, by=by)

    def change(self, device_id: str, name: str, role: str, now_ms: int, by: str | None = None) -> None:
        """Give a device another name or role. Raises Problem "no_such_device" or as `pair` does."""
        if role not in ROLES:
            raise Problem("bad_request", what="the field role")
        name = checked_name(name)
        with self._changing():
            self._devices[device_id] = self._known(device_id)._replace(name=name, role=role)
        self.audit.write("changed", now_ms, device=device_id, role=role, by=by)

    def _known(self, device_id: str) -> Device:
        device = self._devices.get(device_id)
        if device is None:
            raise Problem("no_such_device")
        return device

    # The file -----------------------------------------------------------------

    @contextmanager
    def _changing(self) -> Iterator[None]:
        """Change what is held, alone; it is on the disk at the end, or as it was when something is raised."""
        with self._lock, disk_problems(), self._between_processes:
            self._refresh()
            kept = dict(self._devices), dict(self._codes)
            try:
                yield
                self._note_seen()
                data = {
                    "format": "cotterbook devices", "version": VERSION, "salt": self._salt,
                    "devices": [each._asdict() for each in self._devices.values()],
                    "codes": {key: each._asdict() for key, each in self._codes.items()},
                }
                write_whole(self._path, json.dumps(data, indent=1, ensure_ascii=False).encode())
            except BaseException:
                self._devices, self._codes = kept
                raise
            self._refresh()

    def _note_seen(self) -> None:
        for device_id, seen in self._seen.items():
            device = self._devices.get(device_id)
            if device and (device.seen_ms or 0) <= seen.seen_ms:
                self._devices[device_id] = device._replace(**seen._asdict())

    def _refresh(self) -> None:
        """Read the file again if another process, or this one, has put another in its place."""
        with disk_problems():
            try:
                found = self._path.stat()
            except FileNotFoundError:
                return
            stamp = (found.st_ino, found.st_mtime_ns, found.st_size)
            if stamp != self._stamp:
                self._devices, self._codes, self._salt = self._parse(read_or_nothing(self._path))
                self._by_token = {each.token_sha256: each for each in self._devices.values()}
                self._stamp = stamp

    def _parse(self, data: bytes) -> tuple[dict[str, Device], dict[str, Code], str]:
        try:
            kept: dict[str, Any] = json.loads(data)
            if kept["version"] > VERSION:
                raise Problem("newer_format", file=self._path.name)
            devices = {each["id"]: Device(**each) for each in kept["devices"]}
            # A list that was written without a salt holds codes that were kept otherwise: nobody can give those.
            codes = {key: Code(**each) for key, each in kept["codes"].items()}
            return devices, codes, str(kept.get("salt", self._salt))
        except (ValueError, KeyError, TypeError, AttributeError):
            raise Problem("devices_damaged", file=str(self._path)) from None
