"""The bundle: strip-downs with their pictures in one zip file, to carry by hand or to keep as a copy."""

from .reading import Contents, named_photos, take_in, verify
from .writing import write_bundle

__all__ = ["Contents", "named_photos", "take_in", "verify", "write_bundle"]
