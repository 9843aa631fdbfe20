"""The whole way of a phone onto the shop's network, in a real browser with real trust.

The root comes from the page of trust over plain HTTP into the browser's own store of certificates (certutil of NSS);
nothing is told to ignore an error. Host names are mapped to this computer, as the shop's network would do.
"""

import re
import socket
import ssl
import subprocess
import urllib.error
import urllib.request

import pytest
from cryptography.hazmat.primitives.serialization import Encoding, NoEncryption, PrivateFormat, load_pem_private_key
from playwright.sync_api import Error, expect

from cotterbook.trust import certificates
from cotterbook.trust.authority import Authority
from running import free_port
from trust.shop import HOST, OTHER, Shop, launch, needs_certutil, trust_certificate


@pytest.fixture(scope="module")
def shop(tmp_path_factory):
    shop = Shop(tmp_path_factory.mktemp("shop"))
    shop.server.start()
    yield shop
    shop.server.stop()


@pytest.fixture(scope="module")
def trusting(shop, chromium, tmp_path_factory):
    """A browser that trusts what the page of trust hands out, and finds two names on this computer."""
    home = tmp_path_factory.mktemp("home")
    (home / "root.crt").write_bytes(shop.way_in("/cotterbook.crt")[1])
    trust_certificate(home, home / "root.crt")
    browser = launch(chromium, home)
    yield browser
    browser.close()


@needs_certutil
def test_a_phone_trusts_installs_pairs_works_offline_and_syncs(shop, trusting):
    context = trusting.new_context(viewport={"width": 360, "height": 740}, has_touch=True)
    page = context.new_page()
    page.goto(shop.url + "/#/pair/" + shop.server.code("hand"))
    assert page.evaluate("isSecureContext")
    page.get_by_label("Name for this device").fill("Phone at the lift")
    page.get_by_role("button", name="Pair", exact=True).click()
    expect(page.get_by_text("Paired as Phone at the lift: hand.")).to_be_visible()
    [device] = [each for each in context.cookies() if "device" in each["name"]]
    assert device["name"] == f"__Host-cotterbook-device-{shop.lan_port}"
    assert (device["secure"], device["httpOnly"], device["sameSite"]) == (True, True, "Strict")
    assert page.evaluate("document.cookie") == ""

    page.evaluate("async () => { await navigator.serviceWorker.ready; }")
    page.reload()  # from now on the service worker answers
    context.set_offline(True)
    page.reload()
    # A name that is set while the program starts is overtaken by the one that it reads.
    expect(page.locator("h1")).to_be_visible()
    page.evaluate("""async () => {
      const shop = await import('/shop.js');
      await shop.setPerson('Ann');
      await shop.act('begin_strip', { name: 'Winter', machine_name: 'Green one' });
    }""")
    assert page.evaluate("async () => (await (await import('/log.js')).counts()).unsent") > 0
    context.set_offline(False)
    page.evaluate("async () => (await import('/sync.js')).sendNow()")
    expect(page.get_by_text(re.compile("^All sent")).first).to_be_visible()
    [strip] = list((shop.server.folder / "strips").glob("*.jsonl"))
    assert "Green one" in strip.read_text(encoding="utf-8")
    context.close()


@needs_certutil
def test_a_leaf_for_another_name_is_refused_by_the_same_browser(shop, trusting, tmp_path):
    """What a thief of the signing key can make: the browser that trusts the root refuses it all the same."""
    trust = shop.server.folder / "trust"
    authority = Authority(trust, HOST)
    signing = load_pem_private_key((trust / "intermediate_key.pem").read_bytes(), None)
    key = certificates.new_key()
    leaf = certificates.make_leaf([OTHER], key, authority.intermediate, signing, certificates.now_utc())
    (tmp_path / "chain.pem").write_bytes(
        leaf.public_bytes(Encoding.PEM) + authority.intermediate.public_bytes(Encoding.PEM))
    (tmp_path / "key.pem").write_bytes(key.private_bytes(Encoding.PEM, PrivateFormat.PKCS8, NoEncryption()))
    port = free_port()
    serving = subprocess.Popen(
        ["openssl", "s_server", "-accept", f"127.0.0.1:{port}", "-cert", tmp_path / "chain.pem", "-cert_chain",
         tmp_path / "chain.pem", "-key", tmp_path / "key.pem", "-www"],
        stdout=subprocess.PIPE, stderr=subprocess.STDOUT)
    try:
        assert serving.stdout is not None and b"ACCEPT" in serving.stdout.readline() + serving.stdout.readline()
        page = trusting.new_context().new_page()
        with pytest.raises(Error, match="ERR_CERT"):
            page.goto(f"https://{OTHER}:{port}/")
        # And it is the name that is refused: the same browser takes the shop's own.
        again = page.context.new_page()
        again.goto(shop.url)
        expect(again.locator("h1")).to_be_visible()
        page.context.close()
    finally:
        serving.kill()
        serving.wait()
        serving.stdout.close()


