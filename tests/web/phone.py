"""A phone for tests of single modules: a browser context, its tabs, and waiting on conditions.

Its pages are not the app (which would send by itself) but a plain file of the
same origin, under the same headers; modules are imported into it as `m`.
"""

import json
from typing import Any

MODULES = ("log", "shop", "core", "sync", "photos", "words", "update", "errors", "database")
BARE_PAGE = "/style.css"


class Phone:
    """One phone. `tab()` opens a tab with the modules imported under `m`."""

    def __init__(self, browser: Any, url: str, **options: Any):
        self.url = url
        self.context = browser.new_context(**options)
        self.session: Any = None

    def tab(self, path: str = BARE_PAGE, before: Any = None) -> "Tab":
        page = self.context.new_page()
        if before:
            before(page)
        page.goto(self.url + path)
        return Tab(page)

    def quota(self, tab: "Tab", quota_bytes: int | None) -> None:
        """Give this origin a storage quota as a full phone would; None takes it away.

        Set it before the first write: the browser remembers for a while how much room there was.
        """
        # The browser forgets the quota with the session that set it.
        self.session = self.session or self.context.new_cdp_session(tab.page)
        extra = {} if quota_bytes is None else {"quotaSize": quota_bytes}
        self.session.send("Storage.overrideQuotaForOrigin", {"origin": self.url, **extra})

    def close(self) -> None:
        self.context.close()


class Tab:
    def __init__(self, page: Any):
        self.page = page
        self.load()

    def load(self) -> None:
        imports = ",".join(f'import("/{name}.js")' for name in MODULES)
        names = json.dumps(MODULES)
        self.page.evaluate(
            f"""async () => {{
                const loaded = await Promise.all([{imports}]);
                globalThis.m = Object.fromEntries({names}.map((name, i) => [name, loaded[i]]));
            }}"""
        )

    def reload(self) -> None:
        self.page.reload()
        self.load()

    def run(self, body: str, argument: Any = None) -> Any:
        """Runs an async function body with `m` (modules) and `a` (the argument)."""
        return self.page.evaluate(f"async (a) => {{ {body} }}", argument)

    def fails(self, expression: str, argument: Any = None) -> Any:
        """What the awaited expression rejects with: {name, text, values, problems, detail}."""
        return self.run(
            f"""try {{ await ({expression}); return null; }} catch (e) {{
                return {{name: e.name, text: e.sentence?.text ?? e.message, values: e.sentence?.values,
                         problems: e.problems, detail: e.detail}}; }}""",
            argument,
        )

    def until(self, expression: str, argument: Any = None) -> Any:
        """Waits until the awaited expression is truthy and returns it; fails after 20 s."""
        return self.run(
            f"""const start = performance.now();
            for (;;) {{
                const value = await ({expression});
                if (value) return value;
                if (performance.now() - start > 20000) throw new Error("never true: " + {json.dumps(expression)});
                // Not a timer: a test may have taken the page's clock.
                await new Promise((resolve) => {{
                    const channel = new MessageChannel();
                    channel.port1.onmessage = resolve;
                    channel.port2.postMessage(0);
                }});
            }}""",
            argument,
        )


def uuid(number: int) -> str:
    """A UUIDv7 that carries `number`."""
    return f"01900000-0000-7000-8000-{number:012x}"


def entry(number: int, strip: int = 1, **fields: Any) -> dict[str, Any]:
    """A small right entry: a note on the strip-down, numbered."""
    known = {
        "id": uuid(1000 + number), "strip": uuid(strip), "kind": "set", "at": 1_760_000_000_000 + number,
        "by": uuid(9), "who": "Ann", "thing": uuid(strip), "type": "strip", "values": {"note": f"note {number}"},
    }
    return known | fields
