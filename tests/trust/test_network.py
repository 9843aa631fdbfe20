"""What stands beside the pages on the network: the name, the door for this computer, the owner's own certificate."""

import contextlib
import socket
import ssl
import subprocess
import sys
import threading
import time
from concurrent.futures import ThreadPoolExecutor
from datetime import timedelta

import pytest
from cryptography.hazmat.primitives.serialization import Encoding, NoEncryption, PrivateFormat, load_pem_private_key
from zeroconf import Zeroconf

from cotterbook import create_app
from cotterbook.devices import DeviceBook
from cotterbook.devices.routes import now_ms
from cotterbook.errors import Problem
from cotterbook.network.announcing import Announcer
from cotterbook.network.loopback_door import open_door
from cotterbook.network.shop_network import Wanted, join
from cotterbook.trust import Origin, certificates
from cotterbook.trust.authority import Authority
from cotterbook.trust.origin import choose_origin
from running import RunningServer, free_port, new_id

HOST, LOOPBACK = "cotterbook-ab12.local", "127.0.0.1"
NOW = certificates.now_utc()
PLAIN = Wanted(None, None, 8352, False, None, None)


def code_of(call, *arguments, **named):
    with pytest.raises(Problem) as found:
        call(*arguments, **named)
    return found.value.code


def pem(key):
    return key.private_bytes(Encoding.PEM, PrivateFormat.PKCS8, NoEncryption())


@pytest.fixture
def own(tmp_path):
    """own(hosts, days=…) writes a certificate as another authority might have issued it: (certificate, key) files."""

    def make(*hosts, days=90, now=NOW):
        root_key, key = certificates.new_key(), certificates.new_key()
        root = certificates.make_root("shop.example", root_key, NOW)
        leaf = certificates.make_leaf(hosts, key, root, root_key, now, days)
        paths = tmp_path / "own.pem", tmp_path / "own_key.pem"
        paths[0].write_bytes(leaf.public_bytes(Encoding.PEM) + root.public_bytes(Encoding.PEM))
        paths[1].write_bytes(pem(key))
        return paths

    return make


def test_the_first_start_chooses_and_the_second_keeps(tmp_path):
    first = join(tmp_path / "data", PLAIN, 8351)
    again = join(tmp_path / "data", PLAIN, 8351)
    assert again.origin == first.origin and again.authority.root == first.authority.root
    assert first.origin.host in certificates.hosts_of(first.authority.leaf())
    assert code_of(join, tmp_path / "data", PLAIN._replace(host="bench.local"), 8351) == "other_origin"
    anew = join(tmp_path / "data", PLAIN._replace(host="bench.local", new_origin=True), 8351)
    assert anew.origin == Origin("bench.local", 8351) and anew.authority.root != first.authority.root


def test_a_lost_certificate_or_another_address_is_said_where_phones_knew_one(tmp_path):
    folder = tmp_path / "data"
    new = "a new one was made"
    first = join(folder, PLAIN._replace(host="shop.local"), 8351)
    assert not any(new in line for line in first.words()) and not first.moved
    assert not any(new in line for line in join(folder, PLAIN, 8351).words())
    (folder / "trust" / "root.pem").unlink()
    lost = join(folder, PLAIN, 8351)
    assert any(new in line for line in lost.words()) and not lost.moved
    moved = join(folder, PLAIN._replace(host="bench.local", new_origin=True), 8351)
    assert any(new in line for line in moved.words()) and moved.moved and moved.before == first.origin


def test_a_damaged_origin_is_mended_by_the_address_that_phones_know(tmp_path):
    """The advice of the refusal, followed: the same name and port, and phones notice nothing."""
    folder = tmp_path / "data"
    first = join(folder, PLAIN._replace(host="shop.local", port=8355), 8351)
    (folder / "origin.json").write_bytes(b"{")
    assert code_of(join, folder, PLAIN, 8351) == "origin_damaged"
    mended = join(folder, PLAIN._replace(host="shop.local", port=8355, new_origin=True), 8351)
    assert (mended.origin, mended.authority.root) == (first.origin, first.authority.root)
    assert join(folder, PLAIN, 8351).origin == first.origin


