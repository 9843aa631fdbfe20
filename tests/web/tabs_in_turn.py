"""Tabs of which one at a time is in sight, as on a phone.

Playwright keeps every page of its own visible. These are opened beside it, over its session with the whole browser, in
a browser context that it knows nothing of: what is in front there hides what was, and the browser says so itself.
"""

import itertools
import json
from typing import Any

from web.phone import BARE_PAGE, Tab


class TabsInTurn:
    """One phone, paired by `cookie`. The tab that `tab()` opens, or `bring()` brings, is the one in sight."""

    def __init__(self, browser: Any, url: str, cookie: dict[str, str]) -> None:
        self.url, self.session = url, browser.new_browser_cdp_session()
        self.numbers, self.answers = itertools.count(1), {}
        self.session.on("Target.receivedMessageFromTarget", self._heard)
        self.context = self.session.send("Target.createBrowserContext")["browserContextId"]
        kept = {**cookie, "domain": "127.0.0.1", "path": "/", "httpOnly": True, "sameSite": "Strict"}
        self.session.send("Storage.setCookies", {"cookies": [kept], "browserContextId": self.context})

    def _heard(self, event: dict[str, Any]) -> None:
        message = json.loads(event["message"])
        self.answers[message.get("id")] = message

    def tab(self) -> Tab:
        """A new tab in front, with the modules under `m`."""
        target = self.session.send(
            "Target.createTarget", {"url": self.url + BARE_PAGE, "browserContextId": self.context})["targetId"]
        session = self.session.send("Target.attachToTarget", {"targetId": target, "flatten": False})["sessionId"]
        page = Page(self, target, session)
        while not page.evaluate(f"() => location.href === {json.dumps(self.url + BARE_PAGE)}"):
            pass
        return Tab(page)

    def bring(self, tab: Tab) -> None:
        """Bring a tab to the front."""
        self.session.send("Target.activateTarget", {"targetId": tab.page.target})

    def ask(self, session: str, method: str, **parameters: Any) -> Any:
        """What the browser answers a tab's session."""
        number = next(self.numbers)
        message = json.dumps({"id": number, "method": method, "params": parameters})
        self.session.send("Target.sendMessageToTarget", {"sessionId": session, "message": message})
        while number not in self.answers:
            self.session.send("Browser.getVersion")  # what the browser has said meanwhile is heard with its answer
        return self.answers.pop(number)["result"]

    def close(self) -> None:
        """Close all tabs, and forget what they kept."""
        self.session.send("Target.disposeBrowserContext", {"browserContextId": self.context})
        self.session.detach()


class Page:
    """As much of a page as a `Tab` needs."""

    def __init__(self, tabs: TabsInTurn, target: str, session: str) -> None:
        self.tabs, self.target, self.session = tabs, target, session

    def evaluate(self, function: str, argument: Any = None) -> Any:
        """What the function gives back for the argument; an error that it throws is raised."""
        answer = self.tabs.ask(
            self.session, "Runtime.evaluate", expression=f"({function})({json.dumps(argument)})", returnByValue=True,
            awaitPromise=True)
        if "exceptionDetails" in answer:
            raise AssertionError(answer["exceptionDetails"]["exception"].get("description"))
        return answer["result"].get("value")
