"""The shop's authority, held against two verifiers of other people: openssl and cryptography.

What a certificate must hold: RFC 5280 (name constraints, 4.2.1.10; path length, 4.2.1.9; key usage, 4.2.1.3).
"""

import ipaddress
import os
import shutil
import stat
import subprocess
from datetime import UTC, datetime, timedelta

import pytest
from cryptography import x509
from cryptography.hazmat.primitives import hashes
from cryptography.hazmat.primitives.serialization import Encoding, load_pem_private_key
from cryptography.x509.verification import PolicyBuilder, Store, VerificationError

from cotterbook.errors import Problem
from cotterbook.trust import Authority, certificates
from cotterbook.trust.certificates import make_leaf, new_key

HOST = "cotterbook-ab12.local"
ADDRESS = "192.168.7.20"
NOW = certificates.now_utc()
FOREIGN = ["other.local", "bank.example", "cotterbook-ab12.local.example", "8.8.8.8", "172.32.0.1", "local"]


@pytest.fixture(scope="module")
def authority(tmp_path_factory):
    authority = Authority(tmp_path_factory.mktemp("trust") / "trust", HOST, NOW)
    authority.renew([ADDRESS, "8.8.8.8", "fe80::1"], NOW)
    return authority


def subject(host):
    try:
        return x509.IPAddress(ipaddress.ip_address(host))
    except ValueError:
        return x509.DNSName(host)


def verify_by_cryptography(authority, leaf, host, intermediates=None):
    verifier = PolicyBuilder().store(Store([authority.root])).time(NOW).build_server_verifier(subject(host))
    return verifier.verify(leaf, [authority.intermediate] if intermediates is None else intermediates)


def verify_by_openssl(authority, leaf, host, folder, between=None):
    """Exit code and words of `openssl verify`."""
    for name, certificate in (("root", authority.root), ("between", between or authority.intermediate), ("leaf", leaf)):
        (folder / f"{name}.pem").write_bytes(certificate.public_bytes(Encoding.PEM))
    how = ["-verify_ip", host] if host[-1].isdigit() else ["-verify_hostname", host]
    done = subprocess.run(
        ["openssl", "verify", "-x509_strict", "-purpose", "sslserver", *how, "-CAfile", folder / "root.pem",
         "-untrusted", folder / "between.pem", folder / "leaf.pem"], capture_output=True, text=True, check=False)
    return done.returncode, done.stdout + done.stderr


def foreign_leaf(authority, host, key_file="intermediate_key.pem"):
    """What a thief of the intermediate's key could make: a leaf for a name of his own choice."""
    key = load_pem_private_key((authority.key_path.parent / key_file).read_bytes(), None)
    return make_leaf([host], new_key(), authority.intermediate, key, NOW)


@pytest.mark.parametrize("host", [HOST, ADDRESS])
def test_the_leaf_holds_for_name_and_address(authority, host, tmp_path):
    leaf = authority.leaf()
    assert [each.subject for each in verify_by_cryptography(authority, leaf, host)][-1] == authority.root.subject
    assert verify_by_openssl(authority, leaf, host, tmp_path)[0] == 0


@pytest.mark.parametrize("host", FOREIGN)
def test_a_leaf_for_any_other_name_is_refused_by_both(authority, host, tmp_path):
    leaf = foreign_leaf(authority, host)
    with pytest.raises(VerificationError, match=r"(?i)constraint|permitted|excluded"):
        verify_by_cryptography(authority, leaf, host)
    code, words = verify_by_openssl(authority, leaf, host, tmp_path)
    assert code != 0 and "permitted subtree violation" in words


def test_a_leaf_for_an_ipv6_address_is_refused_by_both(authority, tmp_path):
    key = load_pem_private_key((authority.key_path.parent / "intermediate_key.pem").read_bytes(), None)
    named = x509.SubjectAlternativeName([x509.IPAddress(ipaddress.ip_address("2001:db8::1"))])
    leaf = (
        x509.CertificateBuilder().subject_name(x509.Name([])).issuer_name(authority.intermediate.subject)
        .public_key(new_key().public_key()).serial_number(1).not_valid_before(NOW - timedelta(days=1))
        .not_valid_after(NOW + timedelta(days=9)).add_extension(named, critical=True)
        .add_extension(x509.AuthorityKeyIdentifier.from_issuer_public_key(key.public_key()), critical=False)
        .sign(key, hashes.SHA256())
    )
    with pytest.raises(VerificationError):
        verify_by_cryptography(authority, leaf, "2001:db8::1")
    assert "subtree violation" in verify_by_openssl(authority, leaf, "2001:db8::1", tmp_path)[1]