def test_a_new_address_names_the_devices_that_hold_what_is_not_sent(tmp_path):
    lan = ("--lan-port", str(free_port()), "--trust-port", str(free_port()))
    server = RunningServer(tmp_path / "data", options=("--lan", "--host", "bench.local", *lan))
    (tmp_path / "data").mkdir()
    choose_origin(tmp_path / "data", "shop.local", 8351, 1)
    book = DeviceBook(tmp_path / "data")
    waiting, sent, gone = new_id(), new_id(), new_id()
    for device, name in ((waiting, "Bench phone"), (sent, "Desk"), (gone, "Old one")):
        book.pair(book.make_code("hand", now_ms()), device, name, now_ms())
    book.seen(waiting, now_ms(), 3, 2)
    book.seen(sent, now_ms(), 0, 0)
    book.seen(gone, now_ms(), 7, 0)
    book.revoke(gone, now_ms())
    book.write_seen(now_ms())
    server.options = (*server.options, "--new-origin")
    try:
        said = server.start().hear("take that file in here.")
    finally:
        server.stop()
    assert "It was https://shop.local:8351 before." in said
    assert "Bench phone said last that it had not sent: entries 3, pictures 2. They stay there:" in said
    assert "Desk" not in said and "Old one" not in said


def test_an_own_certificate_is_taken_as_it_is(tmp_path, own):
    certificate, key = own("shop.example", "other.example")
    wanted = PLAIN._replace(certificate=certificate, certificate_key=key)
    network = join(tmp_path / "data", wanted, 8351)
    assert (network.origin.host, network.authority, network.renew()) == ("shop.example", None, False)
    assert network.words() == ["Phones find it at https://shop.example:8351."]
    assert not (tmp_path / "data" / "trust").exists()


def test_an_own_certificate_renewed_with_its_names_in_another_order_keeps_the_name(tmp_path, own):
    certificate, key = own("shop.example", "bench.example")
    wanted = PLAIN._replace(certificate=certificate, certificate_key=key)
    first = join(tmp_path / "data", wanted, 8351).origin
    for names in (("bench.example", "shop.example"), ("bench.example", "*.example")):
        own(*names)
        assert join(tmp_path / "data", wanted, 8351).origin == first
        assert join(tmp_path / "data", wanted._replace(new_origin=True), 8351).origin == first
    own("bench.example")
    with pytest.raises(Problem) as found:
        join(tmp_path / "data", wanted, 8351)
    assert found.value.code == "certificate_for_another"
    assert "is for bench.example, and phones know this shop as https://shop.example:8351." in str(found.value)
    assert join(tmp_path / "data", wanted._replace(new_origin=True), 8351).origin.host == "bench.example"


def test_a_clock_before_an_own_certificate_is_said_and_it_is_served(tmp_path, own):
    certificate, key = own("shop.example", now=NOW + timedelta(days=10))
    network = join(tmp_path / "data", PLAIN._replace(certificate=certificate, certificate_key=key), 8351)
    [said] = network.warnings()
    assert said == (f"The clock of this computer stands at {certificates.now_utc():%Y-%m-%d}, before its certificate"
                    f" begins ({NOW + timedelta(days=9):%Y-%m-%d}). Set the clock.")
    assert network.warnings(NOW + timedelta(days=9)) == []


def test_a_wildcard_stands_for_one_label(tmp_path, own):
    certificate, key = own("*.shop.example")
    wanted = PLAIN._replace(certificate=certificate, certificate_key=key, host="bench.shop.example")
    assert join(tmp_path / "data", wanted, 8351).origin.host == "bench.shop.example"
    deeper = wanted._replace(host="a.bench.shop.example", new_origin=True)
    assert code_of(join, tmp_path / "data", deeper, 8351) == "certificate_unusable"


def kept(folder):
    """All that says where phones find the pages and what they trust."""
    return {path.name: path.read_bytes() for path in [folder / "origin.json", *folder.glob("trust/*")] if path.exists()}


