"""Who may ask: phones and computers that were paired, what each may do, and the record of who was let in."""

from .book import DeviceBook
from .records import HAND, LOOKER_ON, OWNER, Device

__all__ = ["HAND", "LOOKER_ON", "OWNER", "Device", "DeviceBook"]