def test_the_intermediate_can_make_no_further_authority(authority, tmp_path):
    key = load_pem_private_key((authority.key_path.parent / "intermediate_key.pem").read_bytes(), None)
    below_key = new_key()
    # Of another name: what is issued to its own issuer counts in no path (RFC 5280, 4.2.1.9).
    host = "below." + HOST
    below = certificates.make_intermediate(host, below_key, authority.intermediate, key, NOW)
    leaf = make_leaf([host], new_key(), below, below_key, NOW)
    with pytest.raises(VerificationError):
        verify_by_cryptography(authority, leaf, host, [below, authority.intermediate])
    (tmp_path / "chain.pem").write_bytes(
        b"".join(each.public_bytes(Encoding.PEM) for each in (below, authority.intermediate)))
    (tmp_path / "root.pem").write_bytes(authority.root.public_bytes(Encoding.PEM))
    (tmp_path / "leaf.pem").write_bytes(leaf.public_bytes(Encoding.PEM))
    done = subprocess.run(
        ["openssl", "verify", "-CAfile", tmp_path / "root.pem", "-untrusted", tmp_path / "chain.pem",
         tmp_path / "leaf.pem"], capture_output=True, text=True, check=False)
    assert done.returncode != 0 and "path length constraint exceeded" in done.stdout + done.stderr


def test_a_leaf_holds_397_days_and_its_key_is_on_p_256(authority):
    leaf = authority.leaf()
    assert leaf.not_valid_after_utc - leaf.not_valid_before_utc == timedelta(days=397)
    assert leaf.not_valid_before_utc == NOW - timedelta(days=1)
    assert certificates.hosts_of(leaf) == [HOST, ADDRESS]  # the public and the IPv6 address are left out
    assert leaf.public_key().curve.name == "secp256r1"


def test_a_leaf_is_renewed_in_its_last_month_and_not_before(tmp_path):
    authority = Authority(tmp_path / "trust", HOST, NOW)
    assert authority.renew([ADDRESS], NOW)
    first = authority.leaf()
    assert not authority.renew([ADDRESS], NOW + timedelta(days=365))
    assert authority.leaf() == first
    assert authority.renew([ADDRESS], NOW + timedelta(days=367))
    assert authority.leaf().serial_number != first.serial_number
    assert authority.leaf().not_valid_after_utc == NOW + timedelta(days=367 + 396)


def test_another_address_makes_a_new_leaf_under_the_same_root(tmp_path):
    authority = Authority(tmp_path / "trust", HOST, NOW)
    authority.renew([ADDRESS], NOW)
    again = Authority(tmp_path / "trust", HOST, NOW)
    assert again.root == authority.root
    assert not again.renew([], NOW)  # an address that has gone does no harm
    assert again.renew(["10.1.2.3"], NOW)
    assert certificates.hosts_of(again.leaf()) == [HOST, "10.1.2.3"]


@pytest.mark.skipif(os.name == "nt", reason="Windows keeps no such modes")
def test_keys_are_for_their_owner_alone_and_the_root_key_is_nowhere(authority):
    folder = authority.key_path.parent
    assert stat.S_IMODE(folder.stat().st_mode) == 0o700
    keys = {}
    for path in folder.iterdir():
        if b"PRIVATE KEY" in path.read_bytes():
            assert stat.S_IMODE(path.stat().st_mode) == 0o600, path
            keys[path.name] = load_pem_private_key(path.read_bytes(), None).public_key()
    assert keys == {
        "intermediate_key.pem": authority.intermediate.public_key(), "leaf_key.pem": authority.leaf().public_key()}
    assert authority.root.public_key() not in keys.values()


def test_a_root_for_another_host_gives_way_to_a_new_one(tmp_path):
    first = Authority(tmp_path / "trust", HOST, NOW)
    first.renew([], NOW)
    second = Authority(tmp_path / "trust", "bench.local", NOW)
    assert second.root != first.root and second.leaf() is None
    second.renew([], NOW)
    verify_by_cryptography(second, second.leaf(), "bench.local")


def test_where_the_origin_is_an_address_no_name_is_allowed(tmp_path):
    authority = Authority(tmp_path / "trust", ADDRESS, NOW)
    authority.renew([], NOW)
    verify_by_cryptography(authority, authority.leaf(), ADDRESS)
    code, words = verify_by_openssl(authority, foreign_leaf(authority, "shop.local"), "shop.local", tmp_path)
    assert code != 0 and "permitted subtree violation" in words


