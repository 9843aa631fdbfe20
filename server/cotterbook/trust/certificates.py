"""X.509 certificates (RFC 5280) as Cotterbook makes them: what stands in each, and how long it holds.

Every certificate of an authority is constrained to one host name and the private addresses of IPv4 (RFC 1918,
RFC 3927), critically: whoever gets hold of a key can stand in for this one shop's computer and for nobody else. The
constraint stands in the root and in the intermediate, because some phones do not look at a root's own.
"""

import ipaddress
from collections.abc import Sequence
from datetime import UTC, datetime, timedelta

from cryptography import x509
from cryptography.hazmat.primitives import hashes
from cryptography.hazmat.primitives.asymmetric.ec import SECP256R1, EllipticCurvePrivateKey, generate_private_key
from cryptography.x509.oid import ExtendedKeyUsageOID, NameOID

PRIVATE = tuple(map(ipaddress.IPv4Network, ("10.0.0.0/8", "172.16.0.0/12", "192.168.0.0/16", "169.254.0.0/16")))
NO_IPV6 = ipaddress.IPv6Network("::/0")
AUTHORITY_DAYS = 3_652
# Phones refuse leaves that hold longer: 825 days for a private authority at the most, 398 for a public one.
LEAF_DAYS = 397
RENEWED_BEFORE_DAYS = 30
# A phone's clock may be behind.
BACKDATED = timedelta(days=1)

Certificate = x509.Certificate
Key = EllipticCurvePrivateKey


def new_key() -> Key:
    """A fresh key on P-256, the curve that every phone knows."""
    return generate_private_key(SECP256R1())


def is_private(address: str) -> bool:
    """Whether the text is an IPv4 address that our certificates may name."""
    try:
        return any(ipaddress.IPv4Address(address) in network for network in PRIVATE)
    except ValueError:
        return False


def make_root(host: str, key: Key, now: datetime) -> Certificate:
    """The certificate that a person lets a phone trust: constrained, and allowed one authority below it."""
    name = _name(f"Cotterbook on {host}")
    return _authority(name, key, name, key, host, 1, now)


def make_intermediate(host: str, key: Key, root: Certificate, root_key: Key, now: datetime) -> Certificate:
    """The one authority that a root ever signs: constrained the same, for servers alone."""
    return _authority(_name(f"Cotterbook on {host}, signing"), key, root.subject, root_key, host, 0, now)


def make_leaf(
    hosts: Sequence[str], key: Key, issuer: Certificate, issuer_key: Key, now: datetime, days: int = LEAF_DAYS
) -> Certificate:
    """The certificate that this computer shows, for these host names and addresses."""
    builder = _begun(_name(hosts[0]), key, issuer.subject, now, days)
    usage = x509.KeyUsage(True, False, False, False, False, False, False, False, False)
    return (
        builder.add_extension(x509.SubjectAlternativeName([_general(host) for host in hosts]), critical=False)
        .add_extension(x509.BasicConstraints(ca=False, path_length=None), critical=True)
        .add_extension(usage, critical=True)
        .add_extension(x509.ExtendedKeyUsage([ExtendedKeyUsageOID.SERVER_AUTH]), critical=False)
        .add_extension(x509.AuthorityKeyIdentifier.from_issuer_public_key(issuer_key.public_key()), critical=False)
        .sign(issuer_key, hashes.SHA256())
    )


def hosts_of(leaf: Certificate) -> list[str]:
    """The names and addresses that a leaf is for."""
    names = leaf.extensions.get_extension_for_class(x509.SubjectAlternativeName).value
    return [str(name.value) for name in names]


def allows(authority: Certificate, host: str) -> bool:
    """Whether an authority was made for this host."""
    constraints = authority.extensions.get_extension_for_class(x509.NameConstraints).value
    return _permitted(host) in (constraints.permitted_subtrees or [])


def runs_out(certificate: Certificate, now: datetime) -> bool:
    """Whether a leaf is to be made anew."""
    return certificate.not_valid_after_utc - now < timedelta(days=RENEWED_BEFORE_DAYS)


def clock_behind(certificate: Certificate, now: datetime) -> dict[str, str] | None:
    """The days {now} and {begin} where a clock stands before the certificate's beginning: it is the clock that errs."""
    begin = certificate.not_valid_before_utc
    return {"now": f"{now:%Y-%m-%d}", "begin": f"{begin:%Y-%m-%d}"} if now < begin else None


def fingerprint(certificate: Certificate) -> str:
    """The SHA-256 of a certificate in groups of four, as phones and people compare it."""
    text = certificate.fingerprint(hashes.SHA256()).hex().upper()
    return " ".join(text[at : at + 4] for at in range(0, len(text), 4))


def now_utc() -> datetime:
    """The time, to the second, as certificates write it."""
    return datetime.now(UTC).replace(microsecond=0)


def _authority(
    name: x509.Name, key: Key, issuer: x509.Name, issuer_key: Key, host: str, path_length: int, now: datetime
) -> Certificate:
    allowed = [_permitted(host), *(x509.IPAddress(network) for network in PRIVATE)]
    constraints = x509.NameConstraints(permitted_subtrees=allowed, excluded_subtrees=[x509.IPAddress(NO_IPV6)])
    usage = x509.KeyUsage(False, False, False, False, False, True, True, False, False)
    return (
        _begun(name, key, issuer, now, AUTHORITY_DAYS)
        .add_extension(x509.BasicConstraints(ca=True, path_length=path_length), critical=True)
        .add_extension(usage, critical=True)
        .add_extension(constraints, critical=True)
        .add_extension(x509.ExtendedKeyUsage([ExtendedKeyUsageOID.SERVER_AUTH]), critical=False)
        .add_extension(x509.AuthorityKeyIdentifier.from_issuer_public_key(issuer_key.public_key()), critical=False)
        .sign(issuer_key, hashes.SHA256())
    )


def _begun(name: x509.Name, key: Key, issuer: x509.Name, now: datetime, days: int) -> x509.CertificateBuilder:
    return (
        x509.CertificateBuilder()
        .subject_name(name)
        .issuer_name(issuer)
        .public_key(key.public_key())
        .serial_number(x509.random_serial_number())
        .not_valid_before(now - BACKDATED)
        .not_valid_after(now + timedelta(days=days) - BACKDATED)
        .add_extension(x509.SubjectKeyIdentifier.from_public_key(key.public_key()), critical=False)
    )


def _name(text: str) -> x509.Name:
    # A common name holds 64 characters at the most; what counts stands in the alternative names.
    return x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, text[:64])])


def _general(host: str) -> x509.GeneralName:
    try:
        return x509.IPAddress(ipaddress.IPv4Address(host))
    except ValueError:
        return x509.DNSName(host)


def _permitted(host: str) -> x509.GeneralName:
    # Where the origin is an address no name at all is wanted; a list without names would allow every name.
    return x509.DNSName("invalid") if is_private(host) else x509.DNSName(host)
