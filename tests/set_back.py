"""A PC whose data are set back to what they were, and the phones that know what it had."""

import shutil

from cotterbook import create_app
from cotterbook.concerns import Concerns
from cotterbook.store import TinyStore
from cotterbook.store.postgres import PostgresStore
from examples import AT_MS, DEVICE, STRIP


class Phone:
    """What a phone holds, where it stands and what it was told, over Flask's test client."""

    def __init__(self, app, token=None):
        self._on_the_list = token
        self.reach(app)
        self.store, self.lines, self.held = None, {}, {}

    def reach(self, app):
        """Greet the program, as it is now."""
        self.client = app.test_client()
        if self._on_the_list:
            self.client.set_cookie("cotterbook-device-80", self._on_the_list)
        self.token = self.client.get("/api/hello").get_json()["csrf"]

    def post(self, strips, **more):
        """One exchange, with these strip-downs."""
        waits = sum(len(each.get("entries", ())) for each in strips.values())
        body = {"version": "0.1.0", "now": AT_MS, "device": DEVICE, "store": self.store, "strips": strips}
        body |= {"unsent": waits, **more}
        return self.client.post("/api/sync", json=body, headers={"X-CSRFToken": self.token})

    def give_up(self, noticed_ms):
        """Say that no more will come of what is gone; the answer's code."""
        body, headers = {"noticed_ms": noticed_ms}, {"X-CSRFToken": self.token}
        return self.client.post("/api/gone/given_up", json=body, headers=headers).status_code

    def sync(self, *entries, strip=STRIP, **more):
        """Send, and take in the answer; its code and what it says."""
        strips = {each: dict(line) for each, line in self.lines.items()}
        if entries:
            strips.setdefault(strip, {"cursor": 0})["entries"] = list(entries)
        response = self.post(strips, **more)
        answer = response.get_json()
        if response.status_code == 200:
            self.store = answer["store"]
            self.held |= {each["id"]: each for each in entries}
            for each, part in answer["strips"].items():
                self.lines[each] = {"cursor": part["cursor"], "last": part["last"]}
                self.held |= {new["id"]: new for new in part["entries"]}
        return response.status_code, answer

    def begin_anew(self, answer):
        """Take what the PC has now for unread and unsent, as it says in its refusal."""
        self.store, self.lines = answer["error"]["values"]["store"], {}


def app_over(folder, store, book=None):
    """The application over a store; without a book everybody is one and the same owner."""
    app = create_app(folder, store, book, None, Concerns(store, folder, book=book))
    app.testing = True
    return app


class Pc:
    """A PC whose data can be set back to what they were."""

    def __init__(self, folder, postgres=None, book=None):
        self.folder, self._postgres, self.url = folder, postgres, postgres and postgres.database()
        self._book = book
        self.open()

    def open(self):
        """As a program that is started again would."""
        self.store = PostgresStore(self.url) if self.url else TinyStore(self.folder)
        self.app = app_over(self.folder, self.store, self._book)

    def keep_copy(self):
        """Keep the data as they are now, to be set back to."""
        self.store.close()
        if not self.url:
            shutil.copytree(self.folder, self.folder.with_name("copy"))
        self.open()

    def set_back(self, last):
        """As an older copy of all files leaves it, with the identity that they had then."""
        self.store.close()
        if self.url:
            self._postgres.execute(f"DELETE FROM cotterbook.entries WHERE number > {last}", self.url)
            its_id = f"SELECT id FROM cotterbook.entries WHERE entries.strip = strips.strip AND number = {last}"
            self._postgres.execute(
                f"UPDATE cotterbook.strips SET last = {last}, held = {last}, last_id = ({its_id})", self.url)
        else:
            shutil.rmtree(self.folder)
            shutil.copytree(self.folder.with_name("copy"), self.folder)
        self.open()
