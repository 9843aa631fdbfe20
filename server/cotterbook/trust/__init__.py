"""What lets a phone trust this computer: one origin for good, and the certificates for it."""

from .authority import Authority
from .origin import Origin

__all__ = ["Authority", "Origin"]
