"""A disk that is really full, for this process: the system refuses to let files grow past a size."""

import contextlib
import resource
from collections.abc import Iterator


@contextlib.contextmanager
def full_at(size: int) -> Iterator[None]:
    """No file can be written past `size` bytes; the write that crosses it is cut short and the next one fails."""
    soft, hard = resource.getrlimit(resource.RLIMIT_FSIZE)
    resource.setrlimit(resource.RLIMIT_FSIZE, (size, hard))
    try:
        yield
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, (soft, hard))
