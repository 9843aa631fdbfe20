"""Every route: errors in one shape, the security headers, and the list for the service worker."""

import gzip
import hashlib
import json
import re
from pathlib import Path

import brotli
import pytest

from cotterbook import create_app, pages, resources
from cotterbook.bare_source import bare_source
from cotterbook.core.words import say, spoken
from cotterbook.errors import ERRORS, Problem
from cotterbook.store import TinyStore
from cotterbook.terminal_words import AT_THE_TERMINAL

ROOT = Path(__file__).resolve().parents[2]
METHODS = ("GET", "POST", "PUT", "PATCH", "DELETE")
CONTENT_SECURITY_POLICY = {
    "default-src": "'self'", "script-src": "'self' 'wasm-unsafe-eval'", "worker-src": "'self'",
    "img-src": "'self' blob: data:", "style-src": "'self'", "connect-src": "'self'", "object-src": "'none'",
    "base-uri": "'none'", "frame-ancestors": "'none'", "form-action": "'self'",
}


def assert_error(response):
    """The one shape of an error, in words with no gap left open."""
    body = response.get_json()
    assert set(body) == {"error"} and set(body["error"]) == {"code", "text", "values"}, body
    assert response.status_code >= 400
    assert "{" not in spoken(body["error"])
    assert body["error"]["code"] in {code for code, _, _ in ERRORS}
    return body["error"]["code"]


def assert_headers(response):
    policy = dict(part.strip().split(" ", 1) for part in response.headers["Content-Security-Policy"].split(";"))
    assert policy == CONTENT_SECURITY_POLICY
    assert response.headers["X-Content-Type-Options"] == "nosniff"
    assert response.headers["Referrer-Policy"] == "same-origin"
    assert "camera=(self)" in response.headers["Permissions-Policy"]
    assert "microphone=()" in response.headers["Permissions-Policy"]


def precache(client):
    text = client.get("/precache.js").get_data(as_text=True)
    return json.loads(re.fullmatch(r"self\.PRECACHE = (.*);\n", text, re.DOTALL)[1])


@pytest.fixture(scope="module")
def app(tmp_path_factory):
    folder = tmp_path_factory.mktemp("routes") / "data"
    store = TinyStore(folder)
    app = create_app(folder, store)
    app.testing = True
    yield app
    store.close()


def test_every_route_answers_every_wrong_request_in_the_one_shape(app):
    client = app.test_client()
    token = {"X-CSRFToken": client.get("/api/hello").get_json()["csrf"]}
    addresses = {re.sub("<[^>]*>", "0" * 64, rule.rule): rule.methods for rule in app.url_map.iter_rules()}
    addresses["/nothing/here"] = set()
    assert len(addresses) > 20
    for address in addresses:
        for method in METHODS:
            for body, headers in ((b"", {}), (b"", token), (b"{broken", token), (b"[]", token)):
                response = client.open(address, method=method, data=body, headers=headers)
                assert_headers(response)
                if response.status_code >= 400:
                    assert_error(response)
                else:
                    assert method == "GET", (method, address)


@pytest.mark.parametrize(("method", "address", "status", "code"), [
    ("GET", "/nothing", 404, "not_found"), ("POST", "/nothing", 404, "not_found"),
    ("GET", "/index.html", 404, "not_found"), ("GET", "/vendor/update.py", 404, "not_found"),
    ("GET", "/../pyproject.toml", 404, "not_found"), ("GET", "/core/../errors.py", 404, "not_found"),
    ("GET", "/api/sync", 405, "wrong_method"), ("POST", "/api/hello", 405, "wrong_method"),
    ("PUT", "/", 405, "wrong_method"), ("DELETE", "/api/photos/" + "0" * 64, 405, "wrong_method"),
    ("POST", "/api/sync", 400, "csrf"), ("PUT", "/api/photos/" + "0" * 64, 400, "csrf"),
])
def test_errors_have_their_code(client, method, address, status, code):
    response = client.open(address, method=method)
    assert (response.status_code, assert_error(response)) == (status, code)
    assert ("Allow" in response.headers) == (status == 405)


def test_a_fault_of_the_program_is_told_without_its_insides(app, data_folder, store):
    app = create_app(data_folder, store)

    @app.get("/fault")
    def fault():
        raise ZeroDivisionError("insides")

    response = app.test_client().get("/fault")
    assert (response.status_code, assert_error(response)) == (500, "fault")
    assert "insides" not in response.get_data(as_text=True)
    assert_headers(response)


def test_another_site_that_points_its_name_here_gets_nothing(client):
    for address in ("/", "/api/hello", "/api/photos/" + "0" * 64):
        response = client.get(address, headers={"Host": "elsewhere.example:8350"})
        assert (response.status_code, assert_error(response)) == (400, "bad_request")
    assert client.get("/", headers={"Host": "127.0.0.1:8350"}).status_code == 200


def test_every_error_can_be_said():
    assert len({code for code, _, _ in ERRORS}) == len(ERRORS)
    for code, status, text in ERRORS:
        gaps = dict.fromkeys(re.findall(r"{(\w+)}", text), "x")
        assert str(Problem(code, **gaps)) == spoken(say(AT_THE_TERMINAL.get(code, text), **gaps))
        # Whatever a phone is told can be told at the terminal too: its own sentence has no gap that would stay empty.
        assert set(re.findall(r"{(\w+)}", AT_THE_TERMINAL.get(code, ""))) <= set(gaps)
        assert 400 <= status < 600 and text.endswith(".")


