"""What a PostgreSQL on another computer must show before it is told anything, and what is said where it does not."""

import contextlib
import ipaddress
import os
import socket
import ssl
import threading
from datetime import UTC, datetime, timedelta

import pytest
from cryptography import x509
from cryptography.hazmat.primitives import hashes
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.hazmat.primitives.serialization import Encoding, NoEncryption, PrivateFormat
from cryptography.x509.oid import NameOID
from psycopg import conninfo, pq

from cotterbook.errors import Problem
from cotterbook.store.postgres import PostgresStore
from cotterbook.store.postgres.address import KNOWS_SYSTEM_ROOTS, address_of
from examples import STRIP, entry
from postgres import Postgres

# Leads to this computer too and is not the loopback, so that it counts as an address on a network.
NETWORK = "0.0.0.0"
# Where this system keeps the roots that everybody trusts.
SYSTEM = ssl.get_default_verify_paths().cafile or ("system" if pq.version() >= KNOWS_SYSTEM_ROOTS else None)
FULL, NOTHING = "verify-full", None


def certificate(name, hosts, issuer=None):
    """A certificate and its key, signed by the issuer's or, as a root, by itself."""
    key = ec.generate_private_key(ec.SECP256R1())
    subject, now = x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, name)]), datetime.now(UTC)
    builder = (
        x509.CertificateBuilder().subject_name(subject).issuer_name(issuer[0].subject if issuer else subject)
        .public_key(key.public_key()).serial_number(x509.random_serial_number())
        .not_valid_before(now - timedelta(days=1)).not_valid_after(now + timedelta(days=9))
        .add_extension(x509.BasicConstraints(ca=not issuer, path_length=None), critical=True))
    if hosts:
        builder = builder.add_extension(x509.SubjectAlternativeName(hosts), critical=False)
    return builder.sign(issuer[1] if issuer else key, hashes.SHA256()), key


def pem(made):
    return made.public_bytes(Encoding.PEM)


@pytest.fixture(scope="module")
def root():
    return certificate("Root of the shop", [])


@pytest.fixture(scope="module")
def with_tls(postgres, root):
    """A PostgreSQL that shows a certificate for localhost and for the address NETWORK."""
    leaf, key = certificate("localhost", [
        x509.DNSName("localhost"), x509.IPAddress(ipaddress.ip_address(NETWORK))], root)
    with contextlib.closing(Postgres(postgres.programs)) as server:
        server.use_tls(pem(leaf), key.private_bytes(Encoding.PEM, PrivateFormat.PKCS8, NoEncryption()))
        yield server.start()


@pytest.fixture(autouse=True)
def nothing_set(monkeypatch, tmp_path):
    """No setting of libpq from outside, and a home without files of it."""
    for name in [name for name in os.environ if name.startswith("PG")]:
        monkeypatch.delenv(name)
    monkeypatch.setenv("HOME", str(tmp_path))
    monkeypatch.setenv("APPDATA", str(tmp_path))


@pytest.fixture
def root_file(tmp_path, root):
    path = tmp_path / "of-the-shop.pem"
    path.write_bytes(pem(root[0]))
    return path


def at(url, host, **settings):
    """The same database at another host, with these settings behind it."""
    more = "&".join(f"{name}={value}" for name, value in settings.items())
    return url.replace("127.0.0.1", host) + ("?" + more if more else "")


def unproven(url):
    with pytest.raises(Problem) as caught:
        PostgresStore(url)
    said = str(caught.value)
    assert (caught.value.code, caught.value.status) == ("database_unproven", 503), said
    assert "stays on the phones" in said and "does not check who answers" in said
    return said


@pytest.mark.parametrize(("host", "environment", "mode"), [
    ("", {}, NOTHING), ("localhost", {}, NOTHING), ("LOCALHOST", {}, NOTHING), ("127.0.0.1", {}, NOTHING),
    ("127.9.8.7", {}, NOTHING), ("[::1]", {}, NOTHING), ("%2Fvar%2Frun%2Fpostgresql", {}, NOTHING),
    ("localhost,127.0.0.1", {}, NOTHING),
    ("db.shop.test", {}, FULL), ("192.168.1.7", {}, FULL), ("[fd00::7]", {}, FULL), ("127.0.0.1.shop.test", {}, FULL),
    ("localhost.shop.test", {}, FULL), ("128.0.0.1", {}, FULL), (NETWORK, {}, FULL),
    ("localhost,db.shop.test", {}, FULL), ("db.shop.test:5432,127.0.0.1:5433", {}, FULL),
    ("", {"PGHOST": "db.shop.test"}, FULL), ("", {"PGHOST": "/tmp"}, NOTHING), ("", {"PGHOST": "@socket"}, NOTHING),
    ("", {"PGHOSTADDR": "192.168.1.7"}, FULL), ("localhost", {"PGHOSTADDR": "192.168.1.7"}, FULL),
    ("localhost", {"PGHOST": "db.shop.test"}, NOTHING), ("db.shop.test", {"PGHOST": "localhost"}, FULL),
    ("db.shop.test", {"PGHOSTADDR": "127.0.0.1"}, NOTHING),
    ("db.shop.test", {"PGSSLMODE": "require"}, NOTHING), ("db.shop.test", {"PGSERVICE": "shop"}, NOTHING),
])
def test_what_the_other_end_must_show(monkeypatch, host, environment, mode):
    for name, value in environment.items():
        monkeypatch.setenv(name, value)
    found = conninfo.conninfo_to_dict(address_of(f"postgresql://shop@{host}/shop").conninfo)
    assert found.get("sslmode") == mode
    assert found.get("sslrootcert") == (SYSTEM if mode == FULL else None)


