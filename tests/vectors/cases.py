"""Reads the test vectors, fills in what they leave out, and compares what a core answers."""

import hashlib
import json
import math
from collections.abc import Callable
from pathlib import Path
from typing import Any

FOLDER = Path(__file__).parent
FIRST_AT = 1_760_000_000_000
Call = Callable[[str, str], str]


def identifier(name: str, at_ms: int = FIRST_AT) -> str:
    """A UUIDv7 made from a name: its time is given, its random bits are the name's hash."""
    digest = hashlib.sha256(name.encode()).hexdigest()
    time = f"{at_ms:012x}"
    return f"{time[:8]}-{time[8:]}-7{digest[:3]}-8{digest[3:6]}-{digest[6:18]}"


def all_cases() -> list[Any]:
    """Every case as (file: title, case), entries and identifiers filled in."""
    found = []
    for path in sorted(FOLDER.glob("*.json")):
        for case in json.loads(path.read_text(encoding="utf-8")):
            found.append((f"{path.stem}: {case['title']}", _filled(case)))
    return found


def _filled(case: dict[str, Any]) -> dict[str, Any]:
    entries = [_entry(entry, index) for index, entry in enumerate(case.get("entries", []))]
    return {"entries": _named(entries), "steps": _named(case["steps"])}


def _entry(entry: dict[str, Any], index: int) -> dict[str, Any]:
    at = entry.get("at", FIRST_AT + index * 1000)
    defaults = {"strip": "@strip", "at": at, "by": "@phone", "who": "Ann"}
    return defaults | entry | {"id": entry.get("id", f"@entry {index}")}


def _named(value: Any) -> Any:
    """The value with each "@name" replaced by its identifier, in keys too."""
    if isinstance(value, dict):
        return {_named(key): _named(item) for key, item in value.items()}
    if isinstance(value, list):
        return [_named(item) for item in value]
    if isinstance(value, str) and value.startswith("@") and value != "@any":
        return identifier(value)
    return value


def run(case: dict[str, Any], call: Call) -> None:
    """Runs a case through a door; AssertionError says where the answer differs."""
    strip = identifier("@strip")
    for name, arguments in (("drop", {"strip": strip}), ("load", {"strip": strip, "entries": case["entries"]})):
        call(name, json.dumps(arguments))
    for index, step in enumerate(case["steps"]):
        arguments = step["arguments"]
        if step["call"] == "view":
            arguments = {"strip": strip} | arguments
        answer = json.loads(call(step["call"], json.dumps(arguments)))
        if "problems" in step:
            got = [{"code": each["code"], "field": each["field"]} for each in answer.get("problems", [])]
            compare(step["problems"], got, f"step {index}: problems")
        else:
            assert "result" in answer, f"step {index}: {answer}"
            compare(step["result"], answer["result"], f"step {index}: result")


def compare(expected: Any, got: Any, where: str) -> None:
    """Whether what is expected is in what came; numbers agree to 1e-9 of their size."""
    if expected == "@any":
        return
    if isinstance(expected, dict):
        assert isinstance(got, dict), f"{where}: {got!r} is no object"
        for key, value in expected.items():
            assert key in got, f"{where}: no {key!r} in {sorted(got)}"
            compare(value, got[key], f"{where}.{key}")
    elif isinstance(expected, list):
        assert isinstance(got, list) and len(got) == len(expected), f"{where}: {got!r} is not {expected!r}"
        for index, value in enumerate(expected):
            compare(value, got[index], f"{where}[{index}]")
    elif isinstance(expected, (int, float)) and not isinstance(expected, bool):
        assert isinstance(got, (int, float)) and not isinstance(got, bool), f"{where}: {got!r}"
        assert math.isclose(got, expected, rel_tol=1e-9, abs_tol=1e-9), f"{where}: {got!r} is not {expected!r}"
    else:
        assert got == expected and type(got) is type(expected), f"{where}: {got!r} is not {expected!r}"