@pytest.mark.parametrize("slip", [
    {"names": ["*.shop.example"]}, {"names": ["a.shop.example"], "host": "b.shop.example"}])
def test_a_start_that_is_refused_for_its_certificate_leaves_the_shop_where_it_is(tmp_path, own, slip):
    """A wildcard without --host, or a slip in --host: started again as before, phones notice nothing."""
    folder, (certificate, key) = tmp_path / "data", own(*slip["names"])
    first = join(folder, PLAIN, 8351)
    before = kept(folder)
    wanted = Wanted(slip.get("host"), None, 8352, True, certificate, key)
    with pytest.raises(Problem) as found:
        join(folder, wanted, 8351)
    assert found.value.code == "certificate_unusable" and "another name is chosen with --host" in str(found.value)
    assert kept(folder) == before
    again = join(folder, PLAIN, 8351)
    assert (again.origin, again.authority.root, again.moved) == (first.origin, first.authority.root, False)


def test_a_first_start_that_is_refused_for_its_certificate_chooses_nothing(tmp_path, own):
    folder, (certificate, key) = tmp_path / "data", own("*.shop.example")
    wanted = PLAIN._replace(certificate=certificate, certificate_key=key)
    assert code_of(join, folder, wanted, 8351) == "certificate_unusable"
    assert kept(folder) == {}
    network = join(folder, wanted._replace(host="pc.shop.example"), 8351)
    assert network.origin == Origin("pc.shop.example", 8351) and network.before is None


def test_a_start_that_is_refused_for_a_damaged_root_moves_nothing(tmp_path):
    folder = tmp_path / "data"
    join(folder, PLAIN, 8351)
    (folder / "trust" / "root.pem").write_bytes(b"letter")
    before = kept(folder)
    assert code_of(join, folder, PLAIN._replace(host="bench.local", new_origin=True), 8351) == "trust_damaged"
    assert kept(folder) == before


def test_own_certificates_that_are_of_no_use_are_refused_with_the_reason(tmp_path, own):
    certificate, key = own("shop.example")
    wanted = PLAIN._replace(certificate=certificate, certificate_key=key)
    other = wanted._replace(host="bench.example")
    assert code_of(join, tmp_path / "a", other, 8351) == "certificate_unusable"
    assert code_of(join, tmp_path / "b", wanted._replace(certificate_key=None), 8351) == "certificate_and_key"
    key.write_bytes(pem(certificates.new_key()))
    assert code_of(join, tmp_path / "c", wanted, 8351) == "certificate_unusable"
    for nonsense in (b"", b"letter", certificate.read_bytes()):
        key.write_bytes(nonsense)
        assert code_of(join, tmp_path / "d", wanted, 8351) == "certificate_unusable"
    certificate, key = own("shop.example", days=10, now=NOW - timedelta(days=30))
    assert code_of(join, tmp_path / "e", wanted, 8351) == "certificate_unusable"
    key.unlink()
    assert code_of(join, tmp_path / "f", wanted, 8351) == "certificate_unusable"


@pytest.mark.parametrize(("host", "kept"), [("shop.example", True), (None, False)])
def test_browsers_are_held_to_https_with_an_own_certificate_alone(tmp_path, own, store, host, kept):
    wanted = PLAIN
    if host:
        certificate, key = own(host)
        wanted = PLAIN._replace(certificate=certificate, certificate_key=key)
    network = join(tmp_path / "data", wanted, 8351)
    app = create_app(tmp_path / "data", store, DeviceBook(tmp_path / "data"), network)
    answer = app.test_client().get("/", base_url=str(network.origin))
    assert answer.status_code == 200
    assert answer.headers.get("Strict-Transport-Security") == ("max-age=86400" if kept else None)
    # This computer's own browser comes over plain HTTP and must be able to go on with it.
    answer = app.test_client().get("/", base_url="https://127.0.0.1:8350")
    assert "Strict-Transport-Security" not in answer.headers