def test_every_other_name_only_shows_the_way(shop, tmp_path):
    (tmp_path / "root.pem").write_bytes((shop.server.folder / "trust" / "root.pem").read_bytes())
    context = ssl.create_default_context(cafile=str(tmp_path / "root.pem"))

    def ask(path, host):
        with socket.create_connection(("127.0.0.1", shop.lan_port), timeout=30) as plain, context.wrap_socket(
                plain, server_hostname=HOST) as secure:
            secure.sendall(f"GET {path} HTTP/1.1\r\nHost: {host}\r\nConnection: close\r\n\r\n".encode())
            return b"".join(iter(lambda: secure.recv(65536), b"")).decode()

    right = f"{HOST}:{shop.lan_port}"
    assert ask("/", right).startswith("HTTP/1.1 200") and ask("/api/hello", right).startswith("HTTP/1.1 200")
    for host in ("192.168.1.20:8351", "bank.example", f"{HOST}:1", HOST, "[::1]:8351", "a" * 300, f"x.{right}"):
        page = ask("/", host)
        assert page.startswith("HTTP/1.1 421") and f'href="{shop.url}"' in page
        assert ask("/sw.js", host).startswith("HTTP/1.1 421")
        answer = ask("/api/hello", host)
        assert answer.startswith("HTTP/1.1 421") and "csrf" not in answer and '"elsewhere"' in answer
    # Whoever says from afar that he is this computer gets what this computer gets: nothing without a token.
    assert ask("/api/devices", f"127.0.0.1:{shop.server.port}").startswith("HTTP/1.1 401")
    # A phone that once kept to HTTPS for this name could never fetch the root again from the same name.
    assert "strict-transport-security" not in ask("/", right).lower()


def test_old_protocols_are_refused(shop):
    context = ssl.SSLContext(ssl.PROTOCOL_TLS_CLIENT)
    context.check_hostname, context.verify_mode = False, ssl.CERT_NONE
    context.maximum_version = ssl.TLSVersion.TLSv1_2
    with socket.create_connection(("127.0.0.1", shop.lan_port), timeout=30) as plain, pytest.raises(ssl.SSLError):
        context.wrap_socket(plain)


def test_the_page_of_trust_hands_out_the_root_and_nothing_else(shop):
    root = Authority(shop.server.folder / "trust", HOST).root
    headers, body = shop.way_in("/cotterbook.crt")
    assert body == root.public_bytes(Encoding.DER) and headers["Content-Type"] == "application/x-x509-ca-cert"
    headers, page = shop.way_in("/")
    assert certificates.fingerprint(root) in page.decode() and shop.url in page.decode()
    assert "default-src 'none'" in headers["Content-Security-Policy"] and headers["X-Content-Type-Options"] == "nosniff"
    for path in ("/index.html", "/api/hello", "/trust/intermediate_key.pem", "/../data/secret_key", "/%2e%2e/"):
        with pytest.raises(urllib.error.HTTPError) as refused:
            shop.way_in(path)
        assert refused.value.code == 404 and refused.value.headers["X-Content-Type-Options"] == "nosniff"
        assert "default-src 'none'" in refused.value.headers["Content-Security-Policy"]
        refused.value.close()
    for method in (b"POST", b"PUT", b"DELETE", b"XYZZY"):
        with socket.create_connection(("127.0.0.1", shop.trust_port), timeout=30) as plain:
            plain.sendall(method + b" / HTTP/1.0\r\n\r\n")
            assert b" 501 " in plain.recv(4096).splitlines()[0]


def test_silent_connections_hold_up_neither_the_pages_nor_the_page_of_trust(shop):
    # From another address than the phone that asks: the page of trust gives each a few places.
    silent = [socket.create_connection(("127.0.0.1", port), timeout=30, source_address=("127.0.0.2", 0))
              for port in (shop.lan_port, shop.trust_port, shop.server.port) for _ in range(64)]
    try:
        assert shop.way_in("/")[1]
        with urllib.request.urlopen(shop.server.url + "/api/hello", timeout=30) as answer:
            assert b'"cotterbook"' in answer.read()
    finally:
        for each in silent:
            each.close()


def test_the_terminal_and_the_owners_screen_show_the_same_figures(shop, chromium):
    said = shop.server.hear("No device is on the list yet")
    root = Authority(shop.server.folder / "trust", HOST).root
    figures = certificates.fingerprint(root)
    assert figures in re.sub(r"\s+", " ", said)
    page = chromium.unpaired.new_context().new_page()
    page.goto(shop.server.url + "/#/pair/" + shop.server.code("owner"))
    page.get_by_label("Name for this device").fill("The shop's PC")
    page.get_by_role("button", name="Pair", exact=True).click()
    page.get_by_role("link", name="Devices of this shop").click()
    page.get_by_text("Add a device").click()
    page.get_by_role("button", name="Make a pairing code").click()
    expect(page.get_by_text(figures)).to_be_visible()
    expect(page.get_by_role("img", name="QR code of the page of trust")).to_be_visible()
    expect(page.get_by_role("link", name=shop.url)).to_be_visible()
    page.context.close()
