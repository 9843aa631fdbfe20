"""A paired device as it is kept, and what its role lets it do."""

import hashlib
import secrets
from typing import NamedTuple

OWNER, HAND, LOOKER_ON = "owner", "hand", "looker_on"
# Each role may do what those after it may.
ROLES = (OWNER, HAND, LOOKER_ON)

# 256 bits, as a cookie carries them.
TOKEN_BYTES = 32
# Eight digits: typed with one thumb on the number pad. Guessing is stopped by the limits in `limits.py`.
CODE_DIGITS = 8
CODE_LIVES_MS = 300_000
CODE_WORK = 2**15
NAME_LENGTH = 60


class Device(NamedTuple):
    """One paired device. `unsent` and `unsent_photos` are what it said of itself when it was last seen."""

    id: str
    name: str
    role: str
    token_sha256: str
    paired_ms: int
    revoked_ms: int | None = None
    seen_ms: int | None = None
    unsent: int | None = None
    unsent_photos: int | None = None

    def may(self, role: str) -> bool:
        """Whether it may do what this role may.

        >>> Device("", "", HAND, "", 0).may(LOOKER_ON), Device("", "", HAND, "", 0).may(OWNER)
        (True, False)
        """
        return self.revoked_ms is None and ROLES.index(self.role) <= ROLES.index(role)


class Code(NamedTuple):
    """A pairing code that waits: the role it gives, and until when."""

    role: str
    until_ms: int


# Where nobody is asked who they are: the throw-away demo on this computer.
ANYBODY = Device("anybody", "", OWNER, "", 0)


def new_token() -> str:
    """A device's secret; only its hash is kept here."""
    return secrets.token_urlsafe(TOKEN_BYTES)


def new_code() -> str:
    """A pairing code: digits alone."""
    return f"{secrets.randbelow(10**CODE_DIGITS):0{CODE_DIGITS}}"


def secret_hash(secret: str) -> str:
    """How a token is kept: whoever reads the file can't use it."""
    return hashlib.sha256(secret.encode()).hexdigest()


def code_hash(code: str, salt: str) -> str:
    """How a code is kept: it is short, so that whoever reads the file must not be able to try all of them in time.

    A hundred million codes at 32 MB and about a tenth of a second each (scrypt, RFC 7914), within five minutes.
    """
    return hashlib.scrypt(
        code.encode(), salt=salt.encode(), n=CODE_WORK, r=8, p=1, maxmem=CODE_WORK * 2_048, dklen=32).hex()
