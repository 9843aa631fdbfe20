"""What `serve --lan` needs to know, decided before anything is served: the origin, the certificate, the ports."""

from datetime import datetime
from pathlib import Path
from typing import NamedTuple

from cryptography import x509
from cryptography.hazmat.primitives.serialization import load_pem_private_key

from ..errors import Problem
from ..store.disk import disk_problems
from ..trust import Authority, Origin
from ..trust.authority import check_trust
from ..trust.certificates import Certificate, clock_behind, fingerprint, hosts_of, now_utc
from ..trust.origin import decide_origin, keep_origin, origin_before
from .addresses import private_addresses

TRUST = "trust"


class Wanted(NamedTuple):
    """What the command line asked for."""

    host: str | None
    port: int | None
    trust_port: int
    new_origin: bool
    certificate: Path | None
    certificate_key: Path | None


class ShopNetwork(NamedTuple):
    """Where phones find the pages, and what they are to trust; `authority` is None with an own certificate.

    `before` is the origin that phones know, where there was one.
    """

    origin: Origin
    chain: Path
    key: Path
    authority: Authority | None
    trust_port: int
    before: Origin | None = None

    @property
    def moved(self) -> bool:
        """Whether phones know another origin than this."""
        return self.before is not None and self.before != self.origin

    def renew(self, now: datetime | None = None) -> bool:
        """Issue a new certificate where one is wanted; whether one was."""
        return self.authority.renew(private_addresses(), now) if self.authority else False

    def certificate(self) -> Certificate:
        """What the pages are served with. Raises Problem "certificate_unusable" of the owner's own.

        The shop's authority has seen to its leaf; by this computer's clock alone it is not refused.
        """
        if self.authority and (leaf := self.authority.leaf()):
            return leaf
        return own_certificate(self.chain, self.key)

    @property
    def trust_address(self) -> str:
        """Where phones fetch the root: by address, because a name is not to be relied on before it works."""
        return f"http://{(private_addresses() or [self.origin.host])[0]}:{self.trust_port}"

    def warnings(self, now: datetime | None = None) -> list[str]:
        """What is wrong and keeps nobody from serving: a clock that is behind, a certificate that ends for good."""
        leaf, said = self.certificate(), list[str]()
        if days := clock_behind(leaf, now or now_utc()):
            said.append(
                f"The clock of this computer stands at {days['now']}, before its certificate begins ({days['begin']})."
                " Set the clock.")
        if self.authority and not self.authority.can_renew:
            said.append(
                "The key that renews the certificate (trust/intermediate_key.pem) is gone. The certificate holds until"
                f" {leaf.not_valid_after_utc:%Y-%m-%d}; phones can't reach this computer afterwards. Before that, move"
                " the folder trust away and start again: a new certificate is made, and every phone fetches and trusts"
                " it anew. What phones have not sent stays on them.")
        return said

    def words(self) -> list[str]:
        """What the terminal says of it."""
        said = [f"Phones find it at {self.origin}."]
        if self.authority and self.authority.made and self.before:
            said.append(
                "The certificate that phones trust was not there or stands for another name, and a new one was made."
                " Each phone fetches and trusts it anew before it reaches this computer again; what it has not sent"
                " stays on it.")
        if self.authority:
            said.append(f"A new phone first fetches the certificate at {self.trust_address}. Its SHA-256, to compare:")
            figures = fingerprint(self.authority.root)
            said += [f"  {figures[:39]}", f"  {figures[40:]}"]
        return said


def join(folder: Path, wanted: Wanted, default_port: int) -> ShopNetwork:
    """Decide all that is needed. Raises Problem before anything is served.

    A start that is refused for its names or certificates leaves the origin and the certificates as they were.
    """
    if bool(wanted.certificate) != bool(wanted.certificate_key):
        raise Problem("certificate_and_key")
    with disk_problems():
        folder.mkdir(mode=0o700, parents=True, exist_ok=True)
    before = origin_before(folder, wanted.new_origin)
    if wanted.certificate and wanted.certificate_key:
        leaf = own_certificate(wanted.certificate, wanted.certificate_key)
        host = wanted.host or _host_of(leaf, before, wanted)
        choice = decide_origin(folder, host, wanted.port, default_port, wanted.new_origin)
        check_name(leaf, choice.origin, wanted.certificate)
        return ShopNetwork(
            keep_origin(folder, choice), wanted.certificate.absolute(), wanted.certificate_key.absolute(), None,
            wanted.trust_port, before)
    choice = decide_origin(folder, wanted.host, wanted.port, default_port, wanted.new_origin)
    with disk_problems():
        check_trust(folder / TRUST, choice.origin.host)
    origin = keep_origin(folder, choice)
    authority = Authority(folder / TRUST, origin.host)
    network = ShopNetwork(origin, authority.chain_path, authority.key_path, authority, wanted.trust_port, before)
    network.renew()
    return network


def _host_of(leaf: Certificate, before: Origin | None, wanted: Wanted) -> str | None:
    """The host that an owner's certificate stands for: the one that phones know, in whatever place it is named.

    Raises Problem "certificate_for_another" where it is not named, and no other was to be chosen.
    """
    named = hosts_of(leaf)
    if before and _stands_for(leaf, before.host):
        return before.host
    if before and not wanted.new_origin:
        raise Problem(
            "certificate_for_another", file=str(wanted.certificate), names=", ".join(named)[:100], kept=str(before))
    return next((name for name in named if "*" not in name), None)


def own_certificate(certificate: Path, key: Path) -> Certificate:
    """The owner's leaf. Raises Problem "certificate_unusable" where it, or its key, is none or they do not fit.

    By a clock that stands before its beginning it is not refused: phones, whose clocks are right, take it.
    """
    try:
        leaf = x509.load_pem_x509_certificates(certificate.read_bytes())[0]
        fits = load_pem_private_key(key.read_bytes(), password=None).public_key() == leaf.public_key()
        hosts_of(leaf)
    except (OSError, ValueError, TypeError, x509.ExtensionNotFound) as error:
        raise Problem("certificate_unusable", file=str(certificate), what=str(error)[:200]) from None
    if not fits:
        raise Problem("certificate_unusable", file=str(certificate), what="the key belongs to another")
    if now_utc() > leaf.not_valid_after_utc:
        until = f"{leaf.not_valid_before_utc:%Y-%m-%d} to {leaf.not_valid_after_utc:%Y-%m-%d}"
        raise Problem("certificate_unusable", file=str(certificate), what=f"it holds from {until}")
    return leaf


def check_name(leaf: Certificate, origin: Origin, certificate: Path) -> None:
    """Raise Problem "certificate_unusable" where a certificate does not stand for the origin's host."""
    if not _stands_for(leaf, origin.host):
        raise Problem(
            "certificate_unusable", file=str(certificate),
            what=f"it is for {', '.join(hosts_of(leaf))[:100]}, and the pages are to be at {origin.host};"
                 " another name is chosen with --host")


def _stands_for(leaf: Certificate, host: str) -> bool:
    return not {host, "*." + host.partition(".")[2]}.isdisjoint(hosts_of(leaf))
