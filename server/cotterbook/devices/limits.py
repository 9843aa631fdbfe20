"""How often a stranger may try, by moving windows for an address and for all; how much anybody may send at once.

Eight digits live five minutes. With fifty tries in that time, from everywhere together, a guess comes off once in two
million.
"""

import threading
from collections import Counter

from limits import RateLimitItem, parse
from limits.storage import MemoryStorage
from limits.strategies import MovingWindowRateLimiter

from ..errors import Problem

CODES_AN_ADDRESS = parse("10 per 5 minutes")
CODES_IN_ALL = parse("50 per 5 minutes")
ASKED_UNKNOWN = parse("120 per minute")
# A phone sends its entries and two pictures at once. Each that sends holds a thread until all has arrived.
SENDING_AT_ONCE = 8


class Attempts:
    """The tries of one server process."""

    def __init__(self) -> None:
        self._limiter = MovingWindowRateLimiter(MemoryStorage())
        self._sending: Counter[str] = Counter()
        self._lock = threading.Lock()

    def a_code(self, address: str) -> None:
        """Count a try at a code. Raises Problem "too_often"."""
        # The address first: one that tries on and on must not use up what all have together.
        self._count(CODES_AN_ADDRESS, "code", address)
        self._count(CODES_IN_ALL, "code")

    def unknown(self, address: str) -> None:
        """Count a request without a good token. Raises Problem "too_often"."""
        self._count(ASKED_UNKNOWN, "unknown", address)

    def _count(self, allowed: RateLimitItem, *of: str) -> None:
        if not self._limiter.hit(allowed, *of):
            raise Problem("too_often", minutes=max(1, allowed.get_expiry() // 60))

    def begin_sending(self, who: str) -> None:
        """Count a request that brings something. Raises Problem "too_much_at_once"; else `end_sending` must follow."""
        with self._lock:
            if self._sending[who] >= SENDING_AT_ONCE:
                raise Problem("too_much_at_once", limit=SENDING_AT_ONCE)
            self._sending[who] += 1

    def end_sending(self, who: str) -> None:
        """That request has been answered."""
        with self._lock:
            self._sending[who] -= 1
            if not self._sending[who]:
                del self._sending[who]