def ask_the_network(name):
    with Zeroconf(interfaces=["127.0.0.1"]) as asking:
        for _ in range(20):
            found = asking.get_service_info("_https._tcp.local.", f"{name}._https._tcp.local.", 3_000)
            if found:
                return found
    raise AssertionError(f"{name} was not found")


def test_the_name_is_announced_and_found_by_another(tmp_path):
    """RFC 6762 and 6763, between two responders of this computer."""
    origin = Origin("cotterbook-zz99.local", 8351)
    addresses = ["192.168.7.20"]
    announcer = Announcer(origin, lambda: list(addresses), ["127.0.0.1"])
    announcer.start()
    try:
        # In a thread of its own: where a browser's test ran before, this one has an event loop already.
        with ThreadPoolExecutor(1) as thread:
            found = thread.submit(ask_the_network, "cotterbook-zz99").result(timeout=90)
        assert (found.server, found.port, found.parsed_addresses()) == ("cotterbook-zz99.local.", 8351, addresses)
    finally:
        announcer.close()


# What the library leaves open when it can't begin is its own.
@pytest.mark.filterwarnings("ignore::pytest.PytestUnraisableExceptionWarning")
def test_a_network_that_can_not_be_announced_on_stops_nothing(capfd):
    announcer = Announcer(Origin(HOST, 8351), lambda: ["10.0.0.1"], ["203.0.113.77"])
    announcer.start()
    announcer.close()
    assert "can't be announced on the network" in capfd.readouterr().err


def test_a_port_that_is_taken_is_said_before_anything_is_served(tmp_path):
    with socket.socket() as taken:
        taken.bind(("0.0.0.0", 0))
        taken.listen()
        port = taken.getsockname()[1]
        done = subprocess.run(
            [sys.executable, "-m", "cotterbook.cli", "serve", "--lan", "--data", str(tmp_path / "data"), "--port",
             str(free_port()), "--lan-port", str(free_port()), "--trust-port", str(port)],
            capture_output=True, text=True, check=False, timeout=60)
    assert done.returncode == 1 and f"Port {port} on this computer is taken" in done.stderr
    # Nothing was chosen for good, so that the next try with other ports is a first one.
    assert not (tmp_path / "data" / "origin.json").exists()


@pytest.mark.parametrize("given", [
    ("--port", "--lan-port"), ("--lan-port", "--trust-port"), ("--port", "--trust-port")])
def test_one_port_for_two_things_is_refused(tmp_path, given):
    port = str(free_port())
    ports = {"--port": str(free_port()), "--lan-port": str(free_port()), "--trust-port": str(free_port())}
    ports |= {name: port for name in given}
    done = subprocess.run(
        [sys.executable, "-m", "cotterbook.cli", "serve", "--lan", "--data", str(tmp_path / "data"),
         *(word for each in ports.items() for word in each)], capture_output=True, text=True, check=False, timeout=60)
    assert (done.returncode, done.stdout) == (1, "")
    assert done.stderr.startswith(f"cotterbook: Port {port} was given twice.") and "panic" not in done.stderr
    assert not (tmp_path / "data" / "origin.json").exists()


RENEWING = """
import sys
from cotterbook import serving, cli
serving.RENEWAL_SECONDS = 0.2
sys.exit(cli.main(sys.argv[1:]))
"""


