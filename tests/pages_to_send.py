"""Pages to send as one text, of the demo and of a log whose every text is hostile."""

import json
from pathlib import Path
from typing import Any

from cotterbook.core.share_page import share_view
from cotterbook.core.strip import Strip

DEMO = Path(__file__).resolve().parents[1] / "demo_data"
LOG = [json.loads(line) for line in (DEMO / "entries.jsonl").read_text(encoding="utf-8").splitlines()]
AT = 1_760_000_000_000
HOSTILE = (
    "<script>alert(1)</script>", "</style><script>alert(1)</script>", '"><img src=x onerror=alert(1)>',
    "'\"` onmouseover=alert(1) ", "&lt;b&gt;&amp;", "<!--", "-->", "</title>", "javascript:alert(1)", "{0}{who}{",
    "]]>", "<svg onload=alert(1)>", "\u202eevil\u2066", "مغسلة 7 <b>", "W" * 120,
)  # fmt: skip


def folded(entries: list[dict[str, Any]]) -> Strip:
    """A log as a strip-down."""
    strip = Strip(entries[0]["strip"])
    strip.add(entries)
    return strip


def page_of(strip: Strip, **options: Any) -> str:
    """The page as one text, each picture by its hash alone."""
    pieces = share_view(strip, {"now_ms": AT, **options})["pieces"]
    return "".join(piece if isinstance(piece, str) else piece["before"] + "data:," + piece["after"] for piece in pieces)


def hostile_log(names: tuple[str, ...] = HOSTILE) -> list[dict[str, Any]]:
    """The demo's log, every text in it that a person wrote one of these."""
    count = iter(range(10**9))

    def wild(value: Any, name: Any = None) -> Any:
        if name in ("id", "strip", "by", "thing", "part", "group", "entry", "sha256", "at", "kind", "type"):
            return value
        if isinstance(value, str) and name in ("who", "name", "text", "note", "caption", "why", "label", "tool",
                                               "replacement", "torque_page", "for_whom", "closed_how", "looked_at",
                                               "sits", "key", "grade", "thread", "in_words", "standard_source"):
            return names[next(count) % len(names)][: 60 if name in ("who", "for_whom") else 40]
        if isinstance(value, list):
            return [wild(each, "who" if name == "people" else None) for each in value]
        return {key: wild(each, key) for key, each in value.items()} if isinstance(value, dict) else value

    return [wild(entry) for entry in LOG]
