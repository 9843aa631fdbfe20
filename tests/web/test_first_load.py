"""The first load: all of the program in one piece, once; and file by file where that piece cannot be had."""

from typing import Any

import pytest
from playwright.sync_api import expect

from test_service_worker import KEPT, LISTED

# Before its service worker serves it, a page needs its shell; the browser asks for the rest of these by itself.
SHELL = {"/", "/style.css", "/sheets.css", "/tags.css", "/open.js", "/addresses.js", "/sw.js", "/precache.js"}
BY_THE_BROWSER = {"/manifest.webmanifest", "/icons/icon.svg", "/icons/icon-192.png", "/favicon.ico"}
# How each kept answer and a fresh one of its file tell of themselves, as far as a page's safety or type hangs on it.
HEADS = """async () => {
  const names = ["content-type", "cache-control", "content-security-policy", "x-content-type-options",
    "referrer-policy", "permissions-policy"];
  const cache = await caches.open("cotterbook-files");
  return Promise.all((await cache.keys()).map(async (request) => {
    const fresh = await fetch(new URL(request.url).pathname, { cache: "no-store" });
    const kept = await cache.match(request);
    return [request.url, ...[kept, fresh].map((answer) => names.map((name) => answer.headers.get(name)))];
  }));
}"""


# Whether a service worker serves the page once none is on its way any more.
UNTIL_NONE_INSTALLS = """async () => {
  for (;;) {
    const registration = await navigator.serviceWorker.getRegistration();
    if (!registration?.installing) return Boolean(registration?.active);
    await new Promise((resolve) => setTimeout(resolve, 20));
  }
}"""


@pytest.fixture
def context(chromium: Any) -> Any:
    context = chromium.new_context(viewport={"width": 360, "height": 740})
    yield context
    context.close()


def opened(context: Any, server: Any) -> tuple[Any, list[str]]:
    """A page of the app, opened for the first time, and what was asked of the PC for it, of the program's files."""
    asked: list[str] = []

    def ask(request: Any) -> None:
        answer = None if request.service_worker else request.response()
        if not (answer and answer.from_service_worker):
            asked.append(request.url.removeprefix(server.url))

    context.on("requestfinished", ask)
    page = context.new_page()
    page.goto(server.url + "/")
    expect(page.locator("h1")).to_be_visible()
    page.evaluate("navigator.serviceWorker.ready.then(() => true)")
    return page, [address for address in asked if not address.startswith("/api/")]


def test_everything_comes_in_one_piece_and_once(context: Any, module_server: Any) -> None:
    page, asked = opened(context, module_server)
    assert "/program" in asked
    assert set(asked) - BY_THE_BROWSER <= SHELL | {"/program"}
    assert len(asked) == len(set(asked))
    listed = page.evaluate(LISTED)
    assert dict(page.evaluate(KEPT)) == {f"{path}?sha256={digest}": digest for path, digest in listed.items()}


def test_what_was_cut_from_the_one_piece_is_served_as_each_file_would_be(context: Any, module_server: Any) -> None:
    opened(context, module_server)
    # Not the app, so that the answers beside the kept ones are the PC's own.
    bare = context.new_page()
    bare.goto(module_server.url + "/api/hello")
    bare.evaluate("navigator.serviceWorker.getRegistration().then((worker) => worker.unregister())")
    bare.reload()
    heads = bare.evaluate(HEADS)
    assert len(heads) > 150
    for address, kept, fresh in heads:
        assert (address, kept) == (address, fresh)
        assert None not in kept


@pytest.mark.parametrize("spoiled", [
    'self.PRECACHE.program = "/nowhere";', "self.PRECACHE.pieces[3][1] -= 1;", "self.PRECACHE.pieces = null;",
    'self.PRECACHE.program = "/style.css";',
])  # fmt: skip
def test_where_the_one_piece_is_not_what_it_should_be_the_rest_comes_file_by_file(
    context: Any, checkout: Any, changing_server: Any, spoiled: str
) -> None:
    worker = checkout / "webui" / "sw.js"
    begins = 'importScripts("/precache.js");'
    text = worker.read_text("utf-8")
    assert begins in text
    worker.write_text(text.replace(begins, begins + spoiled), "utf-8")
    changing_server.stop()
    changing_server.start()
    page, asked = opened(context, changing_server)
    assert "/words.js" in asked
    listed = page.evaluate(LISTED)
    assert dict(page.evaluate(KEPT)) == {f"{path}?sha256={digest}": digest for path, digest in listed.items()}
    context.set_offline(True)
    page.reload()
    expect(page.locator("h1")).to_be_visible()


def test_where_no_service_worker_can_be_the_program_opens_all_the_same(context: Any, module_server: Any) -> None:
    page = context.new_page()
    page.add_init_script("Object.defineProperty(Navigator.prototype, 'serviceWorker', { value: undefined })")
    page.goto(module_server.url + "/")
    expect(page.locator("h1")).to_be_visible()


def test_where_the_service_worker_cannot_be_kept_the_program_opens_all_the_same(
    context: Any, checkout: Any, changing_server: Any
) -> None:
    (checkout / "webui" / "sw.js").write_text("throw new Error('broken');\n", "utf-8")
    changing_server.stop()
    changing_server.start()
    page = context.new_page()
    page.goto(changing_server.url + "/")
    expect(page.locator("h1")).to_be_visible()


def test_a_phone_too_full_opens_the_program_and_keeps_no_half_of_it(chromium: Any, module_server: Any) -> None:
    context = chromium.new_context(viewport={"width": 360, "height": 740})
    page = context.new_page()
    session = context.new_cdp_session(page)
    session.send("Storage.overrideQuotaForOrigin", {"origin": module_server.url, "quotaSize": 2_000_000})
    page.goto(module_server.url + "/")
    expect(page.locator("h1")).to_be_visible()
    assert page.evaluate(UNTIL_NONE_INSTALLS) is False
    assert "cotterbook-files" not in page.evaluate("caches.keys()")
    context.close()