def test_a_certificate_is_renewed_while_it_serves(tmp_path):
    """One with five days left is put in its place; the next look renews it, and connections see the new one."""
    lan_port = free_port()
    server = RunningServer(tmp_path / "data", options=(
        "--lan", "--host", HOST, "--lan-port", str(lan_port), "--trust-port", str(free_port())))
    server.program = ["-c", RENEWING]
    server.start()
    try:
        def served():
            context = ssl.SSLContext(ssl.PROTOCOL_TLS_CLIENT)
            context.check_hostname, context.verify_mode = False, ssl.CERT_NONE
            with socket.create_connection(("127.0.0.1", lan_port), timeout=30) as plain:
                with context.wrap_socket(plain) as secure:
                    return secure.getpeercert(binary_form=True)

        first = served()
        authority = Authority(server.folder / "trust", HOST)
        signing = load_pem_private_key((server.folder / "trust" / "intermediate_key.pem").read_bytes(), None)
        key = certificates.new_key()
        old = certificates.make_leaf([HOST], key, authority.intermediate, signing, NOW, days=5)
        authority.key_path.write_bytes(pem(key))
        authority.chain_path.write_bytes(
            old.public_bytes(Encoding.PEM) + authority.intermediate.public_bytes(Encoding.PEM))
        end = time.monotonic() + 60
        now = first
        while now == first:
            assert time.monotonic() < end
            time.sleep(0.1)
            try:
                now = served()
            except OSError:
                continue
        renewed = authority.leaf()
        assert renewed.not_valid_after_utc > NOW + timedelta(days=390)
        assert now == renewed.public_bytes(Encoding.DER)
        assert authority.root == Authority(server.folder / "trust", HOST).root
    finally:
        assert server.stop() == 0


def test_the_door_for_this_computer_passes_many_at_once(tmp_path):
    """Larger answers than any buffer, by many connections, arrive whole."""
    server = RunningServer(tmp_path / "data", options=(
        "--lan", "--lan-port", str(free_port()), "--trust-port", str(free_port()))).start()
    came: list[bytes] = []

    def fetch():
        with socket.create_connection(("127.0.0.1", server.port), timeout=60) as plain:
            plain.sendall(f"GET /core.json HTTP/1.1\r\nHost: 127.0.0.1:{server.port}\r\n"
                          "Connection: close\r\n\r\n".encode())
            came.append(b"".join(iter(lambda: plain.recv(65536), b"")).split(b"\r\n\r\n", 1)[1])

    try:
        threads = [threading.Thread(target=fetch) for _ in range(12)]
        for thread in threads:
            thread.start()
        for thread in threads:
            thread.join()
        assert len(came) == 12 and len(set(came)) == 1 and len(came[0]) > 300_000
    finally:
        server.stop()


@pytest.mark.parametrize("there", ["the same", "another leaf", "another shop"])
def test_the_door_passes_nothing_to_what_does_not_hold_this_very_certificate(tmp_path, there):
    """Whoever took the pages' port hears no byte of the browser's, with a certificate of the same authority or not."""
    authority = Authority(tmp_path / "trust", HOST)
    other = authority if there != "another shop" else Authority(tmp_path / "other", HOST)
    authority.renew(())
    other.renew(())
    chain, key = tmp_path / "chain.pem", other.key_path
    chain.write_bytes(authority.chain_path.read_bytes())
    if there == "another leaf":
        made = certificates.new_key()
        signing = load_pem_private_key((tmp_path / "trust" / "intermediate_key.pem").read_bytes(), None)
        leaf = certificates.make_leaf([HOST], made, authority.intermediate, signing, NOW)
        authority.chain_path.write_bytes(
            leaf.public_bytes(Encoding.PEM) + authority.intermediate.public_bytes(Encoding.PEM))
        key = tmp_path / "made.pem"
        key.write_bytes(pem(made))
    context = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER)
    context.load_cert_chain(other.chain_path, key)
    heard = []
    with socket.create_server((LOOPBACK, 0)) as behind:

        def hear():
            plain, _ = behind.accept()
            try:
                with context.wrap_socket(plain, server_side=True) as secure:
                    heard.append(secure.recv(100))
                    secure.sendall(b"answered")
            except OSError:
                heard.append(b"")

        listening = threading.Thread(target=hear)
        listening.start()
        door = free_port()
        open_door(door, behind.getsockname()[1], chain)
        end = time.monotonic() + 30
        while True:
            try:
                browser = socket.create_connection((LOOPBACK, door), timeout=30)
                break
            except ConnectionRefusedError:
                assert time.monotonic() < end
        came = b""
        # A door that shuts while something is still to be passed on resets the connection.
        with browser, contextlib.suppress(ConnectionError):
            browser.sendall(b"a secret")
            came = browser.recv(100)
        listening.join()
    assert (heard, came) == (([b"a secret"], b"answered") if there == "the same" else ([b""], b""))