def test_answers_of_the_api_are_not_kept_by_browsers(client):
    assert client.get("/api/hello").headers["Cache-Control"] == "no-store"
    assert client.get("/nothing").headers["Cache-Control"] == "no-store"


def test_the_session_cookie_is_out_of_reach_of_scripts_and_other_sites(client):
    cookie = client.get("/api/hello").headers["Set-Cookie"]
    assert "HttpOnly" in cookie and "SameSite=Strict" in cookie


def test_the_precache_lists_what_is_served_with_its_hash(client):
    files = precache(client)["files"]
    assert {"/", "/app.js", "/core.json"} <= set(files)
    assert not {"/sw.js", "/precache.js", "/index.html", "/vendor/README.md", "/vendor/update.py"} & set(files)
    for address, sha256 in files.items():
        response = client.get(address)
        assert response.status_code == 200, address
        assert hashlib.sha256(response.data).hexdigest() == sha256


def test_the_phones_python_is_the_core_bare_of_what_only_people_read(client):
    core = ROOT / "server" / "cotterbook" / "core"
    wanted = {f"core/{path.name}": bare_source(path.read_text("utf-8")) for path in core.glob("*.py")}
    wanted["typing.py"] = bare_source((ROOT / "webui" / "typing.py").read_text("utf-8"))
    assert client.get("/core.json").get_json() == wanted


def test_the_precache_leaves_no_file_of_the_pages_out(client):
    tree = {"/" + path.relative_to(ROOT / "webui").as_posix() for path in (ROOT / "webui").rglob("*")
            if path.suffix in {".js", ".mjs", ".css", ".wasm", ".svg", ".png", ".webmanifest", ".html"}}
    tree = tree - {"/sw.js", "/index.html"} | {"/"}
    assert {each for each in tree if each not in precache(client)["files"]} == {
        "/icons/icon-192.png", "/icons/icon-512.png", "/icons/icon-maskable-512.png"}


@pytest.mark.parametrize(("encoding", "unpack"), [("gzip", gzip.decompress), ("br", brotli.decompress)])
def test_every_file_is_served_plain_and_compressed_with_its_own_tag(client, encoding, unpack):
    for address in [*precache(client)["files"], "/sw.js", "/precache.js"]:
        plain = client.get(address)
        zipped = client.get(address, headers={"Accept-Encoding": encoding})
        if zipped.headers.get("Content-Encoding") == encoding:
            assert unpack(zipped.data) == plain.data and len(zipped.data) < len(plain.data)
            assert zipped.headers["ETag"] != plain.headers["ETag"]
            assert plain.headers["Vary"] == zipped.headers["Vary"] == "Accept-Encoding"
        else:
            assert zipped.data == plain.data
        for response, headers in ((plain, {}), (zipped, {"Accept-Encoding": encoding})):
            again = client.get(address, headers={**headers, "If-None-Match": response.headers["ETag"]})
            assert (again.status_code, again.data) == (304, b"")


def test_only_files_with_their_version_in_the_name_are_kept_unasked(client):
    for address in [*precache(client)["files"], "/sw.js", "/precache.js"]:
        versioned = re.search(r"^/vendor/.*-\d+\.\d+\.\d+\.", address) is not None
        assert client.get(address).headers["Cache-Control"] == (
            "public, max-age=31536000, immutable" if versioned else "no-cache"), address


@pytest.mark.parametrize(("address", "kind"), [
    ("/", "text/html; charset=utf-8"), ("/app.js", "text/javascript; charset=utf-8"), ("/style.css", "text/css"),
    ("/manifest.webmanifest", "application/manifest+json"), ("/vendor/micropython-1.27.0.wasm", "application/wasm"),
    ("/core.json", "application/json"), ("/icons/icon.svg", "image/svg+xml"), ("/icons/icon-192.png", "image/png"),
])
def test_files_have_their_type(client, address, kind):
    assert client.get(address).headers["Content-Type"].startswith(kind)


def test_the_version_changes_with_any_file_and_only_then(tmp_path):
    webui, core = tmp_path / "webui", tmp_path / "core"
    for folder in (webui / "vendor", webui / ".git", core):
        folder.mkdir(parents=True)
    written = {
        webui / "index.html": "<!doctype html>", webui / "sw.js": "1",
        webui / "vendor" / "update.py": "x",
        webui / "typing.py": "Any = None", webui / "vendor" / "README.md": "x", webui / ".git" / "x.js": "x",
        core / "__init__.py": "", core / "a.py": "1",
    }
    for path, text in written.items():
        path.write_text(text)

    def listed():
        return pages.read_files(webui, core)["/precache.js"].data

    first = listed()
    assert set(pages.read_files(webui, core)) == {"/", "/sw.js", "/precache.js", "/core.json", "/program"}
    (webui / "sw.js").write_text("2")
    (webui / "vendor" / "update.py").write_text("y")
    assert listed() == first
    (core / "a.py").write_text("2")
    assert listed() != first


def test_the_pages_are_found_in_a_checkout_and_in_an_installed_package(tmp_path):
    assert resources.folder("webui") == ROOT / "webui"
    package = tmp_path / "top" / "server" / "cotterbook"
    package.mkdir(parents=True)
    with pytest.raises(Problem, match="folder webui is missing"):
        resources.folder("webui", package)
    (tmp_path / "top" / "webui").mkdir()
    assert resources.folder("webui", package) == tmp_path / "top" / "webui"
    (package / "webui").mkdir()
    assert resources.folder("webui", package) == package / "webui"