@pytest.mark.parametrize(("settings", "mode", "roots"), [
    ("sslmode=require", "require", None), ("sslmode=disable", "disable", None), ("sslmode=prefer", "prefer", None),
    ("sslmode=verify-ca&sslrootcert=a.pem", "verify-ca", "a.pem"), ("sslrootcert=a.pem", FULL, "a.pem"),
    ("service=shop", None, None), ("hostaddr=127.0.0.1", None, None), ("hostaddr=10.0.0.1,127.0.0.1", FULL, SYSTEM),
])
def test_what_the_address_says_holds(settings, mode, roots):
    found = conninfo.conninfo_to_dict(address_of(f"postgresql://shop@db.shop.test/shop?{settings}").conninfo)
    assert found.get("sslmode") == mode
    assert found.get("sslrootcert") == roots


def test_a_root_in_libpqs_own_place_or_in_the_environment_is_used(monkeypatch, tmp_path):
    url = "postgresql://shop@db.shop.test/shop"
    place = tmp_path / ("postgresql" if os.name == "nt" else ".postgresql") / "root.crt"
    place.parent.mkdir()
    place.write_text("")
    assert "sslrootcert" not in address_of(url).conninfo and FULL in address_of(url).conninfo
    place.unlink()
    monkeypatch.setenv("PGSSLROOTCERT", "a.pem")
    assert "sslrootcert" not in address_of(url).conninfo and FULL in address_of(url).conninfo


@pytest.mark.parametrize("settings", [{"host": NETWORK}, {"host": "127.0.0.1", "sslmode": "verify-full"}])
def test_a_server_without_tls_is_refused(postgres, root_file, settings):
    said = unproven(at(postgres.database(), **settings, sslrootcert=root_file))
    assert "does not support SSL" in said and postgres.password not in said


def test_a_server_without_tls_is_told_nothing(root_file):
    """PostgreSQL's manual, "Message Formats": SSLRequest is Int32(8), Int32(80877103); "N" is the answer of no TLS."""
    heard = []
    with socket.create_server(("127.0.0.1", 0)) as server:
        def listen():
            line, _ = server.accept()
            with line:
                line.settimeout(30)
                heard.append(line.recv(1000))
                line.sendall(b"N")
                heard.append(line.recv(1000))

        thread = threading.Thread(target=listen)
        thread.start()
        unproven(f"postgresql://shop:secret@{NETWORK}:{server.getsockname()[1]}/shop?sslrootcert={root_file}")
        thread.join(30)
    assert heard == [(8).to_bytes(4) + (80877103).to_bytes(4), b""]


@pytest.mark.parametrize("settings", [{"host": NETWORK}, {"host": "localhost", "sslmode": "verify-full"}])
def test_a_certificate_is_checked_for_its_root(with_tls, tmp_path, root_file, settings):
    url = with_tls.database()
    store = PostgresStore(at(url, **settings, sslrootcert=root_file))
    assert store.append(STRIP, [entry(1)]).accepted == {entry(1)["id"]: 1}
    with store._database.connection() as connection:
        assert connection.execute(
            "SELECT ssl FROM pg_stat_ssl WHERE pid = pg_backend_pid()").fetchone() == (True,)
    store.close()
    other = tmp_path / "other.pem"
    # Another's, and one that gives itself the same name.
    for name in ("Root of others", "Root of the shop"):
        other.write_bytes(pem(certificate(name, [])[0]))
        assert "SSL error" in unproven(at(url, **settings, sslrootcert=other))
    unproven(at(url, **settings))
    assert "root certificate" in unproven(at(url, **settings, sslrootcert=tmp_path / "none.pem"))


@pytest.mark.parametrize("settings", [
    {"host": "127.0.0.1", "sslmode": "verify-full"}, {"host": "db.shop.test", "hostaddr": NETWORK},
])
def test_a_certificate_is_checked_for_its_name(with_tls, root_file, settings):
    assert "does not match host name" in unproven(at(with_tls.database(), **settings, sslrootcert=root_file))


def test_an_address_without_a_name_can_not_be_proven(with_tls, root_file):
    url = at(with_tls.database(), "", hostaddr=NETWORK, port=with_tls.port, sslrootcert=root_file)
    assert "host name must be specified" in unproven(url.replace(f"@:{with_tls.port}", "@"))


def test_an_owner_who_trusts_his_network_may_say_so(with_tls, postgres):
    for server, mode in ((with_tls, "require"), (postgres, "prefer")):
        store = PostgresStore(at(server.database(), NETWORK, sslmode=mode))
        assert store.append(STRIP, [entry(1)]).refused == []
        store.close()
