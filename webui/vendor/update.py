"""Fetch the third-party files of this folder again, or newer ones of them.

    python webui/vendor/update.py preact=11.2.0 htm=3.1.1

A package that is not named keeps the version of the table in README.md. Runs
`npm pack`, which downloads a package and runs nothing of it; copies the files
that the pages need under names that carry the version; writes their hashes into
the table; names the new files in the modules that import them; and writes the
licences into LICENCES.txt. `python webui/vendor/update.py` alone changes nothing
as long as the packages are what the table says.
"""

import hashlib
import re
import subprocess
import sys
import tarfile
import tempfile
from pathlib import Path

HERE = Path(__file__).resolve().parent
TABLE_HEAD = (
    "| file | package | version | licence | file in the package | SHA-256 | change made |\n"
    "|---|---|---|---|---|---|---|\n"
)
# Vendored name, npm package, file in the package, licence (SPDX).
FILES = (
    ("preact", "preact", "dist/preact.mjs", "MIT"),
    ("preact-hooks", "preact", "hooks/dist/hooks.mjs", "MIT"),
    ("htm", "htm", "dist/htm.mjs", "Apache-2.0"),
    ("idb", "idb", "build/index.js", "ISC"),
    ("uuidv7", "uuidv7", "dist/index.js", "Apache-2.0"),
    ("fflate", "fflate", "esm/browser.js", "MIT"),
    # Offered under MIT as well.
    ("qr", "qr", "index.js", "Apache-2.0"),
    ("qr-decode", "qr", "decode.js", "Apache-2.0"),
    ("micropython", "@micropython/micropython-webassembly-pyscript", "micropython.mjs", "MIT"),
    ("micropython", "@micropython/micropython-webassembly-pyscript", "micropython.wasm", "MIT"),
)
# What a file imports of its package, and under which name that file lies here: in a page a bare name would need an
# import map, and every name carries its version.
IMPORTS = (('from"preact"', 'from"./{file}"', "dist/preact.mjs"), ("from './index.js'", "from './{file}'", "index.js"))
CHANGE = "`{old}` became `{new}`"
# These two packages carry no licence text of their own; LICENCES.txt holds it, written by hand.
LICENCE_BY_HAND = ("@micropython/micropython-webassembly-pyscript",)
LICENCE_RULE = "\n" + "=" * 78 + "\n"


def read_table() -> list[dict[str, str]]:
    """The rows of the table in README.md, by column name."""
    rows = [line for line in (HERE / "README.md").read_text("utf-8").splitlines() if line.startswith("|")]
    names = [name.strip() for name in rows[0].strip("|").split("|")]
    cells = [[cell.strip().strip("`") for cell in row.strip("|").split("|")] for row in rows[2:]]
    return [dict(zip(names, each, strict=True)) for each in cells]


def fetch(package: str, version: str, folder: Path) -> dict[str, bytes]:
    """All files of one published package: name in the package to content."""
    command = ["npm", "pack", f"{package}@{version}", "--pack-destination", str(folder)]
    subprocess.run(command, check=True, capture_output=True)
    archive = max(folder.glob("*.tgz"), key=lambda path: path.stat().st_mtime_ns)
    with tarfile.open(archive) as files:
        found = {}
        for member in files.getmembers():
            content = files.extractfile(member)
            if content is not None:
                found[member.name.removeprefix("package/")] = content.read()
    archive.unlink()
    return found


def name_new_files(old: dict[str, str], new: dict[str, str]) -> None:
    """Write the new file names into our own modules that import them."""
    modules = [*HERE.parent.rglob("*.js"), *HERE.parent.rglob("*.html")]
    for module in modules:
        text = before = module.read_text("utf-8")
        for key, name in old.items():
            text = text.replace(name, new[key])
        if text != before:
            module.write_text(text, "utf-8")


def main(wanted: dict[str, str]) -> None:
    table = read_table()
    versions = {row["package"]: row["version"] for row in table} | wanted
    packages: dict[str, dict[str, bytes]] = {}
    with tempfile.TemporaryDirectory() as folder:
        for package, version in versions.items():
            packages[package] = fetch(package, version, Path(folder))
    new = {source: f"{name}-{versions[package]}{'.wasm' if source.endswith('.wasm') else '.mjs'}"
           for name, package, source, _ in FILES}
    old = {row["file in the package"]: row["file"] for row in table}
    for name in old.values():
        (HERE / name).unlink(missing_ok=True)
    rows = []
    for _, package, source, licence in FILES:
        content, change = packages[package][source], "none"
        for imports, ours, of in IMPORTS:
            if imports.encode() in content:
                content = content.replace(imports.encode(), ours.format(file=new[of]).encode())
                change = CHANGE.format(old=imports, new=ours.format(file=new[of]))
        (HERE / new[source]).write_bytes(content)
        digest = hashlib.sha256(content).hexdigest()
        cells = (f"`{new[source]}`", package, versions[package], licence, f"`{source}`", digest, change)
        rows.append("| " + " | ".join(cells) + " |")
    readme = (HERE / "README.md").read_text("utf-8")
    written = re.sub(r"(\|.*\n)+", lambda _: TABLE_HEAD + "\n".join(rows) + "\n", readme, count=1)
    (HERE / "README.md").write_text(written, "utf-8")
    name_new_files(old, new)
    by_hand = (HERE / "LICENCES.txt").read_text("utf-8").split(LICENCE_RULE)[0]
    texts = [f"{package}\n\n{files['LICENSE'].decode()}" for package, files in packages.items()
             if package not in LICENCE_BY_HAND]
    (HERE / "LICENCES.txt").write_text(LICENCE_RULE.join([by_hand, *texts]), "utf-8")
    print(TABLE_HEAD + "\n".join(rows))


if __name__ == "__main__":
    main(dict(argument.rsplit("=", 1) for argument in sys.argv[1:]))
