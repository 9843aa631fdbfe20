"""The shop's own authority: made once, its root key never written; it issues this computer's certificate."""

import contextlib
from collections.abc import Sequence
from datetime import datetime
from pathlib import Path

from cryptography import x509
from cryptography.exceptions import InvalidSignature
from cryptography.hazmat.primitives.serialization import (
    Encoding,
    NoEncryption,
    PrivateFormat,
    load_pem_private_key,
)

from ..errors import Problem
from ..store.disk import disk_problems, read_or_nothing, write_whole
from . import certificates
from .certificates import Certificate, Key

ROOT, INTERMEDIATE, INTERMEDIATE_KEY = "root.pem", "intermediate.pem", "intermediate_key.pem"
CHAIN, LEAF_KEY = "chain.pem", "leaf_key.pem"


def check_trust(folder: Path, host: str) -> bool:
    """Whether the certificates in a folder are an authority's for this host. Nothing is written.

    Raises Problem "trust_damaged" where somebody put another's certificate in the place of one.
    """
    # The root is written last: with it the rest is there.
    if not (folder / ROOT).exists():
        return False
    root = _certificates(folder / ROOT)[0]
    try:
        if not certificates.allows(root, host):
            return False
    except x509.ExtensionNotFound:
        raise Problem("trust_damaged", file=str(folder / ROOT)) from None
    try:
        _certificates(folder / INTERMEDIATE)[0].verify_directly_issued_by(root)
    except (ValueError, TypeError, InvalidSignature):
        raise Problem("trust_damaged", file=str(folder / INTERMEDIATE)) from None
    return True


class Authority:
    """The certificates in a folder, for one host: `root` is what phones are to trust.

    Made at the first use, and anew when the host is another. The root's key signs one intermediate and is then gone:
    it was never on the disk, so no copy of the folder can make another.

    `made` says whether that was now. Raises Problem "trust_damaged" or a disk's problem.
    """

    def __init__(self, folder: Path, host: str, now: datetime | None = None) -> None:
        self._folder, self.host, self.made = folder, host, False
        with disk_problems():
            folder.mkdir(mode=0o700, parents=True, exist_ok=True)
            if not check_trust(folder, host):
                self._make(now or certificates.now_utc())
                self.made = True
            self.root = _certificates(folder / ROOT)[0]
            self.intermediate = _certificates(folder / INTERMEDIATE)[0]

    def _make(self, now: datetime) -> None:
        root_key, key = certificates.new_key(), certificates.new_key()
        root = certificates.make_root(self.host, root_key, now)
        intermediate = certificates.make_intermediate(self.host, key, root, root_key, now)
        write_whole(self._folder / INTERMEDIATE_KEY, _key_pem(key))
        write_whole(self._folder / INTERMEDIATE, _pem(intermediate))
        for old in (CHAIN, LEAF_KEY):
            (self._folder / old).unlink(missing_ok=True)
        write_whole(self._folder / ROOT, _pem(root))

    @property
    def chain_path(self) -> Path:
        """Leaf and intermediate, as a server shows them."""
        return self._folder / CHAIN

    @property
    def key_path(self) -> Path:
        """The leaf's key."""
        return self._folder / LEAF_KEY

    def leaf(self) -> Certificate | None:
        """The leaf that is served, or None when there is none or it does not fit its key."""
        with contextlib.suppress(Problem):
            leaf = _certificates(self.chain_path)[0]
            if leaf.public_key() == self._key(LEAF_KEY).public_key():
                return leaf
        return None

    @property
    def can_renew(self) -> bool:
        """Whether the key that signs leaves can be read."""
        with contextlib.suppress(Problem), disk_problems():
            self._key(INTERMEDIATE_KEY)
            return True
        return False

    def renew(self, addresses: Sequence[str], now: datetime | None = None) -> bool:
        """Issue a new leaf where one is wanted: none yet, a month left, or other addresses than it names.

        Addresses that are not private are left out. Whether a new one was issued. By a clock that stands before the
        beginning of the present leaf none is: phones, whose clocks are right, would take it for one that has run out.
        Raises Problem "trust_damaged" where it is wanted and can't be issued, and the present one holds no longer.
        """
        now = now or certificates.now_utc()
        hosts = list(dict.fromkeys([self.host, *sorted(filter(certificates.is_private, addresses))]))
        with disk_problems():
            leaf = self.leaf()
            if leaf and set(hosts) <= set(certificates.hosts_of(leaf)) and not certificates.runs_out(leaf, now):
                return False
            if leaf and certificates.clock_behind(leaf, now):
                return False
            if leaf and not self.can_renew and now < leaf.not_valid_after_utc:
                return False
            self._issue(hosts, max(now, self.intermediate.not_valid_before_utc + certificates.BACKDATED))
        return True

    def _issue(self, hosts: Sequence[str], now: datetime) -> None:
        key = certificates.new_key()
        leaf = certificates.make_leaf(hosts, key, self.intermediate, self._key(INTERMEDIATE_KEY), now)
        write_whole(self.key_path, _key_pem(key))
        write_whole(self.chain_path, _pem(leaf) + _pem(self.intermediate))

    def _key(self, name: str) -> Key:
        try:
            key = load_pem_private_key(read_or_nothing(self._folder / name), password=None)
        except ValueError:
            raise Problem("trust_damaged", file=str(self._folder / name)) from None
        if not isinstance(key, Key):
            raise Problem("trust_damaged", file=str(self._folder / name))
        return key


def _certificates(path: Path) -> list[Certificate]:
    try:
        return x509.load_pem_x509_certificates(read_or_nothing(path))
    except ValueError:
        raise Problem("trust_damaged", file=str(path)) from None


def _pem(certificate: Certificate) -> bytes:
    return certificate.public_bytes(Encoding.PEM)


def _key_pem(key: Key) -> bytes:
    return key.private_bytes(Encoding.PEM, PrivateFormat.PKCS8, NoEncryption())
