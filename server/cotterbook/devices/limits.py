"""How often a stranger may try: moving windows, by address and for all together.

Eight digits live five minutes. With fifty tries in that time, from everywhere together, a guess comes off once in two
million.
"""

from limits import RateLimitItem, parse
from limits.storage import MemoryStorage
from limits.strategies import MovingWindowRateLimiter

from ..errors import Problem

CODES_AN_ADDRESS = parse("10 per 5 minutes")
CODES_IN_ALL = parse("50 per 5 minutes")
ASKED_UNKNOWN = parse("120 per minute")


class Attempts:
    """The tries of one server process."""

    def __init__(self) -> None:
        self._limiter = MovingWindowRateLimiter(MemoryStorage())

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
