"""Bundles packed anew by the standard library with something changed in them, for tests of what is refused."""

import hashlib
import json
import zipfile

from cotterbook.bundles import layout


def changed(bundle, change, folder):
    """The bundle packed anew by the standard library after `change(files)`, its manifest kept true but for that."""
    with zipfile.ZipFile(bundle) as packed:
        files = {name: packed.read(name) for name in packed.namelist()}
    manifest = json.loads(files.pop(layout.MANIFEST))
    change(files, manifest)
    for name, data in files.items():
        manifest["files"].setdefault(name, {"bytes": len(data), "sha256": hashlib.sha256(data).hexdigest()})
    path = folder / "changed.zip"
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as packed:
        for name, data in (files | {layout.MANIFEST: json.dumps(manifest).encode()}).items():
            packed.writestr(name, data)
    return path


def replaced(files, manifest, name, data):
    """The file of this name with other bytes, truly described."""
    files[name] = data
    manifest["files"].pop(name, None)


class NotNamed(list):
    """A list where a manifest has names, which the test's own packing may fill."""

    def setdefault(self, name, value):
        self.append(name)
