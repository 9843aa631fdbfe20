"""The third-party files are what their table says, and each has its licence."""

import hashlib
import re
from pathlib import Path

VENDOR = Path(__file__).parents[2] / "webui" / "vendor"
OURS = {"README.md", "LICENCES.txt", "update.py", "preact.js"}


def table() -> list[dict[str, str]]:
    lines = [line for line in (VENDOR / "README.md").read_text("utf-8").splitlines() if line.startswith("|")]
    names = [name.strip() for name in lines[0].strip("|").split("|")]
    return [
        dict(zip(names, (cell.strip().strip("`") for cell in line.strip("|").split("|")), strict=True))
        for line in lines[2:]
    ]


def test_every_file_is_in_the_table_with_its_hash():
    hashes = {row["file"]: row["SHA-256"] for row in table()}
    files = {path.name: path for path in VENDOR.iterdir() if path.is_file() and path.name not in OURS}
    assert set(hashes) == set(files)
    for name, path in files.items():
        assert hashlib.sha256(path.read_bytes()).hexdigest() == hashes[name], name


def test_the_version_is_in_the_name_and_the_change_is_told():
    for row in table():
        assert row["version"] in row["file"]
        content = (VENDOR / row["file"]).read_bytes()
        if row["change made"] != "none":
            assert re.search(rb"from ?[\"']\./(preact|qr)-[\d.]+\.mjs", content)
        # A statement, not a comment that shows one nor a sentence with "from" in it.
        bare = re.search(rb"(?m)(?:^|[;}])\s*(?:import|export)\b[^;\"'`]*\bfrom ?[\"'][^./]", content)
        assert bare is None, "a bare import needs an import map"


def test_each_licence_stands_in_the_licences_file():
    licences = (VENDOR / "LICENCES.txt").read_text("utf-8")
    marks = {
        "MIT": "Permission is hereby granted, free of charge",
        "Apache-2.0": "Apache License\n                           Version 2.0, January 2004",
        "ISC": "Permission to use, copy, modify, and/or distribute this software",
    }
    for row in table():
        assert marks[row["licence"]] in licences
    holders = (
        "Jason Miller", "Google Inc.", "Jake Archibald", "LiosK", "Arjun Barrett", "Damien P. George",
        "Emscripten authors",
    )
    for holder in holders:
        assert holder in licences


def test_our_modules_import_only_files_of_the_table():
    vendored = {row["file"] for row in table()}
    named = set()
    for module in VENDOR.parent.rglob("*.js"):
        named |= set(re.findall(r"[\w-]+-\d+\.\d+\.\d+\.(?:mjs|wasm)", module.read_text("utf-8")))
    assert named <= vendored
