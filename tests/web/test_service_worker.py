"""The program starts without a network, and a new version waits until a person lets it in."""

import hashlib
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
LISTED = """async () => {
    const text = await (await fetch("/precache.js", {cache: "no-store"})).text();
    return JSON.parse(text.slice(text.indexOf("{"), text.lastIndexOf("}") + 1)).files;
}"""
KEPT = """async () => {
    const cache = await caches.open("cotterbook-files");
    return Promise.all((await cache.keys()).map(async (request) => {
        const digest = await crypto.subtle.digest("SHA-256", await (await cache.match(request)).arrayBuffer());
        const hash = Array.from(new Uint8Array(digest), (byte) => byte.toString(16).padStart(2, "0")).join("");
        return [new URL(request.url).pathname + new URL(request.url).search, hash];
    }));
}"""
REGISTER = """async () => {
    const update = await import("/update.js");
    globalThis.states = [];
    update.subscribe((state) => states.push(state));
    globalThis.update = update;
    return update.register();
}"""
STATE = "states.at(-1)"
# A page of the origin that is not the app, so that only what a test does happens.
BARE = "/style.css"


@pytest.fixture
def context(chromium):
    context = chromium.new_context()
    yield context
    context.close()


def open_page(context, server, path=BARE):
    page = context.new_page()
    page.goto(server.url + path)
    return page


def registered(context, server):
    page = open_page(context, server)
    assert page.evaluate(REGISTER) is True
    until(page, "Boolean(navigator.serviceWorker.controller)")
    return page


def until(page, expression):
    return page.evaluate(
        f"""async () => {{
            const start = performance.now();
            for (;;) {{
                const value = await ({expression});
                if (value) return value;
                if (performance.now() - start > 20000) throw new Error("never true");
                await new Promise((resolve) => setTimeout(resolve, 10));
            }}
        }}"""
    )


def change(checkout, server, name, text):
    """A new version of the program: another content of one file, and the server started again."""
    file = checkout / "webui" / name
    file.write_text(file.read_text("utf-8") + text, "utf-8")
    server.stop()
    server.start()


def test_every_listed_file_is_kept_under_its_hash_and_is_what_the_list_says(context, module_server):
    page = registered(context, module_server)
    files = page.evaluate(LISTED)
    assert {"/", "/app.js", "/core.json", "/vendor/micropython-1.27.0.wasm"} <= set(files)
    assert not {"/sw.js", "/precache.js", "/typing.py"} & set(files)
    kept = dict(page.evaluate(KEPT))
    assert kept == {f"{path}?sha256={digest}": digest for path, digest in files.items()}


def test_the_app_starts_and_runs_python_without_a_network_from_the_first_load_on(context, module_server):
    registered(context, module_server).close()
    context.set_offline(True)
    page = open_page(context, module_server, "/")
    asked = "import('/core.js').then((core) => core.call('figure', {figure: '2', unit: 'kg'}))"
    assert page.evaluate(asked)["value"] == 2000
    page.goto(module_server.url + "/no/such/page")
    assert page.evaluate("document.documentElement.innerHTML.includes('open.js')"), "an unknown page must open the app"


def test_what_belongs_to_the_pc_is_never_answered_from_the_phone(context, module_server):
    page = registered(context, module_server)
    assert page.evaluate("fetch('/api/hello').then((answer) => answer.status)") == 200
    context.set_offline(True)
    assert page.evaluate("fetch('/api/hello').then(() => 'answered', () => 'away')") == "away"


def test_a_new_version_waits_fetches_only_what_changed_and_takes_over_when_asked(context, checkout, changing_server):
    page = registered(context, changing_server)
    assert page.evaluate("states") == ["none"], "the first version is no update"
    page.evaluate("import('/log.js').then((log) => log.putDraft('form', {name: 'half a na'}))")
    old = dict(page.evaluate(KEPT))
    requests = []
    context.on("request", lambda request: requests.append(request) if request.service_worker else None)
    change(checkout, changing_server, "labels.js", "// a new version\n")
    page.evaluate("update.check()")
    until(page, f"{STATE} === 'waiting'")
    fetched = {request.url.removeprefix(changing_server.url) for request in requests}
    assert fetched - {"/sw.js", "/precache.js"} == {"/labels.js"}
    assert set(old) < set(dict(page.evaluate(KEPT)))
    served = "fetch('/labels.js').then((answer) => answer.text())"
    assert "a new version" not in page.evaluate(served), "the old page must keep its own files"
    page.reload()
    assert "a new version" not in page.evaluate(served), "a reload is not a person's yes"
    page.evaluate(REGISTER)
    until(page, f"{STATE} === 'waiting'")
    loads = []
    page.on("load", lambda _: loads.append(1))
    with page.expect_event("load"):
        page.evaluate("update.takeOver()")
    assert "a new version" in page.evaluate(served)
    assert page.evaluate("import('/log.js').then((log) => log.draft('form'))") == {"name": "half a na"}
    new = dict(page.evaluate(KEPT))
    assert len(new) == len(old) and len(set(new) - set(old)) == 1, "the old file is gone, the others stayed"
    assert loads == [1]


def test_another_tab_is_told_and_not_reloaded(context, checkout, changing_server):
    page = registered(context, changing_server)
    other = open_page(context, changing_server)
    other.evaluate(REGISTER)
    other.evaluate("globalThis.typed = 'still here'")
    change(checkout, changing_server, "labels.js", "// a new version\n")
    page.evaluate("update.check()")
    until(page, f"{STATE} === 'waiting'")
    with page.expect_event("load"):
        page.evaluate("update.takeOver()")
    until(other, f"{STATE} === 'taken_over'")
    assert other.evaluate("typed") == "still here"


def test_a_file_that_is_not_what_the_list_says_stops_the_update_and_the_old_version_works_on(
    context, checkout, changing_server
):
    page = registered(context, changing_server)
    worker = checkout / "webui" / "sw.js"
    files = page.evaluate(LISTED)
    # A worker whose list was tampered with on the way.
    false = hashlib.sha256(b"something else").hexdigest()
    text = worker.read_text("utf-8").replace(
        'importScripts("/precache.js");',
        f'importScripts("/precache.js"); self.PRECACHE.files["/labels.js"] = "{false}";')
    worker.write_text(text, "utf-8")
    changing_server.stop()
    changing_server.start()
    ended = page.evaluate(
        """async () => {
            const registration = await navigator.serviceWorker.getRegistration();
            const found = new Promise((resolve) => registration.addEventListener("updatefound", () => {
                const worker = registration.installing;
                worker.addEventListener("statechange", () => resolve(worker.state));
            }, {once: true}));
            await registration.update();
            return found;
        }"""
    )
    assert ended == "redundant"
    assert page.evaluate("states") == ["none"]
    context.set_offline(True)
    page.reload()
    assert set(dict(page.evaluate(KEPT)).values()) == set(files.values())


def test_the_pc_away_is_no_error_for_the_update_check(context, changing_server):
    page = registered(context, changing_server)
    changing_server.stop()
    assert page.evaluate("update.check().then(() => 'quiet')") == "quiet"