def test_the_fingerprint_is_openssl_s(authority, tmp_path):
    (tmp_path / "root.pem").write_bytes(authority.root.public_bytes(Encoding.PEM))
    said = subprocess.run(
        ["openssl", "x509", "-in", tmp_path / "root.pem", "-noout", "-fingerprint", "-sha256"],
        capture_output=True, text=True, check=True).stdout
    assert certificates.fingerprint(authority.root).replace(" ", "") == said.strip().split("=")[1].replace(":", "")


@pytest.mark.parametrize("name", ["root.pem", "intermediate.pem"])
def test_damaged_certificates_are_reported_and_not_overwritten(tmp_path, name):
    Authority(tmp_path / "trust", HOST, NOW).renew([], NOW)
    path = tmp_path / "trust" / name
    path.write_bytes(path.read_bytes()[:100])
    with pytest.raises(Problem) as found:
        Authority(tmp_path / "trust", HOST, NOW)
    assert found.value.code == "trust_damaged" and path.stat().st_size == 100


@pytest.mark.parametrize("name", ["chain.pem", "leaf_key.pem"])
@pytest.mark.parametrize("content", [None, b"", b"-----BEGIN CERTIFICATE-----\nxx\n-----END CERTIFICATE-----\n"])
def test_a_leaf_that_is_lost_or_damaged_is_made_anew(tmp_path, name, content):
    authority = Authority(tmp_path / "trust", HOST, NOW)
    authority.renew([], NOW)
    if content is None:
        (tmp_path / "trust" / name).unlink()
    else:
        (tmp_path / "trust" / name).write_bytes(content)
    assert authority.leaf() is None and authority.renew([], NOW)
    verify_by_cryptography(authority, authority.leaf(), HOST)


@pytest.mark.parametrize("name", ["intermediate.pem", "intermediate_key.pem"])
def test_what_is_gone_is_said_with_what_to_do(tmp_path, name):
    """Without the intermediate's key the present leaf is served to its end; only then there is nothing to serve."""
    folder = tmp_path / "trust"
    Authority(folder, HOST, NOW).renew([], NOW)
    (folder / name).unlink()
    with pytest.raises(Problem) as found:
        authority = Authority(folder, HOST, NOW)
        assert authority.leaf() is not None and not authority.can_renew
        assert not authority.renew([ADDRESS], NOW) and not authority.renew([], NOW + timedelta(days=390))
        authority.renew([], NOW + timedelta(days=398))
    assert found.value.code == "trust_damaged" and str(folder / name) in str(found.value)


def test_a_clock_that_is_years_behind_spoils_no_certificate(tmp_path):
    """A leaf by that clock would have run out for every phone."""
    flat = NOW - timedelta(days=3_000)
    authority = Authority(tmp_path / "trust", HOST, NOW)
    assert authority.renew([], flat)
    first = authority.leaf()
    verify_by_cryptography(authority, first, HOST)
    assert not authority.renew([ADDRESS], flat) and authority.leaf() == first
    assert authority.renew([ADDRESS], NOW)
    verify_by_cryptography(authority, authority.leaf(), ADDRESS)


def test_a_crash_while_the_authority_is_made_leaves_the_next_start_free_to_make_it(tmp_path):
    first = Authority(tmp_path / "trust", HOST, NOW)
    shutil.copytree(tmp_path / "trust", tmp_path / "half")
    (tmp_path / "half" / "root.pem").unlink()
    second = Authority(tmp_path / "half", HOST, NOW)
    second.renew([], NOW)
    assert second.root != first.root
    verify_by_cryptography(second, second.leaf(), HOST)


def test_the_clock_of_this_test_is_in_utc():
    assert NOW.tzinfo is UTC and NOW <= datetime.now(UTC)


@pytest.mark.parametrize("name", ["root.pem", "intermediate.pem"])
def test_the_certificate_of_somebody_else_in_the_place_of_ours_is_refused(tmp_path, name):
    """A leaf, and an authority of the same shop that was made before."""
    authority = Authority(tmp_path / "trust", "shop.local")
    authority.renew([])
    other = Authority(tmp_path / "other", "shop.local")
    other.renew([])
    for foreign in ("chain.pem", *([name] if name == "intermediate.pem" else [])):
        (tmp_path / "trust" / name).write_bytes((tmp_path / "other" / foreign).read_bytes())
        with pytest.raises(Problem) as found:
            Authority(tmp_path / "trust", "shop.local")
        assert found.value.code == "trust_damaged" and str(tmp_path / "trust" / name) in str(found.value)
