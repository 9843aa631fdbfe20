"""Bundles packed anew by the standard library with something changed in them, for tests of what is refused."""

import hashlib
import json
import zipfile

from cotterbook.bundles import layout
from examples import picture

# The picture of the bundles that are changed.
PICTURE = picture(1)
HASH = hashlib.sha256(PICTURE).hexdigest()
# What makes a manifest untrue, and what the bundle is refused for then, on the PC and on a phone.
UNTRUE = [
    (lambda manifest: manifest.update(version=2), "bundle_newer"),
    (lambda manifest: manifest.update(format="parcel"), "no_bundle"),
    (lambda manifest: manifest.update(files=[]), "bundle_damaged"),
    (lambda manifest: manifest.update(missing_photos=["../x"]), "bundle_damaged"),
    (lambda manifest: manifest["files"].update({layout.photo_name("0" * 64): {"bytes": 1}}), "bundle_damaged"),
    (lambda manifest: manifest["files"][layout.photo_name(HASH)].update(sha256="0" * 64), "bundle_damaged"),
    (lambda manifest: manifest["files"][layout.photo_name(HASH)].update(bytes=True), "bundle_damaged"),
    (lambda manifest: manifest["files"].update({layout.photo_name(HASH): None}), "bundle_damaged"),
]


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


def untrue(change):
    """The change of a manifest alone, as `changed` takes it."""

    def wrong(files, manifest):
        change(manifest)
        if not isinstance(manifest["files"], dict):
            files.clear()
            manifest["files"] = NotNamed(manifest["files"])

    return wrong
